"""Figures of a recording that cannot be right as they were heard, with what else they may be.

Nothing is changed but the confidence: a value stays as it was heard, and the doubt is told as a problem with its place.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from saidspec.heard.believable import Believable, inside, load_believables, spans_of
from saidspec.heard.confusions import Confusion, like_sounding, load_confusions, point_elsewhere, said_alike
from saidspec.heard.restated import RESTATED, restated
from saidspec.model import Fact, Kind, Note, Problem
from saidspec.reference.units import convert, plain, shown_unit
from saidspec.sources.hearing import HEARD

NEARLY = Decimal("0.03")  # how far two units of one figure may be apart; each is said to its own last place besides
# The most that a doubtful figure is worth: little enough that it is called wrong only where a slip of the ear explains
# the difference from the sheet (reconcile.doubts), enough that it is called wrong then.
DOUBTED = 0.55
REPEATED: tuple[Kind, ...] = ("torque", "volume", "measurement")


@dataclass(frozen=True, slots=True)
class Doubt:
    """A fact that may have been misheard, and why, in words."""

    fact: Fact
    why: str


def doubted(note: Note, facts: tuple[Fact, ...]) -> tuple[tuple[Fact, ...], tuple[Problem, ...]]:
    """The facts of a recording, those in doubt with a confidence of at most 0.55, and a problem for each doubt.

    Facts of a note that was written are left as they are: they were not heard.
    """
    if note.source.format not in HEARD:
        return facts, ()
    known, spans = load_confusions(), load_believables()
    valid = [fact for fact in facts if fact.assertion not in ("retracted", "negated")]
    found: dict[int, Doubt] = {}
    for doubt in (*_apart(note.text, valid, known), *_unbelievable(valid, known, spans), *_repeated(valid, known),
                  *_spelled(valid, known)):  # fmt: skip
        found.setdefault(doubt.fact.id, doubt)
    problems = tuple(Problem(one.why, one.fact.provenance.start, one.fact.provenance.end) for one in found.values())
    return tuple(_less_sure(fact) if fact.id in found else fact for fact in facts), problems


def _less_sure(fact: Fact) -> Fact:
    said = fact.provenance
    return fact.but(provenance=replace(said, confidence=min(said.confidence, DOUBTED)))


def others(value: Decimal, known: Iterable[Confusion]) -> list[Decimal]:
    """What else a number may be."""
    known = tuple(known)
    return [*like_sounding(value, known), *point_elsewhere(value, known)]


def _told(fact: Fact, value: Decimal | None = None) -> str:
    """A fact's value with its unit, or another value in that unit."""
    number = fact.value if value is None else value
    return f"{plain(number) if number is not None else ''} {shown_unit(fact.unit)}".strip()


def _apart(text: str, facts: list[Fact], known: tuple[Confusion, ...]) -> Iterator[Doubt]:
    """One figure given in two units that do not come to the same: the one that is right as another, else both."""
    for kind in RESTATED:
        of_kind = [fact for fact in facts if fact.kind == kind]
        for first, second in restated(text, of_kind):
            if first.value_high is not None or second.value_high is not None or same(first, second):
                continue
            fitting = [(fact, value) for fact, other in ((first, second), (second, first))
                       for value in others(fact.value or Decimal(0), known) if same(fact.but(value=value), other)]
            told = f"{_told(first)} and {_told(second)} were heard as one figure and are not"
            for fact, value in fitting:
                yield Doubt(fact, f"{told}: {_told(fact)} may be {_told(fact, value)}")
            if not fitting:
                yield from (Doubt(fact, f"{told}: one of them may be misheard") for fact in (first, second))


def same(one: Fact, other: Fact) -> bool:
    """Whether two values in two units come to the same, each rounded to its last place."""
    if one.value is None or other.value is None or one.unit is None or other.unit is None:
        return False
    half = [abs(convert(Decimal(1).scaleb(_last_place(fact.value)), fact.unit, one.unit)) / 2
            for fact in (one, other) if fact.value is not None and fact.unit]  # fmt: skip
    gap = abs(one.value - convert(other.value, other.unit, one.unit))
    return gap <= max(NEARLY * abs(one.value), sum(half))


def _last_place(value: Decimal) -> int:
    """The power of ten of the last figure said: -1 for 4.8, 0 for 48 and 480."""
    exponent = value.as_tuple().exponent
    return min(exponent, 0) if isinstance(exponent, int) else 0


def _unbelievable(facts: list[Fact], known: tuple[Confusion, ...], spans: tuple[Believable, ...]) -> Iterator[Doubt]:
    """A value that its part cannot have, where another reading of it can be."""
    for fact in facts:
        for span in spans_of(fact, spans):
            if fact.value is None or fact.unit is None or inside(fact.value, fact.unit, span):
                continue
            for value in others(fact.value, known):
                if inside(value, fact.unit, span):
                    yield Doubt(fact, f"{_told(fact)} was heard for {fact.component}, which is beyond belief: "
                                      f"it may be {_told(fact, value)}")
                    break


def _repeated(facts: list[Fact], known: tuple[Confusion, ...]) -> Iterator[Doubt]:
    """A value said twice of one thing, the figures the same and the point elsewhere; steps of a torque are not so."""
    things: dict[Hashable, dict[Decimal, Fact]] = {}  # the first fact of each value of a thing
    told = [fact for fact in facts if fact.kind in REPEATED and fact.component and fact.value and fact.unit]
    for fact in told:
        values = things.setdefault(_thing(fact), {})
        values.setdefault(fact.value or Decimal(0), fact)
    for fact in told:
        if fact.value is None or len(fact.value.normalize().as_tuple().digits) < 2:
            continue
        values = things[_thing(fact)]
        second = next((values[other] for other in point_elsewhere(fact.value, known) if other in values), None)
        if second is not None:
            yield Doubt(fact, f"{_told(fact)} was heard for {fact.component}, and {_told(second)} elsewhere")


def _thing(fact: Fact) -> Hashable:
    """What a value is of, so far as two values of it can be compared."""
    return fact.kind, fact.component, fact.role, fact.unit


def _spelled(facts: list[Fact], known: tuple[Confusion, ...]) -> Iterator[Doubt]:
    """A part number that is said with the same words as another."""
    for fact in facts:
        alike = dict.fromkeys(said_alike(fact.code, known)) if fact.kind == "part_number" and fact.code else ()
        if alike:
            yield Doubt(fact, f"part number {fact.code} may also be {' or '.join(alike)}: they are said alike")
