"""Reconciles a note with a reference sheet: a list of small checks, from facts and specifications to flags.

    flags, agreements, unmatched = reconcile(reading, sheet)
"""

from __future__ import annotations

from collections.abc import Callable

from saidspec.model import Agreement, Flag, Kind, Reading, Sheet
from saidspec.reconcile.balance import check_balance
from saidspec.reconcile.case import CLAIMED, Case, History, Outcome
from saidspec.reconcile.context import read_context
from saidspec.reconcile.contradictions import check_contradictions
from saidspec.reconcile.fasteners import check_over_limit
from saidspec.reconcile.fluids import check_fluids
from saidspec.reconcile.matching import explain, match
from saidspec.reconcile.missing import check_missing
from saidspec.reconcile.overdue import check_overdue
from saidspec.reconcile.parts import check_parts
from saidspec.reconcile.timeline import check_odometer
from saidspec.reconcile.undecided import undecided
from saidspec.reconcile.values import check_values
from saidspec.reconcile.vocabulary import Vocabulary, load_vocabulary
from saidspec.reconcile.volumes import check_volumes

MATCHED: frozenset[Kind] = frozenset({"torque", "volume", "size", "part_number", "fluid", "measurement"})
CHECKS: tuple[Callable[[Case], list[Outcome]], ...] = (
    check_values, check_volumes, check_parts, check_fluids, check_over_limit, check_contradictions,
    check_odometer, check_overdue, check_balance, check_missing,
)  # fmt: skip
HELD_AGAINST = CLAIMED | {"possible", "planned"}  # the last two only ever agree
ORDER = {"danger": 0, "wrong": 1, "look": 2}
Result = tuple[tuple[Flag, ...], tuple[Agreement, ...], tuple[int, ...]]


def open_case(reading: Reading, sheet: Sheet, history: History | None = None, vocabulary: Vocabulary | None = None
              ) -> Case:
    """The note with its context and every fact that can be compared matched with the sheet."""
    context = read_context(reading, vocabulary or load_vocabulary())
    matches = {fact.id: match(fact, sheet, context) for fact in reading.facts
               if fact.kind in MATCHED and fact.assertion in HELD_AGAINST}
    return Case(reading, sheet, context, matches, history or History())


def without_echoes(flags: list[Flag], case: Case) -> list[Flag]:
    """The flags without those on a quoted figure where the same figure was flagged as done."""
    quoted = {fact.id for fact in case.reading.facts if fact.assertion == "quoted"}
    done = {(flag.check, flag.kind, flag.reference, flag.said.value, flag.said.code) for flag in flags
            if flag.fact not in quoted}
    return [flag for flag in flags if flag.fact not in quoted
            or (flag.check, flag.kind, flag.reference, flag.said.value, flag.said.code) not in done]


def settled(flags: list[Flag]) -> list[Flag]:
    """The flags without ambiguities, and contradictions but of torques, of facts that another flag already calls wrong.
    """
    wrong = {flag.fact for flag in flags if flag.check in ("differs", "outside-limit")}
    return [flag for flag in flags if flag.fact not in wrong or not (
        flag.check == "ambiguous" or (flag.check == "contradiction" and flag.kind != "torque"))]


def reconcile(reading: Reading, sheet: Sheet, history: History | None = None, vocabulary: Vocabulary | None = None
              ) -> Result:
    """(flags, agreements, ids of the facts that no specification speaks of), the gravest flags first.

    `history` is what the record knows of the vehicle from before the note; without it the note stands alone.
    """
    return judged(open_case(reading, sheet, history, vocabulary))


def judged(case: Case) -> Result:
    """As `reconcile`, of a case that was opened before."""
    outcomes = [outcome for check in CHECKS for outcome in check(case)]
    flags = settled(without_echoes([one for one in outcomes if isinstance(one, Flag)], case))
    agreements = tuple(one for one in outcomes if isinstance(one, Agreement))
    at = {fact.id: fact.provenance.start for fact in case.reading.facts}
    ordered = sorted(dict.fromkeys(flags), key=lambda flag: (ORDER[flag.severity], at.get(flag.fact or -1, 0)))
    return tuple(ordered), agreements, unmatched(case, flags, agreements)


def unmatched(case: Case, flags: list[Flag], agreements: tuple[Agreement, ...]) -> tuple[int, ...]:
    """The ids of stated and quoted facts, of kinds that a sheet can have, that no specification speaks of."""
    spoken = {flag.fact for flag in flags} | {agreement.fact for agreement in agreements}
    return tuple(fact.id for fact in case.reading.facts if fact.kind in MATCHED and fact.assertion in CLAIMED
                 and fact.id not in spoken and case.match(fact).certainty == "none")


def explanations(case: Case) -> list[str]:
    """For each fact that was matched: its candidates and why, one line each; and why a difference is not called one."""
    whys = {one.fact: one.why for one in undecided(case, *judged(case)[:2])}
    return [explain(found) + (f"; not called wrong: {whys[ident]}" if ident in whys else "")
            for ident, found in case.matches.items()]

