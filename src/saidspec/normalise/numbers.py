"""Spoken and written numbers: runs of tokens read as figures, each with its span.

The grammar is one of small readers, each taking the tokens and a place and returning (value, place after) or None.
Fractions have the denominators of wrenches and drills; decimals follow "point".
"""

from __future__ import annotations

import re
from decimal import Decimal

from saidspec.normalise.whole_numbers import Number, NumberWords, Reader, WholeNumbers, whole

__all__ = ["Grammar", "Number", "NumberWords", "whole"]

DENOMINATORS = {2, 3, 4, 8, 16, 32, 64}
ENDS = ("", "\n", ".", ",", ";", "!", "?")
BEHIND_PARTS = ("out", "in", "now", "over", "under", "too", "each", "and", "to", "on", "at", "more", "less", "left",
                "total")
ONES = {"ones": 1, "twos": 2, "threes": 3, "fours": 4}
SOCKET_POINTS = (6, 8, 12)
MILLIMETRES = ("mm", "mil", "mill", "millimeter", "millimetre")


class Grammar(WholeNumbers):
    """Reads numbers at places of one token list: fractions, decimals, numbers around a unit, one of something."""

    # -- fractions
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

    # -- one number
    def read(self, at: int) -> Number | None:
        """The longest number that begins at token `at`."""
        self.limit = self.stops[at]
        word, kind = self.lower(at), self.toks[at].kind
        if kind == "word":
            known = word in self.words.scales or word == "a" or word == "an" or self.words.small(word) is not None
            if word == "inch":
                bare = self.lower(at - 1) not in ("-", "and") and (at == 0 or self.toks[at - 1].kind != "figure")
                return self.around_unit(at) if bare and self.words.small(self.lower(at - 1)) is None else None
            if word in ("couple", "another"):
                return self.couple(at) if word == "couple" else self.article(at)
            if not known and word not in ("point", "half", "quarter") and word not in self.words.glyphs:
                return self.plural(at)
        elif kind != "figure":
            return None
        elif (
            self.lower(at + 1) in ("s", "'s")
            and self.toks[at + 1].start == self.toks[at].end
            and word.isdigit()
            and 4 <= int(word) <= 60
            and (self.lower(at - 1) not in ("for", "wait", "waited", "about", "another"))
        ):
            return Number(at, at + 2, Decimal(word), "plural", word)  # "four 10s"
        if word == "point":
            return self.leading_point(at)
        if word in self.words.tens:
            inner = self.over_hyphen(at + 1)
            if self.lower(inner) in self.words.ordinals:
                return None  # "the twenty-second"
            ones = self.words.plurals.get(self.lower(inner)) or ONES.get(self.lower(inner))
            apart = self.words.small(self.lower(at - 1)) is None  # "one twenty fives" are jets of 125
            if ones and ones < 10 and apart and (inner > at + 1 or self.lower(inner) != "ones"):
                return Number(at, inner + 1, Decimal(self.words.tens[word] + ones), "plural")  # "twenty-ones"
        return (
            self.around_unit(at) or self.part_alone(at) or self.spoken_digits(at) or self.whole(at) or self.article(at)
        )

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

    def plural(self, at: int) -> Number | None:
        value = self.words.plurals.get(self.lower(at))
        return Number(at, at + 1, Decimal(value), "plural", str(value)) if value else None

    def leading_point(self, at: int) -> Number | None:
        if self.lower(at - 1) in ("this", "that", "some", "the", "a", "one", "which", "any"):
            return None
        if self.lower(at - 1) == "-" and at > 1 and self.toks[at - 2].kind == "figure":
            return None  # "12-point 17 mm"
        before = self.figure(at - 1) or self.below_hundred(at - 1) if at else None
        if before and before[1] == at and self.tool_point(before[0], at):
            return None
        tail = self.decimals(at + 1)
        return Number(at, tail[1], Decimal("0." + tail[0]), "decimal", tail[0]) if tail else None

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
        return self.words.parts.get(self.lower(at + 1), 0) >= 8 and after in (*ENDS, *BEHIND_PARTS)

    def spoken_digits(self, at: int) -> Number | None:
        """ "one oh five", "seven two four", and "one oh one point five"."""
        digits, place = self.digit_run(at)
        if len(digits) < 3 or (digits[0] == "0" and len(digits) < 4) or self.lower(place) in self.words.scales:
            return None
        if self.words.small(self.lower(place)) is not None:
            alone = self.words.ones.get(self.lower(at - 1)) is None
            if len(digits) == 3 and alone and self.lower(place) in self.words.tens:  # "195 65": a tyre
                return Number(at, place, Decimal(digits), "digits", digits)
            if len(digits) == 4 and digits[1] == "0":  # "one oh four five sixty" on the clock: 104, 560
                return Number(at, place - 1, Decimal(digits[:-1]), "digits", digits[:-1])
            return None  # "two two fifty": not one number
        if self.lower(place) == "point":
            tail = self.decimals(place + 1)
            if tail:
                return Number(at, tail[1], Decimal(f"{digits}.{tail[0]}"), "digits", digits + tail[0])
        return Number(at, place, Decimal(digits), "digits", digits)

    def whole(self, at: int) -> Number | None:
        word = self.lower(at)
        scaled = self.scaled(at)
        base = scaled or self.below_hundred(at) or self.figure(at)
        if base is None:
            return None
        value, place = base
        form = "words" if self.toks[at].kind == "word" else "figure"
        thousand = self.thousands(at, place, value, form)
        if thousand:
            return thousand
        if self.lower(place) == "point" and not self.tool_point(value, place):
            tail = self.decimals(place + 1)
            if tail and str(value).partition(".")[2] == tail[0]:  # "4.3 point three": the recogniser wrote it twice
                return Number(at, tail[1], value, "decimal", str(value).replace(".", ""), sure=False)
            if tail and value.as_tuple().exponent == 0:
                text = f"{value}.{tail[0]}"
                return self.scaled_by(
                    Number(at, tail[1], Decimal(text), "decimal", text.replace(".", ""), form == "words")
                )
        mixed = self.and_fraction(place) if value < 1000 else None
        if mixed and 0 < mixed[0] < 1:
            return self.scaled_by(Number(at, mixed[1], value + mixed[0], "fraction"))
        if word == "one" and not scaled and not self.one_is_number(at):
            return None
        digits = re.sub(r"\D", "", self.toks[at].lower) if form == "figure" else str(value)
        return Number(at, place, value, "scaled" if scaled else form, digits)

    def tool_point(self, value: Decimal, place: int) -> bool:
        """"12 point 14 mm socket": the points of a socket and its size, and no decimal."""
        tail = self.figure(place + 1) or self.below_hundred(place + 1)
        return value in SOCKET_POINTS and tail is not None and tail[0] > 5 and self.lower(tail[1]) in MILLIMETRES and (
            self.lower(tail[1] + 1) in ("socket", "wrench", "spanner", "ring", "deep"))

    def thousands(self, at: int, place: int, value: Decimal, form: str) -> Number | None:
        """ "112k", "112 k miles", "one hundred twelve k on the clock"; "8.2k" beside a resistance is 8.2 kilohms."""
        if self.lower(place) != "k" or value >= 1000:
            return None
        touching = self.toks[place].start == self.toks[place - 1].end
        if {self.lower(i) for i in range(place + 1, place + 4)} & self.words.distances:
            return Number(at, place + 1, whole(value * 1000), "scaled", str(value))
        if form == "figure" and self.resisting(at, place):
            return Number(at, place + 1, value, form, str(value), carries="kohm")
        return (
            Number(at, place + 1, whole(value * 1000), "scaled", str(value)) if touching and form == "figure" else None
        )

    def resisting(self, at: int, place: int) -> bool:
        return any(
            self.toks[i].lower in self.words.resistances for i in range(max(0, at - 16), min(self.size, place + 10))
        )

    def scaled_by(self, number: Number) -> Number:
        """ "Ninety four and a half thousand", "1.5 thousand": the number times the scale that follows it."""
        word = self.lower(number.last)
        scale = self.words.scales.get(word, 0)
        if scale < 1000 and not (word == "k" and self.lower(number.last + 1) in self.words.distances):
            return number
        value = whole(number.value * max(scale, 1000))
        return Number(number.first, number.last + 1, value, "scaled", str(value))

    def one_is_number(self, at: int) -> bool:
        """ "one" counts as a figure before a unit or in a range; otherwise it is the pronoun or a mere article."""
        after = self.over_hyphen(at + 1)
        word = self.lower(after)
        if self.lower(at - 1) in (
            "this",
            "that",
            "the",
            "each",
            "other",
            "which",
            "every",
            "last",
            "next",
            "new",
            "old",
            "left",
            "right",
            "front",
            "rear",
            "another",
            "first",
            "second",
            "no",
            "any",
            "big",
        ):
            return False
        if (self.is_unit(word) and word not in ("in", "a")) or (word in self.words.money and after == at + 1) or (
            word in ("to", "or", "and", ",") and self.words.small(self.lower(after + 1)) is not None
        ):
            return True
        return self.words.small(word) is not None or word in self.words.zeros or self.lower(at - 1) == "point"
