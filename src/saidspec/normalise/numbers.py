"""Spoken and written numbers: runs of tokens read as figures, each with its span.

The grammar is one of small readers, each taking the tokens and a place and returning (value, place after) or None.
Decimals follow "point".
"""

from __future__ import annotations

import re
from decimal import Decimal

from saidspec.normalise.fraction_words import ENDS
from saidspec.normalise.number_words import Number, whole
from saidspec.normalise.unit_numbers import UnitNumbers

ONES = {"ones": 1, "twos": 2, "threes": 3, "fours": 4}
# "Used one copper washer": a count of pieces.
TAKEN = frozenset({"used", "fitted", "bought", "replaced", "renewed", "installed", "ordered", "changed"})
NO_PIECE = frozenset({"of", "for", "on", "in", "from", "at", "more", "and", "off", "each", "as", "to", "last", "this",
                      "that", "with", "yesterday", "today", "before", "because", "when", "already", "or", "by",
                      "side", "anyway", "too"})
BEFORE_ONE_NEW = TAKEN | {"", ".", ",", ";", ":", "\n", "and", "plus", "got", "needs", "need", "took"}
LABELLED = ("is", "'s", "was", "reads", "had")
SOCKET_POINTS = (6, 8, 12)
MILLIMETRES = ("mm", "mil", "mill", "millimeter", "millimetre")


class Grammar(UnitNumbers):
    """Reads numbers at places of one token list: the longest that begins at a token."""

    def read(self, at: int) -> Number | None:
        """The longest number that begins at token `at`, without the number of the place that is told next."""
        number = self.longest(at)
        return self.without_label(number) if number and number.form == "decimal" and number.last - at > 2 else number

    def without_label(self, number: Number) -> Number:
        """"Two is point seven three is four point nine": the last figure is the number of the next place."""
        last, label = number.last - 1, self.words.ones.get(self.lower(number.first - 2), 0)
        told = self.lower(number.first - 1) in LABELLED and self.lower(number.last) in LABELLED
        if not told or not label or self.words.ones.get(self.lower(last)) != label + 1 or len(number.digits) < 2:
            return number
        text = str(number.value)[:-1]
        return Number(number.first, last, Decimal(text), "decimal", number.digits[:-1], number.sure)

    def longest(self, at: int) -> Number | None:
        """The longest number that begins at token `at`."""
        self.limit = self.stops[at]
        word, kind = self.lower(at), self.toks[at].kind
        if kind == "word":
            known = word in self.words.scales or word == "a" or word == "an" or self.words.small(word) is not None
            if word == "inch":
                bare = self.lower(at - 1) not in ("-", "and") and (at == 0 or self.toks[at - 1].kind != "figure")
                return self.around_unit(at) if bare and self.words.small(self.lower(at - 1)) is None else None
            if word == "hour":
                return self.bare_hour(at)
            if word in ("couple", "another"):
                return self.couple(at) if word == "couple" else self.article(at)
            if not known and word not in ("point", "half", "quarter") and word not in self.words.glyphs:
                return self.plural(at)
        elif kind != "figure":
            return None
        elif (
            (self.lower(at + 1) == "s" or (self.lower(at + 1) == "'s" and self.plural_suffix(at)))
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
            if ones and ones < 10 and apart and (
                    inner > at + 1 or self.lower(inner) != "ones" or self.lower(inner + 1) in ENDS):
                return Number(at, inner + 1, Decimal(self.words.tens[word] + ones), "plural")  # "twenty-ones"
        return (
            self.around_unit(at) or self.part_alone(at) or self.spoken_digits(at) or self.whole(at) or self.article(at)
        )

    def plural_suffix(self, at: int) -> bool:
        """Whether 's behind a figure is that of a plural: "the 10's", not "channel 16's quiet"."""
        return self.lower(at + 2) in (*ENDS, "and", "on", "for", "in", "at", "with") and self.lower(at - 1) not in (
            "channel", "number", "cylinder", "no")

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
        ones = self.words.plurals.get(self.lower(place), 0) if scaled and value % 10 == 0 else 0
        if 0 < ones < 10 and value < 1000:  # "a hundred and forty fives"
            return Number(at, place + 1, value + ones, "plural", str(value + ones))
        mixed = self.and_fraction(place) if value < 1000 else None
        if mixed and 0 < mixed[0] < 1:
            return self.scaled_by(Number(at, mixed[1], value + mixed[0], "fraction"))
        if word == "one" and not scaled and not self.one_is_number(at):
            return None
        digits = re.sub(r"\D", "", self.toks[at].lower) if form == "figure" else str(value)
        return Number(at, place, value, "scaled" if scaled else form, digits)

    def tool_point(self, value: Decimal, place: int) -> bool:
        """"12 point 14 mm socket", "half inch twelve point four of them": the points of a socket, and no decimal."""
        tail = self.figure(place + 1) or self.below_hundred(place + 1)
        if value in SOCKET_POINTS and tail is not None and self.lower(tail[1]) == "of" and (
                self.lower(tail[1] + 1) in ("them", "em", "those")):
            return True
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
        if not touching or form != "figure" or self.in_code(place + 1):
            return None
        return Number(at, place + 1, whole(value * 1000), "scaled", str(value))

    def in_code(self, place: int) -> bool:
        """Figures or a dash stand right behind what was read: "7K0-442-118" is no seven thousand."""
        return place < self.size and self.toks[place].start == self.toks[place - 1].end and (
            self.toks[place].kind == "figure" or self.toks[place].lower == "-")

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
        if self.lower(at - 1) in self.words.before_pronoun_one:
            return False
        if (self.is_unit(word) and word not in ("in", "a")) or (word in self.words.money and after == at + 1) or (
            word in ("to", "or", "and", ",") and self.words.small(self.lower(after + 1)) is not None
        ):
            return True
        if word == "new" and self.lower(at - 1) in BEFORE_ONE_NEW and after == at + 1:
            return True  # "one new gasket"
        if self.lower(at - 1) in TAKEN and self.toks[at + 1 : at + 2] and self.toks[at + 1].kind == "word" and (
                word not in NO_PIECE):
            return True
        return self.words.small(word) is not None or word in self.words.zeros or self.lower(at - 1) == "point"
