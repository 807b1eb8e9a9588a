"""Intervals of the sheet that were exceeded when the work was done, by the note or by the record."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from saidspec.model import Fact, Flag, Quantity, Specification
from saidspec.reconcile.case import Case, Outcome, reference_of, told_spec
from saidspec.reconcile.causes import bare
from saidspec.reconcile.cues import cue
from saidspec.reconcile.phrase import read_phrase
from saidspec.reconcile.relate import relate
from saidspec.reconcile.timeline import Earlier, earlier_in_note, in_unit, last_day, odometer_unit, readings_now
from saidspec.reference.units import convert, convertible, rounded, show

DAYS_A_MONTH = Decimal("30.4375")  # a twelfth of a year of 365.25 days
NAMED = 60  # characters before a reading or date in which its part and "was done at" stand
JUST_BEFORE = 120  # characters before a reading or date in which what it is of may have been named
SLACK = Decimal("1.01")  # an interval is exceeded by more than readings are rounded
WORKED: frozenset[str] = frozenset({"replace", "drain", "fill", "flush", "install", "clean", "lubricate", "adjust"})


def about(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a fact's component is, or is a part of the name of, a specification's."""
    said = case.phrase(fact)
    wanted = read_phrase(spec.component, "interval", case.context.vocabulary)
    return bool(said.words) and (relate(said, wanted, "volume") is not None or said.words <= wanted.words)


def worked_on(case: Case, spec: Specification) -> bool:
    """Whether the note shows that what an interval is of was changed or seen to."""
    wanted = read_phrase(spec.component, "interval", case.context.vocabulary)
    for fact in case.facts("part_number", ("stated",)):
        fitted = [other for other in case.holding("part_number") if fact.role != "removed" and other.code and fact.code
                  and bare(other.code) == bare(fact.code)]
        if any(relate(read_phrase(other.component, "interval", case.context.vocabulary), wanted, "volume")
               for other in fitted):
            return True  # "the new one's the WP-3040 kit": what the number is of was changed
    for fact in case.reading.facts:
        if fact.assertion != "stated" or not about(case, fact, spec):
            continue
        if fact.kind == "operation" and fact.action in WORKED:
            return True
        if (fact.kind == "volume" and fact.role in ("added", "drained")) or (
                fact.kind == "part_number" and fact.role != "removed") or fact.kind == "fluid":
            return True
    return False


def of_another(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a reading or date of no part is of another system: the one that was named last, right before it, is not
    the interval's own ("new rear tyres soon, the ones on it are from 2019")."""
    own, start = case.system(spec), fact.provenance.start
    said = case.context.attention(start, JUST_BEFORE)
    if own is not None and said is not None and said != own:
        return True
    done = cue("done-at").search(case.reading.note.text[max(0, start - NAMED) : start].lower())
    vocabulary = case.context.vocabulary
    return done is not None and done[1] in vocabulary.known and (
        done[1] not in read_phrase(spec.component, spec.kind, vocabulary).words)


def earlier_work(case: Case, spec: Specification, alone: bool) -> list[Earlier]:
    """When the work of an interval was last done, by the note, or by the record where the note is silent."""
    told = []
    for before in earlier_in_note(case):
        fact = before.fact
        words = case.near_text(fact, 90, 60) if fact else ""
        tells = bool(cue("last-time" if alone else "last-service").search(words)
                     and not cue("other-event").search(words) and fact and not of_another(case, fact, spec))
        if fact is not None and (about(case, fact, spec) or (not fact.component and tells)):
            told.append(before)
    if not told and alone:
        dates = case.facts("date", ("historical", "quoted"))
        told = [Earlier(None, None, known, fact, "the note itself") for fact in dates
                if (known := last_day(fact.code)) and (about(case, fact, spec) or (
                    not fact.component and cue("last-time").search(case.sentence(fact))
                    and not of_another(case, fact, spec)))]
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
            if convertible(said, unit) and (said == "hour") == (unit == "hour"):
                passed.append((convert(amount, said, unit), fact, "the note itself"))
        for one in before:
            if now and now[0].value is not None and one.distance is not None:
                here = in_unit(now[0].value, odometer_unit(case, now[0]), unit)
                there = in_unit(one.distance, one.unit, unit)
                read = odometer_unit(case, now[0])
                runs = read is not None and convertible(read, unit) and (read == "hour") == (unit == "hour")
                if here is not None and there is not None and runs:  # hours run are no months of the calendar
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
        message = (f"{spec.component}: {show(rounded(passed), unit)} since it was last done ({source}), the sheet has "
                   f"{told_spec(spec)}{or_told(spec)} ({spec.source}): {show(more, unit)} over.")
        shown = fact or next(iter(readings_now(case)), None)
        flags.append(Flag("overdue", "look", message, spec.component, "interval", shown.id if shown else None,
                          Quantity(rounded(passed), None, unit), reference_of(spec)))
    return flags


def or_told(spec: Specification) -> str:
    """The second side of an interval for a sentence."""
    return f" or {show(spec.or_value, spec.or_unit)}" if spec.or_value is not None else ""
