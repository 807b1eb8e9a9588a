"""The values of a preparation sheet: each reference value once, with what was said of its parts the last time."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from saidspec.model import Kind, Specification
from saidspec.record.entries import Entry, FlagEntry
from saidspec.reference.units import convert, convertible
from saidspec.report.lines import line
from saidspec.report.parts import is_fluid, may_be, same_quantity, without_places
from saidspec.report.parts import phrase as part
from saidspec.report.prep_values import Must, Row, Trust
from saidspec.report.stock_figures import figures
from saidspec.report.stock_values import trimmed
from saidspec.report.wording import amount, phrase, quantity

NOT_NEEDED = ("removed", "bought", "left over", "drained")
NO_REFERENCE = "no reference: see the maker's manual"
WRONG = frozenset({"differs", "outside-limit", "over-limit"})
ALIKE = frozenset({"side", "depth", "shoe"})  # parts that differ in these places only are made alike: left and right
CLOSE = Decimal("0.02")  # share by which a value that nobody compared may be off and still be the same (our choice)
OF_PLACES: frozenset[Kind] = frozenset({"measurement", "part_number"})  # what differs from one side to the other


@dataclass(frozen=True, slots=True)
class Compared:
    """What comparing the record with the sheet gave: the specification that each fact agreed with (component and
    source in one text), and the facts that are flagged.
    """

    agreed: Mapping[int, str] = field(default_factory=dict)
    flagged: Mapping[int, tuple[str, ...]] = field(default_factory=dict)  # fact -> sources of the references


def compared(agreed: Mapping[int, str], flags: Iterable[FlagEntry]) -> Compared:
    """The outcome of comparing, by fact."""
    sources: dict[int, tuple[str, ...]] = {}
    for one in flags:
        if one.flag.fact is not None and one.flag.check in WRONG:
            source = (one.flag.reference.source or "",) if one.flag.reference else ()
            sources[one.flag.fact] = (*sources.get(one.flag.fact, ()), *source)
    return Compared(agreed, sources)


def rows_of(
    kind: Kind, own: Sequence[Entry], sheet: tuple[Sequence[Specification], Sequence[Specification]],
    last_day: date | None, found: Compared,
) -> tuple[Row, ...]:  # fmt: skip
    """The values of one kind, in the order of the last time.

    `sheet` are all specifications, for what was said, and those of the job: of them the record's gaps are filled.
    """
    everything, specs = sheet
    groups: dict[object, list[Entry]] = defaultdict(list)
    fits: dict[object, tuple[Specification, ...]] = {}
    for entry in own:
        fact = entry.fact
        said = entry.stands or fact.assertion == "quoted"
        if fact.kind != kind or not fact.component or fact.role in NOT_NEEDED or not said:
            continue
        meant = references(entry, [spec for spec in everything if spec.kind == kind], found)
        role = fact.role or "" if kind in ("measurement", "size") else ""
        key = id(meant[0]) if len(meant) == 1 else (alike(fact.component), role)
        some = groups.pop(key, [])  # so that the order is that of the latest saying
        groups[key], fits[key] = [*some, entry], meant
    rows = [_row(some, fits[key], found) for key, some in groups.items()]
    rows.sort(key=lambda row: (row.quoted, row.when != last_day))
    taken = [spec for meant in fits.values() for spec in meant]
    rest = [spec for spec in specs if spec.kind == kind and spec not in taken]
    return tuple(rows + [Row(spec.component, spec_text(spec), spec.source, "", None, "reference") for spec in rest])


def latest(some: Sequence[Entry]) -> list[Entry]:
    """What was said last of each part of a group, on the last day only: what was measured before says nothing now."""
    held = [entry for entry in some if entry.stands] or list(some)
    day = max((entry.day or date.min for entry in held), default=None)
    there = [entry for entry in held if (entry.day or date.min) == day]
    if poured := [entry for entry in there if entry.fact.kind == "volume" and entry.fact.role == "added"]:
        return poured
    return list({_place(entry): entry for entry in there}.values())


def alike(component: str) -> tuple[frozenset[str], frozenset[tuple[str, str]]]:
    """The words of a component without the places in which like parts differ; of a fluid without any."""
    told = part(component)
    if is_fluid(component):
        return frozenset(told.order), frozenset()
    return frozenset(told.order), frozenset((axis, name) for axis, name in told.positions if axis not in ALIKE)


def references(entry: Entry, specs: Sequence[Specification], found: Compared) -> tuple[Specification, ...]:
    """The specifications that an entry may speak of: the one it was compared with, else those nearest in words."""
    number = entry.fact.id
    if number in found.agreed:
        told = found.agreed[number]
        known = [one for one in specs if told.startswith(f"{one.component}: ") and told.endswith(f"({one.source})")]
        if known:
            return tuple(known[:1])
    fits = [spec for spec in specs if _fits(entry, spec)]
    if number in found.flagged:
        known = [spec for spec in fits if spec.source in found.flagged[number]]
        fits = known or fits
    return closest(entry, fits)


def with_musts(kind: Kind, rows: tuple[Row, ...], musts: Iterable[Must]) -> tuple[Row, ...]:
    """The rows, and an empty one for each value that the job needs and that neither the record nor the sheet has."""
    def have(wanted: str) -> bool:
        return any(may_be(row.component, wanted, kind) for row in rows)

    lacking = [must for must in musts if must.kind == kind and not have(must.what)
               and not (must.or_what and have(must.or_what))]  # fmt: skip
    return rows + tuple(
        Row(f"{must.what} or {must.or_what}" if must.or_what else must.what, "", NO_REFERENCE, "", None, "nothing",
            marks=(must.why,)) for must in lacking)  # fmt: skip


def spec_text(spec: Specification) -> str:
    """A specification in words."""
    return " ".join(one for one in (quantity(spec), spec.code or "") if one)


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


def _row(some: Sequence[Entry], fits: Sequence[Specification], found: Compared) -> Row:
    shown = latest(some)
    first = line(shown[0])
    spec = fits[0] if len(fits) == 1 else None
    source = spec.source if spec else NO_REFERENCE
    if len(fits) > 1:
        source = "several references fit: " + "; ".join(f"{one.component} {spec_text(one)}" for one in fits)
    quoted = not shown[0].stands
    marks = dict.fromkeys(mark for entry in shown for mark in line(entry).marks)
    trust: Trust = "reference" if spec else "confirmed" if all(one.reviewed for one in shown) else "unconfirmed"
    return Row(
        component=spec.component if spec and len(shown) > 1 else _name(shown[0]),
        reference=spec_text(spec) if spec else "", source=source, last=said(shown), when=shown[0].day, trust=trust,
        differs=spec is not None and any(differs(entry, spec, found) for entry in shown), words=first.words,
        marks=(*(("only quoted in a note",) if quoted else ()), *marks), fact=first.id, quoted=quoted,
        before=tuple(entry.fact.id for entry in some if entry not in shown),
    )  # fmt: skip


def differs(entry: Entry, spec: Specification, found: Compared) -> bool:
    """Whether what was said is not what the reference says: as it was compared, else but for rounding."""
    fact = entry.fact
    if fact.id in found.flagged:
        return True
    if fact.id in found.agreed or spec.bound or fact.kind == "volume":
        return False
    if fact.value is None or spec.value is None or not (fact.unit and spec.unit and convertible(fact.unit, spec.unit)):
        return (fact.value, fact.unit, fact.code) != (spec.value, spec.unit, spec.code)
    told, low, high = convert(fact.value, fact.unit, spec.unit), spec.value, spec.value_high or spec.value
    return not low - abs(low) * CLOSE <= told <= high + abs(high) * CLOSE


def said(shown: Sequence[Entry]) -> str:
    """What was said of like parts, in one text: "6.9 mm left inner, 7.1 mm left outer"; of a fluid the sum."""
    if shown[0].fact.kind == "volume" and (poured := [one for one in figures(shown) if one.amount is not None]):
        unit = poured[0].unit
        total = sum((convert(one.amount, one.unit, unit) for one in poured if one.amount is not None), Decimal(0))
        about = "about " if any(one.entry.fact.approximate for one in poured) else ""
        if len(poured) > 1:
            return f"{about}{amount(trimmed(total), None, unit)} added in {len(poured)} pours"
    told: dict[str, list[str]] = {}
    for entry in shown:
        told.setdefault(phrase(entry.fact), []).append(_place(entry))
    if len(told) == 1:
        ((value, places),) = told.items()
        several = len(places) > 1 or shown[0].fact.kind in OF_PLACES
        where = " and ".join(place for place in places if place)
        return f"{value} {where}".strip() if several else value
    return ", ".join(f"{_short(entry)} {_place(entry)}".strip() for entry in shown)


def _short(entry: Entry) -> str:
    """A value without its counterpart, for a list of several."""
    fact = entry.fact
    return " ".join(one for one in (amount(fact.value, fact.value_high, fact.unit), fact.code) if one) or phrase(fact)


def _place(entry: Entry) -> str:
    """The words of a component that tell like parts apart: "left inner"."""
    kept = _name(entry).split()
    return " ".join(word for word in (entry.fact.component or "").split() if word not in kept)


def _name(entry: Entry) -> str:
    """A component without the words that tell like parts apart."""
    component = entry.fact.component or ""
    return without_places(component) if is_fluid(component) else without_places(component, ALIKE)
