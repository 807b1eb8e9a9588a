"""Grades of fluids as said: viscosities, and the families of patterns/spelled.toml ("dot four", "g l five")."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from saidspec.normalise.code_tokens import Code, TokenReader
from saidspec.normalise.designations import HIGH, WINTER
from saidspec.normalise.number_words import Number

MULTIGRADES = {(0, 16), (0, 20), (0, 30), (0, 40), (5, 20), (5, 30), (5, 40), (5, 50), (10, 30), (10, 40), (10, 50),
    (10, 60), (15, 40),
               (15, 50), (20, 50), (20, 60), (75, 80), (75, 85), (75, 90), (75, 110), (75, 140), (80, 90), (85, 140)}


class FluidCodes(TokenReader):
    """Reads grades of fluids at places of a token list."""

    def viscosity(self, at: int) -> Code | None:
        """"Five w thirty", "oh w twenty", "75 W 90", "ten weight", "10W" of an oil, "five thirty synthetic"."""
        number = self.numbers.get(at)
        if number is None and self.lower(at) not in ("oh", "o"):
            return None
        low, place = (number.value, number.last) if number else (Decimal(0), at + 1)
        if low not in WINTER and not (self.lower(place) in ("weight", "wt") and low in HIGH):
            return None
        after = self.follows(self.after_hyphen(place), self.words.double_u)
        if after is not None:
            high = self.high(self.after_hyphen(after))
            if high and not (self.lower(after - 1) == "weight" and self.is_unit(self.lower(high[1]))
                             and self.lower(high[1]) != "in"):
                self.split(self.after_hyphen(after), high[1])
                return Code(at, high[1], f"{low.normalize():f}W-{high[0]}", "viscosity", True)
        if number is None:
            return None
        lamps = self.near(at - 6, place + 5) & self.words.lamps
        oil = bool(self.near(at - 6, place + 5) & self.words.oils) and not lamps
        of = self.lower(at - 1) == "of" and not lamps  # "475 ml a leg of 10W"
        if after == place + 1 and (oil or of) and low <= 20:
            return Code(at, after, f"{low.normalize():f}W", "viscosity", True)
        if self.lower(self.after_hyphen(place)) in ("weight", "wt") and (oil or low != int(low)
            or self.lower(place) == "wt"):
            return Code(at, self.after_hyphen(place) + 1, f"{low:f}W" if low <= 20 else f"SAE {low:f}", "viscosity",
                True)
        high = self.high(place) if number.form in ("words", "figure") and number.last - number.first == 1 else None
        if high and (int(low), high[0]) in MULTIGRADES and (self.lower(high[1]) in ("oil", "synthetic", "semi",
            "mineral") or (
                self.near(high[1], high[1] + 3) >= {"engine", "oil"})):
            return Code(at, high[1], f"{low:f}W-{high[0]}", "viscosity", True)
        return None

    def high(self, at: int) -> tuple[int, int] | None:
        """A viscosity at running heat; "forty two quarts" after "ten w" is 40, and two quarts."""
        number = self.numbers.get(at)
        if number is None:
            return None
        if number.value in HIGH:
            return int(number.value), number.last
        tens = int(number.value) // 10 * 10
        if number.form == "words" and number.last - number.first == 2 and tens in HIGH:
            return tens, number.last - 1
        return None

    def split(self, at: int, last: int) -> None:
        """Part the number at `at` where the code ends inside it: "forty two" into 40 and 2."""
        number = self.numbers[at]
        if last < number.last:
            one = number.value % 10
            self.numbers[last] = Number(last, number.last, one, "words", str(one))
            self.numbers[at] = replace(number, last=last, value=number.value - one, digits=str(number.value - one))

    def grade(self, at: int) -> Code | None:
        """"Dot four", "g l five", "s a e thirty", "iso forty six", "n l g i two": a family and a number that it has."""
        for size in range(6 if self.lower(at) in self.grade_heads else 0, 0, -1):
            grade = self.words.grades.get(self.run(at, at + size))
            if grade is None:
                continue
            place = self.after_hyphen(at + size)
            if grade.code.startswith("SAE"):
                full = self.viscosity(place)
                if full:
                    return replace(full, first=at)
            number = self.numbers.get(place)
            if number and number.value in grade.numbers:
                return Code(at, number.last, grade.code.format(f"{number.value:f}"), grade.kind, True)
        return None
