"""The component phrases of a passage, with what hangs on them by "on", "of", "for" joined to them."""

from __future__ import annotations

from bisect import bisect
from dataclasses import replace

from saidspec.extract.component_runs import component_run
from saidspec.extract.component_words import cylinder, plural
from saidspec.extract.grammar import ARTICLES, BE, HELD_BY, JOINTS, STUCK_ON
from saidspec.extract.mention import Mention
from saidspec.extract.paired import behind_value
from saidspec.extract.passage import Passage

SIZED = frozenset({"mm", "mil", "millimetre", "inch"})
CONTENTS = frozenset({"litre", "l", "gallon", "gal", "quart", "qt", "oil"})  # behind a drum that holds them
THE_OTHER_ONE = ["the", "other", "one"]
SIDE_SAID = 30  # tokens in which a side was named for "the other one" to be on the other side
EACH, PER = frozenset({"leg", "side", "corner", "wheel", "cylinder"}), frozenset({"a", "per", "each"})
STROKED = frozenset({"each", "of", "per", "apiece"})  # behind pumps of a grease gun
LISTING = frozenset({",", "and", "the", "a", "+"})  # between phrases of a list


def mentions(page: Passage) -> list[Mention]:
    """All component phrases, in order; those joined by "on", "of", "for" made one."""
    found: list[Mention] = []
    end = 0
    numbered = {at for at, word in enumerate(page.norm) if word in page.classes.cylinder_words and (
        cylinder(page, at) is not None)}  # "number two has a gap of 52 thou"
    starts = numbered | _other_ones(page) | page.component.keys()
    for at in sorted(starts - page.covered.get("shield", set())):
        item = component_run(page, at) if at >= end and not _for_each(page, at) else None
        if item and not _head_of_fastener(page, item) and not _holds_oil(page, item):
            found.append(item)
            end = item.end
    return _without_asides(page, _joined(page, _listed_obliquely(page, found)))


def _for_each(page: Passage, at: int) -> bool:
    """"475 ml a leg", "grease nipples got 3 pumps each": no part that the value is of."""
    if page.word(at) in EACH and page.word(at - 1) in PER:
        return behind_value(page, at - 1)
    if page.word(at) == "water" and "percent" in page.words(at - 2, at):
        return True  # "the fluid has 2 percent water in it"
    before = page.lexemes[at - 1] if at else None
    if page.word(at) == "cylinder" and plural(page, at) and before is not None and before.kind == "number":
        return True  # "two cylinders, the plugs are ..."
    return page.word(at) == "pump" and page.lexemes[at - 1 if at else 0].kind == "number" and (
        page.word(at + 1) in STROKED or not {"grease", "zerk", "nipple"}.isdisjoint(page.words(at - 6, at + 5)))


def _other_ones(page: Passage) -> set[int]:
    """Where "the other one" is that on the other side: a side was named shortly before it."""
    sides = [item.start for item in page.found.get("position", ()) if item.term.detail == "side"]
    found = (at for at, word in enumerate(page.norm) if word == "other" and page.words(at - 1, at + 2) == THE_OTHER_ONE)
    return {at for at in found if any(start < at and not _one_of_them(page, start, at - 1)
                                      for start in sides[bisect(sides, at - SIDE_SAID) :][:1])}


def _one_of_them(page: Passage, first: int, end: int) -> bool:
    """"Two bolts on the left, one is a 10, the other one a 12": both are at that side."""
    return any(page.word(at) == "one" and not page.inside("position", at - 1) for at in range(first, end))


def _holds_oil(page: Passage, item: Mention) -> bool:
    """"From the drum, 33 litres": a drum that fluid is drawn from, and no brake drum."""
    return item.words == ("drum",) and not item.positions and (page.words(item.start - 2, item.start) == ["from", "the"]
        or not CONTENTS.isdisjoint(page.words(item.end, item.end + 5)))


def _head_of_fastener(page: Passage, item: Mention) -> bool:
    """"Three bolts, 15 mm heads": what a socket goes on, and no cylinder head."""
    if item.words != ("head",) or item.positions or not item.start:
        return False
    before = page.lexemes[item.start - 1]
    return before.kind == "number" or page.word(item.start - 1) in SIZED


def _without_asides(page: Passage, found: list[Mention]) -> list[Mention]:
    """Leave out where a source of figures is: "where the decal under the cowl asks for 1 mm", "the deck sticker says".

    A phrase without another one shortly before it stays: the talk is of that part then.
    """
    ends = {item.end: item for item in found}
    starts = {item.start: item for item in found}
    aside: set[int] = set()
    for cue in page.found.get("cue", ()):
        if cue.term.detail != "source" or page.word(cue.end - 1) not in STUCK_ON:
            continue
        place = cue.end + 2 if page.word(cue.end + 1) in ARTICLES else cue.end + 1
        behind = starts.get(place) if page.word(cue.end) in HELD_BY else None
        if behind is not None and _says(page, behind.end):
            aside.add(behind.start)
        itself = starts.get(cue.start) or starts.get(cue.end - 1)
        if itself is not None and itself.end == cue.end and _says(page, cue.end):
            aside.add(itself.start)  # "the plate said 60 newton metres"
        before = ends.get(cue.start)
        if before is not None and (_says(page, cue.end) or page.word(cue.end) == ":"):
            aside.add(before.start)
    return [item for i, item in enumerate(found) if item.start not in aside or not _follows(page, found[:i], item)]


def _says(page: Passage, at: int) -> bool:
    verb = page.starting("cue", at)
    return verb is not None and verb.term.detail == "source_verb" and page.word(at) not in BE


def _follows(page: Passage, earlier: list[Mention], item: Mention) -> bool:
    """Another phrase stands shortly before, in the same line up to three sentences."""
    if not earlier:
        return False
    away = page.sentence[item.start] - page.sentence[earlier[-1].start]
    return away <= 1 or (away <= 3 and "\n" not in page.norm[earlier[-1].start : item.start])


def _listed_obliquely(page: Passage, found: list[Mention]) -> list[Mention]:
    """"With lights, fan and heated window": what is listed with an oblique phrase is oblique too."""
    made: list[Mention] = []
    for item in found:
        before = made[-1] if made else None
        if before is not None and before.oblique and 0 < item.start - before.end <= 3 and (
                LISTING.issuperset(page.words(before.end, item.start))):
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
    if not 0 < other.start - item.end <= 3 or page.word(item.end) not in JOINTS or (
            not page.same_sentence(item.start, other.start)):
        return None
    between = page.words(item.end, other.start)
    if any(word not in ARTICLES and word not in JOINTS for word in between[1:]):
        return None
    if between == ["in"] and item.head in other.words and item.plural:
        return None  # "new plugs in plug gap 1 mm"
    if other.fastener and other.plural and item.kind == "part":
        return None  # "a new gasket on the thermostat housing bolts got 9"
    if other.kind == "position":
        return _positioned(page, item, other, between)
    if item.head in page.classes.carried_fluids and between[0] in ("on", "in", "at"):
        return None
    if item.kind == "position" or not item.general or (other.general and other.kind != "part") or (
            between[0] in ("off", "from")) or (between[0] == "to" and item.fastener) or (
            between[0] == "hold" and not item.fastener):
        return None
    positions = dict(other.positions) | dict(item.positions)
    words = (*other.words, *(word for word in item.words if word not in other.words[-1:]))
    return replace(item, end=other.end, words=words, positions=tuple(positions.items()), system=other.system,
                   general=other.general and item.general, kind=item.kind)


def _positioned(page: Passage, item: Mention, place: Mention, between: list[str]) -> Mention | None:
    """"Hose bracket on the right": the mention at the place said behind it."""
    after = page.word(place.end)
    numbered = [axis for axis, _ in place.positions] == ["cylinder"] and between[0] == "of"  # "exhaust of cylinder one"
    if not (numbered or between[0] in ("on", "at", "in")) or after == "one" or (
            after == "side" and between[-1] != "the"):
        return None
    if any(item.axis(axis) for axis, _ in place.positions):
        return None
    return replace(item, end=place.end, positions=(*item.positions, *place.positions))
