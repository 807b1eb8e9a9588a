"""Fluids by grade and specification: what the words of a fluid say in each scheme, and whether two may be mixed up.

SAE J300 engine oil grades (0W to 25W; 8 to 60) and SAE J306 gear oil grades (70W to 85W; 65 to 250) share a way of
writing but not a scale: 75W-80 is no engine oil.  API service categories (GL-1 to GL-5; S and C letters); DOT 3, 4 and
5.1 are glycol fluids that mix, DOT 5 is silicone and must not be mixed with them (49 CFR 571.116, FMVSS 116).
A scheme that only one side names decides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import Case, Outcome, agreement, severity
from saidspec.reconcile.causes import Named, bare
from saidspec.reconcile.difference import claim, disagreement
from saidspec.reconcile.doubts import doubt
from saidspec.reconcile.phrase import read_phrase
from saidspec.reference.applicability import applies

VAGUE = frozenset({"oil", "fluid", "reservoir", "tank", "bottle", "system", "cap"})  # where a fluid may have gone
KNOWN = Named("neighbour", Decimal(0))  # stands for a cause: grades do not differ by degrees, so none is to be found
GEAR_WINTER = ("70", "75", "80", "85")
SCHEMES: tuple[tuple[str, str], ...] = (
    ("SAE grade", r"(?<![\w.])(\d{1,2}W(?:[\s/-]?\d{2,3})?)\b"),
    ("SAE grade", r"\bSAE\s?(\d{2,3})\b"),
    ("API GL", r"\bGL[\s-]?([1-6])\b"),
    ("API S", r"\bAPI\s?(S[A-Z])\b"),
    ("API C", r"\bAPI\s?(C[A-K]-?4?)\b"),
    ("ACEA", r"\b(?:ACEA\s?)?([ABCE]\d(?:/[ABCE]\d)?)\b"),
    ("DOT", r"\bDOT[\s-]?(3|4|5\.1|5)\b"),
    ("coolant", r"\b(P?-?HOAT|SI-?OAT|OAT|IAT)\b"),
    ("tractor fluid", r"\b(UTTO|STOU|THF)\b"),
    ("automatic", r"\b(ATF|CVTF|DCTF)\b"),
    ("two-stroke", r"\b(TC-W3|FB|FC|FD)\b"),
    ("grease", r"\b(?:NLGI\s?)(000|00|0|1|2|3)\b"),
    ("ISO VG", r"\b(?:ISO\s?)?VG\s?(\d+)\b"),
)
SERVICE = {"DOT": ("3", "4", "5.1")}  # in rising order of their minimum boiling points (FMVSS 116, S5.1.1 and S5.1.2)
ALTERNATIVES = re.compile(r"\s*(?:\bor\b|;)\s*")


def schemes(code: str) -> dict[str, str]:
    """What a fluid's words say, by scheme: `{"SAE grade": "75W80", "API GL": "4"}`."""
    text = code.upper().replace("–", "-").replace("—", "-")
    found: dict[str, str] = {}
    for scheme, pattern in SCHEMES:
        hit = re.search(pattern, text)
        if hit:
            found.setdefault(scheme, re.sub(r"[\s/-]", "", hit[1]))
    return found


def family(code: str) -> str | None:
    """Which kind of fluid a grade belongs to: engine oil, gear oil, brake fluid …; None where it does not tell."""
    told = schemes(code)
    grade = told.get("SAE grade", "")
    winter = grade.partition("W")[0] if "W" in grade else ""
    if winter in GEAR_WINTER or "API GL" in told:
        return "gear oil"
    if (winter and "W" in grade and not grade.endswith("W")) or "API S" in told or "API C" in told:
        return "engine oil"
    for scheme, name in (("DOT", "brake fluid"), ("coolant", "coolant"), ("tractor fluid", "tractor fluid"),
                         ("automatic", "automatic transmission fluid")):
        if scheme in told:
            return name
    return None


def agrees(said: str, wanted: str) -> bool | None:
    """Whether two fluids agree; None where neither scheme nor words can be compared.

    Each scheme that both name must be the same; a specification may list alternatives with "or".
    """
    verdicts = [one_agrees(said, choice) for choice in ALTERNATIVES.split(wanted)]
    if True in verdicts:
        return True
    return None if None in verdicts else False


def one_agrees(said: str, wanted: str) -> bool | None:
    here, there = schemes(said), schemes(wanted)
    shared = here.keys() & there.keys()
    if shared:
        return all(here[scheme] == there[scheme] for scheme in shared)
    if bare(said) == bare(wanted):
        return True
    if family(said) and family(wanted) and family(said) != family(wanted):
        return False
    return None


def warning(said: str, wanted: str) -> str:
    """A sentence on what the difference means, where a standard tells."""
    here, there = schemes(said).get("DOT"), schemes(wanted).get("DOT")
    if here and there and "5" in (here, there):
        return " DOT 5 is silicone and must not be mixed with the glycol fluids DOT 3, 4 and 5.1 (FMVSS 116)."
    if here and there:
        ranks = SERVICE["DOT"]
        if here in ranks and there in ranks:
            order = "higher" if ranks.index(here) > ranks.index(there) else "lower"
            return f" Both are glycol fluids; DOT {here} has the {order} minimum boiling points (FMVSS 116)."
    one, other = family(said), family(wanted)
    if one and other and one != other:
        return f" {said} is a grade of {one}, not of {other}."
    grades = [schemes(code).get("SAE grade", "") for code in (said, wanted)]
    if all("W" in grade for grade in grades):
        (cold, _, hot), (cold_wanted, _, hot_wanted) = (grade.partition("W") for grade in grades)
        if hot and hot_wanted and hot != hot_wanted:
            return f" It is {'thicker' if int(hot) > int(hot_wanted) else 'thinner'} when hot (SAE grade {hot})."
        if cold != cold_wanted:
            return f" It is {'thicker' if int(cold) > int(cold_wanted) else 'thinner'} in the cold (SAE {cold}W)."
    return ""


def specs_for(case: Case, fact: Fact) -> tuple[list[Specification], bool]:
    """The fluid specifications that a fact may speak of, and whether that is certain.

    A fluid whose component says nothing is held against the only specification of its own family.
    """
    found = case.match(fact)
    if found.candidates:
        return [one.spec for one in found.candidates], found.certainty == "sure"
    kind = family(fact.code or "")
    alike = [spec for spec in case.holding("fluid") if spec.code and kind and family(spec.code) == kind]
    phrase = case.phrase(fact)
    fits = [spec for spec in alike
            if not phrase.words or phrase.words & read_phrase(spec.component, "fluid", case.context.vocabulary).words]
    vague = not phrase.words - VAGUE
    if vague and len(alike) == 1 and case.context.attention(fact.provenance.end) in (None, case.system(alike[0])):
        return alike, True
    return fits, len(fits) == 1 and vague and len(case.holding("fluid")) == len(fits)


def judge_fluid(case: Case, fact: Fact) -> Iterator[Outcome]:
    """One fluid against the sheet."""
    specs, sure = specs_for(case, fact)
    verdicts = [(spec, agrees(fact.code or "", spec.code or "")) for spec in specs]
    for spec, verdict in verdicts:
        if verdict:
            yield agreement(case, fact, spec, "none: grades are equal or not", case.match(fact).why)
            return
    wrong = [spec for spec, verdict in verdicts if verdict is False]
    if not sure or len(wrong) != 1 or len(verdicts) != 1 or applies(wrong[0], case.sheet.vehicle) is None:
        return
    spec = wrong[0]
    others = [other for other in case.holding("fluid") if other is not spec and other.code and spec.code
              and agrees(fact.code or "", other.code) and not agrees(other.code, spec.code)]
    found = [Named("neighbour", Decimal(0), others[0].component)] if others else []
    if in_doubt(case, fact, spec, found):
        return
    yield disagreement(case, fact, spec, claim(fact, fact.code or ""), "another grade", "none", severity(case, spec),
                       found, warning=warning(fact.code or "", spec.code or ""))


def in_doubt(case: Case, fact: Fact, spec: Specification, found: list[Named]) -> bool:
    """Whether the fluid may not be what went in: another one of the note agrees, or it is of another kind of fluid."""
    if any(other.id != fact.id and case.match(other).spec is spec and agrees(other.code or "", spec.code or "")
           for other in case.facts("fluid", ("stated",))):
        return True
    one, other_kind = family(fact.code or ""), family(spec.code or "")
    if one and other_kind and one != other_kind and not found:
        return True
    return doubt(case, fact, spec, [*found, KNOWN]) is not None


def check_fluids(case: Case) -> list[Outcome]:
    """`differs` and agreements on grades and specifications of fluids."""
    return [outcome for fact in case.facts("fluid") if fact.code for outcome in judge_fluid(case, fact)]
