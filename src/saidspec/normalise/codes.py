"""Codes as written and as said: threads, bits, tyres, chains, grades of fluids, trouble codes, part numbers."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from saidspec.normalise.code_tokens import ZEROS, Code, TokenReader
from saidspec.normalise.designations import BOLT_CIRCLES, BULB, CHAINS, HIGH, TROUBLE, UNC, WINTER, classify
from saidspec.normalise.numbers import Number


class CodeReader(TokenReader):
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
                or self.grade(at) or self.bit(at) or self.pattern(at) or self.chain(at))

    def letter(self, at: int) -> str:
        word = self.lower(at)
        return self.words.names.get(word) or self.words.letters.get(word) or word

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

    def bulb(self, at: int) -> Code | None:
        """"Headlight bulb is an aitch seven"."""
        number = self.numbers.get(at + 1) if self.letter(at) == "h" else None
        text = f"H{number.value:f}" if number else ""
        lamps = bool(text) and BULB.fullmatch(text) and self.near(at - 5, at + 7) & self.words.lamps
        return Code(at, at + 2, text, "bulb", True) if lamps else None

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
            if high:
                self.split(self.after_hyphen(after), high[1])
                return Code(at, high[1], f"{low.normalize():f}W-{high[0]}", "viscosity", True)
        if number is None:
            return None
        oil = bool(self.near(at - 6, place + 5) & self.words.oils) and not self.near(at - 6, place
            + 5) & self.words.lamps
        if after == place + 1 and oil and low <= 20:
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

    def tyre(self, at: int) -> Code | None:
        """"Two twenty five sixty r seventeen", "t one twenty five seventy d sixteen", "205 75 14"."""
        prefix = self.lower(at).upper() if self.lower(at) in ("t", "p", "lt", "st") else ""
        width = self.chained(at + 1 if prefix else at)
        if not width or not 80 <= width[0] <= 355 or width[0] != int(width[0]):
            return None
        parted = self.lower(width[1]) in ("/", "slash", "by", "over", "stroke")
        ratio = self.numbers.get(width[1] + 1 if parted else width[1])
        if not ratio or not 25 <= ratio.value <= 95 or ratio.value != int(ratio.value):
            return None
        place = ratio.last
        mark = {"r": "R", "zr": "ZR", "d": "D", "b": "B", "-": "-", "/": "R", "on": "R", "radial": "R",
            "are": "R"}.get(self.lower(place))
        rim = self.numbers.get(place + 1 if mark else place)
        if not rim or not 8 <= rim.value <= 24 or (not mark and (rim.form == "fraction"
            or self.lower(rim.last) in METRES)):
            return None
        if not mark and not parted and not self.near(at - 8, rim.last + 6) & TYRES:
            return None
        return Code(at, rim.last, f"{prefix}{width[0]:f}/{ratio.value:f}{mark or 'R'}{rim.value:f}", "tyre", True)

    def grade(self, at: int) -> Code | None:
        """"Dot four", "g l five", "s a e thirty", "iso forty six", "n l g i two": a family and a number that it has."""
        for size in range(6 if self.lower(at) in self.grade_heads else 0, 0, -1):
            grade = self.words.grades.get(tuple(self.lower(i) for i in range(at, at + size)))
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
        if word == "e" and self.near(number.last, number.last + 2) & {"fuel", "petrol", "gas", "gasoline"}:
            return None
        return Code(at, number.last, ("E" if word == "e" else "T") + f"{number.value:f}", "bit", True)

    def pattern(self, at: int) -> Code | None:
        """The bolt circle of a wheel: "five by one fourteen point three", "5 x 112", "4 on 100"."""
        studs = self.numbers.get(at)
        if not studs or not 3 <= studs.value <= 8 or self.lower(studs.last) not in ("by", "x", "×", "on", "times"):
            return None
        circle = self.chained(studs.last + 1)
        if circle is None or circle[0] not in BOLT_CIRCLES:
            return None
        if circle[0] == int(circle[0]) and not self.near(at - 8, circle[1] + 5) & WHEELS:
            return None
        return Code(at, circle[1], f"{studs.value:f}x{circle[0]:f}", "pattern", True)

    def chain(self, at: int) -> Code | None:
        """"A five twenty chain", "the chain is a 520"."""
        size = self.chained(at)
        if size is None or size[0] not in CHAINS:
            return None
        before = [self.lower(i) for i in range(max(0, at - 4), at)]
        if self.lower(size[1]) == "chain" or ("chain" in before and before[-1] in ("a", "is", "chain", "'s", ":", ",")):
            return Code(at, size[1], f"{size[0]:f}", "chain")
        return None


# What begins a designation that is said, besides numbers and the names of grades; letters by any of their names.
SPOKEN_HEADS = frozenset({"p", "b", "c", "u", "m", "t", "e", "h", "torx", "tx", "lt", "st", "oh", "o", "quarter",
                          "half"})
METRES = ("mm", "mil", "millimeter", "millimetre", "millimeters", "millimetres")
METRIC, BITS = range(2, 65), range(4, 101)
MULTIGRADES = {(0, 16), (0, 20), (0, 30), (0, 40), (5, 20), (5, 30), (5, 40), (5, 50), (10, 30), (10, 40), (10, 50),
    (10, 60), (15, 40),
               (15, 50), (20, 50), (20, 60), (75, 80), (75, 85), (75, 90), (75, 110), (75, 140), (80, 90), (85, 140)}
THREADED = {"thread", "threads", "bolt", "bolts", "tap", "unc", "unf", "stud", "studs", "screw", "screws", "nut",
    "nuts", "hole", "holes", "coarse", "fine"}
TYRES = {"tyre", "tyres", "tire", "tires", "rubber", "spare", "size", "wheel", "wheels", "rims", "rim"}
WHEELS = {"pattern", "pcd", "stud", "studs", "lug", "lugs", "wheel", "wheels", "hub", "circle", "rims"}
