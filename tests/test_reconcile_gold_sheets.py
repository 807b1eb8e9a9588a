"""Sheets made of what notes with gold say: what was read rightly agrees, what was read wrongly is hardly ever called
wrong.  A slip of the reading is no slip of the person.
"""

from __future__ import annotations

from functools import cache

from saidspec.model import Fact, Kind, Sheet, Specification, Vehicle
from saidspec.reconcile.run import reconcile
from tests.gold_notes import GoldNote, judge, load, reading
from tests.phrase_corpus import CORPUS

KINDS: tuple[Kind, ...] = ("torque", "size", "measurement", "part_number", "fluid")
MISREAD = 4  # accusations over all notes that rest on a wrong reading: lower it when there are fewer


def named(fact: Fact) -> str:
    """The component that a sheet would have for a fact: of a measurement with what is measured."""
    return f"{fact.component} {fact.role or ''}".strip() if fact.kind == "measurement" else fact.component or ""


def sheet_of(facts: list[Fact]) -> Sheet:
    """A sheet of some facts; parts of which two values were said are left out."""
    values: dict[tuple[str, Kind], list[Fact]] = {}
    for fact in facts:
        values.setdefault((named(fact), fact.kind), []).append(fact)
    single = [(component, said[0]) for (component, _), said in values.items()
              if len({(fact.value, fact.unit, fact.code) for fact in said}) == 1]
    return Sheet(Vehicle("Hallam Drover"), tuple(
        Specification(component, fact.kind, "the note", fact.value, fact.value_high, fact.unit, fact.code, fact.angle,
                      role=fact.role if fact.kind == "size" else None, place=f"entry {number}")
        for number, (component, fact) in enumerate(single, 1)))


def accused(note: GoldNote) -> tuple[int, list[tuple[bool, str]]]:
    """(agreements, accusations) of a note against the sheet of its right facts; each accusation with whether its fact
    was read rightly.
    """
    read = reading(note)
    right = [one.fact for one in judge(note, read) if one.right and one.gold and not one.gold.get("optional")]
    told = [fact for fact in right if fact.kind in KINDS and fact.assertion == "stated" and fact.component
            and (fact.value is not None or fact.code) and fact.role != "removed"]
    flags, agreements, _ = reconcile(read, sheet_of(told))
    ids = {fact.id for fact in right}
    return len(agreements), [(flag.fact in ids, f"{note.path.stem}: {flag.message}") for flag in flags
                             if flag.check in ("differs", "outside-limit", "ambiguous")]


@cache
def outcome() -> tuple[int, list[tuple[bool, str]]]:
    """The agreements and accusations over all notes with gold."""
    folders = sorted(path.name for path in CORPUS.glob("notes*") if path.is_dir())
    found = [accused(note) for folder in folders for note in load(folder)]
    return sum(agreed for agreed, _ in found), [one for _, accusations in found for one in accusations]


def test_what_was_read_rightly_agrees_with_a_sheet_of_it() -> None:
    agreed, accusations = outcome()
    assert agreed > 800
    assert [message for right, message in accusations if right] == []


def test_what_was_read_wrongly_is_hardly_ever_called_wrong() -> None:
    messages = [message for right, message in outcome()[1] if not right]
    assert len(messages) <= MISREAD, messages
