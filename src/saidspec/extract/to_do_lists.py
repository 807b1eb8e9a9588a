"""Lists of things to do: under a heading "To do", behind "still to do:", and the entries with an open box."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.plan import BREAKS, NOTHING, Plan, actions

PLAIN = 9  # level of a heading that is a line of text and not marked as one
HEADING = ("heading", "list")  # plans that open a list of what is to do: "still to do: ...", "on the list: ..."
HEADING_REACH = 5  # tokens before a colon in which the heading stands
BEFORE_HEADING = BREAKS | {"*", ","}


def items(page: Passage, parts: dict[int, Mention]) -> Iterator[Plan]:
    """A plan for each item of the lists of things to do; `parts` are the completed phrases by their first token."""
    for first, last in _lists(page):
        at = first
        while at < last:
            end = min(page.sentence_end(at), last)
            word = page.norm[at]
            if word not in BREAKS and word != "*" and word not in NOTHING:
                yield from _pieces(page, at, end, parts)
            at = max(end, at + 1)


def _pieces(page: Passage, first: int, last: int, parts: dict[int, Mention]) -> Iterator[Plan]:
    """One item, or several where it is a bare list of parts: "ground strap, wiper blades"."""
    cuts = [first, last]
    if not actions(page, first, last):
        cuts[1:1] = [at + 1 for at in range(first, last) if page.norm[at] in (",", "and")]
    pieces = [(start, end) for start, end in pairwise(cuts) if end - start > 0]
    bare = all(any(at in parts for at in range(start, min(start + 3, end))) for start, end in pieces)
    for start, end in pieces if bare and len(pieces) > 1 else [(first, last)]:
        acted = bool(actions(page, start, end))
        if acted or any(at in parts for at in range(start, end)):
            yield Plan(start, start, start, end, "plan-list", None if acted else "replace", item=True)


def _lists(page: Passage) -> Iterator[tuple[int, int]]:
    """The tokens of each list of things to do.

    A heading that names nothing but what is to do opens a list, which ends with a heading of its level or above; one
    that is a line of text ends with the first line that is no item.
    """
    utterances = page.note.utterances
    headed, level = False, 0
    for number, (first, last) in _tokens_of_utterances(page).items():
        said = utterances[number] if number < len(utterances) else None
        term = page.starting("plan", first)
        whole = term is not None and term.term.detail == "heading" and term.end >= last - 1
        boxed = page.norm[first] == "[" and page.word(first + 1) == "]"
        if said is not None and (said.heading or (whole and not said.item)):
            headed = whole or (headed and said.heading > level)
            level = said.heading or PLAIN
        elif headed and level == PLAIN and said is not None and not said.item:
            headed = False
        elif headed or boxed:
            yield first + (2 if page.norm[first] == "[" else 0), last
        else:
            colon = _colon_of_heading(page, first, last)
            if colon is not None:
                yield colon + 1, last


def _colon_of_heading(page: Passage, first: int, last: int) -> int | None:
    """The colon behind a heading within an utterance: "still to do: ..."."""
    terms = page.at.get("plan", {})
    for colon in range(first, last - 1):
        if page.norm[colon] == ":" and any(
                start in terms and terms[start].term.detail in HEADING and terms[start].end == colon
                and (start == first or page.norm[start - 1] in BEFORE_HEADING)
                for start in range(max(first, colon - HEADING_REACH), colon)):
            return colon
    return None


def _tokens_of_utterances(page: Passage) -> dict[int, tuple[int, int]]:
    """First and last token of each utterance, line ends left out."""
    found: dict[int, tuple[int, int]] = {}
    for at, number in enumerate(page.utterance):
        if page.norm[at] != "\n":
            found[number] = (found[number][0] if number in found else at, at + 1)
    return found
