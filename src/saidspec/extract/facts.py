"""Drafts as facts with the words and seconds they came from."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.mention import named
from saidspec.extract.passage import Passage
from saidspec.model import Fact, Provenance, Utterance

REPEATED = 12  # tokens within which a value that is said again is a repetition
REPEATED_STATEMENT = 4  # of an operation or a finding
LEAST = 0.05  # confidence of a fact


def facts_of(page: Passage, drafts: list[Draft]) -> list[Fact]:
    """The drafts that are kept as facts, in their order."""
    ids = {id(draft): number for number, draft in enumerate(drafts, 1)}
    return [_fact(page, draft, ids) for draft in drafts]


def kept(drafts: list[Draft]) -> list[Draft]:
    """The drafts that are facts of this vehicle, in the order of the note, repetitions left out."""
    return _once([draft for draft in drafts if not draft.dropped])


def _once(drafts: list[Draft]) -> list[Draft]:
    """Of drafts that say the same at the same place the first; a repetition right behind its like is left out."""
    kept: list[Draft] = []
    seen: dict[tuple[object, ...], Draft] = {}
    replacing: set[int] = set()  # ids of the drafts that a kept one points to
    for draft in sorted(drafts, key=lambda draft: (draft.start, -draft.end)):
        key = (draft.kind, named(draft.mention), draft.value, draft.high, draft.unit, draft.code, draft.action,
               draft.finding, draft.assertion, draft.role)
        had = seen.get(key)
        reach = REPEATED_STATEMENT if draft.kind in ("operation", "observation") else REPEATED
        if had is not None and draft.start - had.end < reach and draft.replaced_by is None and (
                id(draft) not in replacing):
            continue
        seen[key] = draft
        kept.append(draft)
        if draft.replaced_by is not None:
            replacing.add(id(draft.replaced_by))
    return kept


def utterance_of(page: Passage, at: int) -> Utterance | None:
    """The utterance in which a token was said."""
    utterances = page.note.utterances
    return utterances[page.utterance[at]] if utterances else None


def _fact(page: Passage, draft: Draft, ids: dict[int, int]) -> Fact:
    start, end = page.origin(draft.start, draft.end)
    time, time_end = _seconds(utterance_of(page, draft.start), start, end)
    words = Provenance(page.note.text[start:end], start, end, time, time_end, draft.rule, draft.cue,
                       round(max(LEAST, draft.confidence), 2))
    replaced_by = ids.get(id(draft.replaced_by)) if draft.replaced_by is not None else None
    return Fact(ids[id(draft)], draft.kind, words, named(draft.mention), draft.value, draft.high, draft.unit,
                draft.code, draft.angle, draft.role, draft.action, draft.finding,
                draft.assertion,  # type: ignore[arg-type]
                draft.approximate, replaced_by)


def _seconds(utterance: Utterance | None, start: int, end: int) -> tuple[float | None, float | None]:
    """The seconds of the words where the note has word times, else those of the utterance."""
    if utterance is None:
        return None, None
    words = [word for word in utterance.words if word.end > start and word.start < end]
    return (words[0].time, words[-1].time_end) if words else (utterance.time, utterance.time_end)

