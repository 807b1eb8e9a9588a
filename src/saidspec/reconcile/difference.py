"""A fact that differs from a specification: what else it could be, and the flag that tells it."""

from __future__ import annotations

from saidspec.model import Cause, Check, Fact, Flag, Quantity, Severity, Specification
from saidspec.reconcile.case import Case, reference_of, said_of, told_spec
from saidspec.reconcile.causes import WORDS, Difference, Named
from saidspec.reconcile.matching import named
from saidspec.reconcile.phrase import read_phrase
from saidspec.reference.applicability import applies
from saidspec.reference.units import shown_unit


def difference_of(case: Case, fact: Fact, spec: Specification) -> Difference:
    """A difference together with the vehicle's other specifications."""
    others = tuple(other for other in case.sheet.specifications
                   if other.kind == spec.kind and other is not spec and applies(other, case.sheet.vehicle) is not False)
    words = read_phrase(spec.component, spec.kind, case.context.vocabulary).core
    near = {other.component for other in others if case.system(other) == case.system(spec)
            or words & read_phrase(other.component, other.kind, case.context.vocabulary).core}
    return Difference(fact, spec, others, frozenset(near))


def likely(found: list[Named]) -> tuple[Cause | None, tuple[Cause, ...], str]:
    """The likeliest cause, the further ones, and the words for the message."""
    if not found:
        return None, (), ""
    first = found[0]
    detail = {"unit": f" ({shown_unit(first.detail)})", "neighbour": f" ({first.detail})"}.get(first.cause, "")
    return first.cause, tuple(named.cause for named in found[1:]), f" Likely {WORDS[first.cause]}{detail}."


def claim(fact: Fact, value: str) -> str:
    """How a fact came by its value: the note quotes it, or it was said."""
    return f"{'the note quotes' if fact.assertion == 'quoted' else 'said'} {value}"


def disagreement(
    case: Case, fact: Fact, spec: Specification, told: str, deviation: str, tolerance: str, severity: Severity,
    causes: list[Named], *, check: Check = "differs", said: Quantity | None = None, warning: str = "",
) -> Flag:  # fmt: skip
    """The flag on a fact that differs; `told` says in words what the note has."""
    cause, further, words = likely(causes)
    name = named(fact, spec, case.context)
    message = (f"{name}: {told}, the sheet has {told_spec(spec)} ({spec.source}): {deviation}, tolerance "
               f"{tolerance}.{warning}{words}")
    return Flag(check, severity, message, name, fact.kind, fact.id, said or said_of(fact), reference_of(spec), cause,
                further, tolerance)
