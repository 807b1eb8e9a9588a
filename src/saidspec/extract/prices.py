"""Prices: amounts of money with what they were paid for, each or in total."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field, replace
from decimal import Decimal

from saidspec.discourse.corrections import between
from saidspec.extract.costs import Amount, MoneyWords, figure, signed, with_cents
from saidspec.extract.draft import Draft
from saidspec.extract.purchases import LINKS, PIECES, Purchases
from saidspec.extract.quantities import Quantity
from saidspec.extract.values import ValueReader

RECENT = 12  # drafts in which the part number right before a price is looked for
PAID = {"was", "were", "cost", "paid", "spent", "charged"}
TYRES = {"tyre", "spare", "wheel", "tongue", "hitch"}


@dataclass(slots=True)
class Prices:
    """Reads the amounts of one passage from its start; the currency said nearest holds for bare figures."""

    values: ValueReader
    words: MoneyWords
    numbers: dict[int, Quantity]
    found: list[Draft] = field(default_factory=list)
    places: list[int] = field(default_factory=list)  # tokens of all amounts with their currency
    codes: list[str] = field(default_factory=list)
    pound_torques: bool = False  # foot pounds are spoken of

    def __post_init__(self) -> None:
        self.pound_torques = any(item.dimension == "torque" and item.unit.startswith("lbf")
            for item in self.numbers.values())
        for item in self.numbers.values():
            made = signed(self.values.page, item, self.words, self.numbers)
            if made and made.currency:
                self.places.append(made.number)
                self.codes.append(made.currency)

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
        return (index < len(self.places) and self.places[index] <= at + reach) or (bool(self.found)
            and at - self.found[-1].end <= reach)

    def read(self, item: Quantity, drafts: list[Draft]) -> Draft | None:
        """The fact of a number that is an amount of money, or None."""
        money = signed(self.values.page, item, self.words,
            self.numbers) or self._cents(item) or self._pounds(item) or self._bare(item, drafts)
        return self._cost(money, drafts) if money else None

    # -- amounts without a plain currency
    def _cents(self, item: Quantity) -> Amount | None:
        """"45 cents", "80 pence": of the currency of the note."""
        page, word = self.values.page, self.values.page.word(item.number + 1)
        if word not in self.words.cents or item.value >= 100 or (item.dimension and word != "p"):
            return None
        code = self.words.cents[word] or self.currency(item.number)
        if (word == "p" and code != "GBP") or (word == "cent" and page.word(item.number + 2) == "worth"):
            return None
        return Amount(item.start, item.number + 2, item.number, item.value / 100, code or "USD", item.approximate)

    def _pounds(self, item: Quantity) -> Amount | None:
        """Pounds are money beside words of paying, with pence behind them, or as what a part was, not what it bore."""
        page, words, end = self.values.page, self.words, item.number + 2
        code = words.doubtful.get(page.word(item.number + 1))
        if code is None or item.dimension != "pound" or item.high is not None:
            return None
        made = with_cents(page, Amount(item.start, end, item.number, item.value, code, item.approximate), words,
            self.numbers)
        first, last = page.sentence_start(item.start), page.sentence_end(item.start)
        if made.end > end or words.at(page, "clearly-each", end) or words.ends(page, "paid", item.start):
            return made
        if words.within(page, "no-money", max(first, item.start - 8), min(last, end + 4)):
            return None
        if words.within(page, "near", max(first, item.start - 8), min(last, end + 5)) or words.at(page, "each", end):
            return made
        said = self.currency(item.number)
        if said == code:
            return made
        if said or self.pound_torques:
            return None
        mention = self.values.target(item.start, end, length=False).mention
        if mention is None or mention.fastener or TYRES & {
            *mention.words} or "pressure" in mention.words or not mention.words:
            return None
        return made if page.same_sentence(mention.start, item.start) else None

    def _bare(self, item: Quantity, drafts: list[Draft]) -> Amount | None:
        """A figure without a currency where prices are told: behind a part number, among prices, "a set", "all in"."""
        page, words = self.values.page, self.words
        read = figure(item, self.numbers)
        if read is None:
            return None
        value, end, shape = read
        code = self.currency(item.number)
        made = Amount(item.start, end, item.number, value, code, item.approximate, "cost.bare")
        if self._is_sum(value, item.start) and not self._part_behind(end):
            return replace(made, rule="cost.sum")
        last = self.found[-1] if self.found else None
        if last and 0 < item.start - last.end <= 8 and not self._part_behind(end) and between(page, last.end,
            item.start):
            return replace(made, rule="cost.corrected")
        paid = words.ends(page, "paid", item.start) or (words.ends(page, "paid", item.start - 1)
            and page.word(item.start - 1) in (
            "about", "only", "just", "me", "like", "was", "around"))
        each = words.at(page, "each", end)
        if code is None:
            sure = paid or words.at(page, "clearly-each", end)
            return made if sure and shape in ("cents", "pair") and item.value >= 1 else None
        if shape == "whole":
            joined = page.word(item.start - 1) in ("another", "plus") and self.near(item.start,
                8) and not self._part_behind(end)
            beside = (each or self._told(item)) and bool(self.found) and page.same_sentence(self.found[-1].start,
                item.start) and (
                item.start - self.found[-1].end <= 10 and not self._measured(item))
            return made if ((paid or beside) and not self._part_behind(end)) or joined else None
        if paid or words.at(page, "clearly-each", end) or (self._coded(item, drafts) and not self._measured(item)):
            return made
        if words.within(page, "total", end, end + 2) and self.near(item.start, 40) and shape != "quarter":
            return made
        close = self.near(item.start, 16)
        return made if close and shape != "quarter" and not self._measured(item) and (each or self._listed(item,
            end)) else None

    def _measured(self, item: Quantity) -> bool:
        """Words of measuring stand in the clause, so a bare decimal is none of money."""
        return any(hint.kind in ("measurement", "volume", "torque") and hint.distance <= 4
            and hint.role not in ("bought", "added")
                   for hint in self.values.hints(item, item.end + 6)) and not self.words.within(
                       self.values.page, "near", item.start - 6, item.end + 4)

    def _part_behind(self, end: int) -> bool:
        page = self.values.page
        return any(page.starting(name, end) for name in ("part", "fastener", "modifier", "head", "position"))

    def _coded(self, item: Quantity, drafts: list[Draft]) -> bool:
        """Right behind a part number: "HP-2217, seventy-four fifty"."""
        page = self.values.page
        last = next((draft for draft in reversed(drafts[-RECENT:]) if draft.kind == "part_number"), None)
        return last is not None and 0 <= item.start - last.end <= 4 and all(
            page.word(at) in LINKS for at in range(last.end, item.start))

    def _listed(self, item: Quantity, end: int) -> bool:
        """"The jug was 38.90", "42.60 for the oil", "filter 9.80": a part and a figure in a list of prices."""
        page, near = self.values.page, self.values.neighbours
        prior = near.before(item.start, 4)
        if prior and all(page.word(at) in LINKS for at in range(prior[0].end, item.start)):
            return True
        return page.word(end) == "for" or page.word(item.start - 1) in ("was", "were", "plus", "another")

    def _told(self, item: Quantity) -> bool:
        """Right behind a part, or said to be for one: "discs 90 and the pads 130", "sixty for the kit"."""
        page, near = self.values.page, self.values.neighbours
        if page.word(item.end) == "for":
            return near.governed(item.end) is not None or page.starting("material", item.end + 2) is not None
        prior = near.before(item.start, 2)
        alone = page.word(item.end) in (".", ",", "", "and", "\n")
        return alone and bool(prior) and not prior[0].fastener and all(
            page.word(at) in ("was", "were", ",") for at in range(prior[0].end, item.start))

    def _is_sum(self, value: Decimal, start: int) -> bool:
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

    # -- the fact
    def _cost(self, money: Amount, drafts: list[Draft]) -> Draft:
        role = self._role(money)
        target = Purchases(self.values, self.words, self.numbers, self.found).bought(money, role, drafts)
        draft = Draft("cost", money.start, money.end, money.number, target.mention, money.value, code=money.currency,
            role=role,
                      rule=money.rule, confidence=target.confidence - (0 if money.rule == "cost.amount" else 0.15),
                      manner=target.manner,
                      approximate=money.approximate)
        if role is None and target.mention is not None and self.values.page.words(money.end, money.end + 2) == ["a",
            target.mention.head]:
            draft.role = "each"
        draft.assertion, draft.cue = self._standing(money)
        if draft.assertion == "stated" and self.values.page.word(money.start - 1) in PAID:
            draft.rule = "cost.paid"
        self.values.ends.append(money.end)
        self.found.append(draft)
        index = bisect_left(self.places, money.number)
        if money.currency and self.places[index : index + 1] != [money.number]:
            self.places.insert(index, money.number)
            self.codes.insert(index, money.currency)
        return draft

    def _role(self, money: Amount) -> str | None:
        page, words = self.values.page, self.words
        if words.within(page, "total", money.end, min(money.end + 2, page.sentence_end(money.number))):
            return "total"
        if words.at(page, "each", money.end) or (words.at(page, "each", money.end + 1)
            and page.word(money.end) == ",") or (
                page.word(money.end) == "per"):
            return "each"
        lead = page.words(money.start - 6, money.start)
        before = words.ends(page, "total-before", money.start) or ("it" not in lead and (
            words.ends(page, "total-before", money.start - 1, 6) or (words.within(page, "total-before",
            money.start - 6, money.start)
            and lead[-1:] in (["is"], ["was"], ["of"], ["at"], ["to"]))))
        if before or money.rule == "cost.sum" or self._is_sum(money.value, money.start):
            return "total"
        return None

    def _standing(self, money: Amount) -> tuple[str, str | None]:
        """A price that others asked is quoted, one of earlier work historical; other standings are told by cues."""
        page, words = self.values.page, self.words
        if (words.ends(page, "asked", money.start) and not words.ends(page, "paid", money.start,
            2)) or (words.ends(page, "asked", money.start - 1) and (
                page.word(money.start - 1) in ("about", "me", "around"))):
            return "quoted", "cost.asked"
        if words.ends(page, "guess", money.start) or (words.ends(page, "guess", money.start - 1)
            and page.word(money.start - 1) in (
                "about", "around", "another")) or page.word(money.end) == "?":
            return "possible", "cost.guess"
        first, last = max(page.sentence_start(money.start), money.start - 9), min(page.sentence_end(money.start),
            money.end + 7)
        before, after = page.words(first, money.start), page.words(money.end, last)
        if "ago" in before or "ago" in after or ("last" in before and not {"now",
            "this"} & {*before}) or ("back" in after[:6] and "in" in after):
            return "historical", "cost.earlier"
        return "stated", None
