"""The prices of a passage: what was said so far, and which currency was said nearest."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field
from decimal import Decimal

from saidspec.extract.costs import Amount
from saidspec.extract.draft import Draft
from saidspec.extract.purchases import PIECES


@dataclass(slots=True)
class PricesSaid:
    """Amounts with their currency, by token and in order (`places`, `codes`), and the prices read so far (`found`)."""

    found: list[Draft] = field(default_factory=list)
    places: list[int] = field(default_factory=list)
    codes: list[str] = field(default_factory=list)

    def currency(self, at: int) -> str | None:
        """The currency that was said nearest to a token."""
        if not self.places:
            return None
        index = bisect_left(self.places, at)
        near = [i for i in (index - 1, index) if 0 <= i < len(self.places)]
        return self.codes[min(near, key=lambda i: abs(self.places[i] - at))]

    def near(self, at: int, reach: int) -> bool:
        """Whether an amount with its currency, or one already read, stands within reach of a token."""
        index = bisect_left(self.places, at - reach)
        if index < len(self.places) and self.places[index] <= at + reach:
            return True
        return bool(self.found) and at - self.found[-1].end <= reach

    def is_sum(self, value: Decimal, start: int) -> bool:
        """The exact sum of two or more of the prices said just before, or a few times the price of one piece."""
        last, total = self.found[-1] if self.found else None, Decimal(0)
        if last and last.role == "each" and last.value and start - last.end <= 14 and value / last.value in PIECES:
            return True
        for count, draft in enumerate(reversed(self.found), 1):
            if start - draft.end > 120 or draft.value is None or draft.role == "total" or draft.assertion != "stated":
                return False
            total += draft.value
            if count > 1 and total == value:
                return True
        return False

    def keep(self, draft: Draft, money: Amount) -> None:
        """Remember a price that was read; its currency holds for bare figures around it."""
        self.found.append(draft)
        index = bisect_left(self.places, money.number)
        if money.currency and self.places[index : index + 1] != [money.number]:
            self.places.insert(index, money.number)
            self.codes.insert(index, money.currency)
