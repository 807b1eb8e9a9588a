"""What a person answered on the review page, as a decision of the record."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Any, cast

from saidspec.model import ACTIONS, ASSERTIONS, Fact, UnusableInput
from saidspec.record.decisions import FactVerdict, FlagVerdict, decide_fact, decide_flag, withdraw
from saidspec.record.rows import SAID, fact_value
from saidspec.reference.units import nearest_unit, read_unit

FACT_VERDICTS = ("confirmed", "corrected", "rejected", "done", "undo")
NUMBERS = ("value", "value_high", "angle")
FLAG_VERDICTS = ("accepted", "left")
LONGEST = 500  # characters of a field: what is longer is no value
Answer = Mapping[str, str]


def answer_fact(conn: sqlite3.Connection, fact: int, answer: Answer, person: str | None) -> None:
    """Store the answer to a fact.  Raises UnusableInput with what to do where it cannot be understood."""
    verdict = answer.get("verdict", "")
    if verdict not in FACT_VERDICTS:
        raise UnusableInput(f'"{verdict}" is no answer: choose from {", ".join(FACT_VERDICTS)}')
    if verdict == "undo":
        withdraw(conn, fact)
        return
    row = conn.execute("SELECT * FROM facts_now WHERE id = ?", (fact,)).fetchone()
    if row is None:
        raise UnusableInput(f"there is no fact {fact} any more: load the page of its note again")
    changes = corrections(fact_value(row), answer) if verdict == "corrected" else {}
    if verdict == "corrected" and not changes:
        raise UnusableInput("nothing was changed: change a field, or press Confirm")
    decide_fact(conn, fact, cast(FactVerdict, verdict), changes, reason=_text(answer, "reason"), person=person)


def answer_flag(conn: sqlite3.Connection, flag: int, answer: Answer, person: str | None) -> None:
    """Store the answer to a flag.  Raises UnusableInput where it is accepted without a reason."""
    verdict = answer.get("verdict", "")
    if verdict not in FLAG_VERDICTS:
        raise UnusableInput(f'"{verdict}" is no answer: choose from {", ".join(FLAG_VERDICTS)}')
    decide_flag(conn, flag, cast(FlagVerdict, verdict), reason=_text(answer, "reason"), person=person)


def corrections(fact: Fact, answer: Answer) -> dict[str, Any]:
    """The fields of a form that differ from the fact, as values of the record.

    Raises UnusableInput for a number, unit, action or assertion that cannot be one.
    """
    changes: dict[str, Any] = {}
    for name in SAID:
        if name not in answer:
            continue
        told = _text(answer, name)
        value: Any = _number(name, told) if name in NUMBERS else told
        if name == "unit" and told is not None:
            value = _unit(told)
        if name == "assertion":
            value = _one_of(name, told, ASSERTIONS)
        if name == "action" and told is not None:
            value = _one_of(name, told, ACTIONS)
        if value != getattr(fact, name):
            changes[name] = value
    return changes


def _text(answer: Answer, name: str) -> str | None:
    told = " ".join(answer.get(name, "").split())
    if len(told) > LONGEST:
        raise UnusableInput(f"{name} is longer than {LONGEST} characters: shorten it")
    return told or None


def _number(name: str, told: str | None) -> Decimal | None:
    if told is None:
        return None
    try:
        value = Decimal(told)
    except InvalidOperation:
        raise UnusableInput(f'"{told}" is no number for {name}: write it in digits, such as 107 or 1.74') from None
    if not value.is_finite() or abs(value) > Decimal(10) ** 12:
        raise UnusableInput(f'"{told}" is no number for {name}: write it in digits, such as 107 or 1.74')
    return value


def _unit(told: str) -> str:
    known = read_unit(told)
    if known is None:
        near = nearest_unit(told)
        hint = f'did you mean "{near}"?' if near else "write it as in N*m, L, mm"
        raise UnusableInput(f'"{told}" is no unit: {hint}')
    return known


def _one_of(name: str, told: str | None, known: tuple[str, ...]) -> str:
    if told not in known:
        raise UnusableInput(f'"{told or ""}" is no {name}: choose from {", ".join(known)}')
    return told
