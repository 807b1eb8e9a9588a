"""Jobs: the work on one system of one vehicle on one day."""

from __future__ import annotations

import pytest

from saidspec.model import Fact, Provenance
from saidspec.record.components import gathered
from saidspec.record.jobs import OTHER, systems_of

PARTS = gathered([
    {"system": "brakes", "name": "brakes", "parts": {"caliper": "", "brake disc": "rotor", "piston": ""}},
    {"system": "engine", "fluid": "engine oil", "parts": {"piston": "", "rocker cover": ""}},
    {"system": "wheels", "fasteners": {"wheel nut": "lug nut, lug"}},
    {"system": "general", "parts": {"bracket": ""}},
])  # fmt: skip
ONE = (1, "2026-05-03")
OTHER_DAY = (1, "2026-05-04")


def told(components: list[str | None], scopes: list[tuple[int | None, str | None]] | None = None) -> list[str]:
    facts = [Fact(at, "torque", Provenance("x", at, at + 1), component) for at, component in enumerate(components)]
    return systems_of(facts, scopes or [ONE] * len(facts), PARTS.systems_of)


@pytest.mark.parametrize(("component", "systems"), [
    ("front left caliper bracket bolt", {"brakes"}), ("rear rotors", {"brakes"}), ("piston", {"brakes", "engine"}),
    ("engine oil", {"engine"}), ("lugs", {"wheels"}), ("bracket", set()), (None, set()),
])  # fmt: skip
def test_the_systems_that_a_component_may_be_of(component: str | None, systems: set[str]) -> None:
    assert PARTS.systems_of(Fact(1, "torque", Provenance("x", 0, 1), component)) == systems


def test_what_is_only_touched_on_is_part_of_the_job() -> None:
    assert set(told(["caliper"] * 8 + ["wheel nut", "caliper"])) == {"brakes"}


def test_two_systems_worked_on_are_two_jobs_and_the_rest_follows() -> None:
    assert told([None, "caliper", "caliper", "caliper", None, "rocker cover", "engine oil", "engine oil", None]) == [
        "brakes"] * 5 + ["engine"] * 4


def test_a_part_of_two_systems_is_of_the_one_talked_about() -> None:
    assert told(["caliper"] * 3 + ["piston"] + ["engine oil"] * 3 + ["piston"]) == ["brakes"] * 4 + ["engine"] * 4


def test_each_day_has_its_own_jobs() -> None:
    assert told(["caliper", "caliper", "wheel nut", None], [ONE, ONE, OTHER_DAY, OTHER_DAY]) == [
        "brakes", "brakes", "wheels", "wheels"]


def test_a_note_of_no_known_system_is_another_job() -> None:
    assert told(["bracket", None]) == [OTHER, OTHER]
