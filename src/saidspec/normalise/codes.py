"""Codes as written in one piece and as said: which designation begins at a token."""

from __future__ import annotations

from decimal import Decimal

from saidspec.normalise.code_tokens import ZEROS, Code
from saidspec.normalise.designations import BULB, TROUBLE, classify
from saidspec.normalise.fluid_codes import FluidCodes
from saidspec.normalise.thread_codes import ThreadCodes
from saidspec.normalise.wheel_codes import WheelCodes

# What begins a designation that is said, besides numbers and the names of grades; letters by any of their names.
SPOKEN_HEADS = frozenset({"p", "b", "c", "u", "m", "t", "e", "h", "torx", "tx", "lt", "st", "oh", "o", "quarter",
                          "half"})


class CodeReader(FluidCodes, ThreadCodes, WheelCodes):
    """Reads the designations at places of a token list in which the numbers are known."""

    def read(self, at: int) -> Code | None:
        return self.written(at) or self.spoken(at)

    def may_begin(self, at: int) -> bool:
        """Whether a code may begin at a token: most words are none of those that begin one, and stand alone."""
        token = self.toks[at]
        if token.kind == "figure" or at in self.numbers or token.lower in self.heads:
            return True
        if len(token.lower) <= 3 and (len(token.lower) == 1 or token.lower not in self.words.not_letters):
            return True
        return at + 1 < len(self.toks) and self.toks[at + 1].start == token.end and self.chunk(at) > at + 1

    # -- written in one piece
    def chunk(self, at: int) -> int:
        """The end of the letters, figures and joining marks that stand together without a space."""
        toks, last = self.toks, at + 1
        while last < len(toks) and toks[last].start == toks[last - 1].end:
            token = toks[last]
            joins = token.kind in ("word", "figure") or (token.lower in "-/.×*" and last + 1 < len(toks) and (
                toks[last + 1].start == token.end and toks[last + 1].kind in ("word", "figure")))
            if not joins:
                break
            last += 1
        return last

    def written(self, at: int) -> Code | None:
        """A chunk without spaces that holds letters and figures: "M8x1.25", "5W-30", "205/75R14"."""
        toks = self.toks
        if at and toks[at - 1].end == toks[at].start and toks[at - 1].kind not in ("mark", "suffix"):
            return None
        last = self.chunk(at)
        if last == at + 1:
            return None
        text = self.text[toks[at].start : toks[last - 1].end]
        kinds = {toks[i].kind for i in range(at, last)}
        if not any(c.isdigit() for c in text) or ("word" not in kinds and last - at < 3):
            return None
        if self.near(at - 4, last + 4) & self.words.lamps and BULB.fullmatch(text.upper()):
            return Code(at, last, text.upper(), "bulb")
        known = classify(text) or self.graded(text)
        if known and known[0] == "thread" and "x" not in known[1]:
            return self.pitched(Code(at, last, known[1], "thread"))
        return Code(at, last, known[1], known[0]) if known else None

    def graded(self, text: str) -> tuple[str, str] | None:
        """"SAE30", "GL-5", "ISO46": the letters of a family and a number that it has."""
        letters = text.rstrip("0123456789.+").rstrip("-")
        grade = self.words.grades.get(tuple(letters.lower().split("-")))
        number = text[len(letters):].strip("-+")
        if grade is None or not number.replace(".", "", 1).isdigit() or Decimal(number) not in grade.numbers:
            return None
        return grade.kind, grade.code.format(number)

    # -- said
    def spoken(self, at: int) -> Code | None:
        if at not in self.numbers and self.letter(at) not in SPOKEN_HEADS and self.lower(at) not in self.grade_heads:
            return None
        return (self.trouble(at) or self.bulb(at) or self.viscosity(at) or self.thread(at) or self.tyre(at)
                or self.grade(at) or self.bit(at) or self.pattern(at) or self.seal(at) or self.washer(at)
                or self.ribbed_belt(at) or self.chain(at))

    def trouble(self, at: int) -> Code | None:
        """"P zero three zero one", "pee oh four twenty"."""
        if self.letter(at) not in ("p", "b", "c", "u"):
            return None
        digits, place = "", at + 1
        while len(digits) < 4:
            number = self.numbers.get(place)
            if number and number.digits and number.form in ("figure", "words", "digits", "scaled"):
                digits, place = digits + number.digits, number.last
            elif self.lower(place) in ZEROS:
                digits, place = digits + "0", place + 1
            else:
                break
        code = (self.letter(at) + digits).upper()
        more = place < len(self.toks) and self.toks[place].kind == "word" and len(self.lower(place)) == 1 and (
            self.lower(place) not in ("a", "i"))  # "A B 1 2 9 0 C" is a part number
        return Code(at, place, code, "trouble", True) if TROUBLE.fullmatch(code) and not more else None
