"""The tokens of a text with the numbers found in them, as the readers of codes see them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from saidspec.normalise.number_words import Number
from saidspec.normalise.spelling import SpellingWords
from saidspec.normalise.tokens import Token


@dataclass(frozen=True, slots=True)
class Code:
    """A code in tokens first..last (exclusive).

    `kind` is thread, bit, tyre, pattern, chain, bulb, viscosity, class, trouble, part or date.
    """

    first: int
    last: int
    text: str
    kind: str
    spelled: bool = False
    cost: float = 0.0


LINKS = ("is", "'s", ":", "was", "=", ",", ".", "a", "the", "are", "'re")
STRONG, WEAK = 2, 1  # how surely the words before announce a part number
REACH = 11  # tokens from a cue to its part number: three links and a short phrase between
ZEROS = ("oh", "o", "zero")
HEADS = ("quarter", "half", "torx", "tx", "lt", "st")  # words of more than a letter that begin a designation


class TokenReader:
    """The tokens of a text with the numbers found in them; what readers of codes share."""

    def __init__(self, toks: list[Token], numbers: dict[int, Number], words: SpellingWords,
        is_unit: Callable[[str], bool],
                 unit_forms: frozenset[str] = frozenset(), text: str = "") -> None:
        self.toks, self.numbers, self.words, self.is_unit, self.unit_forms = toks, numbers, words, is_unit, unit_forms
        self.text, self.said, self.size = text, [token.lower for token in toks], len(toks)
        self.spelled_as = {**words.letters, **words.names}
        self.cue_ends = {cue[-1] for cue in (*words.part_cues, *words.weak_cues)}
        self.cue_places = [at for at, token in enumerate(toks) if token.lower in self.cue_ends]
        self.grade_heads = {name[0] for name in words.grades}
        self.heads = {*words.names, *words.letters, *words.doubtful_names, *words.repeats, *words.ones, *ZEROS, *HEADS,
                      *self.grade_heads}

    def lower(self, at: int) -> str:
        return self.said[at] if 0 <= at < self.size else ""

    def letter(self, at: int) -> str:
        word = self.lower(at)
        return self.spelled_as.get(word, word)

    def run(self, first: int, last: int) -> tuple[str, ...]:
        """The words of tokens first..last, in order; empty words outside of the text."""
        return tuple([self.lower(at) for at in range(first, last)])

    def near(self, first: int, last: int) -> set[str]:
        """The words of tokens first..last."""
        return {*self.said[max(0, first) : max(0, last)]}

    def after_hyphen(self, at: int) -> int:
        """The place after a hyphen, or after "dash", if one stands at `at`."""
        return at + 1 if self.lower(at) in ("-", "dash", "hyphen") else at

    def follows(self, at: int, forms: tuple[tuple[str, ...], ...]) -> int | None:
        """The place after the longest of `forms` that stands at `at`, hyphens passed over; None where none does."""
        best = None
        for form in forms:
            place = at
            for word in form:
                place = place + 1 if place > at and self.lower(place) == "-" else place
                if self.lower(place) != word:
                    break
                place += 1
            else:
                best = max(best or place, place)
        return best

    def chained(self, at: int) -> tuple[Decimal, int] | None:
        """A number, or one of three figures said without its hundred: "two twenty five", "two oh five"."""
        number = self.numbers.get(at)
        if number is None:
            return None
        if 1 <= number.value < 10 and number.form in ("words", "figure"):
            tail = self.numbers.get(number.last)
            if tail and 10 <= tail.value < 100 and tail.form in ("words", "decimal"):
                return number.value * 100 + tail.value, tail.last
            if self.lower(number.last) in ZEROS:
                tail = self.numbers.get(number.last + 1)
                if tail and tail.last - tail.first == 1 and 0 < tail.value < 10:
                    return number.value * 100 + tail.value, tail.last
        return number.value, number.last

    def cue(self, at: int) -> int:
        """Whether the words before say that a part number comes: "part number is", "part number for the gasket is"."""
        last = bisect_left(self.cue_places, at) - 1
        if last < 0 or self.cue_places[last] < at - REACH:
            return 0
        end = at
        while end and at - end < 3 and self.lower(end - 1) in LINKS:
            end -= 1
        linked = self.lower(at - 1) in ("is", "'s", ":", "was")
        if not linked and self.lower(end - 1) not in self.cue_ends:
            return 0
        for strength, cues in ((STRONG, self.words.part_cues), (WEAK, self.words.weak_cues)):
            for stop in range(end, max(0, end - 8) if linked else end - 1, -1):
                if stop < end and (strength == WEAK or stop in self.numbers or self.lower(stop) in (".", "\n")):
                    break
                if self.lower(stop - 1) in self.cue_ends and any(
                    self.lower(stop - 1) == cue[-1] and self.run(stop - len(cue), stop) == cue for cue in cues
                ):
                    return strength
        return 0
