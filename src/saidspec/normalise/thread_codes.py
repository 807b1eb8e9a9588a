"""Threads and bits as said: "m eight by one and a quarter", "quarter twenty", "torx 25"."""

from __future__ import annotations

from decimal import Decimal

from saidspec.normalise.code_tokens import ZEROS, Code, TokenReader
from saidspec.normalise.designations import UNC

METRIC, BITS = range(2, 65), range(4, 101)
THREADED = {"thread", "threads", "bolt", "bolts", "tap", "unc", "unf", "stud", "studs", "screw", "screws", "nut",
    "nuts", "hole", "holes", "coarse", "fine"}


class ThreadCodes(TokenReader):
    """Reads threads and bits at places of a token list."""

    def thread(self, at: int) -> Code | None:
        """"m eight by one and a quarter", "m 10 x 1.25", "quarter twenty"."""
        if self.letter(at) == "m":
            place = self.after_hyphen(at + 1)
            number = self.numbers.get(place)
            if number and number.value in METRIC and not self.is_unit(self.lower(number.last)):
                return self.pitched(Code(at, number.last, f"M{number.value:f}", "thread", True))
        number = self.numbers.get(at)
        if number and number.form == "fraction" and number.value < 1:
            place = number.last + 1 if self.lower(number.last) in ("-", "by", "x") else number.last
            count = self.numbers.get(place)
            top, bottom = number.value.as_integer_ratio()
            if count and (f"{top}/{bottom}", int(count.value)) in UNC:
                return Code(at, count.last, f"{top}/{bottom}-{int(count.value)}", "thread", True)
        part = {"quarter": "1/4", "half": "1/2"}.get(self.lower(at), "")
        count = self.numbers.get(self.after_hyphen(at + 1)) if part else None
        if count and (part, int(count.value)) in UNC and self.near(at - 5, count.last + 4) & THREADED:
            return Code(at, count.last, f"{part}-{int(count.value)}", "thread", True)
        return None

    def pitched(self, code: Code) -> Code:
        """With the pitch, or the length, that is said behind it: "by 1.25", "x 40", "with a one point five pitch"."""
        at = code.last
        if self.lower(at) in ("by", "x", "×", "times"):
            number = self.numbers.get(at + 1)
            if number is None and self.lower(at + 1) in self.words.ones:
                return Code(code.first, at + 2, f"{code.text}x{self.words.ones[self.lower(at + 1)]}", "thread", True)
            if number and (Decimal("0.2") <= number.value <= 6
                or (8 <= number.value <= 300 and number.value == int(number.value))):
                return Code(code.first, number.last, f"{code.text}x{number.value:f}", "thread", True)
            return code
        place = at
        while place - at < 3 and self.lower(place) in ("with", "a", "at", ",", "and", "in", "thread"):
            place += 1
        pitch = self.numbers.get(place)
        if pitch and self.lower(pitch.last) == "pitch" and pitch.value <= 6:
            return Code(code.first, pitch.last + 1, f"{code.text}x{pitch.value:f}", "thread", True)
        return code

    def bit(self, at: int) -> Code | None:
        """"Torx 25", "t forty five", "e 12"."""
        word, place = self.letter(at), self.after_hyphen(at + 1)
        if word not in ("t", "torx", "tx", "e") or (self.lower(at - 1) in ("a", "p", "s") and len(self.lower(at)) == 1
            and self.lower(at - 1) != "a"):
            return None
        if (word == "torx" and self.letter(place) == "t") or (word == "e" and self.lower(place) == "torx"):
            place += 1  # "torx t 25", "e torx 14"
        number = self.numbers.get(place)
        if not number or number.value not in BITS or self.is_unit(self.lower(number.last)):
            return None
        if number.value < 10 and (number.last in self.numbers or self.lower(number.last) in ZEROS):
            return None  # "a e 7 0 0 4": figures of a part number
        if word == "e" and self.near(number.last, number.last + 2) & {"fuel", "petrol", "gas", "gasoline"}:
            return None
        return Code(at, number.last, ("E" if word == "e" else "T") + f"{number.value:f}", "bit", True)
