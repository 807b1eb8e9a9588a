"""Fractions, written and said: "5/8", "three eighths", "a quarter", "and a half"; not "a third bolt"."""

from __future__ import annotations

from decimal import Decimal

from saidspec.normalise.number_words import Number, Reader
from saidspec.normalise.whole_numbers import WholeNumbers

DENOMINATORS = {2, 3, 4, 8, 16, 32, 64}
ENDS = ("", "\n", ".", ",", ";", "!", "?")
BEHIND_PARTS = ("out", "in", "now", "over", "under", "too", "each", "and", "to", "on", "at", "more", "less", "left",
                "total")


class Fractions(WholeNumbers):
    """Reads fractions at places of one token list; their denominators are those of wrenches and drills."""

    def fraction(self, at: int) -> Reader | None:
        """ "three eighths", "a quarter", "5/8", "one half", "½" below one; the place after."""
        word = self.lower(at)
        if word in self.words.glyphs:
            return self.words.glyphs[word], at + 1
        top = self.figure(at)
        if top and self.lower(at + 1) == "/" and self.near(at + 1):
            if self.slash_date(at):
                return None
            bottom = self.figure(at + 2)
            if bottom and bottom[0] in DENOMINATORS and top[0] < bottom[0] and top[0] == int(top[0]):
                return top[0] / bottom[0], at + 3
            return None
        if word in ("a", "an"):
            part = self.words.parts.get(self.lower(at + 1))
            return (Decimal(1) / part, at + 2) if part else None
        count = self.below_hundred(at) or top
        if count is None or count[0] >= 64 or count[0] != int(count[0]):
            return None
        place = self.over_hyphen(count[1])
        if self.lower(place) in ("thirty", "sixty") and self.lower(self.over_hyphen(place + 1)) in (
            "second", "seconds", "fourth", "fourths"):  # fmt: skip
            return count[0] / (32 if self.lower(place) == "thirty" else 64), self.over_hyphen(place + 1) + 1
        part = self.words.parts.get(self.lower(place))
        return (count[0] / part, place + 1) if part and count[0] < part else None

    def slash_date(self, at: int) -> bool:
        """Whether the figures at `at` are of three parted by slashes: "1/2/2024" is a date and no half."""
        more = self.lower(at + 3) == "/" and self.near(at + 3) and self.figure(at + 4) is not None
        return more or (self.lower(at - 1) == "/" and self.near(at) and self.figure(at - 2) is not None)

    def and_fraction(self, at: int) -> Reader | None:
        """The fraction of a mixed number, from its "and", hyphen or bare start: "and a half", "-1/4", " 1/8"."""
        place = self.over_hyphen(at)
        if self.lower(place) in ("and", "&"):
            place = self.over_hyphen(place + 1)
            if self.lower(place) in ("half", "quarter"):
                if self.lower(place + 1) in ("a", "an"):
                    return None  # "six of one and half a dozen"
                return Decimal(1) / self.words.parts[self.lower(place)], place + 1
            inner = self.over_hyphen(place + 1)
            if self.lower(place) in ("a", "an") and (self.lower(inner) in self.words.glyphs or self.figure(inner)):
                return self.fraction(inner)  # "1 and a 1/4"
            return self.fraction(place)
        if self.lower(place) in self.words.glyphs or (self.figure(place) and self.lower(place + 1) == "/"):
            return self.fraction(place) if self.near(place) else None
        return None

    def part_alone(self, at: int) -> Number | None:
        """A fraction below one; a bare "half" or "quarter" only before a unit ("half inch", "half an hour")."""
        word = self.lower(at)
        if word in ("half", "quarter"):
            place = self.over_hyphen(at + 1)
            if self.lower(place) in ("a", "an"):
                place += 1
                if self.lower(place) == "dozen":
                    return Number(at, place + 1, Decimal(6), "words", "6")
            elif (
                self.lower(place) == "of"
                and self.lower(place + 1) in ("a", "an")
                and self.is_unit(self.lower(place + 2))
            ):
                return Number(at, at + 1, Decimal(1) / self.words.parts[word], "fraction")
            elif self.lower(at - 1) == "and":
                return None
            if self.is_unit(self.lower(place)) or (self.lower(place) == "turn"):
                return Number(at, place, Decimal(1) / self.words.parts[word], "fraction")
            return None
        if word in ("a", "an") and not self.part_told(at):
            return None
        found = self.fraction(at)
        if found is None:
            return None
        return Number(at, found[1], found[0], "fraction")

    def part_told(self, at: int) -> bool:
        """Whether "a" and a part of one is a fraction: "a quarter inch", "a tenth of an ohm", "out an eighth"; not "a
        third bolt".
        """
        after = self.lower(at + 2)
        if self.is_unit(self.lower(self.over_hyphen(at + 2))) or after in ("of", "turn", "drive", "inch"):
            return True
        if after == "to" and self.fraction(at + 3):
            return True  # "a half to three quarters"
        return self.words.parts.get(self.lower(at + 1), 0) >= 8 and after in (*ENDS, *BEHIND_PARTS)
