"""Figures without a currency where prices are told: behind a part number, among prices, "a set", "all in"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from saidspec.discourse.corrections import between
from saidspec.extract.costs import Amount, MoneyWords, figure
from saidspec.extract.draft import Draft
from saidspec.extract.prices_said import PricesSaid
from saidspec.extract.purchases import LINKS
from saidspec.extract.quantity import Quantity
from saidspec.extract.values import ValueReader

RECENT = 12  # drafts in which the part number right before a price is looked for
HEDGES = ("about", "only", "just", "me", "like", "was", "around")  # between "paid" and its figure
PRICED = ("was", "were", "cost", "costs", "at")  # before a price each
CHARGED = ("was", "were", "cost", "costs", "is", "'s", "for")  # before a price that ends in cents
CENTS = (95, 99, 98, 50, 49, 45, 75, 25, 90, 89, 79)
PAID = ("paid", "cost", "costs", "charged", "spent")
NINES = (95, 99, 98, 49, 89, 79)
ENDS = ("", ".", ",", "\n", ";", "!", "at", "from", "for")
NAMING = ("part", "fastener", "modifier", "head", "position")


@dataclass(frozen=True, slots=True)
class BarePrices:
    """Looks for amounts among the figures of one passage, by the words around and the prices said before."""

    values: ValueReader
    words: MoneyWords
    numbers: dict[int, Quantity]
    said: PricesSaid

    def amount(self, item: Quantity, drafts: list[Draft]) -> Amount | None:
        """The amount that a bare figure is, or None; `drafts` are the facts read so far."""
        read = figure(item, self.numbers)
        if read is None:
            return None
        value, end, shape = read
        code = self.said.currency(item.number)
        made = Amount(item.start, end, item.number, value, code, item.approximate, "cost.bare")
        named = self._part_behind(end)
        if not named:
            rule = self._told_again(value, item.start)
            if rule:
                return replace(made, rule=rule)
        paid = self._paid(item.start)
        surely_each = bool(self.words.at(self.values.page, "clearly-each", end)) or self._each(item, end)
        surely_each = surely_each or self._nines_each(item, end)
        if surely_each and item.form == "chain" and 100 <= value < 1000:
            made, shape = replace(made, value=value / 100), "pair"  # "four fifty each"
        if code is None:
            sure = paid or surely_each or (shape == "pair" and self._charged(item, end, drafts))
            whole = shape == "whole" and item.value >= 3 and self._plainly_paid(item, end)
            return made if (sure and shape in ("cents", "pair") and item.value >= 1) or whole else None
        if shape in ("cents", "pair") and (self._summed(item, end) or (
                shape == "pair" and self._charged(item, end, drafts))):
            return made
        if shape == "whole":
            return made if not named and (paid or self._among(item, end)) else None
        if paid or surely_each or (self._coded(item, drafts) and not self._measured(item)):
            return made
        return made if shape != "quarter" and self._listed(item, end) else None

    def _charged(self, item: Quantity, end: int, drafts: list[Draft]) -> bool:
        """"Kit was thirty nine ninety five", "wiper blades, thirty nine ninety five.": with the cents that prices end
        in, told of what is neither measured nor tightened.
        """
        page = self.values.page
        behind = self.numbers.get(item.number + 1)
        cents = behind.value if behind is not None else item.value % 100
        coded = drafts[-1:] and drafts[-1].kind == "part_number" and item.start - drafts[-1].end <= 4
        told = page.word(item.start - 1) in CHARGED or (
            page.word(item.start - 1) == "," and page.word(end) in ENDS and (cents in NINES or bool(coded))
            and bool(self.values.neighbours.before(item.start, 3)))
        if not told or cents not in CENTS or self._measured(item) or self._fastened(item):
            return False
        last = self.values.scene.memory.last
        return last is None or last.kind != "measurement" or item.start - last.end > 8

    def _nines_each(self, item: Quantity, end: int) -> bool:
        """"The plugs are four ninety nine each"."""
        nines = item.form == "chain" and 100 <= item.value < 1000 and item.value % 100 in NINES
        return nines and bool(self.words.at(self.values.page, "each", end)) and not self._measured(item)

    def _summed(self, item: Quantity, end: int) -> bool:
        """"Total with everything 268,50", "33.50 for the both of them"."""
        page, words = self.values.page, self.words
        return words.ends(page, "total-before", item.start) or (
            words.at(page, "clearly-total", end) > 0 and not self._measured(item))

    def _told_again(self, value: Decimal, start: int) -> str | None:
        """The rule by which a figure is the sum of the prices before it, or puts the last one right."""
        if self.said.is_sum(value, start):
            return "cost.sum"
        last = self.said.found[-1] if self.said.found else None
        near = last is not None and 0 < start - last.end <= 8
        return "cost.corrected" if last and near and between(self.values.page, last.end, start) else None

    def _paid(self, start: int) -> bool:
        """"Paid 40", "cost me about 19.90"."""
        page, words = self.values.page, self.words
        return words.ends(page, "paid", start) or (
            page.word(start - 1) in HEDGES and words.ends(page, "paid", start - 1))

    def _plainly_paid(self, item: Quantity, end: int) -> bool:
        """"Paid 1,250 for the gearbox", "89 apiece": a whole figure without a currency that can be nothing else."""
        page = self.values.page
        lead = page.word(item.start - 2) if page.word(item.start - 1) in HEDGES else page.word(item.start - 1)
        paid = lead in PAID and page.word(end) in (*ENDS, "all", "in", "on", "with", "each", "and", "plus")
        return paid or (bool(self.words.at(page, "clearly-each", end)) and page.words(end, end + 1) == ["apiece"])

    def _among(self, item: Quantity, end: int) -> bool:
        """A whole figure right among prices: "another 20", "discs 90 and the pads 130"."""
        page, last = self.values.page, self.said.found[-1] if self.said.found else None
        if page.word(item.start - 1) in ("another", "plus"):
            told = page.word(item.start - 2) in CHARGED  # "that was another fourteen"
            if self.said.near(item.start, 24 if told else 8):
                return True
        if last is None or item.start - last.end > 10 or not page.same_sentence(last.start, item.start):
            return False
        return (bool(self.words.at(page, "each", end)) or self._told(item)) and not self._measured(item)

    def _listed(self, item: Quantity, end: int) -> bool:
        """A figure with cents in a list of prices, or as their total: "the jug was 38.90", "42.60 for the oil"."""
        page, words = self.values.page, self.words
        if words.within(page, "total", end, end + 2) and self.said.near(item.start, 40):
            return True
        if not self.said.near(item.start, 16) or self._measured(item):
            return False
        if words.at(page, "each", end) or page.word(end) == "for" or (
                page.word(item.start - 1) in ("was", "were", "plus", "another")):
            return True
        prior = self.values.neighbours.before(item.start, 4)
        return bool(prior) and all(page.word(at) in LINKS for at in range(prior[0].end, item.start))

    def _measured(self, item: Quantity) -> bool:
        """Words of measuring stand in the clause, so a bare decimal is none of money."""
        measuring = any(hint.kind in ("measurement", "volume", "torque") and hint.distance <= 4
                        and hint.role not in ("bought", "added") for hint in self.values.hints(item, item.end + 6))
        return measuring and not self.words.within(self.values.page, "near", item.start - 6, item.end + 4)

    def _each(self, item: Quantity, end: int) -> bool:
        """"Seals were 4.50 each": a price told of a part that is neither measured nor a fastener."""
        told = self.values.page.word(item.start - 1) in PRICED and self.words.at(self.values.page, "each", end)
        return bool(told) and not self._measured(item) and not self._fastened(item)

    def _fastened(self, item: Quantity) -> bool:
        """The figure is told of a fastener: a torque each."""
        mention = self.values.target(item.start, item.end, length=False).mention
        return mention is not None and mention.fastener

    def _part_behind(self, end: int) -> bool:
        return any(self.values.page.starting(name, end) for name in NAMING)

    def _coded(self, item: Quantity, drafts: list[Draft]) -> bool:
        """Right behind a part number: "HP-2217, seventy-four fifty"."""
        page = self.values.page
        last = next((draft for draft in reversed(drafts[-RECENT:]) if draft.kind == "part_number"), None)
        return last is not None and 0 <= item.start - last.end <= 4 and all(
            page.word(at) in LINKS for at in range(last.end, item.start))

    def _told(self, item: Quantity) -> bool:
        """Right behind a part, or said to be for one: "discs 90 and the pads 130", "sixty for the kit"."""
        page, near = self.values.page, self.values.neighbours
        if page.word(item.end) == "for":
            return near.governed(item.end) is not None or page.starting("material", item.end + 2) is not None
        prior = near.before(item.start, 2)
        alone = page.word(item.end) in (".", ",", "", "and", "\n")
        return alone and bool(prior) and not prior[0].fastener and all(
            page.word(at) in ("was", "were", ",") for at in range(prior[0].end, item.start))
