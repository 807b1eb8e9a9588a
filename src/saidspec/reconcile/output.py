"""Flags, agreements and unmatched facts as the objects of the output contract, and as lines for people."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import asdict
from typing import Any

from saidspec.model import Agreement, Fact, Flag, Quantity, Reading, plain_number
from saidspec.reconcile.run import Result
from saidspec.reconcile.undecided import Undecided
from saidspec.reference.units import show

SCHEMA = "saidspec/flags-1"
MARKS = {"danger": "DANGER", "wrong": "WRONG", "look": "LOOK"}


def quantity_object(quantity: Quantity, *, source: bool) -> dict[str, Any]:
    """One side of a flag; the said side has no source."""
    told: dict[str, Any] = {"value": plain_number(quantity.value), "value_high": plain_number(quantity.value_high),
                            "unit": quantity.unit, "code": quantity.code}
    return told | ({"source": quantity.source} if source else {})


def flag_object(flag: Flag) -> dict[str, Any]:
    """A flag, key by key."""
    return {
        "check": flag.check, "likely": flag.likely, "severity": flag.severity, "component": flag.component,
        "kind": flag.kind, "fact": flag.fact, "said": quantity_object(flag.said, source=False),
        "reference": quantity_object(flag.reference, source=True) if flag.reference else None,
        "message": flag.message, "also_likely": list(flag.also_likely), "tolerance": flag.tolerance,
    }  # fmt: skip


def agreement_object(one: Agreement) -> dict[str, Any]:
    """An agreement, key by key."""
    return {"component": one.component, "kind": one.kind, "fact": one.fact, "spec": one.spec, "why": one.why,
            "said": quantity_object(one.said, source=False)}


def result_object(result: Result, cautions: Iterable[str] = (), undecided: Iterable[Undecided] = ()) -> dict[str, Any]:
    """The whole output of `check`."""
    flags, agreements, unmatched = result
    return {"schema": SCHEMA, "flags": [flag_object(flag) for flag in flags],
            "agreed": [agreement_object(agreement) for agreement in agreements], "unmatched": list(unmatched),
            "undecided": [asdict(one) for one in undecided], "cautions": list(cautions)}


def fact_line(fact: Fact) -> str:
    """A fact in a few words: its part, value and quote."""
    value = show(fact.value, fact.unit, fact.value_high) if fact.value is not None else (fact.code or "")
    return f"{fact.component or 'no part named'}: {fact.kind.replace('_', ' ')} {value}".strip() + (
        f" ({fact.provenance.quote!r})")


def flag_lines(flags: Iterable[Flag], reading: Reading) -> Iterator[str]:
    """Each flag with the words that it is about."""
    quotes = {fact.id: fact.provenance.quote for fact in reading.facts}
    for flag in flags:
        yield f"{MARKS[flag.severity]:<6} {flag.check}: {flag.message}"
        if flag.fact in quotes:
            yield f"       said: \"{' '.join(quotes[flag.fact].split())}\""


def agreement_lines(agreements: Iterable[Agreement]) -> Iterator[str]:
    """Each agreement with what it agrees with and how the two were matched."""
    for one in agreements:
        yield f"  {one.kind.replace('_', ' ')}: {one.spec}; {one.why}"


def undecided_lines(told: Iterable[Undecided]) -> Iterator[str]:
    """Each figure that is not the sheet's and not called wrong, with the reason."""
    for one in told:
        yield f"  {one.component}: said {one.said}, the sheet has {one.spec}: {one.why}"


def result_lines(result: Result, reading: Reading, cautions: Iterable[str] = (), undecided: Iterable[Undecided] = ()
                 ) -> Iterator[str]:
    """The whole result for people: what is wrong first, then what agrees, then what the sheet says nothing of."""
    flags, agreements, unmatched = result
    yield from flag_lines(flags, reading)
    if not flags:
        yield "Nothing that was said disagrees with the sheet."
    if agreements:
        yield f"\nAgrees with the sheet ({len(agreements)}):"
        yield from agreement_lines(agreements)
    left = list(undecided)
    if left:
        yield f"\nOther than the sheet, but not called wrong ({len(left)}):"
        yield from undecided_lines(left)
    facts = {fact.id: fact for fact in reading.facts}
    if unmatched:
        yield f"\nNot in the sheet ({len(unmatched)}):"
        yield from (f"  {fact_line(facts[ident])}" for ident in unmatched)
    told = list(cautions)
    if told:
        yield "\nUsual cautions (common practice; the maker's manual and local rules come first):"
        yield from (f"  {caution}" for caution in told)
