"""What is gone: "none left", "used the last crush washer", "ran out of brake cleaner": a count of nothing left."""

from __future__ import annotations

from decimal import Decimal

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES
from saidspec.extract.left_over import contents, is_left, kept_in
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.surroundings import Surroundings

SIGNS = frozenset({"none", "no", "last", "out"})
BACK = 12  # tokens from "none left" to what was counted
OVER = frozenset({"more", "new", "spare", "good", "decent", "of", "the", "my", "our", "old"})
THOSE = frozenset({"the", "those", "these", "my"})
OUR = frozenset({"the", "my", "our"})
RAN = frozenset({"ran", "run", "'m", "am", "we're", "i'm", "'re", "are", "running"})


def used_up(around: Surroundings, at: int) -> Draft | None:
    """The count of nothing that the word at a token tells, with what is gone; None where it names none."""
    word = around.page.word(at)
    if word == "none":
        return _none(around, at)
    if word == "no":
        return _no(around, at)
    return _last(around, at) if word == "last" else _out(around, at)


def _none(around: Surroundings, at: int) -> Draft | None:
    """"Used two crush washers, none left": of what is named right before in the sentence."""
    page = around.page
    thing, behind = None, at + 1
    if page.word(at + 1) == "of" and page.word(at + 2) in THOSE:
        thing, behind = _thing(around, at + 3)
    if thing is None:
        behind = at + (3 if page.words(at + 1, at + 3) in (["of", "them"], ["of", "those"]) else 1)
        thing = next((item for item in around.near.before(at, BACK) if item.words), None)
    end = behind + 1 if is_left(page, behind) else kept_in(page, behind)
    return None if end <= behind or thing is None else _nothing(at, end, thing)


def _no(around: Surroundings, at: int) -> Draft | None:
    """"No brake cleaner left", "no oil filters in stock"; a part that is merely worn away ("no tread left") is none."""
    page = around.page
    thing, end = _thing(around, at + 1)
    if thing is None:
        return None
    kept = kept_in(page, end)
    if kept > end and page.word(kept - 1) in page.classes.shelves:
        return _nothing(at, kept, thing)
    consumable = page.starting("material", thing.start) is not None
    return _nothing(at, end + 1, thing) if consumable and is_left(page, end) else None


def _last(around: Surroundings, at: int) -> Draft | None:
    """"Used the last crush washer", "used up my last can of brake cleaner", "that's the last of the brake cleaner"."""
    page = around.page
    first = at - 1 if page.word(at - 1) in OUR else at
    verb = first - 2 if page.word(first - 1) == "up" else first - 1
    thing, end = _thing(around, at + 1)
    if thing is None or first == at:
        return None
    consumable = page.starting("material", thing.start) is not None
    if page.word(verb) in page.classes.using_up:
        return _nothing(verb, end, thing)
    told = page.word(first - 1) in ("'s", "was", "is") and page.word(at + 1) == "of" and consumable
    return _nothing(first, end, thing) if told else None


def _out(around: Surroundings, at: int) -> Draft | None:
    """"Ran out of crush washers", "we're all out of brake cleaner"; not "ran out of the sump"."""
    page = around.page
    before = page.word(at - 2) if page.word(at - 1) in ("all", "clean", "completely") else page.word(at - 1)
    opens = page.word(at - 1) == "all" and page.sentence_start(at) == at - 1
    if not (before in RAN or opens) or page.word(at + 1) != "of" or page.word(at + 2) in ARTICLES:
        return None
    thing, end = _thing(around, at + 2)
    return None if thing is None else _nothing(at, end, thing)


def _thing(around: Surroundings, at: int) -> tuple[Mention | None, int]:
    """(what is named at a token, its end): a part, a consumable, or what a package holds."""
    page = around.page
    while page.word(at) in OVER and at not in around.near.by_start:
        at += 1
    if page.word(at) in page.classes.packages or page.word(at) in page.classes.sets:
        held = contents(page, at)
        if held is not None:
            return held, held.end
        at = at + 2 if page.word(at + 1) == "of" else at
        at += page.word(at) in OVER
    item = around.near.by_start.get(at)
    if item is not None and item.words:
        return around.attention.completed(item), item.end
    found = page.starting("material", at)
    return (_stuff(page, found.start, found.end), found.end) if found else (None, at)


def _stuff(page: Passage, start: int, end: int) -> Mention:
    return Mention(start, end, tuple(page.norm[start:end]), (), "part", "", False)


def _nothing(start: int, end: int, thing: Mention) -> Draft:
    return Draft("count", start, end, start, thing, Decimal(0), role="left over", rule="count.none", confidence=0.8,
                 manner="for")  # fmt: skip
