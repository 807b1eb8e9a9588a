"""Numbers that a rule knows to be no fact of the vehicle: telephones, times of day, engine sizes, dogs and chairs."""

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
class Distractor:
    """A rule for numbers that are no fact: the words before or after, the range, and the least count of figures."""

    id: str
    before: tuple[Phrase, ...]
    after: tuple[Phrase, ...]
    low: Decimal
    high: Decimal
    figures: int
    decimal: bool
    after_mark: bool
    after_unit: bool


def distractors(entries: Iterable[dict[str, Any]]) -> list[Distractor]:
    """The rules of patterns/distractors.toml."""
    return [Distractor(
        f"distractor.{entry['id']}", tuple(phrase_of(form) for form in listed(entry.get("before"))),
        tuple(phrase_of(form) for form in listed(entry.get("after"))), Decimal(str(entry.get("low", 0))),
        Decimal(str(entry.get("high", 10**12))), int(entry.get("figures", 0)), bool(entry.get("decimal")),
        bool(entry.get("after_mark")), bool(entry.get("after_unit"))) for entry in entries]


def no_fact(page: Passage, item: Quantity, rules: list[Distractor]) -> Distractor | None:
    """The rule that knows a number to be none, or None."""
    return next((rule for rule in rules if _holds(page, item, rule)), None)


def _holds(page: Passage, item: Quantity, rule: Distractor) -> bool:
    if not rule.low <= item.value <= rule.high or item.dimension and not rule.after_unit and not rule.after:
        return False
    if rule.decimal and item.form == "fraction" or rule.decimal and item.value == item.value.to_integral_value():
        return False
    if rule.figures and not _figures(page, item, rule.figures):
        return False
    if rule.before and not any(_ends(page, item.start, words, 4 if rule.figures else 0) for words in rule.before):
        return False
    if rule.after_mark:
        after = page.word(item.end)
        if after not in (".", ",", "", "\n", "so", "and"):
            return False
    start = item.number + 1
    return not rule.after or any(page.norm[start : start + len(words)] == list(words) for words in rule.after)


def _ends(page: Passage, at: int, words: Phrase, skip: int) -> bool:
    return any(page.norm[max(0, at - gap - len(words)) : at - gap] == list(words) for gap in range(skip + 1) if at - gap >= 0)


def _figures(page: Passage, item: Quantity, least: int) -> bool:
    """The figures of this number and of those that stand right beside it."""
    first = last = item.number
    while first and (page.lexemes[first - 1].kind == "number" or page.word(first - 1) == "-" and first > 1 and page.lexemes[first - 2].kind == "number"):
        first -= 1
    while last + 1 < len(page) and (page.lexemes[last + 1].kind == "number" or page.word(last + 1) == "-" and last + 2 < len(page) and page.lexemes[last + 2].kind == "number"):
        last += 1
    return sum(len(page.lexemes[i].text.replace(".", "")) for i in range(first, last + 1) if page.lexemes[i].kind == "number") >= least
