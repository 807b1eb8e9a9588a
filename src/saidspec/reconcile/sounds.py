"""Numbers and letters that are mistaken for one another when heard or written down.

Teens and tens ("fifteen", "fifty") differ by an unstressed syllable.  Five and nine are told apart in radio speech by
"niner" and "fife" for that reason (ICAO Annex 10, volume II, radiotelephony pronunciation; recalled from memory).
Letters that rhyme (B, C, D, E, G, P, T, V) or share their vowel are those that spelling alphabets exist for.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

RHYMES = ("BCDEGPTVZ3", "AHJK8", "FSX", "MN", "QU2W", "IY", "LO0", "59")
DIGITS = {"5": "9", "9": "5"}


def swapped(text: str) -> Iterator[str]:
    """Every text that comes of swapping two neighbouring characters that differ; separators do not part neighbours."""
    places = [at for at, sign in enumerate(text) if sign.isalnum()]
    for first, second in pairwise(places):
        if text[first] != text[second]:
            signs = list(text)
            signs[first], signs[second] = signs[second], signs[first]
            yield "".join(signs)


def teen_or_ten(number: int) -> int | None:
    """The number that sounds like this one: 15 for 50, 150 for 115, 60 for 16; None where none does."""
    rest, last = divmod(number, 100)
    if 13 <= last <= 19:
        return rest * 100 + (last - 10) * 10
    if 30 <= last <= 90 and last % 10 == 0:
        return rest * 100 + last // 10 + 10
    return None


def like_sounding(value: Decimal) -> Iterator[Decimal]:
    """The numbers that sound like a number: a teen for a ten, in the whole number or after the point; 5 for 9."""
    text = format(value, "f")
    whole, point, decimals = text.partition(".")
    other = teen_or_ten(int(whole))
    if other is not None:
        yield Decimal(f"{other}{point}{decimals}")
    if 1 <= len(decimals) <= 2:
        after = teen_or_ten(int(decimals.ljust(2, "0")))
        if after is not None:
            yield Decimal(f"{whole}.{after:02d}")
    for at, sign in enumerate(text):
        if sign in DIGITS:
            yield Decimal(text[:at] + DIGITS[sign] + text[at + 1:])
    if value in (7, 11):
        yield Decimal(18) - value


def letters_alike(said: str, wanted: str) -> bool:
    """Whether two codes of one length differ in one character that sounds alike."""
    if len(said) != len(wanted):
        return False
    off = [(one, other) for one, other in zip(said, wanted, strict=True) if one != other]
    return len(off) == 1 and any(off[0][0] in group and off[0][1] in group for group in RHYMES)
