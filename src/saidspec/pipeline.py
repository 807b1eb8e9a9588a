"""From a note to its facts, on one page.

note → speech (what was said) → normalised (figures, codes, words put right) → passage (terms found) →
drafts (facts in the making) → standing and corrections → facts
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import replace
from datetime import date

from saidspec.discourse.corrections import retract
from saidspec.discourse.lists import listed
from saidspec.discourse.outdated import outdated
from saidspec.discourse.reassigned import reassigned, recalled, remeasured, taken_off
from saidspec.discourse.restated import restated
from saidspec.discourse.swapped import swapped
from saidspec.discourse.tightened import of_the_part
from saidspec.discourse.undone import undone
from saidspec.extract.accounted import accounted
from saidspec.extract.cues import cues_of
from saidspec.extract.facts import facts_of, kept
from saidspec.extract.follow_ups import follow_ups
from saidspec.extract.passage import passage
from saidspec.extract.reader import Read, read_passage
from saidspec.extract.rules import Rules, load_rules
from saidspec.extract.standing import graded, settle
from saidspec.heard.doubts import doubted
from saidspec.model import Note, Reading
from saidspec.normalise.lexemes import normalised
from saidspec.normalise.speech import speech
from saidspec.sources.hearing import as_heard

LONG = 20_000  # characters of a note that is read without a search for reference cycles


def read(note: Note, day: date | None = None, rules: Rules | None = None) -> Reading:
    """All that a note says.  `day` is the day it was spoken, from which relative dates count (default: the note's)."""
    rules = rules or load_rules()
    if day is not None:
        note = replace(note, date=day)
    with uncollected() if len(note.text) > LONG else nullcontext():
        aligned, lexemes = normalised(speech(note), rules.numbers)
        page = passage(note, aligned, lexemes, rules.terms)
        found = read_passage(page, rules)
        _settle(found, rules)
        told = kept(found.drafts)
        facts, unsure = as_heard(note, tuple(facts_of(found.page, told)))
        facts, doubts = doubted(note, facts)
        unclaimed, known = accounted(found, told, rules.numbers.words)
        return Reading(note, facts, unclaimed, note.problems + unsure + doubts + rules.problems, known)


@contextmanager
def uncollected() -> Iterator[None]:
    """Without a search for reference cycles: a reading makes hardly one, and in a transcript of hours each search
    would look through all the values made so far."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def _settle(found: Read, rules: Rules) -> None:
    """Give each draft its standing, take back what was corrected, gather what is still to do.

    The order matters: a value is taken back with the part that a list gave it, what is outdated was not taken back,
    and a plan is made of what is left.
    """
    page = found.page
    found.drafts.sort(key=lambda draft: (draft.start, draft.end))
    cues = cues_of(page, rules.enders, frozenset(phrase.start for phrase in found.phrases), found.days)
    for draft in found.drafts:
        settle(cues, draft)
    of_the_part(found.drafts)
    listed(page, found.drafts, found.phrases, found.completed)
    retract(page, found.drafts)
    found.drafts += reassigned(page, found.drafts, found.phrases, found.completed)
    found.drafts += remeasured(page, found.drafts, rules.units)
    found.drafts += swapped(page, found.drafts)
    restated(page, found.drafts)
    taken_off(page, found.drafts)
    outdated(page, found.drafts)
    undone(page, found.drafts)
    found.drafts += recalled(page, found.drafts, found.phrases)
    found.drafts += follow_ups(page, cues, found.drafts, found.days, found.completed)
    for draft in found.drafts:
        if draft.kind == "observation":
            draft.role = graded(draft)
        if draft.kind == "operation" and draft.assertion == "planned":
            draft.kind = "follow_up"
