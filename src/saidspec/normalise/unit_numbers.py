"""Numbers that need their unit: "a litre of", "a couple of quarts", "an inch and a quarter", "another half"."""

from __future__ import annotations

from decimal import Decimal

from saidspec.normalise.fraction_words import ENDS, Fractions
from saidspec.normalise.number_words import Number, Reader


class UnitNumbers(Fractions):
    """Reads numbers around a unit, and articles that count one of it."""

    def couple(self, at: int) -> Number | None:
        """ "A couple of litres", "couple quarts": two, and not quite; only before a unit."""
        place = at + 2 if self.lower(at + 1) == "of" else at + 1
        scale = self.words.scales.get(self.lower(place), 1)
        place += scale > 1
        if (scale == 1 and not self.is_unit(self.lower(place))) or (scale == 1 and len(self.lower(place)) < 2):
            return None
        return Number(at, place, Decimal(2 * scale), "couple", str(2 * scale))

    def article(self, at: int) -> Number | None:
        """ "A litre of", "a thou", "another quart", "a couple of litres": one (or two) of a unit that is not in
        figures."""
        if self.lower(at) not in ("a", "an", "another"):
            return None
        if self.lower(at + 1) == "couple":
            found = self.couple(at + 1)
            return Number(at, found.last, found.value, "couple", found.digits) if found else None
        unit, after = self.lower(at + 1), self.lower(at + 2)
        if unit == "hour" and self.minutes(at + 2):
            return Number(at, at + 1, Decimal(1), "article", "1")
        ends = ENDS
        more = unit in ("half", "quarter", "eighth") and after in (*ends, "so", "in", "and")
        if self.lower(at) == "another" and more:
            return Number(at, at + 2, Decimal(1) / self.words.parts[unit], "fraction")
        if unit not in self.words.with_article or (
            after not in ends and after not in self.words.after_article and unit != "thou"
        ):
            return None
        before = self.lower(at - 1)
        held = after in self.words.containers
        if self.lower(at) != "another" and not held and before not in ends and before not in self.words.before_article:
            return None
        part = self.lower(at - 2)
        if self.lower(at - 1) == "of" and (part in self.words.parts or part in self.words.glyphs or part[:1].isdigit()):
            return None  # "three quarters of a litre"
        return Number(at, at + 1, Decimal(1), "article", "1")

    def around_unit(self, at: int) -> Number | None:
        """ "an inch and a quarter", "a quart and a half", "two inches and a half": the unit stands inside."""
        if self.lower(at) == "inch":  # "inch and a half socket"
            head: Reader | None = (Decimal(1), at)
        else:
            head = (Decimal(1), at + 1) if self.lower(at) in ("a", "an", "one") else self.below_hundred(at)
        if head is None or not self.is_unit(self.lower(head[1])) or self.lower(head[1] + 1) != "and":
            return None
        tail = self.and_fraction(head[1] + 1)
        if tail is None or (len(self.lower(tail[1])) > 2 and self.is_unit(self.lower(tail[1]))):
            return None
        return Number(at, tail[1], head[0] + tail[0], "fraction", carries=self.lower(head[1]))

    def minutes(self, at: int) -> bool:
        """Whether minutes stand at a token, and nothing behind them that they could belong to: "hour forty all in"."""
        found = self.below_hundred(at) or self.figure(at)
        return found is not None and found[0] in range(5, 60, 5) and (
            self.lower(found[1]) in (*ENDS, "all", "total", "in", "with"))

    def bare_hour(self, at: int) -> Number | None:
        """"Hour forty", "took hour and three quarters": one hour, told without its article."""
        if self.lower(at - 1) not in (*ENDS, "it", "'s", "about", "took", "me", "was", "nearly", "roughly", "call"):
            return None
        if self.minutes(at + 1):
            return Number(at, at + 1, Decimal(1), "article", "1", carries="hour")
        tail = self.and_fraction(at + 1) if self.lower(at + 1) == "and" else None
        if tail is None or not 0 < tail[0] < 1:
            return None
        return Number(at, tail[1], 1 + tail[0], "fraction", carries="hour")
