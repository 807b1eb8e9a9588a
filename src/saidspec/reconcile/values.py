"""Torques, sizes and measurements against the sheet: `differs`, `outside-limit`, `ambiguous`, and agreements."""

from __future__ import annotations

import re
from collections.abc import Iterator

from saidspec.model import Check, Fact, Flag, Kind, Specification
from saidspec.reconcile import case as cases
from saidspec.reconcile.case import DONE, Case, Outcome, agreement, reference_of, said_of, severity, told_spec
from saidspec.reconcile.causes import Named, causes
from saidspec.reconcile.compare import Verdict, compare_claim, compare_numbers
from saidspec.reconcile.difference import claim, difference_of, disagreement
from saidspec.reconcile.doubts import doubt
from saidspec.reconcile.matching import Candidate, Match, named
from saidspec.reconcile.phrase import conflicting, read_phrase
from saidspec.reconcile.settings import SETTABLE
from saidspec.reference.units import plain

JUDGED: tuple[Kind, ...] = ("torque", "size", "measurement")
OLD_PART = re.compile(r"\b(old|worn|came (?:out|off)|threw|chucked|used to|before i)\b")
UNDOING = re.compile(r"\b(coming (?:out|off|undone)|came (?:out|off|undone|loose)|undo\w*|let go|loosen\w*|cracked)\b")
AT_MOST = re.compile(r"\b(never|over|more than|less than|up to|at most)\b")
# ISO 4000-1 and ISO 4223: width / profile, construction, rim (recalled from memory).
TYRE = re.compile(r"^(?:LT|P|ST)?(\d{2,3}(?:\.\d+)?)(?:/(\d{2,3}))?\s?(ZR|R|B|D|-)?\s?(\d{1,2}(?:\.5)?)(?!\d)")
RADIAL = re.compile(r"\d\s?z?r\s?\d|\br\b|\bare\b|radial")
LIMIT_SAID = re.compile(r"\b(min|minimum|max|maximum|limit|discard|no less|at least|at most|no more)\b")


def compare(fact: Fact, spec: Specification) -> Verdict | None:
    """A fact against a specification: a claim where the note quotes it, a measurement or setting otherwise."""
    if spec.code is not None or fact.code is not None:
        return compare_designations(fact, spec)
    return compare_claim(fact, spec) if fact.assertion == "quoted" else compare_numbers(fact, spec)


def tyre_size(code: str) -> tuple[str, ...] | None:
    """Width, profile and rim of a tyre's designation, and its construction or ""; load and speed left aside."""
    found = TYRE.match(code.upper())
    return (*found.group(1, 2, 4), (found[3] or "").strip("- ")) if found else None


def compare_designations(fact: Fact, spec: Specification) -> Verdict | None:
    """A designation against the sheet's, as far as both say: `M6` agrees with `M6x1`; 130/70R12 with 130/70-12 where
    nobody said the R.
    """
    if not fact.code or not spec.code:
        return None
    tyre, other = tyre_size(fact.code), tyre_size(spec.code)
    if tyre and other:
        alike = tyre == other or (tyre[:3] == other[:3] and not RADIAL.search(fact.provenance.quote.lower()))
        return Verdict(alike, "the same" if alike else "another designation", "none: designations are equal or not")
    said, wanted = (re.sub(r"[\s\-]", "", code).upper().replace("×", "X") for code in (fact.code, spec.code))
    if said[:1] != wanted[:1]:
        return None  # a star bit says nothing against a thread
    shorter, longer = sorted((said, wanted), key=len)
    agrees = said == wanted or (said[:1] == "M" and longer.startswith(shorter + "X"))
    return Verdict(agrees, "the same" if agrees else "another designation", "none: designations are equal or not")


def differs(case: Case, fact: Fact, spec: Specification, verdict: Verdict, found: list[Named]) -> Flag:
    """The flag on a difference, or on a limit that is passed; `found` are the causes that explain it."""
    check: Check = "outside-limit" if verdict.limit and fact.assertion != "quoted" else "differs"
    grave = severity(case, spec) if fact.kind != "size" else "look"
    told = claim(fact, cases.told_fact(fact, spec.unit))
    return disagreement(case, fact, spec, told, verdict.deviation, verdict.tolerance, grave, found, check=check)


def put_right(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether what can be set (a pressure, a clearance) was measured again later in the note and then agrees."""
    quantity = read_phrase(spec.component, spec.kind, case.context.vocabulary).quantity
    if spec.bound or (quantity or case.context.vocabulary.quantities.get(((fact.role or ""),))) not in SETTABLE:
        return False
    said = case.phrase(fact)
    for later in case.matched(spec):
        phrase = case.phrase(later)
        same = phrase.words == said.words and (not phrase.positions or phrase.positions == said.positions)
        verdict = compare_numbers(later, spec) if later.provenance.start > fact.provenance.start and same else None
        if verdict and verdict.agrees:
            return True
    return False


def superseded(case: Case, fact: Fact, spec: Specification) -> bool:
    """A measurement of a part that the note then replaced or put right: no fault of the job."""
    if fact.kind != "measurement":
        return False
    if OLD_PART.search(re.split(r"[.!?]\s|\n", case.near_text(fact, 90, 0))[-1]):
        return True
    if put_right(case, fact, spec):
        return True
    wanted = read_phrase(spec.component, spec.kind, case.context.vocabulary)
    wears = bool(spec.bound) or wanted.quantity not in SETTABLE  # the pressure of a new tyre is the new one's
    for done in case.facts("operation", DONE):
        if done.action not in ("replace", "adjust", "install") or not done.component:
            continue
        phrase = case.phrase(done)
        if done.action == "replace" and wears and phrase.words and phrase.words <= wanted.words | wanted.bundle \
                and wanted.head in phrase.words and not conflicting(phrase, case.phrase(fact)):
            return True
        places = case.phrase(fact).positions
        if any(later.provenance.start > fact.provenance.end and case.phrase(later).positions == places
               and (verdict := compare_numbers(later, spec)) and verdict.agrees
               and fact.provenance.end <= done.provenance.start <= later.provenance.start
               for later in case.matched(spec)):
            return True
    return False


def other_tool(case: Case, fact: Fact, spec: Specification) -> bool:
    """A size beside another one of the same part that agrees: a second tool (a counterhold, another fit)."""
    return fact.kind == "size" and any(
        other.id != fact.id and (verdict := compare(other, spec)) and verdict.agrees for other in case.matched(spec))


def no_claim(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a quoted figure is something else than what the sheet has: a new part's, a torque for undoing."""
    before, words = case.near_text(fact, 30, 0), case.near_text(fact, 30, 15)
    if spec.bound:
        return bool(re.search(r"\bnew\b", before)) or not LIMIT_SAID.search(f"{words} {fact.role or ''}")
    return fact.kind == "torque" and bool(AT_MOST.search(words))


def excused(case: Case, fact: Fact, spec: Specification, found: list[Named]) -> bool:
    """Whether a difference has a reason that makes it none; `found` are the causes that explain it."""
    if fact.kind == "torque" and UNDOING.search(case.near_text(fact, 30, 15)):
        return True
    if fact.assertion == "quoted" and no_claim(case, fact, spec):
        return True
    if superseded(case, fact, spec) or other_tool(case, fact, spec):
        return True
    return doubt(case, fact, spec, found) is not None


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
    found_for = {id(one.spec): causes(difference_of(case, fact, one.spec)) for one, verdict in verdicts
                 if not verdict.agrees}
    if any(excused(case, fact, one.spec, found_for[id(one.spec)]) for one, verdict in verdicts if not verdict.agrees):
        return
    if len(agreeing) == len(verdicts) or (agreeing and not same_part):
        one, verdict = agreeing[0]
        yield agreement(case, fact, one.spec, verdict.tolerance, f"{found.why}; taken for the one that agrees"
                        if len(agreeing) < len(verdicts) else found.why)
    elif same_value and all(one.supported and not one.open_option for one, _ in verdicts):
        one, verdict = verdicts[0]
        yield differs(case, fact, one.spec, verdict, found_for[id(one.spec)])
    elif fact.kind in ("torque", "measurement") and fact.assertion == "stated":
        yield ambiguous(case, fact, found, found.why)


def judge_angle(case: Case, fact: Fact, one: Candidate, agrees: bool) -> Iterator[Flag]:
    """The further turn of a torque: said otherwise, or never said where the sheet has one."""
    spec = one.spec
    if fact.kind != "torque" or not agrees or fact.assertion != "stated":
        return
    turn = fact.angle
    if turn is None and spec.angle is not None:
        turns = [other.angle for other in case.matched(spec) if other.angle is not None and other.value is None]
        turn = turns[0] if turns else None
        bare = any(other.id != fact.id and other.value == spec.angle for other in case.matched(spec))  # "140, and 90"
        if turn is None and not bare and not any(other.angle is not None for other in case.matched(spec)):
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
        if not excused(case, fact, one.spec, explained):
            yield differs(case, fact, one.spec, verdict, explained)


def check_values(case: Case) -> list[Outcome]:
    """`differs`, `outside-limit` and `ambiguous` on torques, sizes and measurements."""
    facts = [fact for kind in JUDGED for fact in case.facts(kind)]
    return [outcome for fact in facts for outcome in judge(case, fact)]
