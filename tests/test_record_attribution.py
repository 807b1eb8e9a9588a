"""Which vehicle a note is about: named as a name, and never guessed."""

from __future__ import annotations

import pytest

from saidspec.record.asking import cues
from saidspec.record.attribution import Head, Names, attribute
from tests.record_makers import note_of

DROVER, TIPPER, PASSAGE = 1, 2, 3
HEAD = Head(cues().before_names, cues().behind_names)
NAMES = Names({"Hallam Drover": DROVER, "the van": DROVER, "Marlow Tipper": TIPPER, "Lorne Passage": PASSAGE,
               "Marlow 45": 4}, everyday={"passage", "trailer", "oil", "brake", "bolt"}, head=HEAD)  # fmt: skip


@pytest.mark.parametrize(("text", "vehicle"), [
    ("Front brakes on the Hallam Drover.", DROVER),
    ("Front brakes on the HALLAM  DROVER's left side.", DROVER),
    ("Today the Drover got new pads.", DROVER),
    ("Worked on the van today.", DROVER),
    ("misfire day on the tipper. odo says 164,902\nswapped the coils", TIPPER),
    ("my tipper again", TIPPER),
    ("The Marlow 45 today.", 4),
    ("Front brakes today, 94200 on the clock.", None),
    ("A tipper of gravel came.", None),  # no name: lower case where the rest has capitals
    ("Drover bolts are metric.", None),  # a capital only for the sentence
    ("the passage was blocked by sludge\nso i blew it out", None),  # a word of everyday speech
    ("a tipper came by\nand we talked", None),
    ("The Hallam Drover, torqued like the Marlow Tipper.", None),
    ("Marlow made good tractors.", None),
    ("Hallam Drovers are everywhere.", None),
])  # fmt: skip
def test_a_mention(text: str, vehicle: int | None) -> None:
    told = attribute(note_of(text), NAMES)
    assert told.vehicle == vehicle
    assert set(told.utterances) == {vehicle}
    assert told.how == ("mention" if vehicle else None)


@pytest.mark.parametrize(("text", "vehicle"), [
    ("drover again, rear pads this time", DROVER),
    ("okay drover\nfront brakes", DROVER),
    ("Okay, Drover. Front brakes.", DROVER),
    ("Drover oil change. Drained four litres.", DROVER),
    ("drover third of august\nbrakes", DROVER),
    ("drover 3 august, brakes", DROVER),
    ("drover's in for brakes", DROVER),
    ("this is drover, brakes today", DROVER),
    ("Tipper: brakes", TIPPER),
    ("right then tipper today", TIPPER),
    ("drover again, same bolts as the tipper", None),  # two are named
    ("drover bolts are metric\nand rusty", None),  # says of what kind they are
    ("a drover came by", None),
    ("two tippers came by", None),
    ("passage again, rear pads", None),  # a word of everyday speech
    ("oil change\ndrover brakes", None),  # not the beginning
    ("Drover string snapped.", None),
    ("", None),
])  # fmt: skip
def test_a_note_that_begins_with_a_name(text: str, vehicle: int | None) -> None:
    assert attribute(note_of(text), NAMES).vehicle == vehicle


@pytest.mark.parametrize(("text", "vehicles"), [
    ("# Hallam Drover\n## Front brakes\nBolts.\n# Marlow Tipper\nOil.\n", [1, 1, 1, 2, 2]),
    ("# Diary\nSunny.\n## Drover\nBolts.\n### Rear\nPads.\n## Tipper\nOil.\n", [None, None, 1, 1, 1, 1, 2, 2]),
    ("# Hallam Drover\nBolts.\n# Shed\nShelf.\n", [1, 1, None, None]),
    ("# Drover and Tipper\nBolts.\n", [None, None]),
])  # fmt: skip
def test_headings(text: str, vehicles: list[int | None]) -> None:
    told = attribute(note_of(text), NAMES)
    assert list(told.utterances) == vehicles
    assert told.vehicle is None


def test_what_the_user_gives_goes_before_and_what_a_person_said_fills_the_rest() -> None:
    note = note_of("# Hallam Drover\nBolts.\n# Shed\nShelf.\n")
    assert attribute(note, NAMES, TIPPER).utterances == (TIPPER,) * 4
    told = attribute(note, NAMES, TIPPER, "person")
    assert (told.utterances, told.vehicle, told.how) == ((DROVER, DROVER, TIPPER, TIPPER), None, "person")


def test_no_vehicle_is_known_yet() -> None:
    told = attribute(note_of("The Hallam Drover."), Names({}))
    assert (told.vehicle, told.how, told.named) == (None, None, ())
