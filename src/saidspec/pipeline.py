"""From a note to its facts, on one page.

note → speech (what was said) → normalised (figures, codes, words put right) → passage (terms found) →
drafts (facts in the making) → standing and corrections → facts
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from saidspec.discourse.corrections import retract
from saidspec.discourse.lists import listed
from saidspec.discourse.outdated import outdated
from saidspec.discourse.reassigned import reassigned, recalled, remeasured, taken_off
from saidspec.extract.assertion import cues_of
from saidspec.extract.draft import Draft
from saidspec.extract.follow_ups import follow_ups
from saidspec.extract.mention import named
from saidspec.extract.mileage import off_the_meter
from saidspec.extract.negation import graded, stand
from saidspec.extract.passage import Passage, passage
from saidspec.extract.reader import Read, read_passage
from saidspec.extract.rules import Rules, load_rules
from saidspec.model import Fact, Note, Provenance, Reading, Unclaimed
from saidspec.normalise.lexemes import normalised
from saidspec.normalise.speech import speech
from saidspec.sources.hearing import as_heard


def read(note: Note, day: date | None = None, rules: Rules | None = None) -> Reading:
    """All that a note says.  `day` is the day it was spoken, from which relative dates count (default: the note's)."""
    rules = rules or load_rules()
    if day is not None:
        note = replace(note, date=day)
    aligned, lexemes = normalised(speech(note), rules.numbers)
    page = passage(note, aligned, lexemes, rules.terms)
    found = read_passage(page, rules)
    _settle(found, rules)
    facts, unsure = as_heard(note, tuple(_facts(found)))
    return Reading(note, facts, tuple(_unclaimed(found)), note.problems + unsure + rules.problems)


def _settle(found: Read, rules: Rules) -> None:
    """Give each draft its standing, take back what was corrected, gather what is still to do."""
    page = found.page
    found.drafts.sort(key=lambda draft: (draft.start, draft.end))
    cues = cues_of(page, rules.enders, frozenset(phrase.start for phrase in found.phrases))
    for draft in found.drafts:
        if draft.assertion == "stated" and not draft.back:
            draft.assertion, draft.cue = stand(cues, draft)
        if (
            draft.rule in ("cost.paid", "odometer.now")
            and draft.assertion in ("possible", "planned", "historical")
            and not (draft.cue or "").startswith("cost.")
        ) or (draft.kind == "cost" and draft.cue in ("quoted-forward", "quoted-backward")):
            draft.assertion, draft.cue = (
                "stated",
                None,
            )  # what was paid or is read now is known; a price is no specification
        if draft.assertion in ("quoted", "historical") and off_the_meter(page, draft):
            draft.assertion, draft.cue = "stated", None
        if draft.kind == "interval" and draft.assertion == "stated" and draft.role in ("every", "until"):
            draft.assertion = "planned"  # what is to be done after it
        if draft.assertion == "other":
            draft.dropped = True
    listed(page, found.drafts, found.phrases, found.completed)
    retract(page, found.drafts)
    found.drafts += reassigned(page, found.drafts, found.phrases, found.completed)
    found.drafts += remeasured(page, found.drafts, rules.units)
    taken_off(page, found.drafts)
    outdated(page, found.drafts)
    found.drafts += recalled(page, found.drafts, found.phrases)
    found.drafts += follow_ups(page, cues, found.drafts, found.days, found.completed)
    for draft in found.drafts:
        if draft.kind == "observation":
            draft.role = graded(draft)
        if draft.kind == "operation" and draft.assertion == "planned":
            draft.kind = "follow_up"


def _facts(found: Read) -> list[Fact]:
    """The drafts as facts, in the order of the note, repetitions left out."""
    kept = _once([draft for draft in found.drafts if not draft.dropped])
    ids = {id(draft): number for number, draft in enumerate(kept, 1)}
    return [_fact(found.page, draft, ids) for draft in kept]


def _once(drafts: list[Draft]) -> list[Draft]:
    """Of drafts that say the same at the same place the surest; a repetition right behind its like is left out."""
    kept: list[Draft] = []
    seen: dict[tuple[object, ...], Draft] = {}
    for draft in sorted(drafts, key=lambda draft: (draft.start, -draft.end)):
        key = (
            draft.kind,
            named(draft.mention),
            draft.value,
            draft.high,
            draft.unit,
            draft.code,
            draft.action,
            draft.finding,
            draft.assertion,
            draft.role,
        )
        had = seen.get(key)
        if (
            had is not None
            and draft.start - had.end < (12 if draft.kind not in ("operation", "observation") else 4)
            and draft.replaced_by is None
            and not any(other.replaced_by is draft for other in kept)
        ):
            continue
        seen[key] = draft
        kept.append(draft)
    return kept


def _fact(page: Passage, draft: Draft, ids: dict[int, int]) -> Fact:
    start, end = page.origin(draft.start, draft.end)
    utterance = page.note.utterances[page.utterance[draft.start]] if page.note.utterances else None
    time, time_end = _seconds(
        page, draft, start, end, utterance.time if utterance else None, utterance.time_end if utterance else None
    )
    words = Provenance(
        page.note.text[start:end],
        start,
        end,
        time,
        time_end,
        draft.rule,
        draft.cue,
        round(max(0.05, draft.confidence), 2),
    )
    return Fact(
        ids[id(draft)],
        draft.kind,
        words,
        named(draft.mention),
        draft.value,
        draft.high,
        draft.unit,
        draft.code,
        draft.angle,
        draft.role,
        draft.action,
        draft.finding,
        draft.assertion,  # type: ignore[arg-type]
        draft.approximate,
        ids.get(id(draft.replaced_by)) if draft.replaced_by is not None else None,
    )


def _seconds(
    page: Passage, draft: Draft, start: int, end: int, time: float | None, time_end: float | None
) -> tuple[float | None, float | None]:
    """The seconds of the words where the note has word times, else those of the utterance."""
    if not page.note.utterances:
        return time, time_end
    words = [
        word
        for word in page.note.utterances[page.utterance[draft.start]].words
        if word.end > start and word.start < end
    ]
    return (words[0].time, words[-1].time_end) if words else (time, time_end)


def _unclaimed(found: Read) -> list[Unclaimed]:
    """The numbers that no fact and no rule claims."""
    page = found.page
    taken = {at for draft in found.drafts for at in range(draft.start, draft.end)} | found.claimed
    left = []
    for at, lex in enumerate(page.lexemes):
        if (lex.kind == "number" and at not in taken) or (lex.kind == "code" and at not in taken):
            start, end = page.origin(at, at + 1)
            utterance = page.note.utterances[page.utterance[at]] if page.note.utterances else None
            left.append(Unclaimed(page.note.text[start:end], start, end, utterance.time if utterance else None))
    return left
