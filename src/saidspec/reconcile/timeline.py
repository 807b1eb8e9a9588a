"""Odometer readings and dates of a note against each other and against the record."""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise

from saidspec.model import Cause, Fact, Flag, Quantity
from saidspec.reconcile.case import Case, Outcome, PastReading, said_of
from saidspec.reconcile.cues import cue
from saidspec.reconcile.swaps import swapped
from saidspec.reference.units import convert, convertible, rounded, show

DAILY: dict[str, Decimal] = {"km": Decimal(1500), "mi": Decimal(930), "hour": Decimal(24)}  # more is beyond reason
#                            (common practice: a day's driving without rest; an hour meter cannot run faster)

SOON_AFTER = Decimal("1.15")  # share by which a reading in other units may be above the one before (common practice)


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
    if unit_now == "mi" and before <= now * Decimal("1.609344") <= before * SOON_AFTER:
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
    today = case.reading.note.date
    dates = [(fact, known) for fact in case.facts("date", ("historical", "quoted", "stated"))
             if (known := last_day(fact.code)) and (fact.assertion != "stated" or (today and known < today))]
    found = []
    for fact in case.facts("odometer", ("historical", "quoted")):
        if fact.value is None or cue("due").search(case.near_text(fact, 30, 0)) or cue("other-clock").search(
                case.around(fact)[0][-45:]):
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
    known = (*earlier_in_note(case), *nearest(case, now[0]))
    return [*(flag for before in known for flag in against(case, now[0], before)), *between_now(case, now)]


def nearest(case: Case, now: Fact) -> list[Earlier]:
    """The record's last reading of a day before the note and its first one of a day after it, as far as they speak
    against the note's: of two readings that go backwards the later one is wrong, unless the next one bears it out."""
    today, unit = case.reading.note.date, odometer_unit(case, now)
    dated = sorted((one for one in case.history.readings if one.on), key=lambda one: one.on or date.min)
    before = [one for one in dated if today and one.on and one.on < today][-1:]
    after = [one for one in dated if today and one.on and one.on > today][:2]
    values = [in_unit(one.value, odometer_unit(case, one), unit) or Decimal(0) for one in (*before, *after)]
    borne_out = bool(before) and bool(after) and (now.value or Decimal(0)) <= values[1] < values[0]
    against_it = len(after) > 1 and all(value < (now.value or Decimal(0)) for value in values[-2:])
    kept = [*([] if borne_out else before), *(after[:1] if against_it else [])]
    return [Earlier(one.value, odometer_unit(case, one), one.on, None, one.source) for one in kept]


def between_now(case: Case, now: list[Fact]) -> Iterator[Flag]:
    """Two readings of one day that go backwards."""
    for first, later in pairwise(now):
        one, other = first.value, in_unit(later.value or Decimal(0), odometer_unit(case, later),
                                          odometer_unit(case, first))
        if one is not None and other is not None and one / 5 < other < one * Decimal("0.999") - rounding(one):
            before = Earlier(one, odometer_unit(case, first), None, first, "the note itself")
            yield odometer_flag(case, later, before, backwards(one - other, odometer_unit(case, first)), None)


def backwards(by: Decimal, unit: str | None) -> str:
    """That a reading goes backwards, and by how much, for a sentence."""
    return f"it goes backwards by {show(rounded(by, 4), unit)}"


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
            off_by = show(now.value - distance, unit)
            yield odometer_flag(case, now, before, f"later readings are lower, by {off_by}", None)
        return
    off = distance - (rounding(before.distance or Decimal(0)) if before.fact else 0)
    if now.value < off:
        said = format(now.value, "f")
        cause = backwards_cause(now.value, distance, unit, said)
        yield odometer_flag(case, now, before, backwards(distance - now.value, unit), cause)
        return
    if before.on and today and unit in DAILY:
        days = max((today - before.on).days, 1)
        if now.value - distance > DAILY[unit] * days:
            words = f"{show(now.value - distance, unit)} in {days} days is beyond reason"
            yield odometer_flag(case, now, before, words, None)
