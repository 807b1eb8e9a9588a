"""Numbers and codes that are taken for others when heard: [[doubtful]] of patterns/mishearings.

A doubtful value stays as it was heard; here is what else it may be.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Any

from saidspec.patterns import listed, rule_set, user_folder
from saidspec.rule_formats import usable


@dataclass(frozen=True, slots=True)
class Confusion:
    """One way in which numbers or codes are confused; see the head of the entries for what each field means."""

    id: str
    of: str
    signs: frozenset[str] = frozenset()
    endings: tuple[tuple[int, int], ...] = ()
    numbers: tuple[tuple[int, int], ...] = ()
    point: int = 0
    one_word: bool = False


def confusions(entries: Iterable[dict[str, Any]]) -> tuple[Confusion, ...]:
    """The entries of rule files as confusions."""
    return tuple(
        Confusion(entry["id"], entry["of"], frozenset(listed(entry.get("signs"))), _pairs(entry.get("endings")),
                  _pairs(entry.get("numbers")), entry.get("point", 0), entry.get("one_word", False))
        for entry in entries
    )  # fmt: skip


def load_confusions(own: Path | None = None) -> tuple[Confusion, ...]:
    """The package's confusions with those of the folder `own` (default: the user's folder of words)."""
    return _loaded(own or user_folder())


@lru_cache(maxsize=4)
def _loaded(own: Path | None) -> tuple[Confusion, ...]:
    return confusions(usable(rule_set(own)).entries("mishearings", "doubtful"))


def _pairs(told: str | None) -> tuple[tuple[int, int], ...]:
    """Pairs of numbers, each both ways round."""
    pairs = [(int(one), int(other)) for one, other in (pair.split() for pair in listed(told))]
    return tuple(pairs + [(other, one) for one, other in pairs])


def like_sounding(value: Decimal, known: Iterable[Confusion]) -> Iterator[Decimal]:
    """The numbers that sound like a number: 50 for 15, 0.30 for 0.13, 19 for 15, 11 for 7."""
    text = format(value, "f")
    whole, point, decimals = text.partition(".")
    for confusion in known:
        if confusion.of != "number":
            continue
        for ending, other in confusion.endings:
            if int(whole) % 100 == ending:
                yield Decimal(f"{int(whole) - ending + other}{point}{decimals}")
            if 1 <= len(decimals) <= 2 and int(decimals.ljust(2, "0")) == ending:
                yield Decimal(f"{whole}.{other:02d}")
        for at, sign in enumerate(text):
            for other_sign in sorted(confusion.signs - {sign}) if sign in confusion.signs else ():
                yield Decimal(text[:at] + other_sign + text[at + 1:])
        yield from (Decimal(other) for number, other in confusion.numbers if value == number)


def point_elsewhere(value: Decimal, known: Iterable[Confusion]) -> Iterator[Decimal]:
    """The numbers that a number is with its decimal point dropped, added or moved, the nearest first."""
    for places in range(1, max((one.point for one in known if one.of == "number"), default=0) + 1):
        yield value * 10**places
        yield value * Decimal(10) ** -places


def codes_alike(one: str, other: str, known: Iterable[Confusion]) -> bool:
    """Whether two codes of one length differ in one character that is taken for the other's, or in two figures that
    are said as a number which sounds like the other: 5115 and 5150.
    """
    if len(one) != len(other):
        return False
    off = [at for at, (sign, wanted) in enumerate(zip(one, other, strict=True)) if sign != wanted]
    if len(off) == 2 and off[1] == off[0] + 1:
        pair = one[off[0]:off[1] + 1], other[off[0]:off[1] + 1]
        return all(figures.isdecimal() for figures in pair) and any(
            (int(pair[0]), int(pair[1])) in confusion.endings for confusion in known)
    return len(off) == 1 and any(confusion.of == "code" and {one[off[0]], other[off[0]]} <= confusion.signs
                                 for confusion in known)


def said_alike(code: str, known: Iterable[Confusion]) -> Iterator[str]:
    """The codes that are said with the very same words as a code: VO-1132 for V0-1132.

    A figure among figures is one: the zero of KD-3308 is no O.
    """
    for confusion in known:
        if confusion.of != "code" or not confusion.one_word:
            continue
        for at, sign in enumerate(code):
            beside = code[max(0, at - 1):at] + code[at + 1:at + 2]
            if sign in confusion.signs and not (sign.isdigit() and beside.isdigit()):
                yield from (code[:at] + other + code[at + 1:] for other in sorted(confusion.signs - {sign}))
