"""Figures that are not the sheet's and are not called wrong either, each with the reason: nothing is passed over in
silence.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from saidspec.model import Agreement, Fact, Flag, Kind
from saidspec.reconcile.candidates import Candidate
from saidspec.reconcile.case import CLAIMED, Case, told_fact, told_spec
from saidspec.reconcile.causes import bare, causes
from saidspec.reconcile.designations import compare
from saidspec.reconcile.difference import difference_of
from saidspec.reconcile.doubts import doubt
from saidspec.reconcile.excuses import excuse
from saidspec.reconcile.matching import named

NUMBERS: tuple[Kind, ...] = ("torque", "size", "measurement")
KINDS: tuple[Kind, ...] = (*NUMBERS, "part_number")


@dataclass(frozen=True, slots=True)
class Undecided:
    """A fact that differs from what it may be held against, and why it is not called wrong."""

    component: str
    kind: Kind
    fact: int
    said: str
    spec: str
    why: str


def reason(case: Case, fact: Fact, one: Candidate) -> str | None:
    """Why a difference is not called one; None where there is no difference."""
    if fact.kind in NUMBERS:
        verdict = compare(fact, one.spec)
        if verdict is None or verdict.agrees:
            return None
        told = excuse(case, fact, one.spec, causes(difference_of(case, fact, one.spec)))
    else:
        if not fact.code or bare(fact.code) == bare(one.spec.code or "") or fact.role == "removed":
            return None
        told = doubt(case, fact, one.spec, causes(difference_of(case, fact, one.spec)))
    return told or f"it is not certain that this part is meant ({case.match(fact).why})"


def undecided(case: Case, flags: Iterable[Flag], agreements: Iterable[Agreement]) -> Iterator[Undecided]:
    """The facts of a case that differ from the sheet without a flag, in the order they were said."""
    spoken = {flag.fact for flag in flags} | {agreement.fact for agreement in agreements}
    for kind in KINDS:
        for fact in case.facts(kind, CLAIMED):
            found = case.match(fact).candidates
            why = reason(case, fact, found[0]) if found and fact.id not in spoken else None
            if why:
                spec = found[0].spec
                yield Undecided(named(fact, spec, case.context), kind, fact.id, told_fact(fact, spec.unit),
                                f"{told_spec(spec)} ({spec.source})", why)
