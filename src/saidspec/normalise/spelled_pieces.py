"""The pieces of a part number that is spelled out: "four one dash seven seven b as in bravo", "double seven"."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from saidspec.normalise.code_tokens import STRONG, ZEROS
from saidspec.normalise.letter_words import LetterWords
from saidspec.normalise.number_words import Number

VERBS = frozenset({"are", "be", "see", "you", "why"})  # that are names of letters too
SPELLED_BEHIND = frozenset({"is", "'s", "are", "was", "were", "a", "an", "the", "number"})


class SpelledPieces(LetterWords):
    """Reads one piece of a spelled code at a place: a separator, figures, or letters."""

    def element(self, at: int, text: str, fresh: bool) -> tuple[str, int] | None:
        """The next piece of a spelled code: a separator, figures, or letters; and the place after."""
        word = self.lower(at)
        if not word or word == "\n":
            return None
        if word in self.words.separators:
            return (self.words.separators[word], at + 1) if text else None
        if word in ("-", "/"):
            return (word, at + 1) if text else None
        if word in self.words.points:
            return (".", at + 1) if text and "/" in text and text[-1].isdigit() else None
        if word in self.words.repeats:
            return self.repeated(at)
        number = self.numbers.get(at)
        if number and number.form == "decimal" and "/" in text and fresh:
            return f"{number.value:f}", number.last
        if number and number.form in ("figure", "words", "digits", "chain", "scaled") and number.digits:
            unit = self.lower(number.last)
            if text and not fresh and not text[-1].isdigit() and len(unit) > 1 and self.is_unit(unit):
                return None
            if not number.digits.isdigit() or (number.form == "figure" and not self.toks[at].lower.isdigit()):
                return None
            if text and number.form == "digits" and len(number.digits) > 1 and self.lower(number.last) == "of":
                return number.digits[:-1], self.split_off(at)
            return number.digits, number.last
        one = self.words.ones.get(word)
        if one is not None and number is None:
            return str(one), at + 1
        if word in ZEROS and not text and self.digit_at(at + 1) and self.cue(at) == STRONG:
            return "0", at + 1  # "part number's oh four seven dash nine one one five"
        if word in ZEROS and text and (text[-1].isdigit() or fresh or (text[-1].isalpha() and self.digit_at(at + 1))):
            return "0", at + 1
        return self.spelled_letters(at, text, fresh)

    def split_off(self, at: int) -> int:
        """Part the last figure of the digits at `at` from the others, as it counts: "four zero seven two, four of
        them"; its place.
        """
        number = self.numbers[at]
        last, digits = number.last - 1, number.digits[:-1]
        self.numbers[last] = Number(last, number.last, Decimal(number.digits[-1]), "words", number.digits[-1])
        self.numbers[at] = replace(number, last=last, value=Decimal(digits), digits=digits)
        return last

    def repeated(self, at: int) -> tuple[str, int] | None:
        """ "Double seven" is 77, "triple zero" 000; "double seven one" is 771."""
        times, number = self.words.repeats[self.lower(at)], self.numbers.get(at + 1)
        if number and number.digits.isdigit() and (len(number.digits) == 1 or number.form == "digits"):
            return number.digits[0] * (times - 1) + number.digits, number.last
        if self.lower(at + 1) in ZEROS:
            return "0" * times, at + 2
        one = self.words.ones.get(self.lower(at + 1))
        if one is not None:
            return str(one) * times, at + 2
        letter = self.letter(at + 1)
        return (letter * times, at + 2) if len(letter) == 1 and letter.isalpha() and letter != "u" else None

    def spelled_letters(self, at: int, text: str, fresh: bool) -> tuple[str, int] | None:
        word = self.lower(at)
        if self.toks[at].kind != "word":
            return None
        told = self.as_in(at, text)
        if told:
            return told
        name = self.words.names.get(word) or self.words.letters.get(word)
        if name and (text or self.goes_on(at + 1)):
            return name, at + 1
        doubtful = self.words.doubtful_names.get(word)
        if doubtful and not text and self.verb_here(at):
            return None  # "bushes are em bee 41"
        if doubtful and (
            (fresh and text and not self.goes_on_word(at + 1))
            or self.lower(at + 1) in self.words.separators
            or self.lower(at + 1) in self.words.names
            or (self.lower(at + 1) in self.words.doubtful_names and self.lower(at + 2) in self.words.separators)
        ):
            return doubtful, at + 1
        if fresh and text.strip("-").isdigit() and len(word) > 2 and self.lower(at - 1) == "-":
            return None  # "45-ish"
        joined = bool(text) and self.toks[at].start == self.toks[at - 1].end
        if (
            len(word) <= 3
            and word.isascii()
            and ((fresh and text) or joined or word not in self.words.not_letters or self.everyday_letter(at, text))
            and (
                word not in self.unit_forms
                or (len(word) == 1 and (fresh or text[:1].isalpha() or (joined and self.touches_figures(at))))
                or self.lower(at + 1) in self.words.separators
            )
        ):
            if len(word) > 1 and not self.plausible(at):
                return None
            return word, at + 1
        return None

    def touches_figures(self, at: int) -> bool:
        """Figures follow without a blank: the "K" of "7K0-442"."""
        return self.digit_at(at + 1) and self.toks[at].end == self.toks[at + 1].start

    def goes_on(self, at: int) -> bool:
        """Figures, a separator or another letter of a spelling alphabet follow."""
        word = self.lower(at)
        return (
            word in self.words.separators
            or word == "-"
            or word in self.words.names
            or (word in self.words.letters)
            or (self.digit_at(at) or word in self.words.repeats)
        )

    def verb_here(self, at: int) -> bool:
        """Whether a word that is the name of a letter too stands where a verb does: behind a noun."""
        return self.lower(at) in VERBS and at > 0 and self.at_word(at - 1) and self.lower(at - 1) not in SPELLED_BEHIND

    def goes_on_word(self, at: int) -> bool:
        """A word of running speech follows, so that "are" and "see" are words as well."""
        return self.at_word(at) and not self.goes_on(at)

    def at_word(self, at: int) -> bool:
        return at < len(self.toks) and self.toks[at].kind == "word"

    def as_in(self, at: int, text: str) -> tuple[str, int] | None:
        """ "B as in bravo", "b j as in bravo juliet", "b for bravo": the letter, and the place after its words."""
        word, place = self.lower(at), at + 1
        if len(word) != 1 or self.lower(place) not in ("as", "for", "like"):
            return None
        place += 1 + (self.lower(place + 1) == "in")
        spelled = text[-4:].lower() + word
        first = place
        while self.lower(place) in self.words.letters and place - first < len(spelled):
            place += 1
        initials = "".join(self.words.letters[self.lower(i)] for i in range(first, place))
        if initials and spelled.endswith(initials):
            return word, place
        return (word, first + 1) if self.lower(first)[:1] == word and len(self.lower(first)) > 2 else None

    def plausible(self, at: int) -> bool:
        """Two or three letters are letters of a code if a dash or a figure comes next to them."""
        nxt = self.lower(at + 1)
        return (
            nxt in self.words.separators
            or nxt in ("-", "/")
            or nxt in self.words.repeats
            or self.digit_at(at + 1)
            or (self.lower(at - 1) in self.words.separators or self.lower(at - 1) in ("-", "/"))
        )
