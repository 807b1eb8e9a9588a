"""The cues of a passage: words that decide the standing of what is said around them.

A cue has a category, a direction and a scope.  A source and a verb of saying make a cue together ("the book says").
"""

from __future__ import annotations

from saidspec.extract.authority import CLOSING, Heard, quotations
from saidspec.extract.passage import Found, Passage
from saidspec.extract.scopes import REACH, Cue, Cues, backward_start, forward_end

AHEAD = frozenset({"is", "'s", "in", "on", "of", "says", "stamped", "cast", "for"})
SUBORDINATE = frozenset({"when", "if", "because", "since", "before", "after", "as", "while", "or"})
PART_AHEAD = 5  # tokens from a cue to the part that it is said of
OURS = frozenset({"mine", "ours", "but", "this"})  # the talk is back at this vehicle


def cues_of(page: Passage, enders: frozenset[str], topics: frozenset[int]) -> Cues:
    """All cues of a passage with their scopes.

    `enders`: the words that turn away; `topics`: the tokens at which a component phrase begins.
    """
    made = Cues(page, enders, topics, [i for i, lex in enumerate(page.lexemes) if lex.kind in ("number", "code")])
    simple = [Heard(cue.start, cue.end, cue.term.detail, cue.term.id, cue.term.meant)
              for cue in page.found.get("cue", ()) if cue.term.detail in REACH and not _only_reached(page, cue)]
    forward = {(heard.start, heard.end) for heard in simple if heard.direction == "forward"}
    backward = {(heard.start, heard.end) for heard in simple if heard.direction == "backward"}
    for heard in (*simple, *quotations(page)):
        direction, span = heard.direction, (heard.start, heard.end)
        if direction == "either":
            direction = "backward" if _points_back(made, *span) else "forward"
        if span in (forward if direction == "backward" else backward) and (
                direction == ("forward" if _points_back(made, *span) else "backward")):
            continue
        if direction in ("forward", "both"):
            end = forward_end(made, heard.end, heard.category, heard.id)
            made.add(Cue(heard.start, heard.end, heard.category, heard.id, False, heard.end, end))
        if direction in ("backward", "both"):
            start = backward_start(made, heard.start, heard.category)
            made.add(Cue(heard.start, heard.end, heard.category, heard.id, True, start, heard.start))
    return made


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
    first = max(page.sentence_start(start), start - 3)
    behind = any(lex.kind in ("number", "code") for lex in page.lexemes[first:start])
    if behind and page.word(start - 1) not in (",", ";", "so", "and", "but", "on"):
        return True
    return not soon and not _part_follows(made, end)


def _part_follows(made: Cues, end: int) -> bool:
    """A component phrase follows in the clause that a cue opens."""
    page = made.page
    for at in range(end, min(end + PART_AHEAD, len(page))):
        if page.word(at) in CLOSING or page.word(at) in SUBORDINATE or not page.same_sentence(end - 1, at):
            return False
        if at in made.topics:
            return True
    return False


def _only_reached(page: Passage, cue: Found) -> bool:
    """"The fluid got to 145 degrees" is no duty."""
    return page.norm[cue.start : cue.end] == ["got", "to"] and cue.end < len(page) and (
        page.lexemes[cue.end].kind == "number")


def others(page: Passage) -> set[int]:
    """The tokens that speak of another vehicle: "my colleague's has a different bracket"."""
    found: set[int] = set()
    for cue in page.found.get("cue", ()):
        if cue.term.detail == "other":
            for at in range(cue.end, min(page.sentence_end(cue.start), cue.end + REACH["other"])):
                if page.word(at) in OURS:
                    break
                found.add(at)
    return found
