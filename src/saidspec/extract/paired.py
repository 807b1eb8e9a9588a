"""Two places said of one phrase ("upper and lower arm bolts"), and the long and short ones of a set of bolts."""

from __future__ import annotations

from dataclasses import replace

from saidspec.extract.mention import Mention, Positions, phrase_of_both
from saidspec.extract.passage import Found, Passage

PAIRING = frozenset({"and", "&"})
UNPAIRED = ("order", "side")  # "left and right" is a position of its own: both sides
WRITTEN: dict[tuple[str, ...], Positions] = {
    ("f", "/", "r"): (("end", "front"), ("end", "rear")), ("l", "/", "r"): (("side", "left"), ("side", "right"))}
UNITS = frozenset({"mm", "mil", "inch", "millimetre", "psi", "bar", "volt", "v", "thou", "ohm", "nm", "ml", "l",
                   "litre", "cc"})
LENGTHS = {"long": "long", "longer": "long", "short": "short", "shorter": "short"}
ONES = frozenset({"one", "ones"})


def pair_at(page: Passage, at: int) -> tuple[Positions, int] | None:
    """The two places at token `at`, and the token behind them; not those of two values, "4 inner and outer 3 mm"."""
    written = WRITTEN.get(tuple(page.words(at, at + 3)))
    if written is not None:
        return written, at + 3  # "tyres F/R 32/36 psi"
    one = page.starting("position", at)
    if one is None or page.word(one.end) not in PAIRING:
        return None
    other = page.starting("position", one.end + 1)
    axis = _axis(one)
    if other is None or axis != _axis(other) or axis in UNPAIRED or one.term.id == other.term.id:
        return None
    if behind_value(page, at) and other.end < len(page) and page.lexemes[other.end].kind == "number":
        return None
    return ((axis, one.term.id), (axis, other.term.id)), other.end


def behind_value(page: Passage, at: int) -> bool:
    """Whether a token stands right behind a figure or its unit."""
    return at > 0 and (page.lexemes[at - 1].kind == "number" or page.word(at - 1) in UNITS)


def _axis(item: Found) -> str:
    return item.term.detail or "side"


def length_said(page: Passage, at: int) -> str | None:
    """"The long ones", "short bolts": which of the fasteners of a set."""
    said = LENGTHS.get(page.word(at))
    behind = page.word(at + 1) in ONES or page.starting("fastener", at + 1) is not None
    return said if said and behind and page.word(at - 1) not in ("too", "very", "how", "so") else None


def sides_said(page: Passage, mention: Mention) -> Positions:
    """The two places of a mention: those of its pair, or left and right."""
    if mention.pair or mention.axis("side") != "both sides":
        return mention.pair
    words = page.words(mention.start, mention.end)
    return (("side", "left"), ("side", "right")) if {"left", "right"} <= {*words} else ()


def apart(page: Passage, mention: Mention) -> list[Mention]:
    """The two mentions that a pair stands for, else the mention itself."""
    pair = sides_said(page, mention)
    if not pair:
        return [mention]
    held = tuple(place for place in mention.positions if place[0] != pair[0][0])
    return [replace(mention, positions=(*held, place), pair=()) for place in pair]


def together(one: Mention, other: Mention) -> Mention:
    """The mention that names two parts as one: "vent and drain screw", "arm bolt" for the upper and the lower one."""
    shared = tuple(place for place in other.positions if place in one.positions)
    return replace(other, words=phrase_of_both(one.words, other.words), positions=shared, plural=True)
