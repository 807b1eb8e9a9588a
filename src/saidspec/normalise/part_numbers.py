"""Part numbers, written and spelled out: "KD-3318-F", "four one dash seven seven b as in bravo", "pee vee eight one
six"."""

from __future__ import annotations

from bisect import bisect_left

from saidspec.normalise.code_tokens import ZEROS, Code
from saidspec.normalise.codes import CodeReader
from saidspec.normalise.designations import PART

LINKS = ("is", "'s", ":", "was", "=", ",", ".", "a", "the", "are", "'re")
STRONG, WEAK = 2, 1
REACH = 11  # tokens from a cue to its part number: three links and a short phrase between
MONTH = "november"  # the one letter of the spelling alphabet that is also a month
BEFORE_MONTH = ("of", "in", "last", "since", "next", "by", "until", "till", "this", "early", "late", "mid")
LONGEST = 24  # letters and figures of a part number


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
    if not letters or figures < 2:
        return False
    return figures >= 3 or ("-" in code and letters >= 2 and (clear or figures + letters >= 5))


class PartNumberReader(CodeReader):
    """Reads designations and part numbers; a part number that goes on where a designation ends is the longer one."""

    def read(self, at: int) -> Code | None:
        cue = self.cue(at)
        if cue != STRONG and self.dated(at):
            return None
        if cue == STRONG:
            found = self.piece(at, cue) or self.spelled(at, cue)
            if found:
                return found
        found = self.written(at) or self.spoken(at)
        if found is None:
            return self.piece(at, cue) or self.spelled(at, cue)
        if found.kind in ("thread", "bit", "trouble", "tyre") and self.lower(found.last) in ("dash", "hyphen"):
            longer = self.spelled(at, cue)
            return longer if longer and longer.last > found.last + 1 else found
        return found

    def dated(self, at: int) -> bool:
        """Whether the letter's name is that of the month: "november 2023", "the ninth of november twenty two"."""
        if self.lower(at) != MONTH:
            return False
        year = self.numbers.get(at + 2 if self.lower(at + 1) in (",", "of") else at + 1)
        return self.lower(at - 1) in BEFORE_MONTH or (
            year is not None and (1950 <= year.value <= 2099 or (at - 1 in self.numbers and year.value in (19, 20)))
        )

    def cue(self, at: int) -> int:
        """Whether the words before say that a part number comes: "part number is", "part number for the gasket is"."""
        last = bisect_left(self.cue_places, at) - 1
        if last < 0 or self.cue_places[last] < at - REACH:
            return 0
        end = at
        while end and at - end < 3 and self.lower(end - 1) in LINKS:
            end -= 1
        for strength, cues in ((STRONG, self.words.part_cues), (WEAK, self.words.weak_cues)):
            for stop in range(end, max(0, end - 8), -1):
                if stop < end and (
                    self.lower(at - 1) not in ("is", "'s", ":", "was")
                    or strength == WEAK
                    or stop in self.numbers
                    or self.lower(stop) in (".", "\n")
                ):
                    break
                if self.lower(stop - 1) in self.cue_ends and any(
                    tuple(self.lower(i) for i in range(stop - len(cue), stop)) == cue for cue in cues
                ):
                    return strength
        return 0

    def fits(self, text: str) -> bool:
        """Whether a text has the shape of one of the user's part numbers (patterns/part_numbers.toml)."""
        return any(shape.fullmatch(text) for shape in self.words.shapes)

    def shaped(self, at: int) -> Code | None:
        """The longest run of letters, figures and separators that has one of those shapes."""
        place, text, found = at, "", None
        if at in self.numbers and self.measured(self.numbers[at].last):
            return None
        while place < len(self.toks) and len(text) < LONGEST:
            step = self.element(place, text, not text or not text[-1].isalnum())
            if step is None:
                break
            text, place = text + step[0], step[1]
            if place > at + 1 and self.fits(text.upper()) and not self.counts(place):
                found = Code(at, place, text.upper(), "part", True, 0.1)
        return found

    # -- written in one piece
    def piece(self, at: int, cue: int) -> Code | None:
        toks = self.toks
        if at and toks[at - 1].end == toks[at].start and toks[at - 1].kind not in ("mark", "suffix"):
            return None
        last = self.chunk(at)
        text = self.text[toks[at].start : toks[last - 1].end]
        alone = last == at + 1
        if (
            self.words.shapes
            and self.fits(text.upper())
            and not self.figure_with_unit(at, last)
            and not self.measured(last)
        ):
            return Code(at, last, text.upper(), "part")
        if (last < len(toks) and self.lower(last) in ("dash", "hyphen", "slash", "stroke")) or (
            alone and (cue != STRONG or not text.isdigit())
        ):
            return None
        if not any(c.isdigit() for c in text) or self.figure_with_unit(at, last) or self.measured(last):
            return None
        code = text.upper()
        clear = text == code and "-" in code
        if (
            not cue
            and not clear
            and any(
                len(self.toks[i].lower) > 3 - (self.toks[at].kind == "figure")
                for i in range(at, last)
                if self.toks[i].kind == "word"
            )
        ):
            return None  # "45-ish", "12-point"
        if cue == STRONG and (alone or code.isdigit()) and (last in self.numbers or len(code) < 5):
            return None
        if not any(c.isalpha() for c in code) and cue != STRONG:
            return None
        return Code(at, last, code, "part") if PART.fullmatch(code) and is_part_number(code, cue, clear) else None

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

    # -- spelled out
    def spelled(self, at: int, cue: int) -> Code | None:
        """The longest run of letters, figures and separators that makes a part number."""
        place, text, dashes, fresh = at, "", 0, True
        if at and self.toks[at - 1].end == self.toks[at].start and self.toks[at - 1].lower not in "(\"'‘“:,#":
            return None
        if self.words.shapes and (shaped := self.shaped(at)):
            return shaped
        while place < len(self.toks):
            if text and self.toks[place].start - self.toks[place - 1].end > 1:
                break
            step = self.element(place, text, fresh)
            if step is None or (text and self.stops(place, text, fresh, step)):
                break
            piece, after = step
            if piece in ("-", "/", "."):
                nxt = None if fresh else self.element(after, text + piece, True)
                if nxt is None or nxt[0] in ("-", "/", ".") or self.stops(after, text + piece, True, nxt):
                    break
                dashes += piece != "." or "/" in text
            fresh = piece in ("-", "/", ".")
            text, place = text + piece, after
            if len(text) > LONGEST + 8:  # figures that are read out, and none of them a part number
                return None
        text = text.strip("-/.").upper()
        if (
            (place == at + 1 and cue != STRONG)
            or not is_part_number(text, cue, dashes > 0)
            or (self.measured(place) and not dashes)
        ):
            return None
        if not (dashes or cue or (text[:1].isalpha() and sum(c.isdigit() for c in text) >= 3)) or (
            text[1:2] == "/" and text[:1].isalpha()
        ):
            return None
        if (not cue and self.patched(at, place)) or (text[0] == "X" and at - 1 in self.numbers):
            return None
        return Code(at, place, text, "part", True, 0.1)

    def patched(self, first: int, last: int) -> bool:
        """Of pieces that touch and pieces that do not, and no "dash" said: running text, not letters spelled one by
        one."""
        if any(self.toks[i].kind == "word" and self.lower(i) in self.words.separators for i in range(first, last)):
            return False
        gaps = {self.toks[i].start > self.toks[i - 1].end for i in range(first + 1, last)}
        return len(gaps) > 1

    def stops(self, at: int, text: str, fresh: bool, step: tuple[str, int]) -> bool:
        """Whether the code ends before this piece: a price, a count or another way of saying figures begins."""
        piece, after = step
        figures = sum(c.isdigit() for c in text)
        apart = self.toks[at].start > self.toks[at - 1].end
        if figures >= 3 and not fresh and piece != "." and apart and (self.written(at) or self.spoken(at)):
            return True
        if piece.isalpha():
            return text[-1].isdigit() and not fresh and len(piece) > 2
        if not piece.isdigit() or fresh:
            return False
        if figures >= 3 and self.counts(after):
            return True
        if text[-1].isdigit() and figures >= 3:
            said = self.toks[at].kind == "figure"
            before = said if self.lower(at - 1) in ZEROS else self.toks[at - 1].kind == "figure"
            if said != before and not {self.lower(at), self.lower(at - 2)} & self.words.repeats.keys():
                return True  # "1 1 8 0 four": figures, then a word
            one_by_one = self.numbers_end(at) and len(piece) > 1 and not said
            return bool(one_by_one) and self.numbers[at].form == "words" if at in self.numbers else False
        return text[-1].isalpha() and figures > 0 and self.toks[at].start > self.toks[at - 1].end and len(piece) > 1

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
            return number.digits, number.last
        one = self.words.ones.get(word)
        if one is not None and number is None:
            return str(one), at + 1
        if word in ZEROS and text and (text[-1].isdigit() or fresh or (text[-1].isalpha() and self.digit_at(at + 1))):
            return "0", at + 1
        return self.spelled_letters(at, text, fresh)

    def digit_at(self, at: int) -> bool:
        return at in self.numbers or self.lower(at) in self.words.ones or self.lower(at) in ZEROS

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
        if doubtful and (
            (fresh and text and not self.goes_on_word(at + 1))
            or self.lower(at + 1) in self.words.separators
            or self.lower(at + 1) in self.words.names
        ):
            return doubtful, at + 1
        if fresh and text.strip("-").isdigit() and len(word) > 2 and self.lower(at - 1) == "-":
            return None  # "45-ish"
        joined = bool(text) and self.toks[at].start == self.toks[at - 1].end
        if (
            len(word) <= 3
            and word.isascii()
            and ((fresh and text) or joined or word not in self.words.not_letters)
            and (
                word not in self.unit_forms
                or (len(word) == 1 and (fresh or text[:1].isalpha()))
                or self.lower(at + 1) in self.words.separators
            )
        ):
            if len(word) > 1 and not self.plausible(at):
                return None
            return word, at + 1
        return None

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
