"""Torques, sizes and measurements against the sheet: `differs`, `outside-limit`, `ambiguous`, and agreements."""

from __future__ import annotations

from collections.abc import Iterator

from saidspec.model import Check, Fact, Flag, Kind, Specification
from saidspec.reconcile import case as cases
from saidspec.reconcile.candidates import Candidate
from saidspec.reconcile.case import Case, Outcome, agreement, reference_of, said_of, severity, told_spec
from saidspec.reconcile.causes import Named, causes
from saidspec.reconcile.compare import Verdict
from saidspec.reconcile.cues import cue
from saidspec.reconcile.designations import compare
from saidspec.reconcile.difference import claim, difference_of, disagreement
from saidspec.reconcile.excuses import excuse
from saidspec.reconcile.matching import Match, named
from saidspec.reference.units import plain

JUDGED: tuple[Kind, ...] = ("torque", "size", "measurement")
TURN_BEHIND = 120  # characters behind a torque in which its further turn may be told
LEAST_TURN = 5  # degrees: no further turn of a fastener is smaller (common practice)
LOOSE = 5  # band from which a name may be another part's: nothing is asked on its strength


def differs(case: Case, fact: Fact, spec: Specification, verdict: Verdict, found: list[Named]) -> Flag:
    """The flag on a difference, or on a limit that is passed; `found` are the causes that explain it."""
    check: Check = "outside-limit" if verdict.limit and fact.assertion != "quoted" else "differs"
    grave = severity(case, spec) if fact.kind != "size" else "look"
    told = claim(fact, cases.told_fact(fact, spec.unit))
    return disagreement(case, fact, spec, told, verdict.deviation, verdict.tolerance, grave, found, check=check)


def ambiguous(case: Case, fact: Fact, found: Match, why: str) -> Flag:
    """The flag on a value that more than one specification fits, which do not agree with each other."""
    listed = " or ".join(f"{one.spec.component} {told_spec(one.spec)} ({one.spec.source})" for one in found.candidates)
    message = f"{fact.component}: said {cases.told_fact(fact)}; {why}: {listed}. Say which one is meant."
    return Flag("ambiguous", "look", message, named(fact, found.candidates[0].spec, case.context), fact.kind, fact.id,
                said_of(fact), reference_of(found.candidates[0].spec))


def judge_contested(case: Case, fact: Fact, found: Match) -> Iterator[Outcome]:
    """A fact that several specifications fit: agreement where all, or only one by its words, agree; else ambiguous."""
    verdicts = [(one, verdict) for one in found.candidates if (verdict := compare(fact, one.spec))]
    if not verdicts:
        return
    agreeing = [(one, verdict) for one, verdict in verdicts if verdict.agrees]
    same_part = len({(one.phrase.words, one.phrase.size, one.phrase.positions) for one, _ in verdicts}) == 1
    same_value = len({told_spec(one.spec) for one, _ in verdicts}) == 1
    if len(agreeing) == len(verdicts) or (agreeing and not same_part):
        one, verdict = agreeing[0]
        yield agreement(case, fact, one.spec, verdict.tolerance, f"{found.why}; taken for the one that agrees"
                        if len(agreeing) < len(verdicts) else found.why)
        return
    found_for = {id(one.spec): causes(difference_of(case, fact, one.spec)) for one, verdict in verdicts
                 if not verdict.agrees}
    if any(excuse(case, fact, one.spec, found_for[id(one.spec)]) for one, verdict in verdicts if not verdict.agrees):
        return
    if same_value and all(one.supported and not one.open_option for one, _ in verdicts):
        one, verdict = verdicts[0]
        yield differs(case, fact, one.spec, verdict, found_for[id(one.spec)])
    elif fact.kind in ("torque", "measurement") and fact.assertion == "stated" and found.candidates[0].band < LOOSE:
        yield ambiguous(case, fact, found, found.why)


def judge_angle(case: Case, fact: Fact, one: Candidate, agrees: bool) -> Iterator[Flag]:
    """The further turn of a torque: said otherwise, or never said where the sheet has one."""
    spec = one.spec
    if fact.kind != "torque" or not agrees or fact.assertion != "stated":
        return
    turn = fact.angle if fact.angle is None or fact.angle >= LEAST_TURN else None
    if turn is None and spec.angle is not None:
        turns = [other.angle for other in case.matched(spec) if other.angle is not None and other.value is None]
        turn = turns[0] if turns else None
        bare = any(other.id != fact.id and other.value == spec.angle for other in case.matched(spec))  # "140, and 90"
        told = bare or cue("turn-said").search(case.near_text(fact, 0, TURN_BEHIND))
        if turn is None and not told and not any(other.angle is not None for other in case.matched(spec)):
            message = (f"{named(fact, spec, case.context)}: said {cases.told_fact(fact)}; the further "
                       f"{plain(spec.angle)}° of the sheet ({spec.source}) were never said.")
            yield Flag("missing", severity(case, spec), message, named(fact, spec, case.context), "torque", fact.id,
                       said_of(fact), reference_of(spec))
            return
    if turn is not None and turn != spec.angle:
        wanted = f"{plain(spec.angle)}°" if spec.angle is not None else "no further turn"
        yield disagreement(case, fact, spec, f"said {cases.told_fact(fact)}",
                           f"a turn of {plain(turn)}° against {wanted}", "none", severity(case, spec), [])


def judge(case: Case, fact: Fact) -> Iterator[Outcome]:
    """One torque, size or measurement against what it was matched with."""
    found = case.match(fact)
    if found.certainty == "none":
        return
    if found.certainty == "contested":
        yield from judge_contested(case, fact, found)
        return
    one = found.candidates[0]
    verdict = compare(fact, one.spec)
    if verdict is None:
        if fact.value is None and fact.angle is not None and fact.angle == one.spec.angle and one.spec.value is None:
            yield agreement(case, fact, one.spec, "none", one.why)
        return
    angles = list(judge_angle(case, fact, one, verdict.agrees)) if found.certainty == "sure" else []
    yield from angles
    if verdict.agrees and not angles:
        yield agreement(case, fact, one.spec, verdict.tolerance, one.why)
    elif not verdict.agrees and found.certainty == "sure":
        explained = causes(difference_of(case, fact, one.spec))
        if excuse(case, fact, one.spec, explained) is None:
            yield differs(case, fact, one.spec, verdict, explained)


def check_values(case: Case) -> list[Outcome]:
    """`differs`, `outside-limit` and `ambiguous` on torques, sizes and measurements."""
    facts = [fact for kind in JUDGED for fact in case.facts(kind)]
    return [*(outcome for fact in facts for outcome in judge(case, fact)), *guesses(case)]


def guesses(case: Case) -> Iterator[Outcome]:
    """Measurements that were guessed ("maybe 7 mm left") and are on the right side of their limit."""
    for fact in case.facts("measurement", ("possible",)):
        spec = case.match(fact).spec
        verdict = compare(fact, spec) if spec and spec.bound else None
        if spec and verdict and verdict.agrees:
            yield agreement(case, fact, spec, verdict.tolerance, f"{case.match(fact).why}; said as a guess")
