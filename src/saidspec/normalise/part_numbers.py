"""Part numbers, written and spelled out: "KD-3318-F", "four one dash seven seven b as in bravo", "pee vee eight one
six"."""

from __future__ import annotations

import re

from saidspec.normalise.code_tokens import STRONG, ZEROS, Code
from saidspec.normalise.designations import PART
from saidspec.normalise.part_cues import PartCues, is_part_number

LONGEST = 24  # letters and figures of a part number


FIGURES = re.compile(r"(\d{2})-(\d{4,6})")


def _figures_of_a_part(code: str) -> bool:
    """"40-1187": no range, for the ends are too far apart, no telephone number, and no month of a year."""
    found = FIGURES.fullmatch(code)
    return found is not None and not (int(found[1]) <= 12 and 1950 <= int(found[2]) <= 2099)


class PartNumberReader(PartCues):
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
            return Code(at, last, code, "part", False) if _figures_of_a_part(code) else None
        return Code(at, last, code, "part") if PART.fullmatch(code) and is_part_number(code, cue, clear) else None

    # -- spelled out
    def spelled(self, at: int, cue: int) -> Code | None:
        """The longest run of letters, figures and separators that makes a part number."""
        place, text, dashes, fresh = at, "", 0, True
        if at and self.toks[at - 1].end == self.toks[at].start and self.toks[at - 1].lower not in "(\"'‘“:,#":
            return None
        if self.counts_codes(at):
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
        return text[-1].isalpha() and figures > 1 and self.toks[at].start > self.toks[at - 1].end and len(piece) > 1
