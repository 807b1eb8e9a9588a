"""A difference of which it is asked whether it is one."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import Case
from saidspec.reconcile.causes import Named


@dataclass(frozen=True, slots=True)
class Question:
    """A fact that differs from a specification, in its case, with the causes found so far."""

    case: Case
    fact: Fact
    spec: Specification
    found: list[Named]


def as_spec(fact: Fact) -> Specification:
    """A fact as if it were a specification, to hold another one against it."""
    return Specification(fact.component or "", fact.kind, "the note itself", fact.value, fact.value_high, fact.unit,
                         fact.code, fact.angle)
