"""The preparation sheet: what one needs to know and to have before the next job, from the last time and the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from saidspec.model import Kind, Specification
from saidspec.record.entries import Entry, FlagEntry
from saidspec.report.lines import FlagLine, flag_line, line, lines
from saidspec.report.log import is_to_do
from saidspec.report.parts import is_about, words
from saidspec.report.prep_needs import needed
from saidspec.report.prep_values import JobKnowledge, Must, Prep, Row, Table
from saidspec.report.stock_values import StockItem
from saidspec.report.topic import topic
from saidspec.report.wording import distance, phrase, quantity

TABLES: tuple[tuple[str, Kind], ...] = (
    ("Sizes", "size"), ("Torques, in order of need", "torque"), ("Quantities", "volume"), ("Parts", "part_number"),
    ("Fluids", "fluid"), ("Measurements and limits", "measurement"),
)  # fmt: skip
NOT_NEEDED = ("removed", "bought", "left over")
NO_REFERENCE = "no reference: see the maker's manual"


def prep(
    vehicle: str, about: str, entries: Sequence[Entry], specifications: Sequence[Specification],
    flags: Iterable[FlagEntry], stock: Sequence[StockItem], known: JobKnowledge | None, day: date,
) -> Prep:  # fmt: skip
    """The sheet for a job on `about`.  `entries` are all of the vehicle in order of time, `stock` of all vehicles."""
    what = topic(about, known, entries)
    own = [entry for entry in entries if not entry.rejected and what.has(entry)]
    worked = [entry.day for entry in own if entry.fact.kind == "operation" and entry.stands and entry.day]
    last_day = max(worked, default=None)
    last = [entry for entry in own if entry.day == last_day] if last_day else []
    specs = [spec for spec in specifications if what.holds(spec.component)]
    musts = known.musts if known else ()
    values = [(title, with_musts(kind, rows_of(kind, own, specs, last_day), musts)) for title, kind in TABLES]
    tables = tuple(Table(title, rows) for title, rows in values if rows)
    ids = {entry.fact.id for entry in own}
    told = [flag_line(flag) for flag in flags if flag.flag.fact in ids or what.holds(flag.flag.component)]
    return Prep(
        title=f"Preparation: {about}", vehicle=vehicle, about=about, day=day, last_day=last_day,
        odometer=_odometer(last), cautions=known.cautions if known else (), steps=_steps(last), tables=tables,
        needed=needed(own, last, specs, stock),
        findings=lines([e for e in last if e.fact.kind in ("observation", "trouble_code", "duration") and e.stands]),
        to_do=lines([entry for entry in own if is_to_do(entry) and not entry.done]), flags=_open(told),
        unconfirmed=sum(row.trust == "unconfirmed" for table in tables for row in table.rows),
    )  # fmt: skip


def rows_of(
    kind: Kind, own: Sequence[Entry], specs: Sequence[Specification], last_day: date | None
) -> tuple[Row, ...]:
    """The values of one kind: each part once, with the latest value said, in the order of the last time.

    What the record lacks and the sheet has comes after it.
    """
    latest: dict[tuple[frozenset[str], str], Entry] = {}
    quoted: dict[tuple[frozenset[str], str], Entry] = {}
    for entry in own:
        fact = entry.fact
        if fact.kind != kind or not fact.component or fact.role in NOT_NEEDED:
            continue
        key = (words(fact.component), fact.role or "" if kind in ("measurement", "size") else "")
        if entry.stands:
            latest.pop(key, None)  # so that the order is that of the latest saying
            latest[key] = entry
        elif fact.assertion == "quoted":
            quoted[key] = entry
    ordered = sorted(latest.values(), key=lambda entry: entry.day != last_day)
    ordered += [entry for key, entry in quoted.items() if key not in latest]
    taken: list[Specification] = []
    rows = []
    for entry in ordered:
        fits = [spec for spec in specs if spec.kind == kind and _fits(entry, spec)]
        taken += fits
        rows.append(_row(entry, max(fits, key=lambda spec: len(words(spec.component)), default=None)))
    rest = [spec for spec in specs if spec.kind == kind and spec not in taken]
    return tuple(rows + [Row(spec.component, spec_text(spec), spec.source, "", None, "reference") for spec in rest])


def with_musts(kind: Kind, rows: tuple[Row, ...], musts: Iterable[Must]) -> tuple[Row, ...]:
    """The rows, and an empty one for each value that the job needs and that neither the record nor the sheet has."""
    def have(part: str) -> bool:
        return any(is_about(row.component, part) or is_about(part, row.component) for row in rows)

    lacking = [must for must in musts if must.kind == kind and not have(must.what)
               and not (must.or_what and have(must.or_what))]  # fmt: skip
    return rows + tuple(
        Row(f"{must.what} or {must.or_what}" if must.or_what else must.what, "", NO_REFERENCE, "", None, "nothing",
            marks=(must.why,)) for must in lacking)  # fmt: skip


def spec_text(spec: Specification) -> str:
    """A specification in words."""
    return " ".join(part for part in (quantity(spec), spec.code or "") if part)


def _fits(entry: Entry, spec: Specification) -> bool:
    said, kind = entry.fact.component or "", entry.fact.kind
    if spec.role and entry.fact.role and kind in ("size", "measurement") and spec.role != entry.fact.role:
        return False
    return is_about(said, spec.component, kind) or is_about(spec.component, said, kind)


def _row(entry: Entry, spec: Specification | None) -> Row:
    told = line(entry)
    marks = told.marks if entry.stands else ("only quoted in a note", *told.marks)
    reference = spec_text(spec) if spec else ""
    said = phrase(entry.fact)
    return Row(
        component=told.about, reference=reference, source=spec.source if spec else NO_REFERENCE, last=said,
        when=entry.day, trust="reference" if spec else "confirmed" if entry.reviewed else "unconfirmed",
        differs=spec is not None and _differs(entry, spec), words=told.words, marks=marks, fact=told.id,
    )  # fmt: skip


def _differs(entry: Entry, spec: Specification) -> bool:
    """Whether the value said is not the reference's digit for digit; what that means is for `check` to say."""
    fact = entry.fact
    if spec.bound or fact.kind == "volume":
        return False
    return (fact.value, fact.unit, fact.code) != (spec.value, spec.unit, spec.code)


def _steps(last: Sequence[Entry]) -> tuple[str, ...]:
    """What was done the last time, in its order."""
    return tuple(line(entry).text for entry in last if entry.fact.kind == "operation" and entry.stands)


def _odometer(last: Sequence[Entry]) -> str:
    told = next((entry for entry in last if entry.odometer is not None), None)
    if told is None or told.odometer is None or not told.odometer_unit:
        return ""
    return distance(told.odometer, told.odometer_unit)


def _open(told: Iterable[FlagLine]) -> tuple[FlagLine, ...]:
    return tuple(flag for flag in told if not flag.accepted)


