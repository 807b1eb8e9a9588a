"""Everyday words that are letters of a code: the "a" of "a f dash two two zero", "I P dash 614", "WE 7731".

"A" and "i" are mostly an article and a pronoun; what stands around them tells which.
"""

from __future__ import annotations

from saidspec.normalise.code_tokens import STRONG, ZEROS
from saidspec.normalise.codes import CodeReader

ENDS = ("", "\n", ".", ",", ";", "!", "?", ")")
NEARBY = 40  # characters in which a small letter shows that a text is not in capitals throughout
FIGURES = 3  # of a part number


class LetterWords(CodeReader):
    """Tells where an everyday word is spelled out and not meant."""

    def may_begin(self, at: int) -> bool:
        return super().may_begin(at) or self.no_word(at)

    def everyday_letter(self, at: int, text: str) -> bool:
        """Whether an everyday word is a letter, or letters, of the code whose text so far is `text`."""
        if self.lower(at) not in ("a", "i"):
            return not text and self.no_word(at)
        return self.closing(at, text) if text else self.opening(at)

    def opening(self, at: int) -> bool:
        """"A f dash two two zero" (before the name of f an article would be "an"), "I P dash six", "the a c dash"."""
        nxt, word = self.lower(at + 1), self.lower(at)
        if nxt in self.words.separators:
            return self.digit_at(at + 2)
        if self.cue(at) == STRONG and self.digit_at(at + 1):
            return True  # "part number a two two zero four"
        letter = self.letter(at + 1)
        if len(letter) != 1 or not letter.isalpha() or not self.spelling_on(at + 2):
            return False
        if self.spoken(at + 1) and not self.cue(at):
            return False  # "threw a p zero seven four one"
        return word == "i" or letter in self.words.vowel_names or not self.article_here(at)

    def article_here(self, at: int) -> bool:
        """Whether an article may stand at a token: behind a verb, a preposition or a mark; not behind another article
        and not behind a noun.
        """
        before = self.lower(at - 1)
        if self.cue(at):
            return False
        return before in (*ENDS, "-") or before in self.words.before_article or before.endswith(("ed", "ing"))

    def closing(self, at: int, text: str) -> bool:
        """"Seven seven four two a." and "k a four four one": within letters, before a dash, or where nothing follows
        that an article could belong to.
        """
        nxt = self.lower(at + 1)
        if nxt in self.words.separators:
            return self.spelling_on(at + 2)
        if text.isalpha():
            return self.digit_at(at + 1) or (len(self.letter(at + 1)) == 1 and self.spelling_on(at + 2))
        if not text[:1].isalpha() or sum(char.isdigit() for char in text) < FIGURES:
            return False
        return nxt in ENDS or (self.lower(at) == "a" and nxt in self.words.behind_code)

    def no_word(self, at: int) -> bool:
        """"Fitted a WE 7731 filter": a small word before a figure, in capitals or behind an article, where it is none.
        """
        word = self.lower(at)
        if word not in self.words.no_nouns:
            return False
        number = self.numbers.get(self.after_hyphen(at + 1))
        if number is None or len(number.digits) < FIGURES or not number.digits.isdigit():
            return False
        return self.lower(at - 1) in ("a", "an", "the") or self.capitals(at)

    def capitals(self, at: int) -> bool:
        """In capitals, in a text that is not written so throughout."""
        start, end = self.toks[at].start, self.toks[at].end
        around = self.text[max(0, start - NEARBY) : start] + self.text[end : end + NEARBY]
        return self.text[start:end].isupper() and any(char.islower() for char in around)

    def spelling_on(self, at: int) -> bool:
        """Figures, a separator, or one more letter follow."""
        word = self.lower(at)
        if self.digit_at(at) or word in self.words.separators or word in self.words.repeats:
            return True
        return len(self.letter(at)) == 1 and self.letter(at).isalpha() and word not in ("a", "i")

    def digit_at(self, at: int) -> bool:
        """Whether a figure, in digits or in a word, stands at a token."""
        return at in self.numbers or self.lower(at) in self.words.ones or self.lower(at) in ZEROS
