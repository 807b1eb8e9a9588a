"""Facts that are words: what was done, what was found, what was used, in the order of the note."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES, OWN_NO
from saidspec.extract.materials import material
from saidspec.extract.mention import Mention
from saidspec.extract.operations import operation
from saidspec.extract.passage import Found, Passage
from saidspec.extract.sought import unless_sought
from saidspec.extract.surroundings import Surroundings
from saidspec.extract.untouched import DONE, untouched
from saidspec.extract.used_up import SIGNS, used_up
from saidspec.extract.verbs import split_verbs, verbal

Statement = Callable[[], Draft | None]
Inside = dict[int, Mention]


def statements(around: Surroundings) -> Iterator[tuple[int, Statement]]:
    """(token, reader) of each statement; the reader is called when the passage is read up to that token."""
    page = around.page
    inside = {at: phrase for phrase in around.near.mentions for at in range(phrase.start, phrase.end)}
    split = [(verb, place) for verb, place in split_verbs(around) if verbal(around, verb)]
    verbs = {verb.start for verb, _ in split}
    places = {place for _, place in split}
    worked = verbs | places | {place + 1 for place in places if page.word(place + 1) == "tight"} | _worked(page)
    for found in page.found.get("action", ()):
        if _acts(inside, found) and (found.start not in verbs or found.end - found.start > 1) and (
                not _of_finding(page, found) and not _told_by_split(found, places)):
            yield found.start, partial(operation, around, found)
    for found in page.found.get("finding", ()):
        said = range(found.start, found.end)
        if not worked.isdisjoint(said) or _of_a_value(page, found) or _of_a_consumable(page, found):
            continue
        if inside.keys().isdisjoint(said) or _spans_part(inside, found):
            yield found.start, partial(unless_sought, around, found)
    for found in page.found.get("material", ()):
        yield found.start, partial(material, around, found)
    for found, _ in split:
        yield found.start, partial(operation, around, found)
    for at, word in enumerate(page.norm):
        if word in DONE:
            yield at, partial(untouched, around, at)
        if word in SIGNS:
            yield at, partial(used_up, around, at)


def _of_a_consumable(page: Passage, found: Found) -> bool:
    """"No brake cleaner left": words that end within the name of a consumable are no finding."""
    term = page.starting("material", found.end - 1)
    return term is not None and found.start < term.start and term.end > found.end


def _of_a_value(page: Passage, found: Found) -> bool:
    """"Two and a half mil on the inner", "disc run-out 0.04": a unit behind its figure, and the name of what a figure
    behind it measures."""
    unit = found.start > 0 and page.lexemes[found.start - 1].kind == "number" and page.norm[found.start] == "mil"
    return unit or (page.words(found.start, found.end) == ["run", "out"] and page.lower(found.start) == "run" and any(
        at < len(page) and page.lexemes[at].kind == "number" for at in (found.end, found.end + 1)))


def _worked(page: Passage) -> set[int]:
    """The words of work that are said right before their object: "backed off the nut" finds nothing."""
    return {at for found in page.found.get("action", ()) for at in range(found.start, found.end)
            if found.term.detail != "noun" and (page.word(found.end) in ARTICLES or (
                not ARTICLES.isdisjoint(page.words(found.start + 1, found.end))))}


def _told_by_split(found: Found, places: set[int]) -> bool:
    """A noun of work that a verb before its object tells: "gave the hinge a squirt of oil"."""
    return found.term.detail == "noun" and not places.isdisjoint(range(found.start, found.end))


def _of_finding(page: Passage, found: Found) -> bool:
    """A word of work in the middle or at the end of a finding tells how a part is: "well greased", "is pouring out"."""
    around = (page.starting("finding", at) for at in range(max(found.start - 3, 0), found.start + 1))
    return any(item.end >= found.end and item.end - item.start > found.end - found.start
               and page.word(item.start) not in OWN_NO for item in around if item is not None)


def _acts(inside: Inside, found: Found) -> bool:
    """A word of work within a part's name ("drain plug", "pipe fitting") is one only in a form that no name has."""
    part = inside.get(found.start)
    if found.term.detail == "ing" and part is not None and part.start < found.start:
        return False
    if found.term.detail in ("past", "ing", "noun") or inside.keys().isdisjoint(range(found.start, found.end)):
        return True
    return found.end - found.start > 1 and found.start not in inside


def _spans_part(inside: Inside, found: Found) -> bool:
    """A finding that names the part itself ("pedal goes to the floor") is one; a word of a part's name is none."""
    length = found.end - found.start
    within = {id(part): part for at in range(found.start, found.end) if (part := inside.get(at))}
    return length > 1 and all(found.start <= part.start and part.end <= found.end and part.end - part.start < length
                              for part in within.values())
