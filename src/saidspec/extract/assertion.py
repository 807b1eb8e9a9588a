"""The standing of each statement, by the cues around it: quoted, planned, possible, historical, negated or stated.

A cue has a category, a direction and a scope.  A forward scope ends with the sentence, at a word that turns away
("but", "so"), and, once it has governed a value, where the speaker starts anew: with "I", or with another topic.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field

from saidspec.extract.draft import Draft
from saidspec.extract.passage import Found, Passage

SPEC_NAMES = {
    "spec",
    "specification",
    "spec sheet",
    "limit",
    "service limit",
    "wear limit",
    "minimum",
    "maximum",
    "range",
    "tolerance",
}
COPULA_VERBS = {"is", "was", "'s", "are", "number is", "figure is", "torque is", "value is", "value", "figure"}
LINKERS = {
    "on",
    "the",
    "in",
    "it",
    "they",
    "for",
    "all",
    "door",
    "inside",
    "of",
    "only",
    "just",
    "also",
    "here",
    "actually",
    "this",
    "that",
    "which",
}
REACH = {"quoted": 16, "planned": 14, "possible": 10, "historical": 16, "negated": 7, "condition": 16, "other": 14}
BACK = {"condition": 12, "other": 0, "quoted": 12, "planned": 12, "possible": 5, "historical": 8, "negated": 6}
VALUE_KINDS = {
    "torque",
    "volume",
    "size",
    "part_number",
    "fluid",
    "measurement",
    "odometer",
    "interval",
    "cost",
    "date",
    "duration",
    "count",
}
RANK = ("condition", "negated", "historical", "planned", "possible", "quoted")
FRESH = {"i", "we", "i've", "mine", "today", "now"}


@dataclass(frozen=True, slots=True)
class Cue:
    """A cue at tokens start..end that governs the tokens scope_start..scope_end."""

    start: int
    end: int
    category: str
    id: str
    backward: bool
    scope_start: int
    scope_end: int


@dataclass(slots=True)
class Cues:
    """The cues of a passage with their scopes, and where topics and values begin."""

    page: Passage
    enders: frozenset[str]
    topics: frozenset[int]  # tokens at which a component phrase begins
    values: list[int] = field(default_factory=list)  # tokens of numbers and codes, in order
    cues: list[Cue] = field(default_factory=list)
    by_token: dict[int, list[Cue]] = field(default_factory=dict)


def cues_of(page: Passage, enders: frozenset[str], topics: frozenset[int]) -> Cues:
    """All cues of a passage with their scopes."""
    made = Cues(page, enders, topics, [i for i, lex in enumerate(page.lexemes) if lex.kind in ("number", "code")])
    simple = _simple(page)
    forward = {(start, end) for start, end, _, _, direction in simple if direction == "forward"}
    backward = {(start, end) for start, end, _, _, direction in simple if direction == "backward"}
    for start, end, category, name, direction in simple + _sources(page):
        both = (start, end) in (forward if direction == "backward" else backward)
        if both and direction == ("forward" if _points_back(made, start, end) else "backward"):
            continue
        if direction in ("forward", "both"):
            _keep(made, Cue(start, end, category, name, False, end, _forward_end(made, end, category, name)))
        if direction in ("backward", "both"):
            _keep(made, Cue(start, end, category, name, True, _backward_start(made, start, category), start))
    return made


def _points_back(made: Cues, start: int, end: int) -> bool:
    """A cue that may point either way points to the value right before it, else forward where a value follows."""
    page = made.page
    value = next_value(made, end)
    if (value is not None and value - end <= 1) or (
        page.word(end) in ("is", "'s", "in", "on", "of", "says", "stamped", "cast", "for") and _value_soon(made, end)
    ):
        return False
    behind = any(
        page.lexemes[at].kind in ("number", "code") for at in range(max(page.sentence_start(start), start - 3), start)
    )
    return (behind and page.word(start - 1) not in (",", ";", "so", "and", "but", "on")) or not _value_soon(made, end)


def _value_soon(made: Cues, at: int) -> bool:
    """Whether a value follows a cue within its sentence, a few words on."""
    value = next_value(made, at)
    return (
        value is not None
        and value - at <= 14
        and at < len(made.page)
        and made.page.same_sentence(at, value)
        and (made.page.word(at) not in (",", ".", ";"))
    )


def _keep(made: Cues, cue: Cue) -> None:
    made.cues.append(cue)
    for at in range(cue.scope_start, cue.scope_end):
        made.by_token.setdefault(at, []).append(cue)


def _simple(page: Passage) -> list[tuple[int, int, str, str, str]]:
    return [
        (cue.start, cue.end, cue.term.detail, cue.term.id, cue.term.meant)
        for cue in page.found.get("cue", ())
        if cue.term.detail in REACH and not _only_reached(page, cue)
    ]


def _only_reached(page: Passage, cue: Found) -> bool:
    """ "The fluid got to 145 degrees" is no duty."""
    return (
        page.norm[cue.start : cue.end] == ["got", "to"]
        and cue.end < len(page)
        and page.lexemes[cue.end].kind == "number"
    )


def _sources(page: Passage) -> list[tuple[int, int, str, str, str]]:
    """ "The book says", "sticker on the door gives": a source and a verb of saying, a few words between."""
    found = []
    cues = page.found.get("cue", ())
    named = {at for cue in cues if cue.term.detail == "source" for at in range(cue.start, cue.end + 5)}
    for cue in cues:
        if (
            cue.term.detail == "source_verb"
            and page.lower(cue.start) == "says"
            and cue.start not in named
            and "what" not in page.words(cue.start - 4, cue.start)
            and not ({*page.words(cue.start - 5, cue.start)} & INSTRUMENTS)
        ):
            found.append(
                (cue.start, cue.end, "quoted", "part-says", "forward")
            )  # "the cap of the reservoir says DOT 4"
    for cue in cues:
        if cue.term.detail != "source" or page.word(cue.start - 1) in ("a", "of"):
            continue
        if page.word(cue.end) == ":" and name_of(page, cue) not in ("dad", "mum", "mate", "page"):
            found.append((cue.start, cue.end + 1, "quoted", "source-heads", "forward"))
            continue
        for at in range(cue.end, min(cue.end + 5, len(page))):
            verb = page.starting("cue", at)
            if verb and verb.term.detail == "source_verb":
                said = " ".join(page.words(verb.start, verb.end))
                name = name_of(page, cue)
                if said not in COPULA_VERBS or name in SPEC_NAMES:
                    after = page.word(verb.end)
                    closes = after in (".", ",", "", "\n", ";", "!", "and", "so", "but") or verb.end >= len(page)
                    found.append(
                        (
                            cue.start,
                            verb.end,
                            "quoted",
                            "source-says",
                            "backward" if closes and not _done(page, cue.start) else "forward",
                        )
                    )
                break
            if (page.word(at) not in LINKERS and not page.inside("cue", at)) or not page.same_sentence(cue.start, at):
                break
    return found


def name_of(page: Passage, cue: Found) -> str:
    """The words of a cue."""
    return " ".join(page.words(cue.start, cue.end))


INSTRUMENTS = {
    "clock",
    "indicator",
    "meter",
    "gauge",
    "multimeter",
    "scanner",
    "dash",
    "odometer",
    "dial",
    "scale",
    "tester",
    "thermometer",
    "gun",
    "wrench",
    "i",
    "we",
    "display",
    "needle",
    "reader",
    "dipstick",
    "stick",
    "speedo",
    "mic",
    "micrometer",
    "vernier",
    "caliper",
    "you",
    "click",
    "refractometer",
    "hygrometer",
    "hydrometer",
}
DONE = {"did", "went", "set", "got", "done", "put", "torqued", "tightened", "gave", "goes", "doing"}


def _done(page: Passage, at: int) -> bool:
    """What stands before is said of the hand and not of the book: "went back to 45, that's what the manual says"."""
    return bool({*page.words(max(page.sentence_start(at), at - 14), at)} & DONE)


def _forward_end(made: Cues, at: int, category: str, name: str) -> int:
    page = made.page
    reach = REACH[category] + (10 if page.punctuated and category == "quoted" else 0)
    last = min(page.sentence_end(at) if at < len(page) else at, at + reach)
    if page.word(at) == ":" and category in ("planned", "quoted"):
        return page.sentence_end(at)
    governed = False
    place = at
    while place < last:
        word = page.word(place)
        if word in made.enders and place > at and not (word == "right" and page.inside("position", place)):
            return place
        if category == "negated" and (word in (",", ";", "and") or page.lexemes[place].kind == "number") and place > at:
            return place
        if category == "planned" and place in made.topics and place - at > 2 and _states(page, place):
            return place
        if governed and category == "quoted" and _acted(page, place):
            return place
        if governed and (word in FRESH or (place in made.topics and _starts_topic(page, place))):
            return place
        if page.lexemes[place].kind in ("number", "code"):
            governed = True
            if (category == "possible" or name == "part-says") and not _ranges_on(page, place):
                return place + 1
        place += 1
    return last


def _states(page: Passage, at: int) -> bool:
    """A component phrase with a verb of its own in the present: "housing bolts are 12 foot pounds"."""
    return any(
        page.word(i) in ("are", "is", "'s", "gets", "got", "was", "were")
        and any(page.lexemes[j].kind == "number" for j in range(i + 1, min(i + 3, len(page))))
        for i in range(at + 1, at + 5)
    )


def _acted(page: Passage, at: int) -> bool:
    """A deed ends what the book says: "manual says 54, torqued them to 54"."""
    found = page.starting("action", at)
    return page.word(at) in ("did", "torqued", "set", "got", "went", "gave", "put") or (
        found is not None and found.term.detail == "past"
    )


def _ranges_on(page: Passage, at: int) -> bool:
    return page.word(at + 1) in ("to", "or", "-", "and")


def _starts_topic(page: Passage, at: int) -> bool:
    """A component phrase opens a statement where nothing links it to what stands before."""
    if (
        page.punctuated
        and page.word(at - 1) not in (",", ";", ":", "-", "and")
        and page.word(at - 2) not in (",", ";", ":", "-", "and", ">")
    ):
        return False
    before = page.word(at - 1)
    if before in ("the", "a", "an", "my", "both", "each", "new", "old"):
        before = page.word(at - 2)
    return before not in ("for", "on", "of", "in", "to", "at", "around", "from", "per", "with", "or")


def _backward_start(made: Cues, at: int, category: str) -> int:
    """Back to the start of the statement: over at most one value (or a range), not over a turning word."""
    page = made.page
    first = max(page.sentence_start(at), at - BACK[category])
    place, seen = at, 0
    while place > first:
        word = page.word(place - 1)
        if (word in made.enders and word != "right") or word in (";", ":"):
            return place
        if page.lexemes[place - 1].kind in ("number", "code"):
            seen += 1
            if seen > 1 and page.word(place) not in ("to", "-", "or", "and"):
                return place
        place -= 1
    return first


def standing(cues: Cues, draft: Draft) -> tuple[str, str | None]:
    """(assertion, id of the cue) of a draft; a cue that stands nearer wins within one rank."""
    best: dict[str, tuple[int, Cue]] = {}
    for cue in cues.by_token.get(draft.anchor, ()):
        if cue.category == "negated" and draft.kind in VALUE_KINDS:
            continue
        if (
            cue.backward
            and cue.category == "historical"
            and draft.kind == "odometer"
            and cues.page.word(cue.start) == "before"
        ):
            continue
        distance = cue.scope_end - draft.anchor if cue.backward else draft.anchor - cue.scope_start
        had = best.get(cue.category)
        if had is None or distance < had[0]:
            best[cue.category] = (distance, cue)
    if "other" in best and not _mine(cues.page, best["other"][1].end, draft.anchor):
        return "other", best["other"][1].id
    if not best and draft.kind in VALUE_KINDS and _asked(cues.page, draft):
        return "possible", "question"
    if draft.kind == "cost" and "quoted" in best and "planned" not in best:
        best["possible"] = best.pop("quoted")
    if (
        draft.kind == "size"
        and "planned" in best
        and draft.role in ("tool", "thread")
        and not {*cues.page.words(draft.start - 8, draft.start)} & {"order", "buy", "get"}
    ):
        best.pop("planned")  # "the nut needs a 32": said of the nut, not of a plan
    if (
        draft.kind in ("torque", "measurement", "volume")
        and "planned" in best
        and cues.page.word(best["planned"][1].start) in ("want", "wants", "needs")
        and (draft.anchor - best["planned"][1].end <= 2)
        and cues.page.word(best["planned"][1].end) not in ("a", "an", "to")
    ):
        best["quoted"] = best.pop("planned")  # "it wants sixty"
    for category in RANK:
        if category in best:
            if (
                category == "possible"
                and "quoted" in best
                and best["quoted"][0] < best["possible"][0]
                and (not best["possible"][1].backward)
            ):
                continue
            if (
                category == "historical"
                and draft.kind in ("interval", "duration")
                and draft.role not in ("since last", None)
            ):
                continue
            return {"condition": "possible"}.get(category, category), best[category][1].id
    return "stated", None


ASKING = {"is", "was", "are", "isn't", "wasn't", "what", "did", "does", "do", "which", "how", "could", "should", "were"}


def _asked(page: Passage, draft: Draft) -> bool:
    """The sentence of a value is a question."""
    end = page.sentence_end(draft.anchor)
    return page.word(end - 1) == "?" and (
        page.word(page.sentence_start(draft.anchor)) in ASKING or end - draft.end <= 2
    )


def others(page: Passage) -> set[int]:
    """The tokens that speak of another vehicle: "my colleague's has a different bracket"."""
    found: set[int] = set()
    for cue in page.found.get("cue", ()):
        if cue.term.detail == "other":
            for at in range(cue.end, min(page.sentence_end(cue.start), cue.end + REACH["other"])):
                if page.word(at) in ("mine", "ours", "but", "this"):
                    break
                found.add(at)
    return found


def _mine(page: Passage, start: int, end: int) -> bool:
    return bool({"mine", "this", "ours", "i", "but"} & {*page.words(start, end)})


def next_value(cues: Cues, at: int) -> int | None:
    """The first value at or behind a token."""
    index = bisect_left(cues.values, at)
    return cues.values[index] if index < len(cues.values) else None
