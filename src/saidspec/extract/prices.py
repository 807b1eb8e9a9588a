"""Prices: amounts of money with what they were paid for, each or in total."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.extract.bare_prices import BarePrices
from saidspec.extract.costs import Amount, MoneyWords, signed, with_cents
from saidspec.extract.draft import Draft
from saidspec.extract.price_told import price_role, price_standing
from saidspec.extract.prices_said import PricesSaid
from saidspec.extract.purchases import Purchases
from saidspec.extract.quantity import Quantity
from saidspec.extract.values import ValueReader

PAID = ("was", "were", "cost", "paid", "spent", "charged")


@dataclass(slots=True)
class Prices:
    """Reads the amounts of one passage from its start; the currency said nearest holds for bare figures."""

    values: ValueReader
    words: MoneyWords
    numbers: dict[int, Quantity]
    said: PricesSaid
    bare: BarePrices
    pound_torques: bool  # foot pounds are spoken of

    def read(self, item: Quantity, drafts: list[Draft]) -> Draft | None:
        """The fact of a number that is an amount of money, or None; `drafts` are the facts read so far."""
        money = signed(self.values.page, item, self.words, self.numbers) or self._cents(item) or self._pounds(item) or (
            self.bare.amount(item, drafts))
        return self._cost(money, drafts) if money else None

    def _cents(self, item: Quantity) -> Amount | None:
        """"45 cents", "80 pence": of the currency of the note."""
        page, word = self.values.page, self.values.page.word(item.number + 1)
        if word not in self.words.cents or item.value >= 100 or (item.dimension and word != "p"):
            return None
        code = self.words.cents[word] or self.said.currency(item.number)
        if (word == "p" and code != "GBP") or (word == "cent" and page.word(item.number + 2) == "worth"):
            return None
        return Amount(item.start, item.number + 2, item.number, item.value / 100, code or "USD", item.approximate)

    def _pounds(self, item: Quantity) -> Amount | None:
        """Pounds are money beside words of paying, with pence behind them, or as what a part was, not what it bore."""
        page, words, end = self.values.page, self.words, item.number + 2
        code = words.doubtful.get(page.word(item.number + 1))
        if code is None or item.dimension != "pound" or item.high is not None:
            return None
        made = Amount(item.start, end, item.number, item.value, code, item.approximate)
        made = with_cents(page, made, words, self.numbers)
        if made.end > end or words.ends(page, "paid", item.start) or any(
                words.at(page, name, end) for name in ("clearly-each", "clearly-total")):
            return made
        first, last = max(page.sentence_start(item.start), item.start - 8), page.sentence_end(item.start)
        if words.within(page, "no-money", first, min(last, end + 4)):
            return None
        if words.within(page, "near", first, min(last, end + 5)) or words.at(page, "each", end) or (
                self._of_the_number(item.start)):
            return made
        said = self.said.currency(item.number)
        if said:
            return made if said == code else None
        return made if not self.pound_torques and self._of_a_part(item.start, end) else None

    def _of_the_number(self, start: int) -> bool:
        """"New one is RS-4471, it was 42 pounds": said of what has just got its number."""
        recent = self.values.scene.memory.recent
        if not recent or recent[-1].kind != "part_number" or start - recent[-1].end > 4:
            return False
        return not {"was", "were", "at"}.isdisjoint(self.values.page.words(recent[-1].end, start))

    def _of_a_part(self, start: int, end: int) -> bool:
        """The amount stands beside a part that has neither a torque nor a pressure nor a weight to bear."""
        mention = self.values.target(start, end, length=False).mention
        if mention is None or mention.fastener or not mention.words:
            return False
        bears = not self.values.scene.words.bears_pounds.isdisjoint(mention.words)
        return not bears and self.values.page.same_sentence(mention.start, start)

    def _cost(self, money: Amount, drafts: list[Draft]) -> Draft:
        """The fact of an amount, remembered with its currency."""
        page = self.values.page
        role = price_role(page, self.words, money, self.said)
        target = Purchases(self.values, self.words, self.numbers, self.said.found).bought(money, role, drafts)
        head = target.mention.head if target.mention is not None else None
        if role is None and head is not None and page.words(money.end, money.end + 2) == ["a", head]:
            role = "each"  # "nine quid a filter"
        assertion, cue = price_standing(page, self.words, money)
        paid = assertion == "stated" and page.word(money.start - 1) in PAID
        draft = Draft("cost", money.start, money.end, money.number, target.mention, money.value, code=money.currency,
                      role=role, assertion=assertion, cue=cue, rule="cost.paid" if paid else money.rule,
                      confidence=target.confidence - (0 if money.rule == "cost.amount" else 0.15),
                      manner=target.manner, approximate=money.approximate)
        self.values.ends.append(money.end)
        self.said.keep(draft, money)
        return draft


def prices(values: ValueReader, words: MoneyWords, numbers: dict[int, Quantity]) -> Prices:
    """The reader of a passage's prices; `numbers` are its quantities that may be money, by their number's token."""
    said = PricesSaid()
    for item in numbers.values():
        made = signed(values.page, item, words, numbers)
        if made and made.currency:
            said.places.append(made.number)
            said.codes.append(made.currency)
    pounds = any(item.dimension == "torque" and item.unit.startswith("lbf") for item in numbers.values())
    return Prices(values, words, numbers, said, BarePrices(values, words, numbers, said), pounds)
