"""Codes as written and as spelled out: threads, bits, tyres, oil grades, trouble codes, part numbers.

Designations: metric threads ISO 965-1 (M8x1.25), hexalobular drives ISO 10664 (T45), tyres ISO 4000-1 (225/60R17),
viscosity grades SAE J300 and J306 (5W-30, 75W-90), trouble codes ISO 15031-6 (P0301).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from saidspec.normalise.numbers import Number
from saidspec.normalise.tokens import Token

TROUBLE = re.compile(r"[PBCU][0-3][0-9A-F]{3}(?:-\d{2})?")
VISCOSITY = re.compile(r"(\d{1,2}(?:\.\d)?)W-?(\d{1,3})")
THREAD = re.compile(r"M(\d{1,2})(?:[x×X*-](\d(?:\.\d{1,2})?)(?:[x×X](\d{1,3}))?)?")
BIT = re.compile(r"(?:T|TX|E|H|PH|PZ|XZN|RIBE)-?(\d{1,3})")
TYRE = re.compile(r"(?:P|LT)?(\d{2,3})/(\d{2,3})(?:Z?R|B|-)(\d{2}(?:\.5)?)(?:C|XL)?")
BOLT_PATTERN = re.compile(r"[3-8]X\d{2,3}(?:\.\d{1,2})?")
DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
PART = re.compile(r"[A-Z0-9]+(?:[-./][A-Z0-9]+)*")
UNC = {("1/4", 20), ("1/4", 28), ("5/16", 18), ("5/16", 24), ("3/8", 16), ("3/8", 24), ("7/16", 14), ("7/16", 20),
       ("1/2", 13), ("1/2", 20), ("9/16", 12), ("9/16", 18), ("5/8", 11), ("5/8", 18)}  # ASME B1.1


@dataclass(frozen=True, slots=True)
class Code:
    """A code in tokens first..last (exclusive); `kind` is thread, bit, tyre, viscosity, class, trouble, part, date."""

    first: int
    last: int
    text: str
    kind: str
    spelled: bool = False
    cost: float = 0.0


@dataclass(frozen=True, slots=True)
class SpellingWords:
    """The words of patterns/spelled.toml."""

    separators: dict[str, str]
    repeats: dict[str, int]
    letters: dict[str, str]
    not_letters: frozenset[str]
    part_cues: tuple[tuple[str, ...], ...]
    ones: dict[str, int]


def classify(text: str) -> tuple[str, str] | None:
    """(kind, code) of a designation written in one piece, or None."""
    code = text.upper().replace("×", "X")
    if TROUBLE.fullmatch(code):
        return "trouble", code
    hit = VISCOSITY.fullmatch(code)
    if hit:
        return "viscosity", f"{hit[1]}W-{hit[2]}"
    hit = THREAD.fullmatch(text) or THREAD.fullmatch(text[:1].upper() + text[1:])
    if hit and 2 <= int(hit[1]) <= 64:
        return "thread", f"M{hit[1]}" + (f"x{hit[2]}" if hit[2] else "") + (f"x{hit[3]}" if hit[3] else "")
    if BIT.fullmatch(code) and code[0] in "TEHPXR":
        return "bit", code.replace("TX", "T").replace("-", "")
    if TYRE.fullmatch(code):
        return "tyre", code
    hit = re.fullmatch(r"DOT-?(3|4|5|5\.1)\+?", code)
    if hit:
        return "class", f"DOT {hit[1]}"
    hit = re.fullmatch(r"GL-?([3-6])\+?", code)
    if hit:
        return "class", f"GL-{hit[1]}"
    if BOLT_PATTERN.fullmatch(code):
        return "pattern", code.lower()
    if DATE.fullmatch(code):
        return "date", code
    return None


def is_part_number(code: str, cued: bool) -> bool:
    """A part number has letters and at least three figures, or a dash between; more is taken after "part number"."""
    figures, letters = sum(c.isdigit() for c in code), sum(c.isalpha() for c in code)
    if cued:
        return figures >= 2 and len(code) >= 3
    return letters > 0 and figures >= 2 and (figures >= 3 or "-" in code and letters >= 2 and figures + letters >= 5)


class CodeReader:
    """Reads codes at places of a token list in which the numbers are known."""

    def __init__(self, toks: list[Token], numbers: dict[int, Number], words: SpellingWords,
                 is_unit: Callable[[str], bool], unit_forms: frozenset[str] = frozenset()) -> None:
        self.toks, self.numbers, self.words, self.is_unit, self.unit_forms = toks, numbers, words, is_unit, unit_forms

    def lower(self, at: int) -> str:
        return self.toks[at].lower if 0 <= at < len(self.toks) else ""

    def read(self, at: int) -> Code | None:
        return self.written(at) or self.spoken(at)

    # -- written in one piece
    def written(self, at: int) -> Code | None:
        """A chunk without spaces that holds letters and figures: "KD-3318-F", "M8x1.25", "5W-30"."""
        toks = self.toks
        if at and toks[at - 1].end == toks[at].start and toks[at - 1].kind not in ("mark", "suffix"):
            return None
        last = at + 1
        while last < len(toks) and toks[last].start == toks[last - 1].end:
            token = toks[last]
            joins = token.kind in ("word", "figure") or token.lower in "-/.×x" and last + 1 < len(toks) and (
                toks[last + 1].start == token.end and toks[last + 1].kind in ("word", "figure"))
            if not joins:
                break
            last += 1
        if last == at + 1:
            return None
        kinds = {toks[i].kind for i in range(at, last)}
        if "word" not in kinds and not (kinds == {"figure", "mark"} and last - at >= 5):
            return None
        text = self.text[toks[at].start : toks[last - 1].end]
        if not any(c.isdigit() for c in text):
            return None
        known = classify(text)
        if known:
            return Code(at, last, known[1], known[0])
        if "word" not in kinds or self.figure_with_unit(at, last):
            return None
        code = text.upper()
        if PART.fullmatch(code) and is_part_number(code, self.cued(at)):
            return Code(at, last, code, "part")
        return None

    text = ""

    def figure_with_unit(self, at: int, last: int) -> bool:
        """"88Nm", "13-foot-pounds", "10-12mm", "1.6l": a figure and a unit and no code."""
        words = [self.toks[i].lower for i in range(at, last) if self.toks[i].kind == "word"]
        return self.toks[at].kind == "figure" and ("".join(words) in self.unit_forms or all(
            word in self.unit_forms or word in ("k", "x", "to", "plus") for word in words))

    def cued(self, at: int) -> bool:
        """The words right before are "part number", "part no" and the like."""
        before = [self.lower(i) for i in range(max(0, at - 5), at)]
        if before and before[-1] in ("is", "'s", ":", "was"):
            before = before[:-1]
        return any(tuple(before[-len(cue):]) == cue for cue in self.words.part_cues)

    # -- spelled out
    def spoken(self, at: int) -> Code | None:
        return self.trouble(at) or self.viscosity(at) or self.thread(at) or self.tyre(at) or self.named(at) or (
            self.part(at))

    def digits(self, at: int) -> tuple[str, int] | None:
        number = self.numbers.get(at)
        if number and number.form in ("figure", "words", "digits", "chain", "scaled") and number.digits:
            return number.digits, number.last
        one = self.words.ones.get(self.lower(at))
        return None if one is None or number else (str(one), at + 1)

    def trouble(self, at: int) -> Code | None:
        if self.lower(at) not in ("p", "b", "c", "u"):
            return None
        digits, place = "", at + 1
        while len(digits) < 4:
            found = self.digits(place)
            if found is None and self.lower(place) in ("oh", "o", "zero") and len(self.lower(place)) > 0:
                found = ("0", place + 1)
            if found is None:
                break
            digits, place = digits + found[0], found[1]
        code = (self.lower(at) + digits).upper()
        return Code(at, place, code, "trouble", True) if TROUBLE.fullmatch(code) else None

    def viscosity(self, at: int) -> Code | None:
        number = self.numbers.get(at)
        if not number or number.value > 85:
            return None
        place = number.last
        if self.lower(place) not in ("w", "double-u", "weight"):
            return None
        nxt = self.numbers.get(place + 2 if self.lower(place + 1) == "-" else place + 1)
        if nxt and self.lower(place) != "weight" and nxt.value <= 250:
            return Code(at, nxt.last, f"{number.value.normalize():f}W-{nxt.value}", "viscosity", True)
        if self.lower(place) == "weight" and number.value in (20, 30, 40, 50, 60, 80, 90, 140):
            return Code(at, place + 1, f"SAE {number.value}", "viscosity", True)
        return None

    def thread(self, at: int) -> Code | None:
        """"m eight by one and a quarter", "m 10 x 1.25", "quarter twenty"."""
        if self.lower(at) == "m":
            number = self.numbers.get(at + 1)
            if number and number.value == int(number.value) and 2 <= number.value <= 64:
                place, code = number.last, f"M{number.value}"
                pitch = self.numbers.get(place + 1) if self.lower(place) in ("by", "x", "×", "times") else None
                if pitch and pitch.value <= 6:
                    return Code(at, pitch.last, f"{code}x{pitch.value.normalize():f}", "thread", True)
                return Code(at, place, code, "thread", True)
        number = self.numbers.get(at)
        if number and number.form == "fraction" and number.value < 1:
            place = number.last + 1 if self.lower(number.last) in ("-", "by", "x") else number.last
            count = self.numbers.get(place)
            top, bottom = number.value.as_integer_ratio()
            if count and (f"{top}/{bottom}", int(count.value)) in UNC:
                return Code(at, count.last, f"{top}/{bottom}-{int(count.value)}", "thread", True)
        if self.lower(at) in ("quarter", "half") and at + 1 in self.numbers:
            top = {"quarter": "1/4", "half": "1/2"}[self.lower(at)]
            count = self.numbers[at + 1]
            if (top, int(count.value)) in UNC and self.lower(count.last) in ("thread", "bolt", "tap", "unc", "unf"):
                return Code(at, count.last, f"{top}-{int(count.value)}", "thread", True)
        return None

    def tyre(self, at: int) -> Code | None:
        width = self.numbers.get(at)
        if width and width.value < 10 and width.last in self.numbers and 5 <= self.numbers[width.last].value < 100:
            tail = self.numbers[width.last]  # "two twenty five"
            width = Number(at, tail.last, width.value * 100 + tail.value, "chain")
        if not width or not 80 <= width.value <= 355 or width.value != int(width.value):
            return None
        place = width.last + 1 if self.lower(width.last) in ("/", "slash", "by", "over") else width.last
        ratio = self.numbers.get(place)
        if not ratio or not 25 <= ratio.value <= 95:
            return None
        place = ratio.last
        marked = self.lower(place) in ("r", "zr", "-", "/", "on", "radial")
        rim = self.numbers.get(place + 1 if marked else place)
        if not rim or not 8 <= rim.value <= 24 or not marked and width.last == place:
            return None
        if not marked and self.lower(rim.last) in ("mm", "mil", "millimeter", "millimetre"):
            return None
        joint = "-" if self.lower(place) == "-" else "R"
        return Code(at, rim.last, f"{width.value}/{ratio.value}{joint}{rim.value}", "tyre", True)

    def named(self, at: int) -> Code | None:
        """"dot four", "gl five", "torx 25", "t forty five", "e 12"."""
        word = self.lower(at)
        place = at + 1
        if word == "g" and self.lower(place) == "l":
            word, place = "gl", place + 1
        if word == "d" and self.lower(place) == "o" and self.lower(place + 1) == "t":
            word, place = "dot", place + 2
        if self.lower(place) == "-":
            place += 1
        number = self.numbers.get(place)
        if number is None:
            return None
        if word == "dot" and str(number.value) in ("3", "4", "5", "5.1"):
            return Code(at, number.last, f"DOT {number.value}", "class", True)
        if word == "gl" and number.value in (3, 4, 5, 6):
            return Code(at, number.last, f"GL-{number.value}", "class", True)
        if word == "nlgi" and number.value < 7:
            return Code(at, number.last, f"NLGI {number.value}", "class", True)
        if word == "sae" and number.value in (5, 10, 20, 30, 40, 50, 60, 70, 75, 80, 85, 90, 140, 250):
            return Code(at, number.last, f"SAE {number.value}", "viscosity", True)
        if word in ("t", "torx", "tx", "e") and number.value == int(number.value) and 4 <= number.value <= 100:
            if self.lower(at + 1) in ("bit", "head"):
                return None
            return Code(at, number.last, ("E" if word == "e" else "T") + str(number.value), "bit", True)
        return None

    def part(self, at: int) -> Code | None:
        """A part number letter by letter: "four one dash seven seven b as in bravo", "kd dash 3318 dash f"."""
        cued = self.cued(at)
        place, text, dashes, fresh = at, "", 0, True
        while place < len(self.toks):
            if text and self.toks[place].start - self.toks[place - 1].end > 1:
                break
            step = self.element(place, text, fresh, cued)
            if step is None:
                break
            piece, after = step
            if piece in "-/":
                if fresh or not self.element(after, text + piece, True, cued):
                    break
                dashes += 1
            elif piece.isalpha() and text and text[-1].isdigit() and not fresh and len(piece) > 2:
                break
            elif piece.isdigit() and text[-1:].isalpha() and not fresh and any(c.isdigit() for c in text) and (
                    self.toks[place].start > self.toks[place - 1].end and len(piece) > 1):
                break
            fresh = piece in "-/"
            text, place = text + piece, after
        text = text.strip("-/").upper()
        if place == at + 1 and not cued or not is_part_number(text, cued) or not (dashes or cued or self.mixed(text)):
            return None
        if dashes and not any(c.isalpha() for c in text) and not cued and not self.has_word(at, place):
            return None
        return Code(at, place, text, "part", True, 0.1)

    def mixed(self, text: str) -> bool:
        return text[:1].isalpha() and sum(c.isdigit() for c in text) >= 3

    def has_word(self, at: int, last: int) -> bool:
        return any(self.lower(i) in self.words.separators and self.toks[i].kind == "word" for i in range(at, last))

    def element(self, at: int, text: str, fresh: bool, cued: bool) -> tuple[str, int] | None:
        """The next piece of a spelled code: a separator, figures, or letters; and the place after."""
        word = self.lower(at)
        if not word or word == "\n":
            return None
        if word in self.words.separators:
            return (self.words.separators[word], at + 1) if text else None
        if word in "-/" and self.toks[at].kind == "mark":
            return (word, at + 1) if text else None
        if word in self.words.repeats:
            found = self.digits(at + 1) or (("0", at + 2) if self.lower(at + 1) in ("oh", "o", "zero") else None)
            one = found[0] if found else self.letter(at + 1)
            if not one or len(one) != 1:
                if found and len(found[0]) > 1 and self.numbers[at + 1].form == "digits":
                    return found[0][0] * (self.words.repeats[word] - 1) + found[0], found[1]
                return None
            return one * self.words.repeats[word], found[1] if found else at + 2
        found = self.digits(at)
        if found:
            number = self.numbers.get(at)
            unit = self.lower(found[1])
            if text and not fresh and not text[-1].isdigit() and len(unit) > 1 and self.is_unit(unit):
                return None
            if number and number.form == "figure" and "," in self.toks[at].lower:
                return None
            return found
        if word in ("oh", "o", "zero") and text and (text[-1].isdigit() or fresh):
            return "0", at + 1
        return self.letters(at, text, fresh, cued)

    def letters(self, at: int, text: str, fresh: bool, cued: bool) -> tuple[str, int] | None:
        word = self.lower(at)
        if self.toks[at].kind != "word":
            return None
        as_in = self.lower(at + 1) in ("as", "for", "like") and (
            self.lower(at + 2) == "in" and self.lower(at + 3)[:1] == word[:1] or self.lower(at + 2)[:1] == word[:1])
        if len(word) == 1 and as_in:
            return word, at + (4 if self.lower(at + 2) == "in" else 3)
        if word in self.words.letters and (text or self.lower(at + 1) in self.words.separators):
            return self.words.letters[word], at + 1
        joined = bool(text) and self.toks[at].start == self.toks[at - 1].end
        if len(word) <= 3 and (fresh and text or joined or word not in self.words.not_letters) and (
                not self.is_unit(word) or len(word) == 1 and (fresh or text[:1].isalpha())):
            if len(word) > 1 and not self.plausible(word, at):
                return None
            return word, at + 1
        return None

    def plausible(self, word: str, at: int) -> bool:
        """Two or three letters are letters of a code if a dash or a figure comes next to them."""
        nxt = at + 1
        return self.lower(nxt) in self.words.separators or self.lower(nxt) in "-/" or self.digits(nxt) is not None or (
            self.lower(at - 1) in self.words.separators or self.lower(at - 1) in "-/")

    def letter(self, at: int) -> str | None:
        word = self.lower(at)
        return word if len(word) == 1 and word.isalpha() else self.words.letters.get(word)
