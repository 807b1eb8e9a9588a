"""Facts that are words: what was done, what was found, what was used, in the order of the note."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from saidspec.extract.draft import Draft
from saidspec.extract.materials import material
from saidspec.extract.mention import Mention
from saidspec.extract.observations import observation
from saidspec.extract.operations import operation, split_verbs
from saidspec.extract.passage import Found
from saidspec.extract.surroundings import Surroundings

Statement = Callable[[], Draft | None]


def statements(around: Surroundings) -> Iterator[tuple[int, Statement]]:
    """(token, reader) of each statement; the reader is called when the passage is read up to that token."""
    page = around.page
    inside = {at: phrase for phrase in around.near.mentions for at in range(phrase.start, phrase.end)}

    def later(read: Callable[[Surroundings, Found], Draft | None], found: Found) -> Statement:
        return lambda: read(around, found)

    for found in page.found.get("action", ()):
        if (
            not inside.keys() & {*range(found.start, found.end)}
            or found.term.detail in ("past", "ing")
            or ((found.end - found.start > 1 and found.start not in inside) or found.term.detail == "noun")
        ):
            yield found.start, later(operation, found)
    for found in page.found.get("finding", ()):
        if not inside.keys() & {*range(found.start, found.end)} or _spans_part(inside, found):
            yield found.start, later(observation, found)
    for found in page.found.get("material", ()):
        yield found.start, later(material, found)
    for found in split_verbs(around):
        yield found.start, later(operation, found)


def _spans_part(inside: dict[int, Mention], found: Found) -> bool:
    """A finding that names the part itself ("pedal goes to the floor") is one; a word of a part's name is none."""
    return found.end - found.start > 1 and all(
        found.start <= inside[at].start
        and inside[at].end <= found.end
        and inside[at].end - inside[at].start < found.end - found.start
        for at in range(found.start, found.end)
        if at in inside
    )
