"""The cues of a passage: words that decide the standing of what is said around them.

A cue has a category, a direction and a scope.  A source and a verb of saying make a cue together ("the book says").
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from saidspec.extract.component_words import CATEGORIES
from saidspec.extract.grammar import HELD_BY, STUCK_ON
from saidspec.extract.passage import Found, Passage
from saidspec.extract.scopes import REACH, Cue, Cues, backward_start, forward_end

COPULAR = frozenset({"is", "was", "'s", "are", "number is", "figure is", "torque is", "value is", "value", "figure"})
LINKERS = frozenset({"on", "the", "in", "it", "they", "for", "all", "door", "inside", "of", "only", "just", "also",
                     "here", "actually", "this", "that", "which"})  # between a source and its verb
PEOPLE = ("dad", "mum", "mate", "page")  # with a colon behind them these head no quotation
SPEAKERS = frozenset({"i", "we", "you"})
AHEAD = frozenset({"is", "'s", "in", "on", "of", "says", "stamped", "cast", "for"})
CLOSING = frozenset({".", ",", "", "\n", ";", "!", "and", "so", "but"})
OURS = frozenset({"mine", "ours", "but", "this"})  # the talk is back at this vehicle


@dataclass(frozen=True, slots=True)
class Heard:
    """A cue at tokens start..end before its scope is known; `direction`: forward, backward or both."""

    start: int
    end: int
    category: str
    id: str
    direction: str


def cues_of(page: Passage, enders: frozenset[str], topics: frozenset[int]) -> Cues:
    """All cues of a passage with their scopes.

    `enders`: the words that turn away; `topics`: the tokens at which a component phrase begins.
    """
    made = Cues(page, enders, topics, [i for i, lex in enumerate(page.lexemes) if lex.kind in ("number", "code")])
    simple = [Heard(cue.start, cue.end, cue.term.detail, cue.term.id, cue.term.meant)
              for cue in page.found.get("cue", ()) if cue.term.detail in REACH and not _only_reached(page, cue)]
    forward = {(heard.start, heard.end) for heard in simple if heard.direction == "forward"}
    backward = {(heard.start, heard.end) for heard in simple if heard.direction == "backward"}
    for heard in (*simple, *_part_says(page), *_source_says(page)):
        direction, span = heard.direction, (heard.start, heard.end)
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
    """A cue that may point either way points to the value right before it, else forward where a value follows."""
    page, value = made.page, made.next_value(end)
    soon = made.value_soon(end)
    if (value is not None and value - end <= 1) or (page.word(end) in AHEAD and soon):
        return False
    first = max(page.sentence_start(start), start - 3)
    behind = any(lex.kind in ("number", "code") for lex in page.lexemes[first:start])
    return (behind and page.word(start - 1) not in (",", ";", "so", "and", "but", "on")) or not soon


def _only_reached(page: Passage, cue: Found) -> bool:
    """"The fluid got to 145 degrees" is no duty."""
    return page.norm[cue.start : cue.end] == ["got", "to"] and cue.end < len(page) and (
        page.lexemes[cue.end].kind == "number")


def _part_says(page: Passage) -> Iterator[Heard]:
    """"The cap of the reservoir says DOT 4": no source is named before "says", and no instrument shows it."""
    cues = page.found.get("cue", ())
    named = {at for cue in cues if cue.term.detail == "source" for at in range(cue.start, cue.end + 5)}
    shown = page.classes.instruments | SPEAKERS
    for cue in cues:
        if cue.term.detail == "source_verb" and page.lower(cue.start) == "says" and cue.start not in named and (
                "what" not in page.words(cue.start - 4, cue.start)) and (
                shown.isdisjoint(page.words(cue.start - 5, cue.start))):
            yield Heard(cue.start, cue.end, "quoted", "part-says", "forward")


def _source_says(page: Passage) -> Iterator[Heard]:
    """"The book says", "sticker on the door gives": a source and a verb of saying, a few words between."""
    for cue in page.found.get("cue", ()):
        if cue.term.detail != "source" or page.word(cue.start - 1) in ("a", "of"):
            continue
        name = " ".join(page.words(cue.start, cue.end))
        if page.word(cue.end) == ":" and name not in PEOPLE:
            yield Heard(cue.start, cue.end + 1, "quoted", "source-heads", "forward")
            continue
        verb = _verb_of_saying(page, cue)
        if verb is None:
            continue
        said = " ".join(page.words(verb.start, verb.end))
        if said not in COPULAR or name in page.classes.specification_names:
            closes = page.word(verb.end) in CLOSING or verb.end >= len(page)
            back = closes and not _done(page, cue.start)
            yield Heard(cue.start, verb.end, "quoted", "source-says", "backward" if back else "forward")


def _verb_of_saying(page: Passage, source: Found) -> Found | None:
    """The verb of saying behind a source, over small words and other cues of its sentence."""
    for at in range(source.end, min(source.end + 5, len(page))):
        verb = page.starting("cue", at)
        if verb and verb.term.detail == "source_verb":
            return verb
        if not _links(page, source, at) or not page.same_sentence(source.start, at):
            return None
    return None


def _links(page: Passage, source: Found, at: int) -> bool:
    """Whether a word may stand between a source and its verb: "the label on the drawbar says"."""
    if page.word(at) in LINKERS or page.inside("cue", at):
        return True
    placed = page.word(source.end - 1) in STUCK_ON
    return placed and (page.word(at) in HELD_BY or any(page.inside(name, at) for name in CATEGORIES))


def _done(page: Passage, at: int) -> bool:
    """What stands before is said of the hand and not of the book: "went back to 45, that's what the manual says"."""
    return not page.classes.hand_work.isdisjoint(page.words(max(page.sentence_start(at), at - 14), at))


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
