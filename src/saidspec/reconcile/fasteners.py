"""What a thread can take: `over-limit` where a torque is beyond the proof load of the thread that the note names.

T = K d F, with the nut factor K, the nominal diameter d and the preload F; the limit is F at the proof stress of the
property class (ISO 898-1) or grade (SAE J429) over the nominal stress area.  Where no class is said the strongest one
is taken, so that only what no such thread can take is flagged.  This is a check, never a specification.

Geometry: ISO 724 (d2 = d - 0.64952 P, d3 = d - 1.22687 P) and ISO 898-1, nominal stress area As = pi/4 ((d2 + d3)/2)^2;
unified threads As = 0.7854 (d - 0.9743/n)^2 (ASME B1.1).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any

from saidspec.model import Fact, Flag
from saidspec.patterns import listed, rule_set
from saidspec.reconcile.case import Case, Outcome, said_of, told_fact
from saidspec.reconcile.phrase import Phrase, read_phrase
from saidspec.reconcile.spoken import number_names
from saidspec.reference.units import convert, convertible, plain, rounded, show

PI = Decimal("3.14159265358979")
MM_AN_INCH = Decimal("25.4")
STRONGEST = "12.9"
CLASS = re.compile(r"\b(?:class|grade|property class)?\s?(4\.6|4\.8|5\.6|5\.8|6\.8|8\.8|9\.8|10\.9|12\.9)\b")
SPOKEN_CLASS = re.compile(r"\b(four|five|six|eight|nine|ten|twelve) point (six|eight|nine)\b")
GRADE = re.compile(r"\bgrade\s(2|5|8|two|five|eight)\b")
GRADES = {"two": "2", "five": "5", "eight": "8"}
METRIC = re.compile(r"^M\s?(\d+(?:\.\d+)?)(?:\s?(?:X|BY)\s?(\d+(?:\.\d+)?))?")
UNIFIED = re.compile(r"^(\d+/\d+|1)\s?[- ]\s?(\d{1,2})\b")


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread: nominal diameter in mm, pitch in mm, stress area in mm2."""

    name: str
    diameter: Decimal
    pitch: Decimal
    area: Decimal
    unified: bool = False


@cache
def tables() -> dict[str, Any]:
    """The published tables of patterns/fasteners."""
    return rule_set().named("fasteners/threads")[0].data


@cache
def coarse_pitches() -> dict[Decimal, Decimal]:
    """Nominal diameter -> coarse pitch, both in mm (ISO 261 as tabulated in ISO 898-1)."""
    rows = (entry.split() for entry in listed(tables()["metric"]["coarse"]))
    return {Decimal(name.removeprefix("M")): Decimal(pitch) for name, pitch, _ in rows}


def metric_area(diameter: Decimal, pitch: Decimal) -> Decimal:
    """Nominal stress area in mm2 from the basic dimensions (ISO 724, ISO 898-1)."""
    pitch_diameter = diameter - Decimal("0.64952") * pitch
    minor = diameter - Decimal("1.22687") * pitch
    return PI / 4 * ((pitch_diameter + minor) / 2) ** 2


def unified_area(diameter: Decimal, per_inch: Decimal) -> Decimal:
    """Tensile stress area in in2 of a unified thread (ASME B1.1)."""
    return Decimal("0.7854") * (diameter - Decimal("0.9743") / per_inch) ** 2


def read_thread(code: str) -> Thread | None:
    """The thread that a designation means: `M8`, `M8x1`, `3/8-16 UNC`; None for what is no thread of the tables."""
    text = code.upper().replace("×", "X").replace(",", ".").strip()
    metric = METRIC.match(text)
    if metric:
        diameter = Decimal(metric[1])
        pitch = Decimal(metric[2]) if metric[2] else coarse_pitches().get(diameter)
        if pitch is None or diameter not in coarse_pitches() or pitch >= diameter / 2:
            return None
        return Thread(code, diameter, pitch, metric_area(diameter, pitch))
    unified = UNIFIED.match(text)
    if unified:
        above, _, below = unified[1].partition("/")
        diameter = Decimal(above) / Decimal(below or 1)
        area = unified_area(diameter, Decimal(unified[2]))
        return Thread(code, diameter * MM_AN_INCH, MM_AN_INCH / Decimal(unified[2]), area * MM_AN_INCH ** 2, True)
    return None


def proof_stress(name: str, diameter: Decimal) -> Decimal:
    """Stress under proof load in MPa of a property class or of an SAE grade ("grade 5") at a diameter in mm."""
    if name.startswith("grade "):
        for entry in listed(tables()["grades"]["proof"]):
            grade, psi, up_to, above = entry.split()
            if grade == name.removeprefix("grade "):
                small = diameter <= Decimal(up_to) * MM_AN_INCH + Decimal("0.1")
                return convert(Decimal(psi if small else above), "psi", "kPa") / 1000
    for entry in listed(tables()["classes"]["proof"]):
        known, small_stress, large = entry.split()
        if known == name:
            return Decimal(small_stress if diameter <= 16 else large)
    raise ValueError(f"no property class or grade '{name}'")


def most(thread: Thread, strength: str, friction: Decimal) -> Decimal:
    """The torque in N*m at which a thread reaches its proof load: T = K d F."""
    force = proof_stress(strength, thread.diameter) * thread.area  # N
    return friction * thread.diameter / 1000 * force


def lubricant(case: Case, fact: Fact) -> str:
    """What the note puts on the thread of a fact: `anti-seize`, `oiled`, or `dry` where it says nothing."""
    phrase = case.phrase(fact)
    for material in case.facts("material", ("stated",)):
        other = case.phrase(material)
        if other.core and other.core != phrase.core:
            continue
        if not other.core and abs(material.provenance.start - fact.provenance.start) > 80:
            continue
        for kind in ("anti-seize", "oiled"):
            if (material.code or "").lower() in listed(tables()["lubricants"][kind]):
                return kind
    return "dry"


def same_fastener(one: Phrase, other: Phrase) -> bool:
    """Whether two phrases name one fastener: the same words, or one leaving out what the other says before them."""
    return bool(one.core) and bool(other.core) and (one.core == other.core or one.core < other.core
                                                    or other.core < one.core) and one.head == other.head


def threads_said(case: Case) -> list[tuple[Fact, Thread]]:
    """The sizes of the note that are threads."""
    return [(size, thread) for size in case.facts("size", ("stated", "quoted"))
            if size.code and (thread := read_thread(size.code))]


def thread_of(case: Case, fact: Fact, threads: list[tuple[Fact, Thread]]) -> tuple[Thread, str] | None:
    """The thread of the fastener that a torque is of, by the note or by the sheet, and who says so."""
    phrase = case.phrase(fact)
    named = re.search(r"\bM\d+(?:x[\d.]+)?\b", fact.component or "", re.IGNORECASE)
    if named and (thread := read_thread(named[0])):
        return thread, "the note"
    near = [(abs(size.provenance.start - fact.provenance.start), thread) for size, thread in threads
            if same_fastener(case.phrase(size), phrase)]
    if near:
        return min(near, key=lambda one: one[0])[1], "the note"
    for spec in case.holding("size"):
        wanted = read_phrase(spec.component, "size", case.context.vocabulary)
        if spec.code and wanted.core == phrase.core and (thread := read_thread(spec.code)):
            return thread, spec.source
    return None


def strength_of(case: Case, fact: Fact, thread: Thread) -> tuple[str, bool]:
    """The property class or grade that the note gives for a fastener, and whether it gives one."""
    told = [fact, *(size for size in case.facts("size", ("stated", "quoted")) if size.code == thread.name
                    and same_fastener(case.phrase(size), case.phrase(fact)))]
    words = " ".join(case.sentence(one) for one in told)
    grade = GRADE.search(words)
    if thread.unified:
        return (f"grade {GRADES.get(grade[1], grade[1])}", True) if grade else ("grade 8", False)
    found = CLASS.search(SPOKEN_CLASS.sub(in_figures, words))
    return (found[1], True) if found else (STRONGEST, False)


def in_figures(spoken: re.Match[str]) -> str:
    """A property class that is said in words: "eight point eight" is 8.8."""
    numbers = {name: number for number, name in number_names().items()}
    return f"{numbers[spoken[1]]}.{numbers[spoken[2]]}"


def judge(case: Case, fact: Fact, threads: list[tuple[Fact, Thread]]) -> Iterator[Flag]:
    """One torque against what its thread can take."""
    if fact.value is None or not convertible(fact.unit, "N*m") or fact.unit is None:
        return
    found = thread_of(case, fact, threads)
    if found is None:
        return
    thread, source = found
    strength, said = strength_of(case, fact, thread)
    on_it = lubricant(case, fact)
    factors = tables()["friction"]
    friction, spread = Decimal(str(factors[on_it])), Decimal(factors["spread"])
    limit = most(thread, strength, friction)
    torque = convert(fact.value, fact.unit, "N*m")
    if torque <= limit:
        return
    told = f"class {strength}" if not strength.startswith("grade") else strength
    kind = told if said else f"even {told}, the strongest"
    low, high = (limit * (100 - spread) / 100, limit * (100 + spread) / 100)
    wet = (f" With {on_it} on the thread the same torque pulls harder than dry." if on_it != "dry" else
           " Oil or anti-seize would lower it.")
    message = (f"{fact.component}: said {told_fact(fact)}, but an {thread.name} thread ({source}) of {kind} reaches "
               f"its proof load at about {show(rounded(limit), 'N*m')} (K {plain(friction)}, {on_it}; "
               f"{plain(rounded(low, 2))} to {plain(rounded(high, 2))} N·m over the spread of K; ISO 898-1, SAE J429)."
               f"{wet} This is no specification: look the right torque up.")
    yield Flag("over-limit", "danger", message, fact.component, "torque", fact.id, said_of(fact), None)


def check_over_limit(case: Case) -> list[Outcome]:
    """`over-limit`: torques beyond what the named thread can take, whatever the sheet says."""
    threads = threads_said(case)
    return [flag for fact in case.facts("torque", ("stated",)) for flag in judge(case, fact, threads)]
