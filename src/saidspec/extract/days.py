"""Days as values, the names of days and months, and whether a statement is about what was or what is still to come."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.extract.passage import Passage

MONTHS = {name: number for number, names in enumerate((
    "january jan", "february feb", "march mar", "april apr", "may", "june jun", "july jul", "august aug",
    "september sep sept", "october oct", "november nov", "december dec"), 1) for name in names.split()}  # fmt: skip
WEEKDAYS = {name: number for number, names in enumerate((
    "monday mon", "tuesday tue tues", "wednesday wed weds", "thursday thu thurs", "friday fri", "saturday sat",
    "sunday sun")) for name in names.split()}  # fmt: skip
PAST = {"was", "were", "did", "came", "set", "got", "found", "went", "had", "cut", "put", "took", "bought", "broke",
        "quit", "gave", "made", "drove", "lost", "been", "fell", "blew", "ran", "let", "said", "rang", "wouldn't",
        "couldn't", "didn't", "wasn't", "since", "ago", "last", "back", "done", "sat", "stood", "rode", "picked",
        "began", "kept"}
COMING = {"will", "'ll", "gonna", "going", "next", "must", "should", "need", "needs", "due", "comes", "arrives",
          "arrive", "come", "wants", "coming", "arriving", "by", "until", "till", "before", "want", "tomorrow",
          "planned", "book", "booked", "i'll", "they'll", "it'll", "later", "again", "plan", "check", "order", "get"}
NO_PARTICIPLES = {"need", "bed", "red", "speed", "feed", "seed", "bleed", "indeed", "shed", "sled", "weed", "led"}


@dataclass(frozen=True, slots=True)
class Day:
    """A date at tokens start..end: its ISO 8601 code, the rule, and whether it was told by its distance from today."""

    start: int
    end: int
    code: str
    rule: str
    relative: bool = False


def whole(page: Passage, at: int) -> int | None:
    """The value of a number token that is a whole number."""
    if 0 <= at < len(page) and page.lexemes[at].kind == "number":
        value = page.lexemes[at].value
        if value is not None and value == int(value):
            return int(value)
    return None


def tense(page: Passage, at: int, end: int, reach: int = 9, more_coming: frozenset[str] = frozenset(),
          after: int | None = None) -> str:
    """"past" or "coming" by the verb that stands nearest to tokens at..end of their sentence; "" where none does.

    `more_coming`: further words of what is still to come, such as orders to oneself; `after`: how far to look behind,
    where that differs from `reach`.
    """
    first = max(page.sentence_start(at), at - reach)
    last = min(page.sentence_end(at), end + (reach if after is None else after))
    near = sorted([*range(first, at), *range(end, last)], key=lambda i: at - i if i < at else i - end + 1.5)
    for place in near:
        word = page.norm[place]
        if word in COMING or word in more_coming:
            return "coming"
        if word in PAST or (word.endswith("ed") and len(word) > 3 and word not in NO_PARTICIPLES):
            to_come = {"be", "get", "getting", "needs", "wants", "need"} & {*page.words(place - 2, place)}
            return "coming" if to_come else "past"
    return ""
