"""How a price is told: each or in total, and whether it was paid, asked, guessed or is one of earlier work."""

from __future__ import annotations

from saidspec.extract.costs import Amount, MoneyWords
from saidspec.extract.dates import SEASONS
from saidspec.extract.days import MONTHS
from saidspec.extract.passage import Passage
from saidspec.extract.prices_said import PricesSaid

FIRST_YEAR = 1950  # of a year that is told


def price_role(page: Passage, words: MoneyWords, money: Amount, said: PricesSaid) -> str | None:
    """"each" or "total", where that is told."""
    if words.within(page, "total", money.end, min(money.end + 2, page.sentence_end(money.number))):
        return "total"
    if _each(page, words, money.end):
        return "each"
    if money.rule == "cost.sum" or total_before(page, words, money.start) or said.is_sum(money.value, money.start):
        return "total"
    return None


def _each(page: Passage, words: MoneyWords, end: int) -> bool:
    if page.word(end) == "per" or words.at(page, "each", end):
        return True
    return page.word(end) == "," and bool(words.at(page, "each", end + 1))


def total_before(page: Passage, words: MoneyWords, start: int) -> bool:
    """"Total 84", "all in all that was 84"."""
    if words.ends(page, "total-before", start):
        return True
    lead = page.words(start - 6, start)
    if "it" in lead:
        return False
    return words.ends(page, "total-before", start - 1, 6) or (
        lead[-1:] in (["is"], ["was"], ["of"], ["at"], ["to"]) and words.within(page, "total-before", start - 6, start))


def _back_then(page: Passage, at: int) -> bool:
    """"Back in June", "back in 2019"; not "bolts back in at 25"."""
    if page.words(at, at + 2) != ["back", "in"]:
        return False
    value = page.lexemes[at + 2].value
    return page.word(at + 2) in MONTHS or page.word(at + 2) in SEASONS or (value is not None and value >= FIRST_YEAR)


def price_standing(page: Passage, words: MoneyWords, money: Amount) -> tuple[str, str | None]:
    """A price that others asked is quoted, one of earlier work historical; other standings are told by cues."""
    start, lead = money.start, page.word(money.start - 1)
    if (words.ends(page, "asked", start) and not words.ends(page, "paid", start, 2)) or (
            lead in ("about", "me", "around") and words.ends(page, "asked", start - 1)):
        return "quoted", "cost.asked"
    if page.word(money.end) == "?" or words.ends(page, "guess", start) or (
            lead in ("about", "around", "another") and words.ends(page, "guess", start - 1)):
        return "possible", "cost.guess"
    before = page.words(max(page.sentence_start(start), start - 9), start)
    last = min(page.sentence_end(start), money.end + 7)
    after = page.words(money.end, last)
    earlier = "last" in before and not {"now", "this"} & {*before}
    if "ago" in before or "ago" in after or earlier or any(
            _back_then(page, at) for at in range(money.end, last - 2)):
        return "historical", "cost.earlier"
    return "stated", None
