"""Odometer readings and dates against each other and the record, and intervals that were exceeded."""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise

from saidspec.model import Cause, Fact, Flag, Quantity, Specification
from saidspec.reconcile.case import Case, Outcome, PastReading, reference_of, said_of, told_spec
from saidspec.reconcile.matching import relate
from saidspec.reconcile.phrase import read_phrase
from saidspec.reconcile.sounds import swapped
from saidspec.reference.units import convert, convertible, plain, rounded, show, shown_unit

DUE = re.compile(r"\b(next|due|until|again at|change (?:it )?at|good for|good till|due at)\b")
LAST_TIME = re.compile(
    r"\b(last|previous|before|ago|since|sticker|book|fitted|went in|changed|replaced|did|new at|put in|service"
    r"|old ones?)\b")
LAST_SERVICE = re.compile(r"\b(last|previous) (?:one|time|service|change|done)\b|\bsticker\b")
OTHER_EVENT = re.compile(r"\b(quit|broke|stuck|stopped|bought (?:it|her|him)|got (?:it|her|him)|clocked|swapped)\b")
DAYS_A_MONTH = Decimal("30.4375")  # a twelfth of a year of 365.25 days
DAILY: dict[str, Decimal] = {"km": Decimal(1500), "mi": Decimal(930), "hour": Decimal(24)}  # more is beyond reason
#                            (common practice: a day's driving without rest; an hour meter cannot run faster)
SLACK = Decimal("1.01")  # an interval is exceeded by more than readings are rounded
WORKED: frozenset[str] = frozenset({"replace", "drain", "fill", "flush", "install", "clean", "lubricate", "adjust"})


@dataclass(frozen=True, slots=True)
class Earlier:
    """A reading of earlier work: how far, when, and which fact or note says so."""

    distance: Decimal | None
    unit: str | None
    on: date | None
    fact: Fact | None
    source: str


def odometer_unit(case: Case, fact: Fact | PastReading) -> str | None:
    """The unit of a reading: its own, else the vehicle's."""
    return fact.unit or case.sheet.vehicle.odometer_unit


def readings_now(case: Case) -> list[Fact]:
    """The stated readings of the day, in order."""
    return [fact for fact in case.facts("odometer", ("stated",)) if fact.value is not None]


def in_unit(value: Decimal, unit: str | None, to: str | None) -> Decimal | None:
    """A reading in another unit; as it is where either unit is unknown; None where they do not measure the same."""
    if unit is None or to is None or unit == to:
        return value
    return convert(value, unit, to) if convertible(unit, to) else None


def backwards_cause(now: Decimal, before: Decimal, unit_now: str | None, said: str) -> Cause | None:
    """Why a reading is below an earlier one: digits swapped, a digit lost, or miles taken for kilometres."""
    sane = (before, before * Decimal("1.5") + 20000)
    if any(sane[0] <= Decimal(text) <= sane[1] for text in swapped(said) if text.replace(".", "").isdigit()):
        return "transposed"
    if sane[0] <= now * 10 <= sane[1]:
        return "decimal"
    if unit_now == "mi" and sane[0] <= now * Decimal("1.609344") <= sane[1]:
        return "unit"
    return None


def odometer_flag(case: Case, now: Fact, before: Earlier, words: str, cause: Cause | None) -> Flag:
    """The flag on a reading that does not go with an earlier one."""
    unit = odometer_unit(case, now)
    since = f" on {before.on.isoformat()}" if before.on else ""
    told = show(before.distance, before.unit or unit) if before.distance is not None else "no reading"
    message = f"odometer: said {show(now.value or Decimal(0), unit)}, but {told}{since} ({before.source}): {words}."
    return Flag("odometer", "look", message, None, "odometer", now.id, said_of(now),
                Quantity(before.distance, None, before.unit or unit, None, before.source), cause)


def earlier_in_note(case: Case) -> list[Earlier]:
    """The readings of earlier work that the note gives, due marks left out; a date in the same breath goes with it."""
    dates = [(fact, known) for fact in case.facts("date", ("historical", "quoted"))
             if (known := last_day(fact.code)) is not None]
    found = []
    for fact in case.facts("odometer", ("historical", "quoted")):
        if fact.value is None or DUE.search(case.near_text(fact, 30, 0)):
            continue
        near = sorted((abs(other.provenance.start - fact.provenance.start), known) for other, known in dates)
        on = near[0][1] if near and near[0][0] < 90 else None
        found.append(Earlier(fact.value, odometer_unit(case, fact), on, fact, "the note itself"))
    return found


def last_day(code: str | None) -> date | None:
    """The last day that an ISO date, month or year may mean; None for what is no date."""
    found = re.fullmatch(r"(\d{4})(?:-(\d\d))?(?:-(\d\d))?", code or "")
    if not found:
        return None
    year, month = int(found[1]), int(found[2] or 12)
    try:
        return date(year, month, int(found[3] or calendar.monthrange(year, month)[1]))
    except ValueError:
        return None


def check_odometer(case: Case) -> list[Outcome]:
    """`odometer`: a reading below an earlier one, or so far above it that no vehicle gets there in the time."""
    now = readings_now(case)
    if not now:
        return []
    known = (*earlier_in_note(case), *nearest(case))
    return [*(flag for before in known for flag in against(case, now[0], before)), *between_now(case, now)]


def nearest(case: Case) -> list[Earlier]:
    """The record's last reading of a day before the note and its first one of a day after it."""
    today = case.reading.note.date
    dated = sorted((one for one in case.history.readings if one.on), key=lambda one: one.on or date.min)
    before = [one for one in dated if today and one.on and one.on < today][-1:]
    after = [one for one in dated if today and one.on and one.on > today][:1]
    return [Earlier(one.value, odometer_unit(case, one), one.on, None, one.source) for one in (*before, *after)]


def between_now(case: Case, now: list[Fact]) -> Iterator[Flag]:
    """Two readings of one day that go backwards."""
    for first, later in pairwise(now):
        one, other = first.value, in_unit(later.value or Decimal(0), odometer_unit(case, later),
                                          odometer_unit(case, first))
        if one is not None and other is not None and other < one * Decimal("0.999") - rounding(one):
            before = Earlier(one, odometer_unit(case, first), None, first, "the note itself")
            yield odometer_flag(case, later, before, "it goes backwards", None)


def rounding(value: Decimal) -> Decimal:
    """Half a unit of the last digit of a reading that is no zero: "41 thousand" may be 40,500."""
    places = len(str(int(value))) - len(str(int(value)).rstrip("0"))
    return Decimal(10) ** places / 2 if places > 1 else Decimal(0)


def against(case: Case, now: Fact, before: Earlier) -> Iterator[Flag]:
    """A reading against an earlier one, or against a later one of the record."""
    unit = odometer_unit(case, now)
    distance = in_unit(before.distance or Decimal(0), before.unit, unit)
    if now.value is None or distance is None:
        return
    today = case.reading.note.date
    if before.on and today and before.on > today:
        if now.value > distance:
            yield odometer_flag(case, now, before, "a later reading is lower", None)
        return
    off = distance - (rounding(before.distance or Decimal(0)) if before.fact else 0)
    if now.value < off:
        said = format(now.value, "f")
        yield odometer_flag(case, now, before, "it goes backwards", backwards_cause(now.value, distance, unit, said))
        return
    if before.on and today and unit in DAILY:
        days = max((today - before.on).days, 1)
        if now.value - distance > DAILY[unit] * days:
            words = f"{show(now.value - distance, unit)} in {days} days is beyond reason"
            yield odometer_flag(case, now, before, words, None)


def about(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a fact's component is, or is a part of the name of, a specification's."""
    said = case.phrase(fact)
    wanted = read_phrase(spec.component, "interval", case.context.vocabulary)
    return bool(said.words) and (relate(said, wanted, "volume") is not None or said.words <= wanted.words)


def worked_on(case: Case, spec: Specification) -> bool:
    """Whether the note shows that what an interval is of was changed or seen to."""
    for fact in case.reading.facts:
        if fact.assertion != "stated" or not about(case, fact, spec):
            continue
        if fact.kind == "operation" and fact.action in WORKED:
            return True
        if (fact.kind == "volume" and fact.role in ("added", "drained")) or (
                fact.kind == "part_number" and fact.role != "removed") or fact.kind == "fluid":
            return True
    return False


def earlier_work(case: Case, spec: Specification, alone: bool) -> list[Earlier]:
    """When the work of an interval was last done, by the note, or by the record where the note is silent."""
    told = []
    for before in earlier_in_note(case):
        fact = before.fact
        words = case.near_text(fact, 90, 60) if fact else ""
        tells = bool((LAST_TIME if alone else LAST_SERVICE).search(words)) and not OTHER_EVENT.search(words)
        if fact is not None and (about(case, fact, spec) or (not fact.component and tells)):
            told.append(before)
    if not told and alone:
        dates = case.facts("date", ("historical", "quoted"))
        told = [Earlier(None, None, known, fact, "the note itself") for fact in dates
                if (known := last_day(fact.code)) and (not fact.component or about(case, fact, spec))]
    if told:
        return told
    wanted = read_phrase(spec.component, "interval", case.context.vocabulary)
    return [Earlier(job.odometer, job.unit, job.on, None, job.source) for job in case.history.jobs
            if read_phrase(job.component, "interval", case.context.vocabulary).words == wanted.words]


def since_said(case: Case, spec: Specification, alone: bool) -> Iterator[tuple[Decimal, str, Fact]]:
    """(how much, unit, fact) of what the note says has passed since the work was last done."""
    for fact in case.facts("interval", ("stated", "historical", "quoted")):
        if fact.role == "since last" and fact.value is not None and fact.unit and (
                about(case, fact, spec) or (alone and not fact.component)):
            yield fact.value, fact.unit, fact


def limits(spec: Specification) -> list[tuple[Decimal, str]]:
    """The distance, running time or time of an interval."""
    pairs = ((spec.value, spec.unit), (spec.or_value, spec.or_unit))
    return [(value, unit) for value, unit in pairs if value is not None and unit is not None]


def exceeded(case: Case, spec: Specification, alone: bool) -> Iterator[tuple[Decimal, str, Decimal, Fact | None, str]]:
    """(passed, unit, allowed, fact, source) for each side of an interval that was exceeded by the latest work known."""
    now, today = readings_now(case), case.reading.note.date
    before = earlier_work(case, spec, alone)
    for allowed, unit in limits(spec):
        passed: list[tuple[Decimal, Fact | None, str]] = []
        for amount, said, fact in since_said(case, spec, alone):
            if convertible(said, unit):
                passed.append((convert(amount, said, unit), fact, "the note itself"))
        for one in before:
            if now and now[0].value is not None and one.distance is not None:
                here = in_unit(now[0].value, odometer_unit(case, now[0]), unit)
                there = in_unit(one.distance, one.unit, unit)
                known = odometer_unit(case, now[0]) is not None and convertible(odometer_unit(case, now[0]), unit)
                if here is not None and there is not None and known:
                    passed.append((here - there, one.fact, one.source))
            if one.on and today and convertible(unit, "day") and unit != "hour":
                passed.append((Decimal((today - one.on).days) / DAYS_A_MONTH / convert(Decimal(1), unit, "month"),
                               one.fact, one.source))
        if passed:
            least = min(passed, key=lambda one: one[0])  # the latest work counts
            if least[0] > allowed * SLACK:
                yield least[0], unit, allowed, least[1], least[2]


def check_overdue(case: Case) -> list[Outcome]:
    """`overdue`: an interval of the sheet was exceeded when the work was done, or is by the record."""
    specs = case.holding("interval")
    worked = [spec for spec in specs if worked_on(case, spec)]
    flags: list[Outcome] = []
    for spec in worked:
        over = list(exceeded(case, spec, alone=len(worked) == 1))
        if not over:
            continue
        passed, unit, allowed, fact, source = over[0]
        more = rounded(passed - allowed)
        message = (f"{spec.component}: {plain(rounded(passed))} {shown_unit(unit)} since it was last done ({source}), "
                   f"the sheet has {told_spec(spec)}{or_told(spec)} ({spec.source}): {plain(more)} {shown_unit(unit)} "
                   "over.")
        shown = fact or next(iter(readings_now(case)), None)
        flags.append(Flag("overdue", "look", message, spec.component, "interval", shown.id if shown else None,
                          Quantity(rounded(passed), None, unit), reference_of(spec)))
    return flags


def or_told(spec: Specification) -> str:
    """The second side of an interval for a sentence."""
    return f" or {plain(spec.or_value)} {shown_unit(spec.or_unit)}" if spec.or_value is not None else ""
