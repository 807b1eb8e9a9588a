"""Money: amounts with their currency, each or in total."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from saidspec.extract.lexicon import Phrase, phrase_of
from saidspec.extract.passage import Passage
from saidspec.extract.quantities import Quantity
from saidspec.patterns import listed


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount of money at tokens start..end; `number` is its figure's token."""

    start: int
    end: int
    number: int
    value: Decimal
    currency: str | None


@dataclass(frozen=True, slots=True)
class MoneyWords:
    """Currency signs and words by normal form → ISO 4217 code; names of cents; words that make "pounds" money."""

    before: dict[Phrase, str]
    after: dict[Phrase, str]
    cents: frozenset[str]
    doubtful: dict[str, str]
    money: tuple[Phrase, ...]


def money_words(currencies: Iterable[dict[str, Any]], words: Iterable[dict[str, Any]]) -> MoneyWords:
    """The currencies of the rule files."""
    before, after, cents, doubtful = {}, {}, set(), {}
    for entry in currencies:
        before |= {phrase_of(form): entry["code"] for form in listed(entry.get("before"))}
        after |= {phrase_of(form): entry["code"] for form in listed(entry.get("said"))}
        cents |= {form for form in listed(entry.get("cents"))}
        doubtful |= {form: entry["code"] for form in listed(entry.get("only_money"))}
    return MoneyWords(before, after, frozenset(cents), doubtful,
                      tuple(phrase_of(form) for entry in words for form in listed(entry["says"])))


def amount(page: Passage, item: Quantity, words: MoneyWords) -> Amount | None:
    """The amount of money that a number is, or None."""
    at = item.number
    for phrase, code in words.before.items():
        if page.norm[max(0, at - len(phrase)) : at] == list(phrase):
            return Amount(at - len(phrase), at + 1, at, item.value, code)
    for phrase, code in words.after.items():
        if page.norm[at + 1 : at + 1 + len(phrase)] == list(phrase):
            return _cents(page, Amount(item.start, at + 1 + len(phrase), at, item.value, code), words)
    if page.word(at + 1) in words.doubtful and any(
            page.norm[i : i + len(phrase)] == list(phrase) for phrase in words.money for i in range(max(0, at - 8), at + 5)):
        return _cents(page, Amount(item.start, at + 2, at, item.value, words.doubtful[page.word(at + 1)]), words)
    return None


def _cents(page: Passage, made: Amount, words: MoneyWords) -> Amount:
    """"19 dollars and 50 cents", "12 quid 50"."""
    at = made.end + 1 if page.word(made.end) == "and" else made.end
    if at < len(page) and page.lexemes[at].kind == "number":
        value = page.lexemes[at].value
        if value is not None and value < 100 and (page.word(at + 1) in words.cents or at == made.end and page.word(at + 1) in ("", ".", ",", "\n", "for", "each")):
            end = at + 2 if page.word(at + 1) in words.cents else at + 1
            return Amount(made.start, end, made.number, made.value + value / 100, made.currency)
    return made
