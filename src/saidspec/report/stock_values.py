"""The values of the stock: what was bought, used and left over of one thing, each figure with its words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Literal

from saidspec.report.counted import plural
from saidspec.report.lines import Words
from saidspec.report.wording import amount

Way = Literal["bought", "used", "left over"]

SUMMED: tuple[Way, ...] = ("bought", "used")


@dataclass(frozen=True, slots=True)
class Movement:
    """One figure: `amount` in the unit of the item (None where no amount was said), `said` as it was said."""

    id: int
    way: Way
    amount: Decimal | None
    said: str
    vehicle: str
    day: date | None
    words: Words
    marks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StockItem:
    """One fluid, part or material across the vehicles.  `unit` is empty for pieces.

    `on_hand` is None where nothing tells: nothing bought and nothing said to be left over.
    """

    name: str
    unit: str
    movements: tuple[Movement, ...]
    on_hand: Decimal | None = None
    approximate: bool = False
    says: tuple[str, ...] = ()
    grade: str = ""  # grade of a fluid or number of a part, which the name ends with
    also: tuple[str, ...] = ()  # other names that notes give it
    piece: str = "piece"  # what is counted: "tin", or "container" where nobody said what they hold

    def with_rest(self, on_hand: Decimal | None, says: tuple[str, ...]) -> StockItem:
        """The item with what is on hand, and what is to be said of that."""
        return replace(self, on_hand=on_hand, says=says)

    def names(self) -> tuple[str, ...]:
        """All names of it, each with its grade."""
        return (self.name, *(f"{name} {self.grade}".strip() for name in self.also))

    def bare(self) -> tuple[str, ...]:
        """All names of it without its grade."""
        return (self.name.removesuffix(self.grade).strip() or self.name, *self.also)

    def last_used(self) -> Movement:
        """The latest movement."""
        return max(self.movements, key=lambda one: one.day or date.min)

    def total(self, way: Way) -> Decimal:
        """The sum of what was bought or used."""
        return sum((one.amount for one in self.movements if one.way == way and one.amount), Decimal(0))

    def sums(self) -> str:
        """The totals in words: "bought 1 L, used 0.1 L", or how often it was used where no amount was said."""
        told = [f"{way} {self.shown(self.total(way))}" for way in SUMMED if self.total(way)]
        silent = sum(one.amount is None for one in self.movements)
        if silent:
            told.append(f"used {silent} {'time' if silent == 1 else 'times'} without an amount")
        return ", ".join(told) or "nothing bought or used"

    def shown(self, value: Decimal | None) -> str:
        """An amount of this item in words: "0.75 L", "4 pieces"."""
        if value is None:
            return "not known"
        if self.unit:
            return amount(trimmed(value), None, self.unit)
        return f"{trimmed(value):f} {plural(self.piece, value)}"


@dataclass(frozen=True, slots=True)
class Stock:
    """The stock as of a day, things on hand first."""

    title: str
    day: date
    items: tuple[StockItem, ...]
    asked: bool = False  # whether it is of one thing only

    def on_hand(self) -> list[StockItem]:
        """The things of which something tells how much is left."""
        return [item for item in self.items if item.on_hand is not None]

    def used_only(self) -> list[StockItem]:
        """The things of which only use is on record."""
        return [item for item in self.items if item.on_hand is None]


def trimmed(value: Decimal) -> Decimal:
    """A sum of converted amounts to three decimals, without trailing zeros."""
    value = value.quantize(Decimal("0.001")).normalize()
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value
