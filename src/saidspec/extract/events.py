"""What was found in a passage, as events in the order of the note."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from saidspec.discourse.carryover import SAME
from saidspec.extract.fluids import named_fluids
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found
from saidspec.extract.quantity import Quantity
from saidspec.extract.statements import Statement, statements
from saidspec.extract.surroundings import Surroundings


class PartNamed(NamedTuple):
    """A component phrase."""

    at: int
    mention: Mention


class SystemNamed(NamedTuple):
    """A system of the vehicle by its name."""

    at: int
    system: str


class NumberSaid(NamedTuple):
    """A quantity; `following` is the token of the next one, or the end of the passage."""

    at: int
    item: Quantity
    following: int


class CodeSaid(NamedTuple):
    """A code that is no part of a component phrase."""

    at: int


class GradeNamed(NamedTuple):
    """A grade of a fluid by a name."""

    at: int
    found: Found


class SameSaid(NamedTuple):
    """A back reference: "same", "ditto"."""

    at: int


class StatementMade(NamedTuple):
    """Something done, found or used; `statement` reads it when it is called."""

    at: int
    statement: Statement


Event = PartNamed | SystemNamed | NumberSaid | CodeSaid | GradeNamed | SameSaid | StatementMade
# At one token a part is heard before what is said of it.
RANK: dict[type[Event], int] = {PartNamed: 0, SystemNamed: 0, NumberSaid: 1, CodeSaid: 1, GradeNamed: 1, SameSaid: 2,
                                StatementMade: 3}


def events(around: Surroundings, numbers: dict[int, Quantity]) -> list[Event]:
    """Everything found, in the order of the note; `numbers` are the quantities by their number's token."""
    page, phrases = around.page, around.near.mentions
    inside = {at for phrase in phrases for at in range(phrase.start, phrase.end)}
    found: list[Event] = [PartNamed(phrase.start, phrase) for phrase in phrases]
    found += [SystemNamed(term.start, term.term.system) for term in page.found.get("system", ())]
    found += _numbers(numbers, len(page))
    found += [CodeSaid(at) for at, lex in enumerate(page.lexemes)
              if lex.kind == "code" and (at not in inside or lex.form == "bulb")]
    found += [GradeNamed(term.start, term) for term in named_fluids(page, phrases)]
    found += [SameSaid(at) for at, word in enumerate(page.norm) if word in SAME]
    found += [StatementMade(at, statement) for at, statement in statements(around)]
    found.sort(key=lambda event: (event.at, RANK[type(event)]))
    return found


def _numbers(numbers: dict[int, Quantity], end: int) -> list[NumberSaid]:
    following = dict(pairwise([*sorted(numbers), end]))
    return [NumberSaid(item.start, item, following[at]) for at, item in numbers.items()]
