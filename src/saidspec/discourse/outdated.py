"""What a later value says of an earlier one: a value measured before the part was put right is history."""

from __future__ import annotations

from saidspec.discourse.before_after import BEFORE_IT, left_at_quoted, listed_with, said_before
from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage

EARLIER = 5  # measurements looked back
WAS = frozenset({"was", "were"})
BEFORE_NOW = frozenset({"before", "down", "from", "previously"})
FROM_TO = frozenset({"to", "up", "down", "back", "over", "out", "in", "right", "till", "until", "on"})  # "33 up to 36"
WAS_ASIDE = frozenset({",", "it", "they", "was", "were", "had", "been", "and", "(", "both", "all", "on"})
SMALL = frozenset({"at", "only", "about", "down", "to", "it", "originally", "just", "up", "had", "been", "sitting", "a",
                   "around", "reading", "both", "all", "on", "plus", "minus"})  # between "was" and its value
FALLEN = frozenset({"only", "just"})
WAS_REACH = 4  # tokens between "was" and its value
SUPPLY = frozenset({"battery", "alternator", "charger", "stator", "dynamo", "starter", "charging", "system"})
ADJUSTABLE_BY_SCREW = ("pressure", "gap", "clearance", "play", "slack")
GONE_ON = ("measurement.adjusted", "measurement.put-right")  # rules of values that are told to be measured again
ELECTRIC = ("voltage", "current", "resistance")  # these change by themselves: only a deed makes history of them
NEAR = 4  # tokens behind a value in which a state of the engine is told


def outdated(page: Passage, drafts: list[Draft]) -> None:
    """Values measured before an adjustment become historical where the note then gives the value after it."""
    measured = [draft for draft in drafts if draft.kind == "measurement"]
    for index, late in enumerate(measured):
        if late.assertion not in ("stated", "negated"):
            continue
        for early in reversed(measured[max(0, index - EARLIER) : index]):
            if not _measured_again(page, early, late) and not _through_what_was_asked(measured, index, early):
                continue
            if late.assertion == "negated":  # "12 mm now instead of 20 mm"
                if "now" in page.words(early.start - 3, early.end + 2):
                    late.assertion, late.cue = "historical", BEFORE_IT
                break
            if _told_of_before(page, early, late):
                late.assertion, late.cue = "historical", BEFORE_IT
                break
            if _put_right(page, early, late):
                early.assertion, early.cue = "historical", BEFORE_IT
                listed_with(page, measured[max(0, index - EARLIER) : index], early)
                break
    said_before(page, measured)
    left_at_quoted(page, measured)


def _measured_again(page: Passage, early: Draft, late: Draft) -> bool:
    """The same thing was measured twice with another result, and it is a thing that a job puts right."""
    if early.assertion not in ("stated", "possible") or early.role != late.role:
        return False
    if early.role not in page.classes.adjustable:
        return False
    both = "both" in page.words(late.start - 2, late.end + 2)
    if early.unit != late.unit or early.value == late.value:
        return False
    return _same_part(early, late, both)


def _through_what_was_asked(measured: list[Draft], index: int, early: Draft) -> bool:
    """"Loader port 148 bar. Spec is 150 to 160 for the relief valve. Now it's 155": what is asked for joins the two."""
    late = measured[index]
    place = next((at for at in range(index - 1, max(-1, index - 3), -1) if measured[at].assertion == "quoted"), None)
    if late.rule not in GONE_ON or place is None or early.role not in ADJUSTABLE_BY_SCREW:
        return False
    asked = measured[place]
    before = [draft for draft in measured[max(0, place - 2) : place] if draft.unit == early.unit]
    return before[-1:] == [early] and early.assertion == "stated" and early.value != late.value and (
        early.role == asked.role == late.role and early.unit == asked.unit == late.unit and (
            asked.mention == late.mention and early.mention is not None))


def _same_part(early: Draft, late: Draft, both: bool) -> bool:
    """Whether both are of one part, or both of what was not named; the tread of a tyre does not come back."""
    if early.mention is None or late.mention is None:
        return early.mention is late.mention
    if early.role == "depth" and "tyre" in early.mention.words:
        return False
    return not {*early.mention.words}.isdisjoint(late.mention.words) and _same_place(early.mention, late.mention, both)


def _told_of_before(page: Passage, early: Draft, late: Draft) -> bool:
    """The later value is the older one: "it's 34 now, down from 40, it was 45 before", "set to 32, it was at 28"."""
    around = page.words(max(early.end + 1, late.start - 3), late.start) + page.words(late.end, late.end + 2)
    if "now" in around:
        return False
    was = _was(page, late.start, max(early.end, late.start - WAS_REACH))
    if not was and page.words(late.start - 2, late.start) != ["down", "from"]:
        return False
    if _was(page, early.start, early.start - WAS_REACH) or late.start - early.end >= 25:
        return False
    if was and (WAS_ASIDE.issuperset(page.words(early.end, late.start)) or page.word(late.start - 1) in FALLEN):
        return True  # "35 mm, it was 50", "front 2.5. Front was only 2.1"
    before = {*page.words(max(early.end, late.start - 8), late.start), *page.words(late.end, late.end + 2)}
    told = page.words(max(page.sentence_start(early.start), early.start - 8), early.start)
    return not before.isdisjoint(BEFORE_NOW) or "now" in page.words(early.start - 3, early.end + 2) or (
        not page.classes.adjusting.isdisjoint(told))


def _was(page: Passage, at: int, first: int) -> bool:
    """"Was", "had" or "found" leads to the value at a token, with small words between."""
    place = at - 1
    while place > first and page.word(place) in SMALL and page.word(place) != "had":
        place -= 1
    return place >= first and (page.word(place) in WAS or page.word(place) in ("had", "found"))


def _put_right(page: Passage, early: Draft, late: Draft) -> bool:
    """Between the two it was put right: by a verb, "now", "from … to", or an arrow.

    Two states of the engine ("at rest", "cranking") are no adjustment.
    """
    between = page.words(early.end, late.start)
    if between[:1] == ["now"]:  # "it's 1.6 bar now ... and it makes 3.9" is told to be so now; "was 5 mm now 3" is not
        return len(between) <= 2 and _was(page, early.start, early.start - WAS_REACH)
    if page.word(early.end) == "before" and "after" in page.words(late.end, late.end + 2):
        return True
    if page.word(early.start - 1) == "from" and between and FROM_TO.issuperset(between):
        return True
    words = {*between, *page.words(late.end, late.end + 2)}
    done = _worked_to(page, early.end, late.start) or _left_at(page, early.end, late.start)
    if words & page.classes.adjusting or done or _brought_to(page, late.start):
        return True
    lasting = early.role in ELECTRIC and not _of_a_lead(early, late)
    weak = not lasting and bool(words & page.classes.changed)
    states = {*between, *page.words(late.end, late.end + NEAR), *page.words(early.start - NEAR, early.start)}
    return weak and states.isdisjoint(page.classes.states)


def _of_a_lead(early: Draft, late: Draft) -> bool:
    """A voltage at a lamp or a plug changes with the work on its wires; that of a battery changes by itself."""
    return early.mention is not None and late.mention is not None and early.role == "voltage" and (
        early.mention.words == late.mention.words and SUPPLY.isdisjoint(early.mention.words))


def _brought_to(page: Passage, at: int) -> bool:
    """"Did it to 2.2", "so it's got sixty": the value is what the part was brought to."""
    return any(" ".join(page.words(at - length, at)) in page.classes.brought_to for length in (2, 3, 4, 5, 6, 7))


def _worked_to(page: Passage, first: int, last: int) -> bool:
    """"So I filled it to 65": a deed, and "to" right before the value."""
    return page.word(last - 1) == "to" and any(
        (found := page.starting("action", at)) is not None and found.term.detail == "past" for at in range(first, last))


def _left_at(page: Passage, first: int, last: int) -> bool:
    """"Found 28, left it at 32"."""
    return any(page.word(at) == "left" and page.word(at + 1) in ("at", "it", "them", "with")
               for at in range(first, last))


def _same_place(early: Mention, late: Mention, both: bool) -> bool:
    """The later value is of the place of the earlier one; "both" is of either side."""
    mine = dict(early.positions)
    return all(mine.get(axis, place) == place or (both and axis == "side") for axis, place in late.positions)
