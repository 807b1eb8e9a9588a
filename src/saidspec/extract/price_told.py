"""How a price is told: each or in total, and whether it was paid, asked, guessed or is one of earlier work."""

from __future__ import annotations

from saidspec.extract.costs import Amount, MoneyWords
from saidspec.extract.passage import Passage
from saidspec.extract.prices_said import PricesSaid


def price_role(page: Passage, words: MoneyWords, money: Amount, said: PricesSaid) -> str | None:
    """"each" or "total", where that is told."""
    if words.within(page, "total", money.end, min(money.end + 2, page.sentence_end(money.number))):
        return "total"
    if _each(page, words, money.end):
        return "each"
    if money.rule == "cost.sum" or _total_before(page, words, money.start) or said.is_sum(money.value, money.start):
        return "total"
    return None


def _each(page: Passage, words: MoneyWords, end: int) -> bool:
    if page.word(end) == "per" or words.at(page, "each", end):
        return True
    return page.word(end) == "," and bool(words.at(page, "each", end + 1))


def _total_before(page: Passage, words: MoneyWords, start: int) -> bool:
    """"Total 84", "all in all that was 84"."""
    if words.ends(page, "total-before", start):
        return True
    lead = page.words(start - 6, start)
    if "it" in lead:
        return False
    return words.ends(page, "total-before", start - 1, 6) or (
        lead[-1:] in (["is"], ["was"], ["of"], ["at"], ["to"]) and words.within(page, "total-before", start - 6, start))


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
    after = page.words(money.end, min(page.sentence_end(start), money.end + 7))
    earlier = "last" in before and not {"now", "this"} & {*before}
    if "ago" in before or "ago" in after or earlier or ("back" in after[:6] and "in" in after):
        return "historical", "cost.earlier"
    return "stated", None
