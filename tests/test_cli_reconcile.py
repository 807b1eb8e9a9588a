"""`saidspec reconcile`: flags with numbers, decisions that stay, exit status, and what the record knows from before."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from saidspec.model import UnusableInput
from tests.command_line import answered as run
from tests.command_line import shop_with, take

SHEET = """\
[vehicle]
name = "Hallam Drover"
odometer_unit = "km"

[[spec]]
component = "wheel nut"
kind = "torque"
value = "110 N*m"
source = "handbook, page 88"

[[spec]]
component = "engine oil"
kind = "interval"
value = "15000 km or 24 month"
source = "handbook, page 150"
"""


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A record with one vehicle, and a folder for its notes."""
    return shop_with(tmp_path, monkeypatch, SHEET)


def flags() -> list[dict[str, Any]]:
    _, printed = run("reconcile", "--format", "json", "--all")
    (vehicle,) = json.loads(printed)["vehicles"]
    return list(vehicle["flags"])


def test_a_flag_keeps_its_number_and_its_decision(shop: Path) -> None:
    take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n", "2026-05-03")
    (flag,) = flags()
    assert (flag["check"], flag["component"], flag["note"]) == ("differs", "wheel nut", "wheels.txt")
    status, printed = run("reconcile")
    assert status == 1
    assert f"{flag['number']:>4}  DANGER differs: wheel nut: said 140 N·m" in printed
    run("decide", "accept", str(flag["number"]), "--reason", "steel wheels, leaflet says 140")
    assert run("reconcile")[0] == 0
    take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n", "2026-05-03")
    assert run("reconcile")[0] == 0
    (again,) = flags()
    assert (again["number"], again["decision"]["reason"]) == (flag["number"], "steel wheels, leaflet says 140")
    assert "accepted: steel wheels" in run("reconcile", "--all")[1]


def test_a_decision_ends_when_what_was_said_changes(shop: Path) -> None:
    take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n", "2026-05-03")
    run("decide", "accept", str(flags()[0]["number"]), "--reason", "for now")
    take(shop, "wheels.txt", "Wheel nuts 150 newton metres.\n", "2026-05-03")
    assert run("reconcile")[0] == 1
    assert flags()[0]["said"]["value"] == 150


def test_a_reading_below_that_of_an_earlier_note_is_flagged(shop: Path) -> None:
    take(shop, "one.txt", "Odometer is 61877 kilometres. Wheel nuts 110 newton metres.\n", "2026-01-03")
    take(shop, "two.txt", "Odometer is 60000 kilometres. Wheel nuts 110 newton metres.\n", "2026-05-03")
    assert {(flag["check"], flag["note"]) for flag in flags()} == {("odometer", "two.txt")}


def test_explain_names_the_note_and_the_candidates(shop: Path) -> None:
    take(shop, "wheels.txt", "Wheel nuts 110 newton metres.\n", "2026-05-03")
    status, printed = run("reconcile", "--explain")
    assert status == 0
    assert "wheels.txt: wheel nut: sure: same words; candidates: wheel nut [entry 1, line 5" in printed


def test_no_record_and_no_vehicle_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SAIDSPEC_RECORD", str(tmp_path / "none.db"))
    with pytest.raises(UnusableInput, match="there is no record at"):
        run("reconcile")
    with pytest.raises(UnusableInput, match='"yaml" is no format of reconcile'):
        run("reconcile", "--format", "yaml")
