"""What tells a part number from other figures: the words that announce one, and what else figures may be."""

from __future__ import annotations

import re

from saidspec.normalise.code_tokens import STRONG, WEAK, ZEROS
from saidspec.normalise.spelled_pieces import SpelledPieces

MONTH = "november"  # the one letter of the spelling alphabet that is also a month
PLUG = re.compile(r"[A-Z]{2,3}-\d[A-Z]{2,3}")  # "ZK-7HS": one figure of heat, as spark plugs are marked
MOST_COUNTED = 24
BEFORE_MONTH = ("of", "in", "last", "since", "next", "by", "until", "till", "this", "early", "late", "mid")


def is_part_number(code: str, cue: int, clear: bool = False) -> bool:
    """A part number has letters and at least three figures, or a dash between; after a cue less is taken.

    `cue`: 2 after "part number", where it may be figures alone, 1 after "number is" and the like; `clear`: written in
    capitals in one piece, or with its dashes said.
    """
    figures, letters = sum(c.isdigit() for c in code), sum(c.isalpha() for c in code)
    if cue == STRONG:
        return (figures >= 2 and letters >= 1 and figures + letters >= 3) or figures >= 5
    if cue == WEAK and letters:
        return figures >= 2 and figures + letters >= 4
    if clear and PLUG.fullmatch(code):
        return True
    if not letters or figures < 2:
        return False
    return figures >= 3 or ("-" in code and letters >= 2 and (clear or figures + letters >= 5))


class PartCues(SpelledPieces):
    """Looks at the words around the figures and letters of a code."""

    def dated(self, at: int) -> bool:
        """Whether the letter's name is that of the month: "november 2023", "the ninth of november twenty two"."""
        if self.lower(at) != MONTH:
            return False
        year = self.numbers.get(at + 2 if self.lower(at + 1) in (",", "of") else at + 1)
        return self.lower(at - 1) in BEFORE_MONTH or (
            year is not None and (1950 <= year.value <= 2099 or (at - 1 in self.numbers and year.value in (19, 20)))
        )

    def fits(self, text: str) -> bool:
        """Whether a text has the shape of one of the user's part numbers (patterns/part_numbers.toml)."""
        return any(shape.fullmatch(text) for shape in self.words.shapes)

    def measured(self, at: int) -> bool:
        """A unit or a currency follows, so that the figures before it are a value."""
        word = self.lower(at)
        return (len(word) > 1 and self.is_unit(word)) or word in self.words.currencies

    def figure_with_unit(self, at: int, last: int) -> bool:
        """ "88Nm", "13-foot-pounds", "10-12mm", "1.6l": a figure and a unit and no code."""
        words = [self.toks[i].lower for i in range(at, last) if self.toks[i].kind == "word"]
        return (
            self.toks[at].kind == "figure"
            and bool(words)
            and (
                "".join(words) in self.unit_forms
                or all(word in self.unit_forms or word in ("k", "x", "to", "plus") for word in words)
            )
        )

    def counts_codes(self, at: int) -> bool:
        """"Ordered three kr dash nine oh nine": a number behind a word of buying or using counts what follows."""
        number = self.numbers.get(at)
        letters = number is not None and number.last == at + 1 and number.value <= MOST_COUNTED and (
            1 <= len(self.lower(at + 1)) <= 3 and self.lower(at + 1).isalpha())
        apart = letters and self.lower(at + 1) not in self.words.ones and (
            self.toks[at + 1].start > self.toks[at].end)
        return apart and self.lower(at - 1) in self.words.counted_behind

    def patched(self, first: int, last: int) -> bool:
        """Of pieces that touch and pieces that do not, and no "dash" said: running text, not letters spelled one by
        one."""
        if any(self.toks[i].kind == "word" and self.lower(i) in self.words.separators for i in range(first, last)):
            return False
        gaps = {self.toks[i].start > self.toks[i - 1].end for i in range(first + 1, last)}
        return len(gaps) > 1

    def numbers_end(self, at: int) -> bool:
        """The figures right before were said one by one."""
        return self.words.ones.get(self.lower(at - 1)) is not None and (
            self.words.ones.get(self.lower(at - 2)) is not None or self.lower(at - 2) in ZEROS
        )

    def counts(self, at: int) -> bool:
        """What follows is counted, measured or paid: "2 sets", "two of them", "38 bucks"."""
        word = self.lower(at)
        return (
            word == "of"
            or self.measured(at)
            or (len(word) > 3 and word.endswith("s") and word[-2] not in "suai" and (word not in self.words.letters))
        )
