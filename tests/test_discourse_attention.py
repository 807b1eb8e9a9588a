"""What attention is on: short phrases completed from those before, sides and ends that hold until another is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from saidspec.pipeline import read
from saidspec.sources.read import read_note
from tests.sentences import facts, on_part, wrong


@pytest.mark.parametrize(("text", "told"), [
    ("Undid the water pump pulley. The bolts are 12 newton metres.", "12 N*m water pump pulley bolt"),
    ("Here is the lower ball joint. The nut gets 65 newton metres.", "65 N*m lower ball joint nut"),
    ("Cleaned up the thermostat housing. The cover is 10 newton metres.", "10 N*m thermostat housing cover"),
    wrong("a part of two words is not taken up by its last word in a longer phrase",
          "Took the caliper bracket off. Bracket bolts got 105 newton metres.", "105 N*m caliper bracket bolt"),
])  # fmt: skip
def test_a_short_phrase_belongs_to_the_part_named_before(text: str, told: str) -> None:
    assert [on_part(fact) for fact in facts(text, "torque")] == [told]


@pytest.mark.parametrize(("text", "told"), [
    ("The drain plug had a fat lip on it. It got 30 newton metres.", "30 N*m drain plug"),
    ("The idler pulley is on. That one is 43 newton metres.", "43 N*m idler pulley"),
    ("Slide pins are greased. Both of them to 27 newton metres.", "27 N*m slide pin"),
    ("Next up the fill plug. Did it at 31 newton metres.", "31 N*m fill plug"),
])  # fmt: skip
def test_a_pronoun_stands_for_what_is_talked_of(text: str, told: str) -> None:
    assert [on_part(fact) for fact in facts(text, "torque")] == [told]


@pytest.mark.parametrize(("text", "told"), [
    ("Left front wheel is off. The caliper bolts got 30 newton metres.", "30 N*m left caliper bolt"),
    ("On the right side now. Outer tie rod nut 45 newton metres.", "45 N*m right outer tie rod nut"),
    ("Left side is done. On the other side the strut nut took 55 newton metres.", "55 N*m right strut nut"),
])  # fmt: skip
def test_a_side_holds_for_the_parts_of_its_corner(text: str, told: str) -> None:
    def words(text: str) -> set[str]:
        return {*text.split()}

    (fact,) = facts(text, "torque")
    assert words(told) <= words(on_part(fact))


@pytest.mark.parametrize("text", [
    "Left front wheel is off. Both sides done. Sump plug got 30 newton metres.",
    "Right front caliper is on. Gearbox drain plug got 30 newton metres.",
])  # fmt: skip
def test_a_side_is_not_given_to_a_part_that_has_none(text: str) -> None:
    (fact,) = facts(text, "torque")
    assert not {"left", "right"} & {*(fact.component or "").split()}


def test_another_side_takes_over() -> None:
    text = "Left side first. Pads measure 4 mm. Now the right side. Pads measure 6 mm."
    told = [on_part(fact) for fact in facts(text, "measurement")]
    assert ["left" in told[0], "right" in told[0], "left" in told[1], "right" in told[1]] == [True, False, False, True]


def test_an_end_holds_for_its_system() -> None:
    text = "Rear brakes next. Pads measure 3 mm."
    (fact,) = facts(text, "measurement")
    assert {"rear", "pad"} <= {*(fact.component or "").split()}


def test_what_cannot_be_told_has_no_component() -> None:
    (fact,) = facts("That one is 30 newton metres.", "torque")
    assert fact.component is None
    assert fact.provenance.confidence < 0.7


@pytest.mark.parametrize(("text", "told"), [
    ("# Front brakes\n\nSlide pins 27 newton metres.", "27 N*m front slide pin"),
    ("Idler pulley: 43 newton metres.", "43 N*m idler pulley"),
    ("- alternator: upper bolt 25 newton metres", "25 N*m upper alternator bolt"),
])  # fmt: skip
def test_headings_and_entries_name_what_follows(text: str, told: str) -> None:
    (fact,) = facts(text, "torque")
    assert {*told.split()} <= {*on_part(fact).split()}


@pytest.mark.parametrize(("messages", "told"), [
    (["Tamsin: pads were 3 mm left, 4 mm right", "Joss: and the discs?", "Tamsin: 23.4 left, 23.1 right"],
     ["3 mm left pad", "4 mm right pad", "23.4 mm left disc", "23.1 mm right disc"]),
    (["Tamsin: pads were 3 mm left, 4 mm right", "Joss: what about the discs?", "Tamsin: left 23.4, right 23.1"],
     ["3 mm left pad", "4 mm right pad", "23.4 mm left disc", "23.1 mm right disc"]),
    (["Tamsin: pads were 3 mm left, 4 mm right", "Joss: discs too?", "Tamsin: no. rear pads 6 left, 5 right"],
     ["3 mm left pad", "4 mm right pad", "6 mm rear left pad", "5 mm rear right pad"]),
])  # fmt: skip
def test_an_answer_is_of_the_part_that_another_speaker_asks_about(
        messages: list[str], told: list[str], tmp_path: Path) -> None:
    chat = tmp_path / "chat.txt"
    chat.write_text("".join(f"23/11/2024, 10:0{at} - {said}\n" for at, said in enumerate(messages)), encoding="utf-8")
    assert [on_part(fact) for fact in read(read_note(chat), None).facts if fact.kind == "measurement"] == told


@pytest.mark.parametrize(("entries", "told"), [
    (["- wheel weights: 20 g on the rear, left side", "- torque arm nut 35 Nm"], "35 N*m torque arm nut"),
    (["- wheel weights: 20 g on the rear, left side", "", "## Pads", "", "- disc bolts 30 Nm"], "30 N*m disc bolt"),
    (["- left side caliper off", "- pads 4 mm", "- sump plug 25 Nm"], "25 N*m sump plug"),
    (["## Left front", "- pads 4 mm", "## Engine", "- sump plug 25 Nm"], "25 N*m sump plug"),
    (["- left side caliper off", "- caliper bolts 30 Nm"], "30 N*m left caliper bolt"),
    (["- left front wheel off", "- caliper bolts 30 Nm"], "30 N*m left caliper bolt"),
    (["- Left side:", "  - pads 4 mm", "- Right side:", "  - caliper bolts 30 Nm"], "30 N*m right caliper bolt"),
    (["# Left front", "## Brakes", "- caliper bolts 30 Nm"], "30 N*m left caliper bolt"),
    (["Left front wheel off", "", "- caliper bolts 30 Nm"], "30 N*m left caliper bolt"),
])  # fmt: skip
def test_a_side_in_an_entry_of_a_list_goes_on_only_with_the_work_there(
        entries: list[str], told: str, tmp_path: Path) -> None:
    note = tmp_path / "note.md"
    note.write_text("\n".join(entries) + "\n", encoding="utf-8")
    assert [on_part(fact) for fact in read(read_note(note), None).facts if fact.kind == "torque"] == [told]
