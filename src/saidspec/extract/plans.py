"""Where a note says that something is still to do: cues, words of plans, orders with a day, items of a list.

Each is a plan: the tokens that say so, and the tokens of the clause in which its part, action and day are looked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from saidspec.extract.days import Day
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.scopes import Cues

REACH = 16
BREAKS = {".", "!", "?", "\n", ";", ":", "–", "—"}
TURNS = {"but", "so", "because", "although", "cause", "cos"}
NOTHING = {
    "nothing",
    "don't",
    "not",
    "no",
    "never",
    "doesn't",
    "won't",
    "needn't",
    "didn't",
    "nowt",
    "none",
    "nobody",
    "without",
}
NEEDS = {"need", "needs", "want", "wants", "wanting", "needing"}
GETS = {"get", "gets", "be", "have", "getting"}
AT = {"at", "in", "on", "by", "around", "before", "after", "for"}
EVENTS = {
    "winter",
    "summer",
    "spring",
    "autumn",
    "fall",
    "inspection",
    "test",
    "mot",
    "season",
    "holiday",
    "trip",
    "weekend",
    "service",
    "then",
    "frost",
}
DONE = {"did", "was", "were", "had", "didn't", "last", "wasn't", "been", "i've", "'ve"}
FRESH = {"get", "i", "we", "then"}  # another statement begins
LARGE = 1000
OPENERS = {"", "\n", ".", ",", ";", "and", "then", "-", "*", "]", "so", ":", "–", "—", "need", "to"}


@dataclass(frozen=True, slots=True)
class Plan:
    """Tokens start..end say that something is to do; it is told in first..last.  `action`: what, where no verb
    says so.
    """

    start: int
    end: int
    first: int
    last: int
    id: str
    action: str | None = None
    strong: bool = True  # a part is enough, it needs no action
    item: bool = False  # an item of a list of things to do


def plans(
    page: Passage, cues: Cues, days: list[Day], parts: dict[int, Mention], verbs: set[int], weak: frozenset[str]
) -> list[Plan]:
    """All plans, of those that overlap the most telling first; `verbs` are the tokens at which an action is told."""
    found = [
        *_items(page, parts),
        *_told(page),
        *_of_verbs(page, days, verbs),
        *_again(page, days, parts),
        *_of_cues(page, cues, weak),
    ]
    return [plan for plan in found if not _denied(page, plan)]


def clause(page: Passage, start: int, end: int) -> tuple[int, int]:
    """The clause around tokens start..end: to the next mark or turning word, a comma included where it parts
    statements.
    """
    first = start
    while first > 0 and start - first < REACH and not _bound(page, first - 1):
        first -= 1
    last = end
    while last < len(page) and last - end < REACH and not _bound(page, last):
        last += 1
    return first, last


def _bound(page: Passage, at: int) -> bool:
    return (
        page.norm[at] in BREAKS | TURNS
        or page.norm[at] == ","
        or (not page.same_sentence(at, min(at + 1, len(page) - 1)) and page.norm[at] in BREAKS)
    )


def _of_cues(page: Passage, cues: Cues, weak: frozenset[str]) -> Iterator[Plan]:
    for cue in sorted((cue for cue in cues.cues if cue.category == "planned"), key=lambda cue: (cue.start, -cue.end)):
        if page.word(cue.end) == ":":
            continue  # it heads a list
        first, last = clause(page, cue.start, cue.end)
        said = " ".join(page.words(cue.start, cue.end))
        last = last if cue.backward else min(last, max(cue.scope_end, cue.end + 4))
        yield Plan(cue.start, cue.end, first, last, cue.id, strong=said not in weak)


def _told(page: Passage) -> Iterator[Plan]:
    for found in page.found.get("plan", ()):
        if found.term.detail != "heading":
            first, last = clause(page, found.start, found.end)
            fresh = next((at for at in range(found.end + 1, last) if page.word(at) in FRESH), last)
            yield Plan(found.start, found.end, first, fresh, f"plan-{found.term.id}", found.term.meant or None)


def _of_verbs(page: Passage, days: list[Day], verbs: set[int]) -> Iterator[Plan]:
    """ "Wants flushing", "to be retorqued", "gets replaced if", "get it made up on Monday", "check the level on
    Monday".
    """
    for found in page.found.get("action", ()):
        before, form = page.word(found.start - 1), found.term.detail
        first, last = clause(page, found.start, found.end)
        if form == "ing" and before in NEEDS:
            yield Plan(found.start - 1, found.end, first, last, "plan-needs", found.term.id)
        elif (
            form == "past"
            and before == "be"
            and page.word(found.start - 2) in ("to", "should", "must", "will", "'ll")
            and (page.word(found.start - 3) not in ("had", "having"))
        ):
            yield Plan(found.start - 2, found.end, first, last, "plan-to-be", found.term.id)
        elif (
            form == "past"
            and before in ("gets", "get")
            and {*page.words(found.end, found.end + 3)} & {"if", "when", "once"}
        ):
            yield Plan(found.start - 1, found.end, first, last, "plan-if", found.term.id)
        elif (
            found.start in verbs
            and _coming(page, found, days, last)
            and (form == "base" or {*page.words(max(first, found.start - 5), found.start)} & GETS)
            and not ({*page.words(max(first, found.start - 4), found.start)} & DONE)
        ):
            yield Plan(found.start, found.end, first, last, "plan-dated", found.term.id)


def _coming(page: Passage, found: Found, days: list[Day], last: int) -> bool:
    """A day to come, or a distance to come, stands behind a verb in its clause."""
    today = page.note.date.isoformat() if page.note.date else None
    begin = (
        page.sentence_start(found.start) if "then" in page.words(found.end, found.end + 3) else found.end
    )  # "due on the 2nd, fit it then"
    if today and any(begin <= day.start < last and day.code > today[: len(day.code)] for day in days):
        return True
    return "last" not in page.words(found.end, last) and any(
        (page.word(at) in ("at", "before") and _large(page, at + 1))
        or (
            page.word(at) == "before"
            and page.word(at + 1) in EVENTS | {"the"}
            and ({*page.words(at + 1, at + 4)} & EVENTS)
        )
        for at in range(found.end, min(last, len(page) - 1))
    )


def _large(page: Passage, at: int) -> bool:
    lex = page.lexemes[at] if at < len(page) else None
    return lex is not None and lex.kind == "number" and lex.value is not None and lex.value >= LARGE


def _again(page: Passage, days: list[Day], parts: dict[int, Mention]) -> Iterator[Plan]:
    """ "Oil again at 462 h", "next filter at a hundred thousand", "new boot before the inspection"."""
    starts = {day.start for day in days}
    for at, word in enumerate(page.norm):
        if word == "again" and page.word(at + 1) in AT and _time(page, at + 2, starts):
            first, last = clause(page, at, at + 1)
            if not {*page.words(first, at)} & DONE and not any(
                found.term.detail == "past" for found in _actions(page, first, at)
            ):
                yield Plan(at, at + 2, first, last, "plan-again", "replace")
        elif word == "next" and at + 1 in parts | page.at.get("action", {}):
            end = parts[at + 1].end if at + 1 in parts else page.at["action"][at + 1].end
            place = end + (page.word(end) in ("is", "'s", "due")) + (page.word(end + 1) == "due")
            if page.word(place) in AT | {"due"} and _time(page, place + 1, starts):
                yield Plan(at, place + 1, at, clause(page, at, place)[1], "plan-next", "replace")
        elif (
            word == "new"
            and page.word(at - 1) in OPENERS
            and any(at <= start <= at + 1 for start in (at, at + 1) if start in parts)
        ):
            end = (parts.get(at) or parts[at + 1]).end
            if page.word(end) in ("before", "by", "for") and (
                {*page.words(end + 1, end + 4)} & EVENTS or {*range(end + 1, end + 4)} & starts
            ):
                yield Plan(at, end + 1, at, clause(page, at, end)[1], "plan-before", "replace")


def _time(page: Passage, at: int, starts: set[int]) -> bool:
    return (
        at in starts
        or at - 1 in starts
        or (at < len(page) and page.lexemes[at].kind == "number")
        or {*page.words(at, at + 2)} & EVENTS != set()
    )


def _actions(page: Passage, first: int, last: int) -> list[Found]:
    by_start = page.at.get("action", {})
    return [by_start[at] for at in range(first, last) if at in by_start]


def _items(page: Passage, parts: dict[int, Mention]) -> Iterator[Plan]:
    """The items under a heading "To do", behind "still to do:", and those with an open box."""
    for first, last in _lists(page):
        at = first
        while at < last:
            end = min(page.sentence_end(at), last)
            if page.norm[at] not in BREAKS and page.norm[at] != "*" and page.norm[at] not in NOTHING:
                yield from _pieces(page, at, end, parts)
            at = max(end, at + 1)


def _pieces(page: Passage, first: int, last: int, parts: dict[int, Mention]) -> Iterator[Plan]:
    """One item, or several where it is a bare list of parts: "ground strap, wiper blades"."""
    cuts = [
        first,
        *(at + 1 for at in range(first, last) if page.norm[at] in (",", "and") and not _actions(page, first, last)),
        last,
    ]
    pieces = [(start, end) for start, end in pairwise(cuts) if end - start > 0]
    bare = all(any(at in parts for at in range(start, min(start + 3, end))) for start, end in pieces)
    for start, end in pieces if bare and len(pieces) > 1 else [(first, last)]:
        has_part = any(at in parts for at in range(start, end))
        if has_part or _actions(page, start, end):
            yield Plan(
                start, start, start, end, "plan-list", None if _actions(page, start, end) else "replace", item=True
            )


def _lists(page: Passage) -> Iterator[tuple[int, int]]:
    """The tokens of each list of things to do."""
    utterances = page.note.utterances
    headed, level = False, 0
    ends = _utterance_ends(page)
    for number, (first, last) in ends.items():
        said = utterances[number] if number < len(utterances) else None
        term = page.starting("plan", first)
        alone = term is not None and term.term.detail == "heading"
        whole = term is not None and alone and term.end >= last - 1
        if said is not None and (said.heading or (whole and not said.item)):
            headed = whole or (headed and said.heading > level)
            level = said.heading or 9
        elif headed and level == 9 and said is not None and not said.item:
            headed = False
        elif headed or (page.norm[first] == "[" and page.word(first + 1) == "]"):
            yield first + (2 if page.norm[first] == "[" else 0), last
        else:
            at = next(
                (at for at in range(first, last - 1) if page.norm[at] == ":" and _heading_before(page, first, at)), None
            )
            if at is not None:
                yield at + 1, last


def _heading_before(page: Passage, first: int, colon: int) -> bool:
    terms = page.at.get("plan", {})
    return any(
        start in terms
        and terms[start].term.detail == "heading"
        and terms[start].end == colon
        and (start == first or page.norm[start - 1] in BREAKS | {"*", ","})
        for start in range(max(first, colon - 5), colon)
    )


def _utterance_ends(page: Passage) -> dict[int, tuple[int, int]]:
    """First and last token of each utterance, line ends left out."""
    found: dict[int, tuple[int, int]] = {}
    for at, number in enumerate(page.utterance):
        if page.norm[at] != "\n":
            found[number] = (found[number][0], at + 1) if number in found else (at, at + 1)
    return found


def _denied(page: Passage, plan: Plan) -> bool:
    """ "Nothing else needs doing", "I don't need to", "you need a long extension", "was going to" plan nothing."""
    if plan.item:
        return False
    before = page.words(max(plan.first, plan.start - 3), plan.start)
    said = page.words(plan.start, plan.end)
    if any(word in NOTHING for word in before) and not _actions(page, max(plan.first, plan.start - 3), plan.start):
        return True
    if before[-1:] == ["you"] or (before[-2:-1] == ["you"] and before[-1] in ("'ll", "will", "really", "do", "just")):
        return True
    return (said[:1] == ["going"] and before[-1:] in (["was"], ["were"])) or "if" in before
