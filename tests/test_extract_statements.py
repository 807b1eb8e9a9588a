"""What was done, found, used and planned: actions and their parts, findings and their gravity, materials, plans."""

from __future__ import annotations

import pytest

from saidspec.pipeline import read
from saidspec.sources.read import read_text
from tests.phrase_corpus import squash
from tests.sentences import facts


@pytest.mark.parametrize(("text", "told"), [
    ("replaced the oil filter", ("replace", "oil filter")), ("swapped out the thermostat", ("replace", "thermostat")),
    ("took the wheel off", ("remove", "wheel")), ("pulled the starter motor", ("remove", "starter motor")),
    ("put the cap back on", ("install", "cap")), ("cleaned the throttle body", ("clean", "throttle body")),
    ("greased the slide pins", ("lubricate", "slide pin")), ("torqued the wheel nuts", ("tighten", "wheel nut")),
    ("checked the coolant hose", ("inspect", "coolant hose")), ("flushed the radiator", ("flush", "radiator")),
    ("adjusted the handbrake cable", ("adjust", "handbrake cable")),
    ("loosened the drain plug", ("loosen", "drain plug")),
    ("fitted a new alternator belt", ("install", "alternator belt")), ("rotated the tyres", ("rotate", "tyre")),
    ("tested the battery", ("test", "battery")), ("measured the rear discs", ("measure", "rear disc")),
    ("drained the oil", ("drain", "oil")), ("bled the brakes", ("bleed", "brake")),
])  # fmt: skip
def test_operations(text: str, told: tuple[str, str]) -> None:
    (fact,) = facts(text, "operation")
    assert fact.action == told[0] or {fact.action, told[0]} == {"install", "replace"}  # a new part fitted is either
    assert told[1] in (fact.component or "")


@pytest.mark.parametrize("text", [
    "the drain is over there", "a clean rag", "took a break", "the test went fine", "put the kettle on",
    "next change is due",
])  # fmt: skip
def test_words_that_are_no_operation(text: str) -> None:
    assert facts(text, "operation") == []


def test_operations_keep_their_order() -> None:
    told = facts("Took the wheel off, cleaned the hub, then fitted the disc and torqued the wheel nuts.", "operation")
    assert [fact.action for fact in told] == ["remove", "clean", "install", "tighten"]


@pytest.mark.parametrize(("text", "component", "role"), [
    ("the brake hose is cracked", "brake hose", "act"), ("air filter is filthy", "air filter", "watch|act"),
    ("ball joint boot is torn", "ball joint boot", "act"), ("coolant hose looks good", "coolant hose", "ok"),
    ("the rear pads are fine", "rear pad", "ok"), ("oil seal is weeping", "oil seal", "watch|act"),
    ("no play in the wheel bearing", "wheel bearing", "ok"), ("exhaust bracket is snapped", "exhaust bracket", "act"),
])  # fmt: skip
def test_findings(text: str, component: str, role: str) -> None:
    (fact,) = facts(text, "observation")
    assert component in (fact.component or "")
    assert fact.role in role.split("|")
    assert fact.finding


@pytest.mark.parametrize(("text", "code", "component"), [
    ("put blue thread locker on the bracket bolts", "thread locker", "bracket bolt"),
    ("a dab of anti-seize on the hub face", "anti-seize", "hub"),
    ("soaked the manifold nuts in penetrating oil", "penetrating oil", "manifold nut"),
    ("wiped the disc down with brake cleaner", "brake cleaner", "disc"),
])  # fmt: skip
def test_materials(text: str, code: str, component: str) -> None:
    (fact,) = facts(text, "material")
    assert squash(code) in squash(fact.code)
    assert component in (fact.component or "")


@pytest.mark.parametrize("text", ["the grease nipple is blocked", "the grease is milky", "replaced the cleaner hose"])
def test_words_that_are_no_material(text: str) -> None:
    assert facts(text, "material") == []


@pytest.mark.parametrize(("text", "action", "component"), [
    ("need to replace the rear pads next service", "replace", "rear pad"),
    ("need to replace the rear pads next time", "replace", "rear pad"),
    ("have to bleed the brakes still", "bleed", "brake"),
    ("must order a new thermostat", None, "thermostat"), ("keep an eye on the oil seal", "inspect", "oil seal"),
    ("the drive belt wants replacing", "replace", "belt"),
    ("still to do: grease the ball joints", "lubricate", "ball joint"),
    ("I'll check the wheel nuts again after the drive", "inspect", "wheel nut"),
])  # fmt: skip
def test_follow_ups(text: str, action: str | None, component: str) -> None:
    (fact,) = facts(text, "follow_up")
    assert action is None or fact.action in (action, "tighten" if "nuts" in text else action)
    assert component in (fact.component or "")
    assert fact.assertion == "planned"


@pytest.mark.parametrize("text", [
    "no need to replace the rear pads", "replaced the rear pads", "nothing left to do on the brakes",
    "didn't have to bleed the brakes", "the bolt needs a 32 mm socket",
])  # fmt: skip
def test_what_is_no_follow_up(text: str) -> None:
    assert facts(text, "follow_up") == []


@pytest.mark.parametrize(("text", "count"), [
    ("# Chain\n\n- adjusted\n\n## Still to do\n\n- bleed the front brake\n", 1),
    ("# Still to do\n\nOrder a rear tyre.\n", 1),
])
def test_a_heading_of_things_to_do_is_none_itself(text: str, count: int) -> None:
    reading = read(read_text(text.encode(), "note.md"), None)
    assert len([fact for fact in reading.facts if fact.kind == "follow_up"]) == count
