"""The passages of notes that entries rest on, each once, with the words of each entry marked and numbered."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby, pairwise

from saidspec.record.entries import Entry
from saidspec.report.lines import as_said
from saidspec.report.wording import clock


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a passage: `marked` where it is the words of an entry, and the entries whose words end with it."""

    text: str
    marked: bool
    ends: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Passage:
    """What one person said in one go."""

    speaker: str
    time: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class NotePassages:
    """The passages of a note in its order."""

    note: str
    day: date | None
    passages: tuple[Passage, ...]


def passages(entries: Iterable[Entry]) -> tuple[NotePassages, ...]:
    """The passages of all notes, in order of time; passages without an entry are left out."""
    ordered = sorted(entries, key=lambda one: (one.day or date.min, one.note_id, begins(one), one.fact.id))
    told = []
    for _, of_note in groupby(ordered, key=lambda one: one.note_id):
        those = list(of_note)
        by_start = groupby(sorted(those, key=begins), key=begins)
        told.append(NotePassages(those[0].note, those[0].day, tuple(_passage(list(some)) for _, some in by_start)))
    return tuple(told)


def begins(entry: Entry) -> int:
    """Where the passage of an entry begins in its note: its utterance, else its own words."""
    return entry.context_start if entry.context else entry.fact.provenance.start


def _passage(some: Sequence[Entry]) -> Passage:
    first = some[0]
    text, start = first.context or first.fact.provenance.quote, begins(first)
    spans = [(one.fact.provenance.start - start, one.fact.provenance.end - start, one.fact.id) for one in some]
    cuts = sorted({0, len(text), *(min(max(place, 0), len(text)) for one in spans for place in one[:2])})
    pieces = []
    for at, to in pairwise(cuts):
        inside = any(begin <= at and to <= end for begin, end, _ in spans)
        ends = tuple(ident for _, end, ident in spans if min(end, len(text)) == to)
        pieces.append(Piece(_kept(text[at:to]), inside, ends))
    time = min((one.fact.provenance.time for one in some if one.fact.provenance.time is not None), default=None)
    return Passage(first.speaker or "", clock(time), tuple(pieces))


def _kept(text: str) -> str:
    """Words in one line, with the space at their ends that parts them from their neighbours."""
    told = as_said(text)
    before, after = " " * text[:1].isspace(), " " * text[-1:].isspace()
    return f"{before}{told}{after}" if told else before or after
