"""Where a note says that something is still to do: cues, words of plans, verbs, and orders with a day."""

from __future__ import annotations

from collections.abc import Iterator

from saidspec.extract.cues_said import Cues
from saidspec.extract.days import Day
from saidspec.extract.draft import Draft
from saidspec.extract.grammar import NEEDS
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.plan import Plan, clause

LARGE = 1000  # a mileage to come is at least this
GETS = frozenset({"get", "gets", "be", "have", "getting"})
AT = frozenset({"at", "in", "on", "by", "around", "before", "after", "for"})
DONE = frozenset({"did", "was", "were", "had", "didn't", "last", "wasn't", "been", "i've", "'ve"})
FRESH = frozenset({"get", "i", "we", "then"})  # another statement begins
OVER = frozenset({"the", "a", "an", "some", "new", "my", "both", "two", "2", "another", "set", "of", "more", "that",
                  "those", "one", "pair"})
BOOKED_BY = frozenset({"is", "'s", "was", "on", "booked", "due", "runs"})  # "retest is on Friday"
ORDERING = frozenset({"order", "reorder", "buy", "do", "get", "sort", "ordered", "ordering"})
PRONOUNS_DONE = frozenset({"it", "that", "those", "them", "these", "one"})
DRIVEN = frozenset({"hour", "km", "kilometre", "mile", "mi"})  # behind "after 50": how far it is driven first
OPENERS = frozenset({"", "\n", ".", ",", ";", "and", "then", "-", "*", "]", "so", ":", "–", "—", "need", "to"})


def of_cues(page: Passage, cues: Cues) -> Iterator[Plan]:
    """What a planned cue says; one that heads a list is no plan of its own."""
    planned = [cue for cue in cues.cues if cue.category == "planned"]
    for cue in sorted(planned, key=lambda cue: (cue.start, -cue.end)):
        if page.word(cue.end) == ":":
            continue
        first, last = clause(page, cue.start, cue.end)
        said = " ".join(page.words(cue.start, cue.end))
        last = last if cue.backward else min(last, max(cue.scope_end, cue.end + 4))
        yield Plan(cue.start, cue.end, first, last, cue.id, strong=said not in page.classes.weak_plans)


def told(page: Passage) -> Iterator[Plan]:
    """What the words of plans say: "needs doing", "goes on the list"."""
    for found in page.found.get("plan", ()):
        if found.term.detail != "heading" and page.word(found.end) != ":":
            first, last = clause(page, found.start, found.end)
            fresh = next((at for at in range(found.end + 1, last) if page.word(at) in FRESH or (
                page.word(at) == "and" and page.starting("action", at + 1))), last)
            yield Plan(found.start, found.end, first, fresh, f"plan-{found.term.id}", found.term.meant or None)


def of_verbs(page: Passage, days: list[Day], verbs: set[int]) -> Iterator[Plan]:
    """What a verb says; `verbs` are the tokens at which an action is told.

    "Wants flushing", "to be retorqued", "gets replaced if", "get it made up on Monday", "check the level on Monday".
    """
    for found in page.found.get("action", ()):
        before, form = page.word(found.start - 1), found.term.detail
        first, last = clause(page, found.start, found.end)
        if form in ("ing", "past") and (before in NEEDS or page.words(found.start - 2, found.start) == ["do", "with"]):
            yield Plan(found.start - 1, found.end, first, last, "plan-needs", found.term.id)
        elif form == "past" and before == "be" and _is_to(page, found.start - 2):
            yield Plan(found.start - 2, found.end, first, last, "plan-to-be", found.term.id)
        elif form == "past" and before in ("gets", "get") and (
                not {"if", "when", "once"}.isdisjoint(page.words(found.end, found.end + 3))):
            yield Plan(found.start - 1, found.end, first, last, "plan-if", found.term.id)
        elif found.start in verbs and _coming(page, found, days, last) and _undone(page, found, first):
            yield Plan(found.start, found.end, first, last, "plan-dated", found.term.id)


def orders(page: Passage, parts: dict[int, Mention], days: list[Day]) -> Iterator[Plan]:
    """Orders to oneself without a verb of work: "order rear brake pads", "do the brake fluid before the July trip"."""
    for at, word in enumerate(page.norm):
        if word not in ORDERING or not _ordered_here(page, at):
            continue
        place = at + 1
        while page.word(place) in OVER and place not in parts and place - at < 4:
            place += 1
        _, last = clause(page, at, at + 1)
        if word in ("do", "get", "sort"):
            it = place in parts and word == "do"
            end = parts[place].end if it else at + 2
            if (it and dated(page, end, last, days)) or (page.word(at + 1) in PRONOUNS_DONE and _meant_later(
                    page, at, last, days)):
                yield Plan(at, at + 1, at, last, "plan-do-by")
        elif place in parts or page.word(place - 1) == "one":
            end = parts[place].end if place in parts else place
            yield Plan(at, at + 1, at, min(last, end + 4), "plan-order", "replace")


def _ordered_here(page: Passage, at: int) -> bool:
    """Whether a word of ordering and doing opens an order to oneself, and is no noun ("in that order")."""
    word, before = page.word(at), page.word(at - 1)
    if word in ("ordered", "ordering"):
        return before in ("'ve", "'m", "have", "am", "be")
    if word in ("do", "get", "sort") and page.word(at + 1) in PRONOUNS_DONE:
        return before in OPENERS or before in ("'ll", "i'll", "will", "must", "gotta", "should")
    if before in OPENERS or before in ("must", "gotta", "should"):
        return True
    return word == "order" and not page.punctuated and "in" not in page.words(at - 3, at) and before not in (
        "the", "that", "this", "same", "an", "my") and (
        page.word(at + 1) in OVER or page.word(at + 1).isdigit())


def _meant_later(page: Passage, at: int, last: int, days: list[Day]) -> bool:
    """"I'll get those before the July trip", "I'll do that with the tracking": a time or an occasion is told."""
    return dated(page, at + 2, last, days) or (
        page.word(at - 1) in ("'ll", "i'll", "will") and page.word(at + 2) in ("with", "next", "later", "another"))


def dated(page: Passage, first: int, last: int, days: list[Day]) -> bool:
    """A day to come, or a time to which work is put off, is told right behind a part."""
    today = page.note.date.isoformat() if page.note.date else ""
    if any(first <= day.start < last and day.code > today[: len(day.code)] for day in days):
        return bool(today)
    put_off = page.word(first) in ("before", "next", "by") and not page.classes.events.isdisjoint(
        page.words(first + 1, first + 4))
    return put_off or any(_until(page, at) for at in range(first, min(last, first + 3, len(page) - 1)))


def after_driving(page: Passage, days: list[Day], verbs: set[int]) -> Iterator[Plan]:
    """Orders that no other plan tells: "check the slack after 500 km", "worn, replace before spring"."""
    for found in page.found.get("action", ()):
        opens = page.word(found.start - 1) in OPENERS and page.word(found.end) not in BOOKED_BY
        if found.term.detail != "base" or not (opens or found.start in verbs):
            continue
        first, last = clause(page, found.start, found.end)
        driven = any(page.word(at) in ("after", "in") and page.lexemes[at + 1].kind == "number" and (
            page.word(at + 2) in DRIVEN) for at in range(found.end, min(last, len(page) - 1)))
        if (driven or (opens and _coming(page, found, days, last))) and _undone(page, found, first):
            yield Plan(found.start, found.end, first, last, "plan-dated", found.term.id)


def not_yet(page: Passage, operations: list[Draft]) -> Iterator[Plan]:
    """"Don't fit it yet": it is to be done, but later."""
    for told in operations:
        to_oneself = page.word(told.anchor - 1) == "don't" and page.word(told.anchor - 2) not in ("i", "we", "they")
        if told.assertion == "negated" and to_oneself and "yet" in page.words(told.end, told.end + 4):
            yet = page.norm.index("yet", told.end) + 1
            yield Plan(told.anchor - 1, yet, told.anchor - 1, yet, "plan-not-yet", told.action)


def _is_to(page: Passage, at: int) -> bool:
    """"To be", "should be", not "had to be"."""
    return page.word(at) in ("to", "should", "must", "will", "'ll") and page.word(at - 1) not in ("had", "having")


def _undone(page: Passage, found: Found, first: int) -> bool:
    """A verb in its base form or behind "get", and not behind "did" or a figure: "should be five adjusted"."""
    near = range(max(first, found.start - 5), found.start)
    begin = next((at + 1 for at in reversed(near) if page.lexemes[at].kind == "number"), near.start)
    to_do = found.term.detail == "base" or not GETS.isdisjoint(page.words(begin, found.start))
    return to_do and DONE.isdisjoint(page.words(max(first, found.start - 4), found.start))


def _coming(page: Passage, found: Found, days: list[Day], last: int) -> bool:
    """A day to come, or a distance to come, stands behind a verb in its clause."""
    today = page.note.date.isoformat() if page.note.date else None
    then = "then" in page.words(found.end, found.end + 3)
    begin = page.sentence_start(found.start) if then else found.end  # "due on the 2nd, fit it then"
    if today and any(begin <= day.start < last and day.code > today[: len(day.code)] for day in days):
        return True
    return "last" not in page.words(found.end, last) and any(
        _until(page, at) for at in range(found.end, min(last, len(page) - 1)))


def _until(page: Passage, at: int) -> bool:
    """"At 90 thousand", "before 90 thousand", "before the winter"."""
    if page.word(at) not in ("at", "before"):
        return False
    lex = page.lexemes[at + 1]
    if lex.kind == "number" and lex.value is not None and lex.value >= LARGE:
        return True
    following = page.word(at + 1) == "the" or page.word(at + 1) in page.classes.events
    return page.word(at) == "before" and following and not page.classes.events.isdisjoint(page.words(at + 1, at + 4))
