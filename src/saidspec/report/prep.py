"""The preparation sheet: what one needs to know and to have before the next job, from the last time and the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from saidspec.model import Kind, Specification
from saidspec.record.entries import Entry, FlagEntry
from saidspec.report.lines import FlagLine, flag_line, line, lines
from saidspec.report.log import is_to_do
from saidspec.report.parts import may_be, same_place, same_quantity, words
from saidspec.report.parts import phrase as part
from saidspec.report.prep_needs import Shelf, needed
from saidspec.report.prep_values import JobKnowledge, Must, Prep, Row, Table
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
    flags: Iterable[FlagEntry], shelf: Shelf, known: JobKnowledge | None, day: date,
) -> Prep:  # fmt: skip
    """The sheet for a job on `about`.  `entries` are all of the vehicle in order of time.

    `shelf` gives the stock of all vehicles of the things that it is asked for by name or part number.
    """
    what = topic(about, known, entries)
    own = [entry for entry in entries if not entry.rejected and what.has(entry)]
    worked = [entry.day for entry in own if entry.fact.kind == "operation" and entry.stands and entry.day]
    last_day = max(worked, default=None)
    last = [entry for entry in own if entry.day == last_day] if last_day else []
    specs = [spec for spec in specifications if what.holds(spec.component)]
    musts = known.musts if known else ()
    sheet = ([spec for spec in specifications if same_place(spec.component, about)], specs)
    values = [(title, with_musts(kind, rows_of(kind, own, sheet, last_day), musts)) for title, kind in TABLES]
    tables = tuple(Table(title, rows) for title, rows in values if rows)
    ids = {entry.fact.id for entry in own}
    told = [flag_line(flag) for flag in flags if flag.flag.fact in ids or what.holds(flag.flag.component)]
    return Prep(
        title=f"Preparation: {about}", vehicle=vehicle, about=about, job=known.name if known else "",
        day=day, last_day=last_day,
        odometer=_odometer(last), cautions=known.cautions if known else (), steps=_steps(last), tables=tables,
        needed=needed(own, last, specs, shelf),
        findings=lines(once([entry for entry in last if entry.stands and _tells(entry)])),
        to_do=lines([entry for entry in own if is_to_do(entry) and not entry.done]), flags=_open(told),
        unconfirmed=sum(row.trust == "unconfirmed" for table in tables for row in table.rows),
    )  # fmt: skip


def rows_of(
    kind: Kind, own: Sequence[Entry], sheet: tuple[Sequence[Specification], Sequence[Specification]],
    last_day: date | None,
) -> tuple[Row, ...]:  # fmt: skip
    """The values of one kind: each part once, with the latest value said, in the order of the last time.

    `sheet` are all specifications, for what was said, and those of the job: of them the record's gaps are filled.
    """
    everything, specs = sheet
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
        fits = [spec for spec in everything if spec.kind == kind and _fits(entry, spec)]
        taken += fits
        rows.append(_row(entry, closest(entry, fits)))
    rest = [spec for spec in specs if spec.kind == kind and spec not in taken]
    return tuple(rows + [Row(spec.component, spec_text(spec), spec.source, "", None, "reference") for spec in rest])


def with_musts(kind: Kind, rows: tuple[Row, ...], musts: Iterable[Must]) -> tuple[Row, ...]:
    """The rows, and an empty one for each value that the job needs and that neither the record nor the sheet has."""
    def have(part: str) -> bool:
        return any(may_be(row.component, part, kind) for row in rows)

    lacking = [must for must in musts if must.kind == kind and not have(must.what)
               and not (must.or_what and have(must.or_what))]  # fmt: skip
    return rows + tuple(
        Row(f"{must.what} or {must.or_what}" if must.or_what else must.what, "", NO_REFERENCE, "", None, "nothing",
            marks=(must.why,)) for must in lacking)  # fmt: skip


def spec_text(spec: Specification) -> str:
    """A specification in words."""
    return " ".join(part for part in (quantity(spec), spec.code or "") if part)


def closest(entry: Entry, fits: Sequence[Specification]) -> tuple[Specification, ...]:
    """Of the specifications that fit those that share most words with what was said; several where they differ."""
    said = part(entry.fact.component or "")

    def nearness(spec: Specification) -> tuple[int, int]:
        own = part(spec.component)
        shared, lacking = {*said.order} & {*own.order}, {*own.order} - {*said.order}
        return len(shared) - len(lacking), len(said.positions & own.positions)

    nearest = max(map(nearness, fits), default=(0, 0))
    best = [spec for spec in fits if nearness(spec) == nearest]
    values = {(spec.value, spec.value_high, spec.unit, spec.code, spec.angle, spec.bound) for spec in best}
    return tuple(best[:1] if len(values) == 1 else best)


def _fits(entry: Entry, spec: Specification) -> bool:
    """Whether a specification may be of the part: one of the two says less, and neither says another place."""
    said, kind = entry.fact.component or "", entry.fact.kind
    if kind == "measurement" and not same_quantity(spec, entry.fact.role or ""):
        return False
    if kind == "size" and spec.role and entry.fact.role and spec.role != entry.fact.role:
        return False
    return may_be(said, spec.component, kind)


def _row(entry: Entry, fits: Sequence[Specification]) -> Row:
    told = line(entry)
    marks = told.marks if entry.stands else ("only quoted in a note", *told.marks)
    spec = fits[0] if len(fits) == 1 else None
    source = spec.source if spec else NO_REFERENCE
    if len(fits) > 1:
        source = "several references fit: " + "; ".join(f"{spec.component} {spec_text(spec)}" for spec in fits)
    return Row(
        component=told.about, reference=spec_text(spec) if spec else "", source=source, last=phrase(entry.fact),
        when=entry.day, trust="reference" if spec else "confirmed" if entry.reviewed else "unconfirmed",
        differs=spec is not None and _differs(entry, spec), words=told.words, marks=marks, fact=told.id,
    )  # fmt: skip


def _tells(entry: Entry) -> bool:
    """Whether a finding of the last time is worth knowing before the next one; what was well is not."""
    fact = entry.fact
    return fact.kind in ("trouble_code", "duration") or (fact.kind == "observation" and fact.role != "ok")


def once(entries: Iterable[Entry]) -> list[Entry]:
    """Of entries that say the same of the same part the first."""
    told = {(entry.fact.component, entry.fact.finding, phrase(entry.fact)): entry for entry in reversed(list(entries))}
    return list(reversed(told.values()))


def _differs(entry: Entry, spec: Specification) -> bool:
    """Whether the value said is not the reference's digit for digit; what that means is for `check` to say."""
    fact = entry.fact
    if spec.bound or fact.kind == "volume":
        return False
    return (fact.value, fact.unit, fact.code) != (spec.value, spec.unit, spec.code)


def _steps(last: Sequence[Entry]) -> tuple[str, ...]:
    """What was done the last time, in its order, each step once."""
    done = (line(entry).text for entry in last if entry.fact.kind == "operation" and entry.stands)
    return tuple(dict.fromkeys(done))


def _odometer(last: Sequence[Entry]) -> str:
    told = next((entry for entry in last if entry.odometer is not None), None)
    if told is None or told.odometer is None or not told.odometer_unit:
        return ""
    return distance(told.odometer, told.odometer_unit)


def _open(told: Iterable[FlagLine]) -> tuple[FlagLine, ...]:
    return tuple(flag for flag in told if not flag.accepted)


