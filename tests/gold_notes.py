"""Whole notes with gold: pairs the facts of a reading with the facts a careful reader records, and counts both.

A fact and a gold fact can be paired where their words overlap and they say the same: one kind, and the value (upper
end included) equal within 0.5 % in one unit, or the code equal without case and separators.  Pairs are one to one, the
best overlap first.  A pair is strictly right where unit, angle, component and assertion are right too.

Only the kinds that the gold lists completely are judged, for only of those is a fact without gold one too much.  An
optional gold fact is neither missed nor too much, save that what the note takes back must be retracted.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from saidspec.model import Fact, Known, Provenance, Reading, Unclaimed
from saidspec.pipeline import read
from saidspec.reference.units import convert, convertible
from saidspec.sources.read import read_note
from tests.phrase_corpus import CORPUS, alternatives, has_words, squash

CLOSE = Decimal("0.005")
# Kinds of which a component is nice to have where the gold names none, and not wrong.
FREE = {"odometer", "date", "trouble_code", "cost", "interval", "duration"}
STATEMENTS = {"operation", "observation", "follow_up", "material"}
TEXTS = (".txt", ".md", ".vtt", ".srt")

Gold = dict[str, Any]


@dataclass(frozen=True)
class GoldNote:
    """A note, the facts it holds, and the kinds of which those are all."""

    path: Path
    day: date | None
    complete: frozenset[str]
    facts: tuple[Gold, ...]


@dataclass(frozen=True)
class Judged:
    """A fact of a complete kind, the gold it was paired with, and whether it is strictly right."""

    fact: Fact
    gold: Gold | None
    right: bool


@dataclass
class Score:
    """Gold facts, facts, pairs, and pairs that are strictly right, by kind."""

    gold: Counter[str] = field(default_factory=Counter)
    said: Counter[str] = field(default_factory=Counter)
    paired: Counter[str] = field(default_factory=Counter)
    right: Counter[str] = field(default_factory=Counter)

    def add(self, note: GoldNote, judged: Sequence[Judged]) -> None:
        """Count a note.  A retracted reading of an optional gold fact counts for nothing."""
        wanted = [gold for gold in note.facts if gold["kind"] in note.complete and not gold.get("optional")]
        self.gold.update(gold["kind"] for gold in wanted)
        for each in judged:
            if each.gold is not None and each.gold.get("optional") and each.right:
                continue
            self.said[each.fact.kind] += 1
            if each.gold is not None and not each.gold.get("optional"):
                self.paired[each.fact.kind] += 1
                self.right[each.fact.kind] += each.right

    def f1(self, kind: str | None = None) -> float:
        """F1 of values, of one kind or of all."""
        return self._f1(self.paired, kind)

    def strict(self, kind: str | None = None) -> float:
        """Strict F1, of one kind or of all."""
        return self._f1(self.right, kind)

    def _f1(self, hits: Counter[str], kind: str | None) -> float:
        both = [counts[kind] if kind else counts.total() for counts in (self.gold, self.said)]
        return 2 * (hits[kind] if kind else hits.total()) / sum(both) if sum(both) else 1.0


def load(folder: str) -> list[GoldNote]:
    """The notes with gold in a folder of the corpus; none where there is no such folder."""
    return [_load(path) for path in sorted((CORPUS / folder).glob("*.gold.json"))]


def _load(path: Path) -> GoldNote:
    gold = json.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    name = path.name.removesuffix(".gold.json")
    note = next(path.with_name(name + ending) for ending in TEXTS if path.with_name(name + ending).exists())
    day = date.fromisoformat(gold["note_date"]) if gold.get("note_date") else None
    return GoldNote(note, day, frozenset(gold["complete_kinds"]), tuple(gold["facts"]))


def reading(note: GoldNote) -> Reading:
    """What the tool reads from a note."""
    return read(read_note(note.path, day=note.day), note.day)


def judge(note: GoldNote, read: Reading) -> list[Judged]:
    """The facts of complete kinds, each with its gold.  An optional pair is right unless it has to be retracted."""
    facts = [fact for fact in read.facts if fact.kind in note.complete]
    pairs = pair(note.facts, facts, read.note.text)
    judged = []
    for place, fact in enumerate(facts):
        gold = note.facts[pairs[place]] if place in pairs else None
        right = gold is not None and strictly_right(gold, fact)
        if gold is not None and gold.get("optional"):
            right = fact.assertion == "retracted" or alternatives(gold["assertion"]) != ["retracted"]
        judged.append(Judged(fact, gold, right))
    return judged


def pair(golds: Sequence[Gold], facts: Sequence[Fact], text: str) -> dict[int, int]:
    """Place of a fact -> place of its gold, one to one: the best overlap first, of equals what must be there first."""
    found = []
    for g, gold in enumerate(golds):
        places = list(spans(gold, text))
        for f, fact in enumerate(facts):
            share = max((overlap(place, fact) for place in places), default=0.0)
            if share and says_the_same(gold, fact):
                found.append((-share, bool(gold.get("optional")), not strictly_right(gold, fact), f, g))
    pairs: dict[int, int] = {}
    for *_, f, g in sorted(found):
        if f not in pairs and g not in pairs.values():
            pairs[f] = g
    return pairs


def lost(note: GoldNote, read: Reading) -> list[Gold]:
    """The gold values and codes that were not found and that touch no number that is told of in any way.

    What is asked about may be put right by a person, and what is known as no fact is told; of these nobody will hear.
    """
    facts = [fact.provenance for fact in read.facts if fact.kind not in STATEMENTS]
    return [gold for gold in missed(note, read) if not touched(gold, read, [*facts, *read.unclaimed, *read.known])]


def taken_for_none(note: GoldNote, read: Reading) -> list[Gold]:
    """The gold values and codes that were not found, all of whose numbers a rule takes to be no fact."""
    facts = [fact.provenance for fact in read.facts if fact.kind not in STATEMENTS]
    return [gold for gold in missed(note, read)
            if touched(gold, read, read.known) and not touched(gold, read, [*facts, *read.unclaimed])]


def missed(note: GoldNote, read: Reading) -> list[Gold]:
    """The gold values and codes that must be found and were not."""
    facts = [fact for fact in read.facts if fact.kind not in STATEMENTS]
    found = {*pair(note.facts, facts, read.note.text).values()}
    return [gold for place, gold in enumerate(note.facts)
            if place not in found and not gold.get("optional") and gold["kind"] not in STATEMENTS]


def touched(gold: Gold, read: Reading, told: Iterable[Provenance | Unclaimed | Known]) -> bool:
    """Whether the words of a gold fact share a character with any of these."""
    places = list(spans(gold, read.note.text))
    return any(each.start < end and start < each.end for each in told for start, end in places)


def spans(gold: Gold, text: str) -> Iterator[tuple[int, int]]:
    """Where the words of a gold fact stand in the note."""
    for quote in alternatives(gold["quote"]):
        start = text.find(quote)
        if start >= 0:
            yield start, start + len(quote)


def overlap(place: tuple[int, int], fact: Fact) -> float:
    """The characters that two spans share, of all that they cover."""
    start, end = fact.provenance.start, fact.provenance.end
    shared = min(place[1], end) - max(place[0], start)
    return max(0, shared) / (max(place[1], end) - min(place[0], start))


def says_the_same(gold: Gold, fact: Fact) -> bool:
    """One kind, and the same value or code."""
    if gold["kind"] != fact.kind:
        return False
    if "code" in gold and "value" not in gold:
        return squash(fact.code) in {squash(code) for code in alternatives(gold["code"])}
    units = alternatives(gold.get("unit"))
    return all(same_number(gold.get(name), getattr(fact, name), units, fact.unit) for name in ("value", "value_high"))


def same_number(wanted: Any, got: Decimal | None, units: list[str | None], unit: str | None) -> bool:
    """Equal within 0.5 % after conversion to one of the acceptable units; a unit left out is taken for the right
    one.
    """
    if wanted is None or got is None:
        return wanted is None and got is None
    want = Decimal(str(wanted))
    for other in units:
        if unit is None or other is None or unit == other:
            number = got
        elif convertible(unit, other):
            number = convert(got, unit, other)
        else:
            continue
        if abs(number - want) <= abs(want) * CLOSE:
            return True
    return False


def strictly_right(gold: Gold, fact: Fact) -> bool:
    """Unit as said, angle, currency, component and assertion are right too."""
    unit = fact.unit in alternatives(gold.get("unit")) if "unit" in gold else True
    angle = gold.get("angle") is None or fact.angle == Decimal(str(gold["angle"]))
    codes = {squash(code) for code in alternatives(gold["code"])} if "code" in gold else {squash(fact.code)}
    standing = fact.assertion in alternatives(gold["assertion"])
    return unit and angle and squash(fact.code) in codes and component_right(gold, fact) and standing


def component_right(gold: Gold, fact: Fact) -> bool:
    wanted = gold["component"]
    if wanted is None:
        return fact.kind in FREE or not fact.component
    return all(has_words(word, fact.component) for word in wanted["has"]) and not any(
        has_words(word, fact.component) for word in wanted["not"]
    )


def scored(notes: Iterable[GoldNote]) -> tuple[Score, list[Judged]]:
    """The counts over notes, and every fact that was judged; of optional ones only those that are wrong."""
    score, all_judged = Score(), []
    for note in notes:
        judged = judge(note, reading(note))
        score.add(note, judged)
        all_judged += [each for each in judged if each.gold is None or not each.gold.get("optional") or not each.right]
    return score, all_judged
