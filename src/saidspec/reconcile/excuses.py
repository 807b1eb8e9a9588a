"""Differences that have a reason to be none: worn parts that were replaced, torques for undoing, second tools, claims
that are about something else, and whatever is in doubt.
"""

from __future__ import annotations

import re

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import DONE, Case
from saidspec.reconcile.causes import Named
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.cues import cue
from saidspec.reconcile.designations import compare
from saidspec.reconcile.doubts import doubt
from saidspec.reconcile.phrase import conflicting, read_phrase, words_of
from saidspec.reconcile.settings import SETTABLE

OLD_NAME = 2  # words behind "old", places aside, in which its part is named
THEN = 110  # characters after a measure in which its part may be said to have come off


def put_right(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether what can be set (a pressure, a clearance) was measured again later in the note and then agrees."""
    quantity = read_phrase(spec.component, spec.kind, case.context.vocabulary).quantity
    if spec.bound or (quantity or case.context.vocabulary.quantities.get(((fact.role or ""),))) not in SETTABLE:
        return False
    said = case.phrase(fact)
    for later in case.matched_after(spec, fact):
        phrase = case.phrase(later)
        same = phrase.words == said.words and (not phrase.positions or phrase.positions == said.positions)
        verdict = compare_numbers(later, spec) if same else None
        if verdict and verdict.agrees:
            return True
    return False


def of_old_part(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether the words before a measure say that it is of a part that came off: "the old disc"; old petrol is none."""
    words = re.split(r"[.!?]\s|\n", case.near_text(fact, 90, 0))[-1]
    vocabulary = case.context.vocabulary
    own = case.phrase(fact).words | read_phrase(spec.component, spec.kind, vocabulary).words | vocabulary.bundle
    for found in cue("old-part").finditer(words):
        behind = [word for _, word in words_of(words[found.end():found.end() + 40], vocabulary)
                  if (word,) not in vocabulary.positions][:OLD_NAME]
        measured = any((word,) in vocabulary.quantities for word in behind)
        if found[0] != "old" or not behind or measured or own & set(behind) or (
                behind[0] in vocabulary.skip | vocabulary.links):
            return True
    return False


def superseded(case: Case, fact: Fact, spec: Specification) -> bool:
    """A measurement of a part that the note then replaced or put right: no fault of the job."""
    if fact.kind != "measurement":
        return False
    if of_old_part(case, fact, spec):
        return True
    after = case.reading.note.text[fact.provenance.end:fact.provenance.end + THEN]
    if spec.bound and taken_off(case, fact, spec, re.split(r"[.!?]\s|\n", after.lower())[0]):
        return True
    if put_right(case, fact, spec):
        return True
    wanted = read_phrase(spec.component, spec.kind, case.context.vocabulary)
    wears = bool(spec.bound) or wanted.quantity not in SETTABLE  # the pressure of a new tyre is the new one's
    for done in case.facts("operation", DONE):
        if done.action != "replace" or not done.component or not wears:
            continue
        phrase = case.phrase(done)
        if phrase.words and phrase.words <= wanted.words | wanted.bundle \
                and wanted.head in phrase.words and not conflicting(phrase, case.phrase(fact)):
            return True
    return any(fact.provenance.end <= done.provenance.start <= later.provenance.start
               for later in right_later(case, fact, spec) for done in case.said_after("operation", fact)
               if done.action in ("replace", "adjust", "install") and done.component)


def taken_off(case: Case, fact: Fact, spec: Specification, after: str) -> bool:
    """Whether the words behind a measure say that its part came off or was replaced; a part that they name has to be
    the same one: "the disc is 21.3 and new pads went in" leaves the disc on."""
    vocabulary = case.context.vocabulary
    own = case.phrase(fact).words | read_phrase(spec.component, spec.kind, vocabulary).words
    for found in cue("taken-off").finditer(after):
        words = {word for _, word in words_of(found[0], vocabulary)}
        parts = words & (vocabulary.known - vocabulary.skip - vocabulary.bundle - vocabulary.links)
        if not parts or parts & own:
            return True
    return False


def right_later(case: Case, fact: Fact, spec: Specification) -> list[Fact]:
    """The measures of the same place soon after one that agree."""
    places = case.phrase(fact).positions
    return [later for later in case.matched_after(spec, fact) if case.phrase(later).positions == places
            and (verdict := compare_numbers(later, spec)) and verdict.agrees]


def other_tool(case: Case, fact: Fact, spec: Specification) -> bool:
    """A size beside another one of the same part that agrees: a second tool (a counterhold, another fit)."""
    return fact.kind == "size" and any(
        other.id != fact.id and (verdict := compare(other, spec)) and verdict.agrees for other in case.matched(spec))


def undone_at(case: Case, fact: Fact) -> bool:
    """Whether a torque is the one at which something came undone or gave way: "let go at about 300", "300 to undo it",
    "one stripped at about eight"."""
    where, text = fact.provenance, case.reading.note.text.lower()
    before = re.split(r"[.!?]\s|\n", text[max(0, where.start - 60):where.start])[-1]
    return bool(cue("undone-at").search(before) or cue("failed-at").search(before)
                or cue("needed-to-undo").search(text[where.end:where.end + 40]))


def no_claim(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a quoted figure is something else than what the sheet has: a new part's, a torque for undoing."""
    before, words = case.near_text(fact, 30, 0), case.near_text(fact, 30, 15)
    if spec.bound:
        return bool(re.search(r"\bnew\b", before)) or not cue("limit").search(f"{words} {fact.role or ''}")
    return fact.kind == "torque" and bool(cue("at-most").search(words))


def excuse(case: Case, fact: Fact, spec: Specification, found: list[Named]) -> str | None:
    """The reason that makes a difference none, or None; `found` are the causes that explain it."""
    if fact.kind == "torque" and undone_at(case, fact):
        return "it came undone or gave way at that"
    if fact.assertion == "quoted" and no_claim(case, fact, spec):
        return "what is quoted is about something else"
    if superseded(case, fact, spec):
        return "the part was replaced or put right"
    if other_tool(case, fact, spec):
        return "another tool of the part agrees"
    return doubt(case, fact, spec, found)
