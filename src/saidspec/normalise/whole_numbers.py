"""Whole numbers and digits of spoken and written numbers: the readers that the grammar of numbers builds on.

Short-scale English number words; hundreds that are left unsaid; digits one by one, and what follows "point".
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from saidspec.normalise.tokens import Token, figure_value

DOTTED = re.compile(r"[1-9]\d{0,2}\.\d{3}")


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
    ordinals: frozenset[str] = frozenset()  # "second" behind "twenty" is no number and no time
    money: frozenset[str] = frozenset()  # names of money, before which "one" is a number
    containers: frozenset[str] = frozenset()  # the same of what holds it: "a quart bottle"
    distances: frozenset[str] = frozenset()  # words behind which "112 k" and 152.947 are thousands
    resistances: frozenset[str] = frozenset()  # words near which "8.2k" are kilohms

    def means_number(self, word: str) -> bool:
        """Whether a word means a number, or a part of one, wherever it stands; figures of an ordinal included."""
        return word[:1].isdigit() or any(word in table for table in (
            self.ones, self.teens, self.tens, self.scales, self.parts, self.glyphs, self.plurals))

    def small(self, word: str) -> int | None:
        """The value of a word below a hundred that stands alone, or None."""
        for table in (self.ones, self.teens, self.tens):
            if word in table:
                return table[word]
        return None


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


Reader = tuple[Decimal, int]


def _stops(toks: list[Token]) -> list[int]:
    """For each token the next place at which the speaker paused (more than one space); a number ends there."""
    stops, stop = [0] * len(toks), len(toks)
    for at in range(len(toks) - 1, -1, -1):
        stops[at] = stop
        if at and toks[at].start - toks[at - 1].end > 1:
            stop = at
    return stops


def whole(value: Decimal) -> Decimal:
    """A number without the noughts behind its point where nothing else stands there: 94500.0 → 94500."""
    return value.to_integral_value() if value == value.to_integral_value() else value


class WholeNumbers:
    """Reads numbers at places of one token list; `is_unit` tells whether a word is a unit of measure."""

    def __init__(self, toks: list[Token], words: NumberWords, is_unit: Callable[[str], bool]) -> None:
        self.toks, self.words, self.is_unit = toks, words, is_unit
        self.size = self.limit = len(toks)
        self.stops = _stops(toks)

    def lower(self, at: int) -> str:
        return self.toks[at].lower if 0 <= at < self.limit else ""

    def near(self, at: int) -> bool:
        """Token `at` follows the one before it on the same line, with at most a space between."""
        return 0 < at < self.size and self.toks[at].start - self.toks[at - 1].end <= 1

    def over_hyphen(self, at: int) -> int:
        """The place after a hyphen that joins two words without spaces, else `at`."""
        if self.lower(at) == "-" and self.near(at + 1) and self.toks[at].start == self.toks[at - 1].end:
            return at + 1
        return at

    # -- whole numbers in words
    def hundreds(self, at: int) -> Reader | None:
        """A number of three figures said without its hundred: "one fifty two", "nine forty seven", "one oh five"."""
        one = self.words.ones.get(self.lower(at))
        if not one:
            return None
        after = self.over_hyphen(at + 1)
        if self.lower(after) in self.words.zeros:
            last = self.words.ones.get(self.lower(after + 1))
            return (Decimal(one * 100 + last), after + 2) if last else None
        tail = self.below_hundred(after)
        if tail is None:
            return None
        if tail[0] >= 10:
            return one * 100 + tail[0], tail[1]
        last = self.words.ones.get(self.lower(tail[1]))
        return None if last is None else (one * 100 + tail[0] * 10 + last, tail[1] + 1)

    def below_hundred(self, at: int) -> Reader | None:
        word = self.lower(at)
        tens = self.words.tens.get(word)
        if tens is not None:
            after = self.over_hyphen(at + 1)
            one = self.words.ones.get(self.lower(after))
            if one:
                return Decimal(tens + one), after + 1
            return Decimal(tens), at + 1
        small = self.words.small(word)
        return None if small is None else (Decimal(small), at + 1)

    def scaled(self, at: int) -> Reader | None:
        """A number with hundreds and thousands: "ninety four thousand two hundred", "a hundred and seven", "110 k"."""
        total, group, place, found = Decimal(0), Decimal(0), at, False
        if self.lower(at) == "a" and self.lower(at + 1) in self.words.scales:
            group, place, found = Decimal(1), at + 1, False
        elif self.lower(at) in ("hundred", "thousand"):
            if self.lower(at - 1) in ("several", "few", "many", "some"):
                return None
            group = Decimal(1)
        else:
            head = self.hundreds(at)
            if head is None or self.lower(head[1]) != "thousand":
                head = self.below_hundred(at) or self.figure(at)
            if head is None:
                return None
            group, place = head
            if self.lower(place) == "odd" and self.lower(place + 1) in ("thousand", "hundred"):
                place += 1  # "ninety odd thousand"
        while True:
            scale = self.words.scales.get(self.lower(place))
            if scale is None:
                break
            found = True
            if scale == 100 or scale == 12:
                group *= scale
                place += 1
            else:
                total += group * scale
                group = Decimal(0)
                place += 1
            if scale == 100 and self.words.scales.get(self.lower(place), 0) >= 1000:
                continue  # "two hundred thousand"
            after = place + 1 if self.lower(place) == "and" else place
            tail = (self.hundreds(after) if scale == 1000 else None) or self.below_hundred(after)
            if tail is None and scale > 100:
                tail = self.figure(after) if self.lower(place) != "and" else None
                if tail and (tail[0] >= 1000 or (self.is_unit(self.lower(tail[1])) and tail[0] < 10)):
                    tail = None
            if tail is None or (self.lower(tail[1]) in self.words.parts and tail[0] < 20):
                break
            nxt = self.words.scales.get(self.lower(tail[1]))
            if scale == 100 and nxt is not None and nxt >= 1000:
                group += tail[0]
                place = tail[1]
                continue
            if nxt is None:
                group += tail[0]
                place = tail[1]
                break
            if nxt >= scale:
                break
            group = tail[0]
            place = tail[1]
        return (whole(total + group), place) if found else None

    def figure(self, at: int) -> Reader | None:
        if at >= self.limit or self.toks[at].kind != "figure":
            return None
        text = self.toks[at].lower
        if self.lower(at + 1).startswith(".") and self.toks[at
            + 1].kind == "figure" and text.isdigit() and self.near(at + 1):
            return Decimal(text + self.lower(at + 1)), at + 2  # "25 .4"
        value = figure_value(text)
        if DOTTED.fullmatch(text) and self.lower(at + 1) in self.words.distances:
            value = Decimal(text.replace(".", ""))  # "152.947 km"
        return value, at + 1

    # -- digits one by one, and what follows "point"
    def digit_run(self, at: int, after_point: bool = False) -> tuple[str, int]:
        digits, place = "", at
        while True:
            word = self.lower(place)
            one = self.words.ones.get(word)
            if one is None and word in self.words.zeros and (digits or after_point):
                one = 0
            if one is None:
                return digits, place
            if not after_point and self.lower(place + 1) in self.words.parts and self.lower(place + 1) not in ("third",
                ):
                return digits, place
            digits += str(one)
            place += 1

    def decimals(self, at: int) -> tuple[str, int] | None:
        """The figures after "point" at `at`, and the place after."""
        if self.lower(at) == "," and self.near(at):
            at += 1
        digits, place = self.digit_run(at, after_point=True)
        if digits:
            return digits, place
        pair = self.below_hundred(at)
        if pair:
            return str(pair[0]), pair[1]
        if at < self.size and self.toks[at].kind == "figure" and self.toks[at].lower.isdigit():
            return self.toks[at].lower, at + 1
        return None
