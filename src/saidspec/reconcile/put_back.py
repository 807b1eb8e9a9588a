"""Parts of the sheet that the note puts back and of whose fasteners it says no torque: "the crossmember's back up"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from saidspec.model import Flag, Quantity, Specification
from saidspec.reconcile.case import Case, in_speech, reference_of, severity, told_spec
from saidspec.reconcile.context import FAR_BACK, joined
from saidspec.reconcile.cues import cue
from saidspec.reconcile.named_parts import named_here
from saidspec.reconcile.phrase import Phrase, read_phrase, words_of
from saidspec.reconcile.spoken import said_as

BEFORE, BEHIND = 35, 160  # characters before a part and behind it in which more is said of how it was put back


def needed(case: Case, phrase: Phrase) -> list[str]:
    """The words by which a part has to be named: those of its core that do not only say which system is meant."""
    core = [word for word in phrase.order if word in phrase.core]
    return [word for word in core if word not in case.context.vocabulary.system_says] or core


def put_back_at(case: Case, name: list[str]) -> Iterator[tuple[int, int]]:
    """(start, end) wherever the note says that a part was put back, and not that it is still to be."""
    context, text = case.context, case.reading.note.text.lower()
    called = -FAR_BACK  # where it was last called by its whole name, and by no other since
    for place in context.spoken_at.get(name[-1], ()):
        first = max(place - len(name) + 1, 0)
        start, at = context.spoken[place][0], context.spoken[place][0]
        if [word for _, word in context.spoken[first:place + 1]] == name:
            start = called = context.spoken[first][0]
        elif qualified(case, place):
            called = -FAR_BACK
        end = at + len(re.split(r"\W", text[at:at + 40])[0])
        before = re.split(r"[.!?,;]\s|\n", text[max(0, start - BEFORE):start])[-1]
        told = cue("put-back").search(text[end:end + 40]) and not cue("not-yet").search(before)
        if told and start - called < FAR_BACK:
            yield start, end


def qualified(case: Case, place: int) -> bool:
    """Whether the word at a place among those of the text has one before it that makes it another part's name."""
    context, vocabulary = case.context, case.context.vocabulary
    (at, before), (here, word) = context.spoken[max(place - 1, 0)], context.spoken[place]
    return bool(place) and joined(context.text, at, here) and (
        (before, word) in vocabulary.compounds or (before,) in vocabulary.systems)


def told_how(case: Case, spec: Specification, start: int, end: int) -> bool:
    """Whether a torque, or another way of tightening, is told beside a part that was put back."""
    words = case.reading.note.text[start - BEFORE if start > BEFORE else 0:end + BEHIND].lower()
    if cue("tightened-somehow").search(words):
        return True
    near = [fact for fact in case.by_kind.get("torque", ()) if start - BEFORE <= fact.provenance.start <= end + BEHIND]
    head = read_phrase(spec.component, "torque", case.context.vocabulary).head
    return any(case.match(fact).spec is spec or (case.match(fact).certainty != "sure" and not (
        head not in case.phrase(fact).words and named_here(case, fact))) for fact in near)


def said_anywhere(case: Case, spec: Specification, phrase: Phrase, name: list[str]) -> bool:
    """Whether a torque of the part, of no part, or the sheet's own number right behind its name is said in the note."""
    for fact in case.by_kind.get("torque", ()):
        said = case.phrase(fact)
        if any(one.spec is spec for one in case.match(fact).candidates) or not said.words or set(name) <= said.words:
            return True
    text = case.reading.note.text.lower()
    spots = (found.start() for form in (said_as(spec.value) if spec.value is not None else ())
             for found in re.finditer(rf"(?<![\w.]){re.escape(form)}(?![\w]|[.,]\d)", text)
             if in_speech(case, found.start()))
    return any(name[-1] in {word for _, word in words_of(text[max(0, at - 60):at], case.context.vocabulary)}
               for at in spots) or any(
        fact.action == "tighten" and set(name) <= case.phrase(fact).words | phrase.fasteners
        for fact in case.by_kind.get("operation", ()) if case.phrase(fact).words)


def placed_otherwise(case: Case, spec: Specification, phrase: Phrase, at: int) -> bool:
    """Whether the part at another place may be meant: the sheet has one there too, or the note was speaking of it."""
    for axis, name in phrase.positions:
        said = place_before(case, axis, at)
        others = any(read_phrase(other.component, "torque", case.context.vocabulary).core == phrase.core
                     for other in case.holding("torque") if other is not spec)
        if said not in (None, name) or (others and said is None):
            return True
    return False


def place_before(case: Case, axis: str, at: int) -> str | None:
    """The place on an axis whose word was said last before an offset in the text, not too far back."""
    context, plain = case.context, case.context.vocabulary.plain_positions
    words = [(spot, name) for (word, *more), (on, name) in context.vocabulary.positions.items() if on == axis
             and not more and word in plain and (spot := context.last_spoken(word, at)) is not None
             and at - spot < FAR_BACK]
    return max(words)[1] if words else None


def check_put_back(case: Case) -> Iterator[Flag]:
    """`missing` for the fasteners of each part that was put back without a word on how they were tightened."""
    for spec in case.holding("torque"):
        phrase = read_phrase(spec.component, "torque", case.context.vocabulary)
        name = needed(case, phrase)
        if not phrase.fasteners or not name or said_anywhere(case, spec, phrase, name):
            continue
        places = [(start, end) for start, end in put_back_at(case, name) if not told_how(case, spec, start, end)
                  and not placed_otherwise(case, spec, phrase, start)]
        if places:
            yield flag(case, spec)


def flag(case: Case, spec: Specification) -> Flag:
    """The flag on fasteners of which no torque was said."""
    message = (f"{spec.component}: the part was put back, and the note never says that the {spec.component} was "
               f"tightened to its torque. The sheet has {told_spec(spec)} ({spec.source}).")
    return Flag("missing", severity(case, spec, "look"), message, spec.component, "torque", None, Quantity(),
                reference_of(spec))
