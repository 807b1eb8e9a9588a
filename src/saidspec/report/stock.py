"""Stock: bought, used and left over of each fluid, part and material, across vehicles, and what that leaves on hand.

Only what was stated counts: what is planned to be bought is not on the shelf.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from saidspec.record.entries import Entry
from saidspec.reference.units import convert
from saidspec.report.lines import line
from saidspec.report.parts import phrase, without_places, words
from saidspec.report.stock_figures import FOR_EACH, Figure, Key, figures
from saidspec.report.stock_values import Movement, Stock, StockItem, Way, trimmed

ORDER: tuple[Way, ...] = ("bought", "used", "left over")
APART = Decimal("0.1")  # share by which said and worked-out rests may differ unremarked (common practice: 10 %)


def stock(entries: Sequence[Entry], title: str, day: date, part: str = "") -> Stock:
    """The stock from the entries of all vehicles in order of time; of things that `part` names where it is given."""
    together: dict[Key, list[Figure]] = defaultdict(list)
    for figure in figures([entry for entry in entries if entry.stands]):
        together[figure.thing()].append(figure)
    items = [item_of(some) for some in together.values() if any(kept(figure) for figure in some)]
    items = [item for item in items if not part or any(words(part) <= words(name) for name in item.names())]
    return Stock(title, day, tuple(sorted(items, key=lambda item: (item.on_hand is None, item.name))), bool(part))


def kept(figure: Figure) -> bool:
    """Whether a figure makes a thing one of the shelf: six bolts that were counted coming off are none."""
    return figure.way != "used" or bool(figure.unit or figure.grade) or figure.amount is None


def item_of(some: Sequence[Figure]) -> StockItem:
    """One item from its figures in order of time, with what it leaves on hand."""
    bought = [figure.unit for figure in some if figure.way == "bought"]
    unit = bought[-1] if bought else some[-1].unit
    # What was bought on a day was there when it was used on that day, however the note tells it.
    ordered = sorted(some, key=lambda figure: (figure.entry.day or date.min, ORDER.index(figure.way)))
    movements = tuple(_movement(figure, unit) for figure in ordered)
    grade, of = some[-1].grade, f" of {some[-1].entry.vehicle}" if some[-1].own else ""
    called = _called(some)
    name = called if called.casefold() == grade.casefold() else f"{called} {grade}".strip()
    approximate = any(figure.entry.fact.approximate for figure in some)
    bare = StockItem(f"{name}{of}", unit, movements, approximate=approximate, grade=grade,
                     piece=_piece(some),
                     also=tuple(sorted({figure.name for figure in some} - {called})))  # fmt: skip
    on_hand, says = _rest(bare)
    return bare.with_rest(on_hand, says)


def _piece(some: Sequence[Figure]) -> str:
    """What is counted: the package that all counts name, else a container or a piece."""
    told = {figure.held for figure in some if figure.amount is not None}
    if len(told) == 1 and (only := told.pop()):
        return only
    return "container" if any(told) or (some[-1].fluid and not some[-1].grade) else "piece"


def _called(some: Sequence[Figure]) -> str:
    """The name without a place that most figures have, of several the shortest; a fluid's without any place."""
    told = Counter(without_places(figure.name) if figure.fluid else figure.name for figure in some)
    return min(told, key=lambda name: (len(phrase(name).positions), -told[name], len(name), name))


def _rest(item: StockItem) -> tuple[Decimal | None, tuple[str, ...]]:
    """What is on hand: the last rest that was said, and what was bought and used since."""
    rest: Decimal | None = None
    says = []
    unknown_use = 0
    for one in item.movements:
        if one.way == "left over" and one.amount is not None:
            if rest is not None and abs(rest - one.amount) > APART * max(rest, one.amount):
                told = f"said to be left over is {item.shown(one.amount)}"
                says.append(f"bought and used leave {item.shown(max(rest, Decimal(0)))}, {told}")
            rest, unknown_use = one.amount, 0
        elif one.way == "bought" and one.amount is not None:
            rest = (rest or Decimal(0)) + one.amount
        elif one.way == "used" and one.amount is None:
            unknown_use += 1
        elif one.way == "used" and rest is not None and one.amount is not None:
            rest -= one.amount
            unknown_use += FOR_EACH in one.marks
    if rest is None:
        says.append("nothing bought or left over is on record")
    elif rest < 0:
        says.append(f"{item.shown(-rest)} more used than bought: a purchase is not on record")
        rest = Decimal(0)
    if unknown_use and rest is not None:
        says.append("used without an amount since: less may be left")
    return (None if rest is None else trimmed(rest)), tuple(says)


def _movement(figure: Figure, unit: str) -> Movement:
    told = line(figure.entry)
    value = convert(figure.amount, figure.unit, unit) if figure.amount is not None and unit else figure.amount
    return Movement(told.id, figure.way, value, figure.said, figure.entry.vehicle, figure.entry.day, told.words,
                    (*figure.marks, *told.marks))  # fmt: skip
