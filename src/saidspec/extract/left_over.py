"""What is said to be left of things that were counted: "two left in the tin", "one filter left", "half a bottle left".

"One" and "half a" are numbers of things only where the words behind tell that they are what is left; elsewhere they
are a pronoun ("that one") and a state ("half worn").
"""

from __future__ import annotations

from decimal import Decimal

from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity, number_at

REACH = 14  # tokens behind a number that may tell that it is left
CLOSE = 3  # adjectives between a number and what it counts
A_SIDE = frozenset({"the", "on", "to", "my", "your", "front", "rear", "upper", "lower", "top", "bottom", "hand"})
NOT_LEFT = frozenset({"side", "hand", "one", "ones", "of", "to", "a", "an", "it", "them", "me", "him", "hander", "by"})
PARTED = frozenset({".", ";", "\n", ":", "but", "then", "none", "no"})
ENDS = frozenset({"", ".", ",", ";", "\n", "and", "but", "so", "now", "still", "for"})
AND = frozenset({"and", ",", "&", "plus"})
POINTED = frozenset({"this", "that", "the", "each", "other", "which", "every", "last", "next", "another", "no", "any",
                     "right", "left", "new", "old", "first", "second", "good", "bad", "of"})
NUMBERING = frozenset({"one", "half", "quarter", "none"})
OF_PART = ("position", "part", "fastener", "short", "modifier", "head")
WORN_IN = frozenset({"mm", "mil", "millimetre", "inch", "thou", "percent"})  # units of what is not yet worn away
COUNTED = ("part", "fastener", "short", "modifier", "material")


def is_left(page: Passage, at: int) -> bool:
    """Whether the word at a token tells that something is left: "left over", "spare"; not "on the left"."""
    word = page.word(at)
    if word == "left":
        behind = page.word(at + 1)
        return not (page.word(at - 1) in A_SIDE or behind in NOT_LEFT or _names_a_part(page, at + 1))
    return word in page.classes.left_over and page.word(at - 1) not in ("the", "my", "a")


def _names_a_part(page: Passage, at: int) -> bool:
    return page.word(at) != "over" and any(page.inside(name, at) for name in OF_PART)


def kept_in(page: Passage, at: int) -> int:
    """The end of "in the tin", "on the shelf" at a token: where things are kept; `at` itself where it is none."""
    place = at + 1
    if page.word(at) not in ("in", "on"):
        return at
    while page.word(place) in ("the", "my", "our", "a", "that") and place - at < 3:
        place += 1
    return place + 1 if page.word(place) in page.classes.kept_in and page.word(place + 1) in ENDS else at


def told_left(page: Passage, at: int) -> bool:
    """Whether the words from a token on, up to the next number or deed, tell that what was counted is left.

    Things in a row share what is said behind them: "three oil filters and one air filter on the shelf".
    """
    last = min(at + REACH, page.sentence_end(at - 1))
    for place in range(at, last):
        word = page.word(place)
        counts = number_at(page, place) or word == "one"
        if word in PARTED or word in page.classes.taking:
            return False
        if counts and (page.word(place - 1) not in AND or is_left(page, place + 1)):
            return False
        if is_left(page, place):
            return True
        if (end := kept_in(page, place)) > place and page.word(end - 1) in page.classes.shelves:
            return True
    return False


def claim_left(page: Passage) -> None:
    """Let "left" be no side where it tells what is left of things counted: "one filter | left | on the shelf"."""
    gone = {at for at, word in enumerate(page.norm) if word == "left" and page.inside("position", at)
            and is_left(page, at) and (_of_things(page, at) or _not_yet_worn(page, at))}  # fmt: skip
    if not gone:
        return
    page.found["position"] = [found for found in page.found["position"] if gone.isdisjoint(range(*found[:2]))]
    page.at["position"] = {found.start: found for found in page.found["position"]}
    page.covered["position"] = {at for found in page.found["position"] for at in range(found.start, found.end)}
    for at in gone:
        page.component[at] = [pair for pair in page.component.get(at, ()) if pair[0] != "position"]


def _of_things(page: Passage, at: int) -> bool:
    """Whether a "left" is behind things that were counted, or says where they are kept; not "0.04 left, 0.03 right"."""
    first = max(page.sentence_start(at), at - REACH)
    if page.word(at + 1) == "over" or kept_in(page, at + 1) > at + 1:
        return any(number_at(page, place) or page.word(place) in NUMBERING for place in range(first, at))
    if page.word(at + 1) not in ENDS or "right" in page.words(first, at + REACH):
        return False
    return any((number_at(page, place) or page.word(place) in NUMBERING) and _counts(page, place + 1)
               and told_left(page, place + 1) for place in range(first, at))  # fmt: skip


def _not_yet_worn(page: Passage, at: int) -> bool:
    """"Pads about four mil left": what is left of a part that wears, where no other side is told of near it."""
    if page.word(at - 1) not in WORN_IN or page.word(at + 1) not in ENDS:
        return False
    first, last = max(0, at - REACH), min(at + REACH, len(page))
    if page.classes.wearing.isdisjoint(page.words(first, at)):
        return False
    return not any(page.inside("position", place) and {"left", "right", "side", "nearside", "offside"} & {
        *page.words(place, place + 2)} for place in (*range(first, at), *range(at + 1, last)))


def left_right_behind(page: Passage, at: int) -> bool:
    """"Four left", "two spare in the tin": the word stands where the thing counted would, and no thing behind it."""
    alone = page.word(at) == "left" or page.word(at + 1) in ENDS or kept_in(page, at + 1) > at + 1
    return alone and is_left(page, at)


def kept_pieces(page: Passage) -> list[Quantity]:
    """"One" and "half a" where they count what is left: "one tin of cleaner left", "half a bottle left"."""
    found = []
    for at, word in enumerate(page.norm):
        if page.lexemes[at].kind != "word" or word not in ("one", "half", "quarter"):
            continue
        if word == "one" and page.word(at - 1) not in POINTED and (
                left_right_behind(page, at + 1) or (_counts(page, at + 1) and told_left(page, at + 1))):
            found.append(Quantity(at, at + 1, at, Decimal(1), form="words"))
        elif word != "one" and page.word(at + 1) in ("a", "of") and _package(page, at + 2) and (
                told_left(page, at + 2) or _still_got(page, at)):
            part = Decimal("0.5") if word == "half" else Decimal("0.25")
            found.append(Quantity(at, at + 2, at, part, form="fraction"))
    return found


def _counts(page: Passage, at: int) -> bool:
    """Whether a thing that can be kept is named at a token: a part, a consumable, a tin or a set of something."""
    place = at
    while place - at < CLOSE and page.word(place) in page.classes.value_adjectives and page.word(place) != "of":
        place += 1
    return _package(page, place) or any(page.inside(name, place) for name in COUNTED)


def _package(page: Passage, at: int) -> bool:
    word = page.word(at)
    return word in page.classes.packages or (word in page.classes.sets and page.word(at + 1) == "of")


def _still_got(page: Passage, at: int) -> bool:
    """"Still got half a tube"."""
    return page.word(at - 1) in ("got", "have") and "still" in page.words(at - 3, at)


def contents(page: Passage, at: int) -> Mention | None:
    """What the package at a token holds: "tin | of brake cleaner", "set of pads"; a part is left to its own phrase."""
    if page.word(at + 1) != "of":
        return None
    found = next((item for place in range(at + 2, at + 5) if (item := page.starting("material", place))), None)
    if found is None:
        return None
    return Mention(found.start, found.end, tuple(page.norm[found.start : found.end]), (), "part", "", False)
