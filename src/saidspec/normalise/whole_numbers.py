"""Whole numbers and digits of spoken and written numbers: the readers that the grammar of numbers builds on.

Short-scale English number words; hundreds that are left unsaid; digits one by one, and what follows "point".
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

from saidspec.normalise.number_words import NumberWords, Reader, whole
from saidspec.normalise.tokens import Token, figure_value

ENDS = ("", "\n", ".", ",", ";", "!", "on", "now", "today")
DOTTED = re.compile(r"[1-9]\d{0,2}\.\d{3}")


def _stops(toks: list[Token]) -> list[int]:
    """For each token the next place at which the speaker paused (more than one space); a number ends there."""
    stops, stop = [0] * len(toks), len(toks)
    for at in range(len(toks) - 1, -1, -1):
        stops[at] = stop
        if at and toks[at].start - toks[at - 1].end > 1:
            stop = at
    return stops


class WholeNumbers:
    """Reads numbers at places of one token list; `is_unit` tells whether a word is a unit of measure."""

    def __init__(self, toks: list[Token], words: NumberWords, is_unit: Callable[[str], bool]) -> None:
        self.toks, self.words, self.is_unit = toks, words, is_unit
        self.said = [token.lower for token in toks]
        self.size = self.limit = len(toks)
        self.stops = _stops(toks)

    def lower(self, at: int) -> str:
        return self.said[at] if 0 <= at < self.limit else ""

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
        head = self.before_scale(at)
        if head is None:
            return None
        total, (group, place), found = Decimal(0), head, False
        while scale := self.words.scales.get(self.lower(place)):
            found, place = True, place + 1
            if scale in (12, 100):
                group *= scale
            else:
                total, group = total + group * scale, Decimal(0)
            if scale == 100 and self.words.scales.get(self.lower(place), 0) >= 1000:
                continue  # "two hundred thousand"
            tail = self.after_scale(place, scale)
            if tail is None:
                break
            further = self.words.scales.get(self.lower(tail[1]))
            if scale == 100 and further is not None and further >= 1000:
                group, place = group + tail[0], tail[1]
            elif further is None:
                group, place = group + tail[0], tail[1]
                break
            elif further >= scale:
                break
            else:
                group, place = tail
        return (whole(total + group), place) if found else None

    def before_scale(self, at: int) -> Reader | None:
        """What stands before the first hundred or thousand: a number, "a", or nothing, which is one."""
        word = self.lower(at)
        if word == "a" and self.lower(at + 1) in self.words.scales:
            return Decimal(1), at + 1
        if word in ("hundred", "thousand"):
            return None if self.lower(at - 1) in ("several", "few", "many", "some") else (Decimal(1), at)
        head = self.hundreds(at)
        if head is None or self.lower(head[1]) != "thousand":
            head = self.below_hundred(at) or self.figure(at)
        if head and self.lower(head[1]) == "odd" and self.lower(head[1] + 1) in ("thousand", "hundred"):
            return head[0], head[1] + 1  # "ninety odd thousand"
        return head

    def after_scale(self, place: int, scale: int) -> Reader | None:
        """What goes on behind a hundred or a thousand: "two hundred", "and seven", "412"; not "3 eighths"."""
        after = place + 1 if self.lower(place) == "and" else place
        tail = (self.hundreds(after) if scale == 1000 else None) or self.below_hundred(after)
        if tail is None and after > place:
            tail = self.figure_behind_and(after, scale)
        if tail is None and scale > 100 and after == place:
            tail = self.figure(after)
            if tail and (tail[0] >= 1000 or (self.is_unit(self.lower(tail[1])) and tail[0] < 10)):
                return None
        return None if tail is None or (self.lower(tail[1]) in self.words.parts and tail[0] < 20) else tail

    def figure_behind_and(self, at: int, scale: int) -> Reader | None:
        """"63 thousand and 11" on the clock, "1 hundred and 10 newton metres": a recogniser's words and figures."""
        tail = self.figure(at)
        if tail is None or tail[0] >= 100 or tail[0] != int(tail[0]):
            return None
        word = self.lower(tail[1])
        told = len(word) > 1 and self.is_unit(word) if scale == 100 else word in (*ENDS, *self.words.distances)
        return tail if told else None

    def figure(self, at: int) -> Reader | None:
        if at >= self.limit or self.toks[at].kind != "figure":
            return None
        text = self.toks[at].lower
        if self.lower(at + 1).startswith(".") and self.toks[at
            + 1].kind == "figure" and text.isdigit() and self.near(at + 1):
            return Decimal(text + self.lower(at + 1)), at + 2  # "25 .4"
        value = figure_value(text)
        if DOTTED.fullmatch(text) and (self.lower(at + 1) in self.words.distances or self.of_a_clock(at)):
            value = Decimal(text.replace(".", ""))  # "152.947 km"
        return value, at + 1

    def of_a_clock(self, at: int) -> bool:
        """"Odometer reads 156.780", "km stand 156.780": words of distance right before, and no unit behind."""
        before = {self.lower(i) for i in range(max(0, at - 3), at)} - {"hours"}
        return not before.isdisjoint(self.words.distances) and not self.is_unit(self.lower(at + 1))

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
