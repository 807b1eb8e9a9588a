"""Money: amounts with their currency, cents told apart or joined, and bare figures that a context of prices tells."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from saidspec.extract.lexicon import Phrase, phrase_of
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity
from saidspec.patterns import listed


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount of money at tokens start..end; `number` is its figure's token."""

    start: int
    end: int
    number: int
    value: Decimal
    currency: str | None
    approximate: bool = False
    rule: str = "cost.amount"


@dataclass(frozen=True, slots=True)
class MoneyWords:
    """Currency signs and words → ISO 4217 code; names of cents → code ("" for several); words of paying by list."""

    before: dict[str, list[tuple[Phrase, str]]]  # by the word next to the figure
    after: dict[str, list[tuple[Phrase, str]]]
    cents: dict[str, str]
    doubtful: dict[str, str]
    says: dict[str, dict[str, list[Phrase]]] = field(default_factory=dict)  # list -> first word -> phrases

    def at(self, page: Passage, name: str, place: int) -> int:
        """The end of the phrase of a list that begins at a token, or 0."""
        phrases = self.says[name].get(page.word(place))
        if phrases is None:
            return 0
        return max((place + len(phrase) for phrase in phrases
                    if page.norm[place : place + len(phrase)] == list(phrase)), default=0)

    def within(self, page: Passage, name: str, first: int, last: int) -> bool:
        """Whether a phrase of a list begins in tokens first..last."""
        begins = self.says[name]
        return any(page.norm[place] in begins and self.at(page, name, place)
                   for place in range(max(0, first), min(last, len(page))))

    def ends(self, page: Passage, name: str, end: int, reach: int = 4) -> bool:
        """Whether a phrase of a list ends right before a token."""
        begins = self.says[name]
        return any(page.norm[place] in begins and self.at(page, name, place) == end
                   for place in range(max(0, end - reach), end))


def money_words(currencies: Iterable[dict[str, Any]], words: Iterable[dict[str, Any]]) -> MoneyWords:
    """The currencies of the rule files."""
    before: dict[str, list[tuple[Phrase, str]]] = {}
    after: dict[str, list[tuple[Phrase, str]]] = {}
    cents: dict[str, str] = {}
    doubtful: dict[str, str] = {}
    for entry in currencies:
        for form in listed(entry.get("before")):
            before.setdefault(phrase_of(form)[-1], []).append((phrase_of(form), entry["code"]))
        for form in listed(entry.get("said")):
            after.setdefault(phrase_of(form)[0], []).append((phrase_of(form), entry["code"]))
        cents |= dict.fromkeys(listed(entry.get("cents")), "") | dict.fromkeys(listed(entry.get("own_cents")),
            entry["code"])
        doubtful |= dict.fromkeys(listed(entry.get("only_money")), entry["code"])
    for options in (*before.values(), *after.values()):
        options.sort(key=lambda option: -len(option[0]))
    says: dict[str, dict[str, list[Phrase]]] = {}
    for entry in words:
        for form in listed(entry["says"]):
            says.setdefault(entry["id"], {}).setdefault(phrase_of(form)[0], []).append(phrase_of(form))
    return MoneyWords(before, after, cents, doubtful, says)


QUARTERS = (Decimal("0.25"), Decimal("0.5"), Decimal("0.75"))


def signed(page: Passage, item: Quantity, words: MoneyWords, numbers: dict[int, Quantity]) -> Amount | None:
    """The amount of a number that has its currency beside it: "$64", "19 dollars and 50 cents", "a buck ten"."""
    at = item.number
    for phrase, code in words.before.get(page.word(at - 1), ()):
        if page.norm[max(0, at - len(phrase)) : at] == list(phrase):
            return Amount(at - len(phrase), at + 1, at, item.value, code, item.approximate)
    place = at + 1
    if page.word(place) in ("odd", "-"):  # "40-odd dollars"
        place = at + 3 if page.word(at + 1) == "-" and page.word(at + 2) == "odd" else at + 2
    for phrase, code in words.after.get(page.word(place), ()):
        if page.norm[place : place + len(phrase)] == list(phrase):
            return with_cents(page, Amount(item.start, place + len(phrase), at, item.value, code, item.approximate),
                words, numbers)
    head = next((code for phrase, code in words.after.get(page.word(at - 1), ()) if len(phrase) == 1), None)
    if head and page.word(at - 2) == "a" and not item.dimension and 1 <= item.value < 100:
        return Amount(at - 2, at + 1, at, 1 + item.value / 100, head)
    return None


def with_cents(page: Passage, made: Amount, words: MoneyWords, numbers: dict[int, Quantity]) -> Amount:
    """With the cents behind it: "19 dollars and 50 cents", "12 quid 50", "fourteen pound ninety nine"."""
    at = made.end + 1 if page.word(made.end) == "and" else made.end
    item = numbers.get(at)
    if item is not None and at > made.end and item.form == "fraction" and item.value in QUARTERS and not item.dimension:
        return replace(made, end=item.end, value=made.value + item.value)  # "four dollars and a quarter"
    if item is None or item.high is not None or not 0 < item.value < 100 or (
            item.value != item.value.to_integral_value()) or (
            made.value != made.value.to_integral_value()):
        return made
    named = page.word(at + 1) in words.cents
    if not named and (at != made.end or item.dimension not in ("", "pound") or item.value < 5
        or ((item.value < 20 or page.punctuated) and (  # "41 euros ninety slide guides are worn": no ninety guides
            page.starting("fastener", at + 1) or page.starting("part", at + 1)))):
        return made
    return replace(made, end=at + 2 if named else at + 1, value=made.value + item.value / 100)


def figure(item: Quantity, numbers: dict[int, Quantity]) -> tuple[Decimal, int, str] | None:
    """A bare figure as money: (value, end, shape), shape being cents, pair ("thirty one fifty"), quarter or whole."""
    if item.dimension or item.high is not None or item.angle is not None or item.value <= 0 or item.form in ("year",
        "plural"):
        return None
    if item.form == "fraction":
        return (item.value, item.end, "quarter") if item.value > 1 and item.value * 4 % 1 == 0 else None
    if item.value != item.value.to_integral_value():
        exponent = item.value.as_tuple().exponent
        return (item.value, item.end, "cents") if exponent == -2 else None
    other = numbers.get(item.number + 1)
    if other and not other.dimension and other.high is None and other.form == "words" and item.form in ("words",
        "scaled", "chain", "digits") and (
            10 <= other.value <= 99 and item.value < 1000):
        return item.value + other.value / 100, other.end, "pair"
    return item.value, item.end, "whole"
