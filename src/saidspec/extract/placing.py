"""Which of several a value is of: the cylinder, the end of the vehicle, or all of them."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from dataclasses import replace

from saidspec.discourse.attach import Neighbours, Target
from saidspec.extract.component_words import plural
from saidspec.extract.mention import Mention
from saidspec.extract.paired import behind_value
from saidspec.extract.passage import Passage, is_stop
from saidspec.extract.quantity import Quantity
from saidspec.extract.scene import Scene

TO_THE_VALUE = frozenset({"is", "'s", "was", ":", "at", "about", "had", "has", "reads", "a", ">"})
ONE_OF_TWO = frozenset({"the", "this", "that", "left", "right", "new", "old", "other", "rear", "front",
                        "first", "second", "third", "fourth", "last"})
FRONT = (["in", "front"], ["up", "front"], ["at", "front"])
REAR = (["in", "back"], ["at", "back"], ["out", "back"])
HEIGHTS = {"up": "upper", "down": "lower"}
ENDING = ("", ".", ",", ";", "and", "\n")
OTHER_HEIGHT = 9  # tokens between "up" and "down"
ALL_ROUND = (("all", "round"), ("all", "around"), ("all", "four"), ("every", "corner"))  # wherever the work is
BEHIND = 4  # tokens from a value to "both sides"
MEASURED_ALL_ROUND = frozenset({"pressure", "tread", "gap", "depth", "height", "voltage", "temperature", "clearance"})
MEASURES_REACH = 4  # tokens from "pressures" to the figure for all
NOT_ALL = (["the"], ["side"], ["good"], ["fine"], ["ok"])  # "both the", "all good" tell nothing of the value


def placed(scene: Scene, item: Quantity, target: Target, label: str | None) -> Mention | None:
    """The component of a value at the cylinder `label`, at the end told behind it, or without a place for all."""
    mention = target.mention
    if mention is None:
        return None
    if label:
        mention = _at(mention, "cylinder", label)
    end = end_said(scene.page, item.end)
    if end:
        mention = _at(mention, "end", end)
    height = height_said(scene.page, item.end)
    if height:
        mention = _at(mention, "height", height)
    if mention.axis("side") and _both_sides(scene, item.end):
        mention = replace(mention, positions=tuple(pair for pair in mention.positions if pair[0] != "side"))
    loose = target.manner in ("focus", "topic") and (
        not names_its_place(scene.near, mention) or mention.start < scene.page.sentence_start(item.start))
    if _measures(scene.page, item, mention) or (loose and _for_all(scene, item)):
        kept = tuple(pair for pair in mention.positions if pair[0] not in ("side", "end"))
        mention = replace(mention, positions=kept)
    return mention


def _at(mention: Mention, axis: str, place: str) -> Mention:
    return replace(mention, positions=tuple((dict(mention.positions) | {axis: place}).items()))


def cylinder(page: Passage, start: int, labels: AbstractSet[int]) -> str | None:
    """The cylinder that a value belongs to: "no. 3 0.8 ohm", "two is 95"; `labels` are numbers known to name one."""
    at = start - 1
    while at > 0 and page.word(at) in TO_THE_VALUE and start - at < 4:
        at -= 1
    if at < 0:
        return None
    if page.word(at) == "one" and page.word(at - 1) not in ONE_OF_TWO:
        named = at > 0 and page.lexemes[at - 1].kind == "word" and not is_stop(page.word(at - 1)) and (
            page.word(at - 1) not in page.classes.numbered_parts | page.classes.cylinder_words)
        return None if named else "1"  # "engine one 12.7 V, leisure one 12.2": of two batteries
    value = page.lexemes[at].value
    return str(value) if at in labels and value is not None else None


def end_said(page: Passage, end: int) -> str | None:
    """"2.5 bar in front and 2.9 behind": the end, told by an adverb right behind the value."""
    words = page.words(end, end + 2)
    if words in FRONT:
        return None if page.word(end + 2) == "of" else "front"
    if words in REAR or (words[:1] == ["behind"] and page.word(end + 1) in (".", ",", "", "and", ";")):
        return "rear"
    return None


def height_said(page: Passage, end: int) -> str | None:
    """"11 bar up and 10.5 down": the upper and the lower one, told by adverbs right behind two values."""
    word = page.word(end)
    if word not in HEIGHTS or page.word(end + 1) not in ENDING:
        return None
    other = "down" if word == "up" else "up"
    near = [at for at in range(max(0, end - OTHER_HEIGHT), end + OTHER_HEIGHT) if page.word(at) == other]
    return HEIGHTS[word] if any(page.lexemes[at - 1].kind != "mark" and page.word(at + 1) in ENDING and (
        behind_value(page, at) or page.lexemes[at - 1].kind == "code") for at in near) else None


def names_its_place(near: Neighbours, mention: Mention) -> bool:
    """Whether the phrase itself names its side or end."""
    said = near.by_start.get(mention.start)
    return said is not None and any(axis in ("side", "end") for axis, _ in said.positions)


def _both_sides(scene: Scene, end: int) -> bool:
    """"Front pads have 6 mm left on both sides": told of both, right behind the value."""
    page = scene.page
    last = min(end + BEHIND, page.sentence_end(end - 1))
    said = next((scene.near.by_start[at] for at in range(end, last) if at in scene.near.by_start), None)
    return said is not None and not said.words and said.axis("side") == "both sides" and all(
        lex.kind != "number" for lex in page.lexemes[end : said.end + 1])


def _measures(page: Passage, item: Quantity, mention: Mention) -> bool:
    """"Rears five and a half, pressures were 29": what is measured is named in the plural behind the last place."""
    first = max(mention.end, item.start - MEASURES_REACH)
    return mention.end > 0 and any(
        page.norm[at] in MEASURED_ALL_ROUND and plural(page, at) for at in range(first, item.start))


def _for_all(scene: Scene, item: Quantity) -> bool:
    """"All four", "both", "all round": the value holds for each of them, wherever it sits."""
    page = scene.page
    if scene.attention.corner:  # both of one corner
        return any(tuple(page.words(at, at + 2)) in ALL_ROUND for at in range(item.start - 4, item.end + 3))
    around = page.words(max(page.sentence_start(item.start), item.start - 6), item.start)
    around = around + page.words(item.end, item.end + 3)
    return any(word in ("both", "all") and around[i + 1 : i + 2] not in NOT_ALL for i, word in enumerate(around))
