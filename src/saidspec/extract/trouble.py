"""The standing of trouble codes: cleared ones and those of the past are history, ones that did not return are none."""

from __future__ import annotations

import itertools

from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage

CLEARED = {"cleared", "erased", "wiped", "deleted", "reset", "clearing", "erasing", "clear"}
SMALL = {"the", "that", "code", "fault", "a", "trouble", "old", "stored", "and", "out", "both", "all", "for", "it",
         "which", "i", "was", "got", "is", "has", "been", "just", "then", ",", "we", "'s", "of", "as", "well", "too",
         "also", "came", "up", "read", "set", "there", "so"}
HAD = {"had", "threw", "thrown", "set", "got", "came", "stored", "showed", "read", "pulled", "found", "gave", "logged",
       "was", "flagged", "popped", "were", "scanned", "has", "showing"}  # before a code: it was there
RETURN = {"return", "returned", "reappear", "reappeared", "reset", "relight"}
STAYED = ((("stayed", "away"), ("stayed", "off"), ("stays", "away"), ("stayed", "gone"), ("is", "gone"),
    ("'s", "gone"), ("all", "gone"), ("went", "away")))
NO = {"n't", "not", "never", "didn't", "hasn't", "hadn't", "isn't", "haven't", "doesn't", "no", "neither", "won't"}
EARLIER = {"ago", "last", "before", "previously", "used", "back", "earlier", "old", "historic", "once", "past"}
TIMES = {"year", "winter", "summer", "spring", "autumn", "fall", "month", "time", "week", "mot", "service", "january",
         "february", "november", "december"}
NOW = {"now", "today", "again", "current", "currently", "this"}


def settle_codes(page: Passage, drafts: list[Draft]) -> None:
    """Give each trouble code the standing that the words right around it tell."""
    codes = [draft for draft in drafts if draft.kind == "trouble_code" and draft.assertion == "stated"]
    for index, draft in enumerate(codes):
        first = max(page.sentence_start(draft.start), draft.start - 9, codes[index - 1].end if index else 0)
        last = min(page.sentence_end(draft.start), draft.end + 9, codes[index + 1].start if index + 1 < len(codes)
            else len(page))
        found = _standing(page, draft, first, last)
        if found:
            draft.assertion, draft.cue = found


def _standing(page: Passage, draft: Draft, first: int, last: int) -> tuple[str, str] | None:
    before, after = page.words(first, draft.start), page.words(draft.end, last)
    if _stayed_away(after):
        was_there = not HAD.isdisjoint(before[-4:]) or _leads(before[::-1], CLEARED) or not CLEARED.isdisjoint(
            after) or not (TIMES.isdisjoint(before) or EARLIER.isdisjoint(before))
        return ("historical", "trouble.gone") if was_there else ("negated", "trouble.stayed-away")
    if (_leads(before[::-1], CLEARED) and not {*before} & {"not", "won't", "can't", "couldn't",
        "didn't"}) or _leads(after, CLEARED, 7):
        return "historical", "trouble.cleared"
    near = [*before[-7:], "|", *after[:6]]
    timed = any(word in EARLIER and {*near[max(0, i - 3) : i + 4]} & TIMES for i, word in enumerate(near))
    if timed and not {*after[:2]} & NOW and not {*before[-2:]} & NOW:
        return "historical", "trouble.earlier"
    return None


def _leads(words: list[str], wanted: set[str], reach: int = 5) -> bool:
    """The first word over small ones is one of those wanted."""
    for word in words[:reach]:
        if word in wanted:
            return True
        if word not in SMALL:
            return False
    return False


def _stayed_away(after: list[str]) -> bool:
    if any(pair in STAYED for pair in itertools.pairwise(after)):
        return not {"when", "until", "once"} & {*after[:3]}
    for at, word in enumerate(after[:5]):
        if word in NO:
            rest = after[at + 1 : at + 5]
            return bool({*rest} & RETURN) or "back" in rest or "more" in rest or ("there" in rest
                and "still" not in rest)
    return False
