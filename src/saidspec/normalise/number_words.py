"""The words of numbers, a number that was read, and what readers of numbers answer."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class NumberWords:
    """The words of patterns/numbers.toml by class; each maps a word to its value."""

    ones: dict[str, int]
    teens: dict[str, int]
    tens: dict[str, int]
    scales: dict[str, int]
    parts: dict[str, int]
    glyphs: dict[str, Decimal]
    plurals: dict[str, int]
    zeros: frozenset[str] = frozenset({"oh", "o"})
    with_article: frozenset[str] = frozenset()  # units of which "a" means one: "a litre of coolant"
    before_article: frozenset[str] = frozenset()  # words before such an "a": "added a litre"
    after_article: frozenset[str] = frozenset()  # words after such a unit: "a litre of", "a gallon each"
    before_pronoun_one: frozenset[str] = frozenset()  # behind these "one" is no number: "the left one"
    ordinals: frozenset[str] = frozenset()  # "second" behind "twenty" is no number and no time
    money: frozenset[str] = frozenset()  # names of money, before which "one" is a number
    containers: frozenset[str] = frozenset()  # the same of what holds it: "a quart bottle"
    distances: frozenset[str] = frozenset()  # words behind which "112 k" and 152.947 are thousands
    resistances: frozenset[str] = frozenset()  # words near which "8.2k" are kilohms
    _small: dict[str, int] = field(default_factory=dict, repr=False)
    _every: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        object.__setattr__(self, "_small", {**self.tens, **self.teens, **self.ones})
        object.__setattr__(self, "_every", frozenset().union(self._small, self.scales, self.parts, self.glyphs,
                                                             self.plurals))

    def means_number(self, word: str) -> bool:
        """Whether a word means a number, or a part of one, wherever it stands; figures of an ordinal included."""
        return word in self._every or word[:1].isdigit()

    def small(self, word: str) -> int | None:
        """The value of a word below a hundred that stands alone, or None."""
        return self._small.get(word)


@dataclass(frozen=True, slots=True)
class Number:
    """A number in tokens first..last (exclusive).

    `form` tells how it was said: figure, words, digits (one by one), decimal, fraction, grouped (148 312), plural
    ("eights"), year, chain ("two fifty"), article ("a litre"), couple.  `digits` are the figures in the order said.
    """

    first: int
    last: int
    value: Decimal
    form: str
    digits: str = ""
    sure: bool = True
    carries: str = ""  # the unit word inside it: "an inch and a quarter" is 1.25 and carries "inch"; "8.2k" kohm


Reader = tuple[Decimal, int]  # a value and the place after it


def whole(value: Decimal) -> Decimal:
    """A number without the noughts behind its point where nothing else stands there: 94500.0 → 94500."""
    return value.to_integral_value() if value == value.to_integral_value() else value
