"""A value said again, otherwise, sentences later: "going back to the drain plug, I said 25, it was 35".

The earlier value is retracted and points to the later one; the wrong value's repetition is no fact of its own.
"""

from __future__ import annotations

from bisect import bisect_left

from saidspec.discourse.corrections import CORRECTABLE
from saidspec.extract.draft import Draft
from saidspec.extract.mention import same_places
from saidspec.extract.passage import Found, Passage

BACK = 400  # drafts looked back for the value that is put right
BESIDE = 10  # tokens before a correction in which the wrong value is repeated: "that 25 for the plug should have been"
WINDOW = 24  # tokens around the words of a correction in which both values stand
LASTING = frozenset({"torque", "size", "part_number", "fluid", "odometer"})  # said twice otherwise, one is wrong


def restated(page: Passage, drafts: list[Draft]) -> None:
    """Retract the values that a later sentence puts right; call when all standings are settled."""
    values = [draft for draft in drafts if draft.kind in CORRECTABLE and not draft.back and not draft.dropped]
    marks = _marks(page)
    for index, late in enumerate(values):
        if late.assertion not in ("stated", "quoted"):
            continue
        mark = _mark_near(page, marks, late)
        denied = _denied(values, index)
        if mark is None and denied is None:
            continue
        _put_right(page, values, index, mark, denied)


def _marks(page: Passage) -> list[Found]:
    """The words that say that something said before was wrong, in order."""
    return [found for found in page.found.get("correction", ()) if found.term.detail in ("recall", "again")
            or "misspoke" in page.words(found.start, found.end)]


def _mark_near(page: Passage, marks: list[Found], late: Draft) -> Found | None:
    """The mark in the sentence of a value, or in the one before it."""
    for index in range(bisect_left(marks, late.start - WINDOW, key=lambda found: found.start), len(marks)):
        found = marks[index]
        if found.start - late.end > WINDOW:
            return None
        if 0 <= page.sentence[late.anchor] - page.sentence[found.start] <= 1:
            return found
    return None


def _denied(values: list[Draft], index: int) -> Draft | None:
    """The value beside this one that is said not to be so: "35, not 25"."""
    late = values[index]
    for other in values[max(0, index - 1) : index + 2]:
        if other is not late and other.assertion == "negated" and other.kind == late.kind and (
                abs(other.start - late.start) <= WINDOW):
            return other
    return None


def _put_right(page: Passage, values: list[Draft], index: int, mark: Found | None, denied: Draft | None) -> None:
    """Retract what the value at an index puts right, where it was said before."""
    late = values[index]
    at = min(late.start, mark.start) if mark is not None else late.start
    said = mark is not None and any(mark.end <= other.start < late.start for other in values[max(0, index - 2) : index])
    begin = at if said else max(page.sentence_start(at), at - BESIDE)  # "did I say 19, 90"
    near = [other for other in values[max(0, index - 2) : index + 3] if other is not late and other.kind == late.kind
            and begin <= other.start <= late.start + WINDOW and (
                other.assertion != "retracted" or other.replaced_by is late)]
    for early in reversed(values[max(0, index - BACK) : index]):
        if early.end > begin or early.kind != late.kind or early.assertion not in ("stated", "quoted", "possible"):
            continue
        if _same(early, late) or not _of_one_part(early, late):
            continue
        repeated = next((other for other in near if _same(other, early)), None)
        named = late.mention is not None and begin <= late.mention.start < late.start + WINDOW
        if not _told_wrong(early, late, mark if named else None, denied, repeated):
            return
        early.assertion, early.cue, early.replaced_by = "retracted", "correction.restated", late
        if repeated is not None:
            repeated.dropped = True
        if late.assertion == "quoted" and late.cue == "quoted-forward":
            late.assertion, late.cue = "stated", None  # "that should have been 35"
        return


def _told_wrong(early: Draft, late: Draft, mark: Found | None, denied: Draft | None, repeated: Draft | None) -> bool:
    """Whether the later value takes the earlier one's place, and is not a further one of the same part."""
    if denied is not None and _same(denied, early):
        return True
    if repeated is not None:
        return True
    if mark is None or early.assertion == "quoted" != late.assertion:
        return False
    return mark.term.detail != "again" or late.kind in LASTING


def _same(one: Draft, other: Draft) -> bool:
    return (one.value, one.high, one.code) == (other.value, other.high, other.code) and (
        one.unit == other.unit or one.bare or other.bare)


def _of_one_part(one: Draft, other: Draft) -> bool:
    """Both are of one part, as far as they say of which, and measured in one way."""
    if one.role and other.role and one.role != other.role:
        return False
    if one.unit and other.unit and one.unit != other.unit:
        return False
    if one.mention is None or other.mention is None:
        return one.mention is None and other.mention is None
    mine, theirs = {*one.mention.words}, {*other.mention.words}
    return (mine <= theirs or theirs <= mine) and same_places(one.mention, other.mention)
