"""Which fact of a new reading is which stored one, so that rows and decisions stay with what they are about."""

from __future__ import annotations

import sqlite3
from bisect import bisect_left
from collections.abc import Sequence

from saidspec.model import Fact
from saidspec.record.moved import Kept
from saidspec.record.rows import as_text

NEAR = 2.0  # seconds between the places of one fact in two transcriptions of a recording
LONGEST = 2000  # characters of a quote

Key = tuple[int, int, str, int]  # start, end, kind, slot


def slots(facts: Sequence[Fact]) -> list[int]:
    """The slot of each fact: 0, 1 ... among those of one kind that share the same words."""
    seen: dict[tuple[int, int, str], int] = {}
    told = []
    for fact in facts:
        place = (fact.provenance.start, fact.provenance.end, fact.kind)
        told.append(seen.get(place, 0))
        seen[place] = told[-1] + 1
    return told


def matched(stored: Sequence[sqlite3.Row], facts: Sequence[Fact], kept: Kept) -> dict[int, int]:
    """Position in `facts` -> id of the stored row that is the same fact.

    First by key, with the spans of the former text moved into the present one; then by words of one kind that overlap
    and begin or end at the same place or give the same value;
    last, for a recording heard anew, by the same value of one kind at the same time.
    """
    moved = {row["id"]: kept.move(row["start"], row["end"]) for row in stored}
    by_key: dict[Key, int] = {}
    for row in stored:
        if span := moved[row["id"]]:
            by_key[(*span, row["kind"], row["slot"])] = row["id"]
    told: dict[int, int] = {}
    for at, (fact, slot) in enumerate(zip(facts, slots(facts), strict=True)):
        found = by_key.pop((fact.provenance.start, fact.provenance.end, fact.kind, slot), None)
        if found is not None:
            told[at] = found
    taken = set(told.values())
    rest = [row for row in stored if row["id"] not in taken]
    _by_overlap(rest, moved, facts, told)
    _by_time([row for row in rest if row["id"] not in set(told.values())], facts, told)
    return told


def _by_overlap(
    rest: list[sqlite3.Row], moved: dict[int, tuple[int, int] | None], facts: Sequence[Fact], told: dict[int, int],
) -> None:  # fmt: skip
    free: dict[str, list[tuple[int, int, int]]] = {}
    for at, fact in enumerate(facts):
        if at not in told:
            free.setdefault(fact.kind, []).append((fact.provenance.start, fact.provenance.end, at))
    for those in free.values():
        those.sort()
    for row in rest:
        span = moved[row["id"]]
        those = free.get(row["kind"], [])
        if span is None or not those:
            continue
        best: tuple[tuple[bool, int], int] | None = None
        for at in range(bisect_left(those, (span[0] - LONGEST,)), len(those)):
            start, end, position = those[at]
            if start >= span[1]:
                break
            shared = min(end, span[1]) - max(start, span[0])
            likeness = (facts[position].component == row["component"], shared)
            alike = _same_value(row, facts[position]) or start == span[0] or end == span[1]
            if shared > 0 and alike and (best is None or likeness > best[0]):
                best = (likeness, at)
        if best:
            told[those.pop(best[1])[2]] = row["id"]


def _same_value(row: sqlite3.Row, fact: Fact) -> bool:
    return bool(row["value"] == as_text(fact.value) and row["code"] == fact.code and row["unit"] == fact.unit)


def _by_time(rest: list[sqlite3.Row], facts: Sequence[Fact], told: dict[int, int]) -> None:
    free: dict[tuple[str, str | None, str | None, str | None], list[int]] = {}
    for at, fact in enumerate(facts):
        if at not in told and fact.provenance.time is not None:
            free.setdefault((fact.kind, as_text(fact.value), fact.unit, fact.code), []).append(at)
    for row in rest:
        those = free.get((row["kind"], row["value"], row["unit"], row["code"]), [])
        if row["time"] is None or not those or (row["value"] is None and row["code"] is None):
            continue
        apart = {at: abs((facts[at].provenance.time or 0.0) - row["time"]) for at in those}
        nearest = min(those, key=apart.__getitem__)
        if apart[nearest] <= NEAR:
            those.remove(nearest)
            told[nearest] = row["id"]
