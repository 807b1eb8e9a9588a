"""Doubts: what is not certain raises no `differs`; and a note near it, without the doubt, does."""

from __future__ import annotations

from dataclasses import replace

import pytest

from saidspec.model import Sheet
from tests.reconcile_notes import Spoken, agreed_of, checks_of, done, flags_of, measured, sheet, torque

BOLTS = sheet(("front caliper bolt", "torque", "64 N*m"), ("front caliper bracket bolt", "torque", "175 N*m"),
              ("starter bolt", "torque", "38 N*m"), ("clutch slave cylinder bolt", "torque", "20 N*m"),
              ("wheel nut", "torque", "110 N*m"), ("wheel nut", "size", "19 mm"))
SETTINGS = sheet(("front tyre pressure", "measurement", "2.3 bar"), ("spark plug gap", "measurement", "0.7 to 0.8 mm"),
                 ("coil resistance", "measurement", "8 to 12 ohm"), ("clutch pedal free play", "measurement",
                  "5 to 8 mm"))
CHAINED = "and some other things were done in between, none of them to do with this. " * 3


def note() -> Spoken:
    return Spoken()


def unsure(spoken: Spoken, confidence: float) -> Spoken:
    """The same note, read with less confidence."""
    spoken.facts = [fact.but(provenance=replace(fact.provenance, confidence=confidence)) for fact in spoken.facts]
    return spoken


def wheel(value: object) -> Spoken:
    return note().say("wheel nuts at that", torque("wheel nut", value))


ROWS: list[tuple[str, Spoken, Sheet, bool]] = [
    ("little confidence", unsure(wheel(125), 0.45), BOLTS, False),
    ("half confidence and no cause", unsure(wheel(125), 0.65), BOLTS, False),
    ("half confidence and a cause", unsure(wheel(101), 0.65), BOLTS, True),
    ("full confidence and no cause", wheel(125), BOLTS, True),
    ("too far off without a cause", wheel(7), BOLTS, False),
    ("far off with a cause", wheel(11), BOLTS, True),
    ("another part was named since", note()
     .say("caliper bolts are next, bracket bolts of the caliper first, one seventy five",
     torque("front caliper bolt", 175, quote="one seventy five")), BOLTS, False),
    ("the part itself was named last", note().say("front caliper bracket bolts 175",
     torque("front caliper bracket bolt", 175))
     .say("front caliper bolts the same, 175", torque("front caliper bolt", 175, quote="175")), BOLTS, True),
    ("a neighbour's figure that the note has no other of", note().say("starter, slave cylinder and clutch are out")
     .say("starter bolts 20", torque("starter bolt", 20, quote="20")), BOLTS, False),
    ("a neighbour's figure beside the neighbour's own", note().say("clutch slave cylinder bolts 20",
     torque("clutch slave cylinder bolt", 20, quote="20")).say("starter bolts 20", torque("starter bolt", 20,
     quote="20")),
     BOLTS, True),
    ("two that the note had the wrong way round", note().say("clutch slave cylinder bolts 20, ",
     torque("clutch slave cylinder bolt", 20, quote="20")).say("starter bolts 20", torque("starter bolt", 20,
     quote="20"))
     .say("no, I had those the wrong way round"), BOLTS, False),
    ("taken back later by name", wheel(125).say("hang on, I tell a lie, the wheel nuts were something else"), BOLTS,
     False),
    ("something else taken back", wheel(125).say("hang on, I tell a lie, the hose is fine"), BOLTS, True),
    ("put right later in the note", wheel(125).say("went back and did the wheel nuts at 110", torque("wheel nut", 110)),
     BOLTS, False),
    ("right first and wrong later", wheel(110).say(CHAINED).say("wheel nuts at 101", torque("wheel nut", 101)), BOLTS,
     True),
    ("a tool of which the reading is unsure", unsure(note().say("wheel nuts 22", {"kind": "size",
     "component": "wheel nut",
     "value": 22, "unit": "mm", "role": "tool"}), 0.8), BOLTS, False),
    ("as it was found, then set", note().say("tyres were at 1.9, pumped them up", measured("front tyre", "1.9", "bar",
     "pressure", quote="1.9")), SETTINGS, False),
    ("as it is left", note().say("front tyres are at 1.9 and stay there", measured("front tyre", "1.9", "bar",
     "pressure",
     quote="1.9")), SETTINGS, True),
    ("measured again later", note().say("gap 1.1", measured("spark plug", "1.1", "mm", "gap", quote="1.1"))
     .say("now 0.75", measured("spark plug", "0.75", "mm", "gap", quote="0.75")), SETTINGS, False),
    ("adjusted after it", note().say("free play 12", measured("clutch pedal", 12, "mm", "play", quote="12"))
     .say("adjusted the pedal", done("adjust", "clutch pedal")), SETTINGS, False),
    ("not adjusted after it", note().say("free play 12", measured("clutch pedal", 12, "mm", "play", quote="12")),
     SETTINGS,
     True),
    ("a unit that was not said and fits as another", note().say("coil is nine", measured("coil", 9, "kohm",
     "resistance",
     quote="nine")), SETTINGS, False),
    ("a unit that was said", note().say("coil is nine kilo-ohms", measured("coil", 9, "kohm", "resistance",
     quote="nine kilo-ohms")), SETTINGS, True),
    ("a quoted measure of other conditions", note().say("sticker has 2.6 for a full load", measured("front tyre",
     "2.6", "bar",
     "pressure", assertion="quoted", quote="2.6")), SETTINGS, False),
    ("a quoted torque while what was done agrees", note().say("book says 125", torque("wheel nut", 125,
     assertion="quoted"))
     .say("did them at 110", torque("wheel nut", 110)), BOLTS, False),
]  # fmt: skip


@pytest.mark.parametrize(("spoken", "specs", "flagged"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_doubts(spoken: Spoken, specs: Sheet, flagged: bool) -> None:
    accusing = [check for check, _ in checks_of(spoken, specs) if check in ("differs", "outside-limit")]
    assert bool(accusing) == flagged, [flag.message for flag in flags_of(spoken, specs)]


def test_a_doubted_figure_is_no_agreement() -> None:
    assert agreed_of(unsure(wheel(125), 0.45), BOLTS) == ()
