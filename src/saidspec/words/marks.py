"""What was read of a note, as marks on its text: facts, words put right, numbers known as none, numbers left over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from saidspec.extract.passage import Passage, passage
from saidspec.extract.rules import Rules
from saidspec.model import Fact, Note, Reading
from saidspec.normalise.lexemes import normalised
from saidspec.normalise.speech import speech
from saidspec.pipeline import read
from saidspec.report.reading import said


@dataclass(frozen=True, slots=True)
class Mark:
    """Characters start..end of the note's text, how they are shown, and what is told of them.

    `style` is a standing of the output contract, or put-right, no-fact or unclaimed.
    """

    start: int
    end: int
    style: str
    label: str
    told: str


@dataclass(frozen=True, slots=True)
class Marked:
    """A note with its marks, in order, and the words that no rule file knows, each once."""

    reading: Reading
    marks: tuple[Mark, ...]
    strange: tuple[str, ...]


def marked(note: Note, rules: Rules) -> Marked:
    """Read a note and mark what was read of it."""
    reading = read(note, rules=rules)
    aligned, lexemes = normalised(speech(note), rules.numbers)
    page = passage(note, aligned, lexemes, rules.terms)
    marks = [*_facts(reading), *_put_right(page), *_left(reading), *_no_facts(reading)]
    marks.sort(key=lambda mark: (mark.start, -mark.end))
    return Marked(reading, tuple(marks), _strange(page, reading, rules))


def _facts(reading: Reading) -> Iterator[Mark]:
    for fact in reading.facts:
        yield Mark(fact.provenance.start, fact.provenance.end, fact.assertion, str(fact.id), _told(fact))


def _told(fact: Fact) -> str:
    """A fact in one line: kind, value, component, standing, the rule that read it and the cue that decided."""
    words = fact.provenance
    value = f" {said(fact)}" if said(fact) else ""
    role = f" ({fact.role})" if fact.role else ""
    standing = fact.assertion + (f" by {words.cue}" if words.cue else "")
    if fact.replaced_by:
        standing += f", replaced by {fact.replaced_by}"
    return (f"{fact.kind}{value}{role} | {fact.component or 'no component'} | {standing} | rule {words.rule or '-'} | "
            f"{words.confidence:.2f}")


def _put_right(page: Passage) -> Iterator[Mark]:
    aligned = page.aligned
    for piece in aligned.pieces:
        if piece.rule and piece.rule.startswith("mishearing."):
            now = aligned.text[piece.start : piece.end]
            yield Mark(piece.begin, piece.finish, "put-right", "~", f"heard as {now!r} | rule {piece.rule}")


def _left(reading: Reading) -> Iterator[Mark]:
    for item in reading.unclaimed:
        yield Mark(item.start, item.end, "unclaimed", "?", "no rule claims this number")


def _no_facts(reading: Reading) -> Iterator[Mark]:
    """The numbers that a rule knows to be no fact; of words that seldom mean a number nothing is told."""
    for item in reading.known:
        if not item.is_word and not item.rule.startswith("mishearing."):
            yield Mark(item.start, item.end, "no-fact", "x", f"known as no fact | rule {item.rule}")


def _characters(reading: Reading) -> set[int]:
    """The characters of the note that facts rest on."""
    return {at for fact in reading.facts for at in range(fact.provenance.start, fact.provenance.end)}


def _strange(page: Passage, reading: Reading, rules: Rules) -> tuple[str, ...]:
    """The words, as said, that are in no list of the rules and in no fact."""
    covered = {at for tokens in page.covered.values() for at in tokens}
    inside = _characters(reading)
    found: dict[str, None] = {}
    for at, lex in enumerate(page.lexemes):
        plain = lex.kind == "word" and len(lex.text) > 2 and at not in covered and page.word(at) not in rules.no_names
        if plain and page.word(at) not in rules.roles.forms and lex.text.lower() not in rules.no_names:
            start, end = page.origin(at, at + 1)
            if start not in inside:
                found.setdefault(page.note.text[start:end].lower())
    return tuple(found)
