"""What a job needs against what is on the shelf: fluids, parts and materials, and what to buy."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal

from saidspec.model import Specification
from saidspec.record.entries import Entry
from saidspec.reference.units import convert, convertible
from saidspec.report.parts import is_about, is_fluid, is_tool, without_places
from saidspec.report.prep_values import Needed
from saidspec.report.stock_values import StockItem, trimmed
from saidspec.report.wording import amount

Shelf = Callable[[Sequence[str]], Sequence[StockItem]]


def needed(
    own: Sequence[Entry], last: Sequence[Entry], specs: Sequence[Specification], shelf: Shelf,
) -> tuple[Needed, ...]:  # fmt: skip
    """Fluids by the sheet's capacity (else what was filled in the last time), parts fitted and materials used then."""
    fluids = _fluids(own, last, specs)
    fitted = [entry for entry in last if entry.fact.kind == "part_number" and entry.stands and entry.fact.code
              and entry.fact.role in ("installed", None)]  # fmt: skip
    used = [entry.fact for entry in last if entry.fact.kind == "material" and entry.stands]
    materials = [fact.code for fact in used if fact.code and not is_tool(fact.code)]
    grades = [spec.code for spec in specs if spec.kind == "fluid" and spec.code]
    names = [*(name for name, *_ in fluids), *grades, *(entry.fact.code or "" for entry in fitted), *materials]
    stock = shelf(list(dict.fromkeys(names)))
    told = [_fluid(name, value, unit, basis, _usable(name, specs, stock)) for name, value, unit, basis in fluids]
    told += [_part(entry, last, stock) for entry in fitted]
    told += [_material(name, last, stock) for name in dict.fromkeys(materials)]
    return tuple(dict.fromkeys(told))


def _fluids(
    own: Sequence[Entry], last: Sequence[Entry], specs: Sequence[Specification]
) -> list[tuple[str, Decimal, str, str]]:
    """(fluid, amount, unit, on what word) for each fluid that the job takes."""
    told = [
        (spec.component, spec.value_high or spec.value, spec.unit, spec.source)
        for spec in specs if spec.kind == "volume" and spec.value is not None and spec.unit
    ]  # fmt: skip
    for entry in (*last, *own):
        fact = entry.fact
        if fact.kind != "volume" or not entry.stands or fact.role not in ("capacity", "added"):
            continue
        if fact.component and fact.value is not None and fact.unit:
            fluid = without_places(fact.component) if is_fluid(fact.component) else fact.component
            if any(is_about(fluid, name) or is_about(name, fluid) for name, *_ in told):
                continue
            how = "said to take" if fact.role == "capacity" else "filled in the last time"
            told.append((fluid, fact.value_high or fact.value, fact.unit, f"{how}, {entry.note}"))
    return [(name, value, unit, basis) for name, value, unit, basis in told if value is not None and unit]


def _usable(name: str, specs: Iterable[Specification], stock: Iterable[StockItem]) -> list[StockItem]:
    """What is on the shelf of a fluid, without the grades that the sheet does not name where it names any."""
    grades = {spec.code for spec in specs if spec.kind == "fluid" and spec.code and is_about(spec.component, name)}
    own = [item for item in stock if item.unit and any(is_about(called, name) for called in item.bare())]
    return [item for item in own if not grades or not item.grade or item.grade in grades]


def _fluid(name: str, value: Decimal, unit: str, basis: str, stock: Iterable[StockItem]) -> Needed:
    shelf = [item for item in stock if convertible(item.unit, unit)]
    known = [convert(item.on_hand, item.unit, unit) for item in shelf if item.on_hand is not None]
    need = amount(value, None, unit)
    if not known:
        return Needed(name, need, "not known", f"look; at most {need}", basis)
    here = sum(known, Decimal(0))
    grades = ", ".join(f"{item.name} {item.shown(item.on_hand)}" for item in shelf if item.on_hand is not None)
    buy = amount(trimmed(value - here), None, unit) if here < value else "nothing"
    return Needed(name, need, grades, buy, basis)


def _part(entry: Entry, last: Sequence[Entry], stock: Iterable[StockItem]) -> Needed:
    fact = entry.fact
    counts = [
        other.fact.value for other in last
        if other.fact.kind == "count" and other.stands and other.fact.role in ("used", None)
        and other.fact.component == fact.component and other.fact.value is not None
    ]  # fmt: skip
    need = counts[-1] if counts else Decimal(1)
    name = f"{fact.component or 'part'} {fact.code}"
    shelf = next((item for item in stock if item.grade and item.grade == fact.code), None)
    return _pieces(name, need, shelf, f"fitted the last time, {entry.note}" + ("" if counts else "; number not said"))


def _pieces(name: str, need: Decimal, shelf: StockItem | None, basis: str) -> Needed:
    wanted = f"{need:f}"
    if shelf is None or shelf.on_hand is None:
        return Needed(name, wanted, "not known", f"look; at most {wanted}", basis)
    buy = f"{need - shelf.on_hand:f}" if shelf.on_hand < need else "nothing"
    return Needed(name, wanted, f"{shelf.on_hand:f}", buy, basis)


def _material(name: str, last: Iterable[Entry], stock: Iterable[StockItem]) -> Needed:
    used = [entry for entry in last if entry.fact.kind == "material" and entry.fact.code == name]
    where = ", ".join(dict.fromkeys(entry.fact.component for entry in used if entry.fact.component))
    shelf = next((item for item in stock if item.name == name and item.on_hand is not None), None)
    here = shelf.shown(shelf.on_hand) if shelf else "not known"
    return Needed(name, f"for {where}" if where else "some", here, "look", f"used the last time, {used[0].note}")
