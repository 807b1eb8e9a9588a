"""The component phrases of a passage, with what hangs on them by "on", "of", "for" joined to them."""

from __future__ import annotations

from dataclasses import replace

from saidspec.extract.component_runs import component_run
from saidspec.extract.component_words import CATEGORIES
from saidspec.extract.grammar import ARTICLES, JOINTS
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage

LISTING = frozenset({",", "and", "the", "a", "+"})  # between phrases of a list


def mentions(page: Passage) -> list[Mention]:
    """All component phrases, in order; those joined by "on", "of", "for" made one."""
    found: list[Mention] = []
    at = 0
    shielded = page.covered.get("shield", set())
    starts = {start for name in CATEGORIES for start in page.at.get(name, ())}
    while at < len(page):
        item = component_run(page, at) if at in starts and at not in shielded else None
        if item:
            found.append(item)
            at = item.end
        else:
            at += 1
    return _joined(page, _listed_obliquely(page, found))


def _listed_obliquely(page: Passage, found: list[Mention]) -> list[Mention]:
    """"With lights, fan and heated window": what is listed with an oblique phrase is oblique too."""
    made: list[Mention] = []
    for item in found:
        before = made[-1] if made else None
        between = page.words(before.end, item.start) if before is not None else []
        if before is not None and before.oblique and 0 < len(between) <= 3 and LISTING.issuperset(between):
            item = replace(item, oblique=True)
        made.append(item)
    return made


def _joined(page: Passage, found: list[Mention]) -> list[Mention]:
    """Make "bolts on the caliper bracket" one mention, and "hose bracket on the right" one with its position."""
    made: list[Mention] = []
    for item in found:
        whole = _join(page, made[-1], item) if made else None
        if whole is None:
            made.append(item)
        else:
            made[-1] = whole
    return made


def _join(page: Passage, item: Mention, other: Mention) -> Mention | None:
    """The mention that two make, where the words between them join them."""
    between = page.words(item.end, other.start)
    if not between or len(between) > 3 or between[0] not in JOINTS or not page.same_sentence(item.start, other.start):
        return None
    if any(word not in ARTICLES and word not in JOINTS for word in between[1:]):
        return None
    if other.kind == "position":
        return _positioned(page, item, other, between)
    if item.head in page.classes.carried_fluids and between[0] in ("on", "in", "at"):
        return None
    if item.kind == "position" or not item.general or (other.general and other.kind != "part") or (
            between[0] in ("off", "from")) or (between[0] == "to" and item.fastener):
        return None
    positions = dict(other.positions) | dict(item.positions)
    words = (*other.words, *(word for word in item.words if word not in other.words[-1:]))
    return replace(item, end=other.end, words=words, positions=tuple(positions.items()), system=other.system,
                   general=other.general and item.general, kind=item.kind)


def _positioned(page: Passage, item: Mention, place: Mention, between: list[str]) -> Mention | None:
    """"Hose bracket on the right": the mention at the place said behind it."""
    after = page.word(place.end)
    if between[0] not in ("on", "at", "in") or after == "one" or (after == "side" and between[-1] != "the"):
        return None
    if any(item.axis(axis) for axis, _ in place.positions):
        return None
    return replace(item, end=place.end, positions=(*item.positions, *place.positions))
