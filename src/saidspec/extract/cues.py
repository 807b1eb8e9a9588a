"""The cues of a passage: words that decide the standing of what is said around them.

A cue has a category, a direction and a scope.  A source and a verb of saying make a cue together ("the book says").
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from datetime import date, timedelta

from saidspec.extract.authority import CLOSING, GOING, Heard, quotations
from saidspec.extract.cues_said import Cue, Cues
from saidspec.extract.days import Day
from saidspec.extract.grammar import BE, LOOKING, NEEDS
from saidspec.extract.passage import Found, Passage
from saidspec.extract.scopes import REACH, backward_start, forward_end, subject_start
from saidspec.extract.unlisted import unlisted

AHEAD = frozenset({"is", "'s", "in", "on", "of", "says", "stamped", "cast", "for"})
SUBORDINATE = frozenset({"when", "if", "because", "since", "before", "after", "as", "while", "or"})
RECENT = 45  # days before the note within which a job may be the one that is told of (common practice)
BEFORE_DAYS = frozenset({"in", "back", "on", "of", "around", "about", "early", "late", "sometime", "from", "summer",
                         "winter", "spring", "autumn", "last"})
TIME_UNITS = frozenset({"year", "month", "week", "day", "hour", "winter", "summer", "mile", "km", "owner", "service"})
TIMES = TIME_UNITS | {"a", "couple", "of", "few", "about", "some"}
TIME_REACH = 5
TAGS = (["isn't", "it"], ["wasn't", "it"], ["doesn't", "it"], ["didn't", "it"],
        ["wasn't", "that"])  # questions behind a statement
OPENINGS = frozenset({"", ",", ".", ";", "\n", "and", "but", "so", "back", "way", "sometime"})
NO_DEEDS = frozenset({"now", "let", ">", "→", "put", "got it", "turned"})  # of the words of adjusting
ORDERED = frozenset({"the", "that", "this", "same", "an", "my", "his", "firing", "reverse", "working", "mail", "last"})
LIMITS = frozenset({"minimum", "maximum", "min", "max", "limit"})
NOTHING = (["nothing"], ["nowt"], ["none"])
UNTOUCHED = "untouched-backward"  # the cue of a part to which nothing was done
WHEN_REACH = 8  # tokens from "when" to the day in "when I had this apart in 2021"
PLAN_REACH = 10  # tokens of a plan before its time
FOUND_AHEAD = 10  # tokens behind a cue to the finding that it opens: "i reckon the bearing is on its way out"
PART_AHEAD = 5  # tokens from a cue to the part that it is said of
VEHICLES = frozenset({"car", "van", "truck", "bike", "tractor", "trailer", "boat", "mower", "pickup", "wagon",
                      "scooter", "estate", "saloon", "caravan", "motorcycle"})
OWNED_VERBS = frozenset({"takes", "holds", "uses", "runs", "wants", "needs", "gets"})  # behind "Sarah's"
OURS = frozenset({"mine", "ours", "but", "this"})  # the talk is back at this vehicle


def cues_of(page: Passage, enders: frozenset[str], topics: frozenset[int], days: list[Day]) -> Cues:
    """All cues of a passage with their scopes.

    `enders`: the words that turn away; `topics`: the tokens at which a component phrase begins; `days`: the dates.
    """
    made = Cues(page, enders, topics, [i for i, lex in enumerate(page.lexemes) if lex.kind in ("number", "code")])
    simple = [Heard(cue.start, cue.end, cue.term.detail, cue.term.id, cue.term.meant)
              for cue in page.found.get("cue", ()) if cue.term.detail in REACH and not (
                  _no_cue(page, cue) or _goes_on_to_say(page, cue))]
    forward = {(heard.start, heard.end) for heard in simple if heard.direction == "forward"}
    backward = {(heard.start, heard.end) for heard in simple if heard.direction == "backward"}
    plans = [heard for heard in simple if heard.category == "planned" and heard.direction == "forward"]
    owned = [Heard(start, end, "other", "other-owner", "forward") for start, end in _owned_by_others(page)]
    for heard in (*simple, *quotations(page), *_long_past(page, days), *_needs_doing(page), *owned):
        span, plan = (heard.start, heard.end), _plan_before(page, plans, heard)
        back = plan is not None or _points_back(made, *span)
        direction = ("backward" if back else "forward") if heard.direction == "either" else heard.direction
        both_ways = span in (forward if direction == "backward" else backward)
        if both_ways and direction == ("forward" if back else "backward"):
            continue
        deed = _denied_deed(page, heard)
        if deed is not None:
            made.add(Cue(heard.start, heard.end, heard.category, heard.id, True, deed, heard.start))
            continue
        if direction in ("forward", "both"):
            end = forward_end(made, *span, heard.category, heard.id)
            made.add(Cue(heard.start, heard.end, heard.category, heard.id, False, heard.end, end))
        if direction in ("backward", "both"):
            start = max(backward_start(made, _time_told(page, *span), heard.category), plan or 0)
            if heard.id == UNTOUCHED:
                start = max(start, subject_start(made, start, heard.start))
            if heard.category == "quoted" and _done(page, start, heard.start):
                continue
            made.add(Cue(heard.start, heard.end, heard.category, heard.id, True, start, heard.start))
    return made


def _denied_deed(page: Passage, heard: Heard) -> int | None:
    """"Bled nothing": where the verb begins whose object is a "nothing"; not "checked, nothing loose"."""
    if heard.category != "negated" or page.words(heard.start, heard.end) not in NOTHING:
        return None
    verb = next((found for at in range(heard.start - 1, max(-1, heard.start - 4), -1)
                 if (found := page.starting("action", at)) is not None and found.end == heard.start), None)
    if verb is None or verb.term.id in LOOKING or verb.term.detail == "noun" or (
            page.inside("finding", heard.end) or page.word(heard.end) in ("to", "but", "else", "on", "in", "of")):
        return None
    return verb.start


def _points_back(made: Cues, start: int, end: int) -> bool:
    """Which way a cue points that may point either way.

    To the value right before it, else forward where a value follows; where there is none, forward where a part follows
    in its clause ("last time the valves were fine"), else back ("the valves were fine last year").
    """
    page, value = made.page, made.next_value(end)
    soon = made.value_soon(end)
    if (value is not None and value - end <= 1 and page.same_sentence(start, value)) or (
            page.word(end) in AHEAD and soon):
        return False
    start = _time_told(page, start, end)
    first = max(page.sentence_start(start), start - 3)
    behind = any(lex.kind in ("number", "code") for lex in page.lexemes[first:start])
    if behind and page.word(start - 1) not in (",", ";", "so", "and", "but", "on"):
        return not (not soon and not page.punctuated and _part_follows(made, end) and any(
            page.inside("finding", at) for at in range(end, min(end + FOUND_AHEAD, len(page)))))
    return not soon and not _part_follows(made, end)


def _done(page: Passage, first: int, last: int) -> bool:
    """"Tightened to 25, it says so on the cap": what a quotation points back to was done, and not only read."""
    deeds = (page.classes.hand_work | page.classes.adjusting) - GOING - NO_DEEDS
    return not deeds.isdisjoint(page.words(first, last))


def _plan_before(page: Passage, plans: list[Heard], heard: Heard) -> int | None:
    """"Have to check the level next weekend": the token at which the plan begins whose time a cue tells.

    `plans`: the planned cues that point forward, in order.
    """
    if heard.category != "planned":
        return None
    index = bisect_left(plans, heard.start, key=lambda plan: plan.start) - 1
    if index < 0 or not 0 < heard.start - plans[index].end <= PLAN_REACH:
        return None
    plan = plans[index]
    broken = any(lex.kind in ("mark", "number") for lex in page.lexemes[plan.end : heard.start])
    return None if broken or not page.same_sentence(plan.start, heard.start) else plan.start


def _time_told(page: Passage, start: int, end: int) -> int:
    """Where "two years ago" begins, of which the cue start..end is "ago" or "years ago": its number is no value."""
    at = start
    while at > 0 and page.word(end - 1) in ("ago", "back") and start - at < TIME_REACH and (
            page.word(at - 1) in TIMES or (page.lexemes[at - 1].kind == "number" and page.word(at) in TIME_UNITS)):
        at -= 1
    return at


def _part_follows(made: Cues, end: int) -> bool:
    """A component phrase follows in the clause that a cue opens, or what was found or done right behind it."""
    page = made.page
    if page.inside("finding", end) or page.inside("finding", end + 1) or page.starting("action", end):
        return True
    for at in range(end, min(end + PART_AHEAD, len(page))):
        if page.word(at) in CLOSING or page.word(at) in SUBORDINATE or not page.same_sentence(end - 1, at):
            return False
        if at in made.topics:
            return True
    return False


def _needs_doing(page: Passage) -> Iterator[Heard]:
    """"Tyres want pumping up to 36": a need of work, and not what was done."""
    for at, word in enumerate(page.norm):
        if word in NEEDS and page.word(at + 1).endswith("ing") and not (
                page.inside("part", at + 1) or page.inside("fastener", at + 1)):
            yield Heard(at, at + 2, "planned", "needs-doing", "forward")


def _long_past(page: Passage, days: list[Day]) -> Iterator[Heard]:
    """"Back in 2019", "on the 3rd of March": a day weeks before the note's makes history of what is said of it."""
    if page.note.date is None or page.note.date - date.min < timedelta(days=RECENT):
        return
    recent = (page.note.date - timedelta(days=RECENT)).isoformat()
    for day in days:
        if day.code < recent[: len(day.code)] and page.word(day.start - 1) in BEFORE_DAYS and (
                page.word(day.start - 2) not in ("built", "made", "registered")):
            first = page.sentence_start(day.start)
            opens = page.word(day.start - 2) in OPENINGS or day.start - 1 <= first or (
                "when" in page.words(max(first, day.start - WHEN_REACH), day.start))
            yield Heard(day.start, day.end, "historical", "long-past", "either" if opens else "backward")


def _no_cue(page: Passage, cue: Found) -> bool:
    """"The fluid got to 145 degrees" is no duty, "no it isn't it's a 15" no question."""
    said, end = page.norm[cue.start : cue.end], cue.end
    if said == ["either"]:
        at = end + 1 if page.word(end) in ("a", "an", "the") else end
        return at >= len(page) or page.lexemes[at].kind != "number"  # "no leaks at either cylinder"
    if said[-1:] != [] and said[-1] in LIMITS and not {"under", "below", "over", "above", "past", "beyond"}.isdisjoint(
            page.words(cue.start - 2, cue.start)) and "not" not in page.words(cue.start - 4, cue.start) and (
            end >= len(page) or page.lexemes[end].kind != "number"):
        return True  # "fifteen mil under the minimum"
    if cue.term.detail == "quoted" and cue.term.meant == "backward" and page.word(cue.start - 1) == "which":
        return True  # "measures 19.05, which is what it should be"
    if cue.term.detail == "other" and _taken_back(page, cue.start):
        return True
    if said == ["at", "least"] and end < len(page) and page.lexemes[end].kind != "number" and any(
            lex.kind == "number" for lex in page.lexemes[max(0, cue.start - 3) : cue.start]):
        return True  # "wants 2 bar at least, and it makes 2.6"
    if said == ["order"]:  # "in the spiral order", "that order"
        return page.word(cue.start - 1) in ORDERED or "in" in page.words(cue.start - 3, cue.start)
    if said == ["marked"]:
        return page.word(cue.start - 1) in ("the", "a")  # "caught it in the marked pan"
    if said == ["got", "to"]:
        return end < len(page) and page.lexemes[end].kind == "number"
    return said in TAGS and end < len(page) and page.word(end) not in CLOSING and page.word(end) != "?"


def _taken_back(page: Passage, at: int) -> bool:
    """"No wait, that's the other bike": what stood before was of another vehicle, and not what follows."""
    lead = page.words(at - 2, at)
    return lead in (["that", "'s"], ["it", "'s"], ["that", "was"], ["that", "is"]) and any(
        page.inside("correction", place) for place in (at - 1, at - 2, at - 3, at - 4))


def _goes_on_to_say(page: Passage, cue: Found) -> bool:
    """"Put 1.4 litres in the book says 1.4": the book says what follows, and not what stands before."""
    verb = page.starting("cue", cue.end)
    return cue.term.meant == "backward" and verb is not None and verb.term.detail == "source_verb" and (
        page.word(cue.end) not in BE)


def others(page: Passage) -> set[int]:
    """The tokens that speak of another vehicle: "my colleague's has a different bracket"."""
    found: set[int] = set()
    named = [(cue.start, cue.end) for cue in page.found.get("cue", ()) if cue.term.detail == "other" and not (
        _taken_back(page, cue.start))]
    for start, end in (*named, *_owned_by_others(page)):
        for at in range(end, min(page.sentence_end(start), end + REACH["other"])):
            if page.word(at) in OURS:
                break
            found.add(at)
    return found


def _owned_by_others(page: Passage) -> list[tuple[int, int]]:
    """"Sarah's takes 4.5", "Walt's van has": whose it is, and its verb; not where the note begins with its vehicle."""
    found: list[tuple[int, int]] = []
    for at, word in enumerate(page.norm):
        if word != "'s" or page.sentence[at] == 0 or not unlisted(page, at - 1):
            continue
        verb = at + 2 if page.word(at + 1) in VEHICLES else at + 1
        if page.lower(verb) in OWNED_VERBS or (verb == at + 2 and page.lower(verb) in ("has", "is", "had")):
            found.append((at - 1, verb + 1))
    return found
