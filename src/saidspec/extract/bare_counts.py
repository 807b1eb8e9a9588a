"""Values without a unit that count: pieces, strokes of a pump or a gun, containers, and pieces that are pointed at."""

from __future__ import annotations

import itertools

from saidspec.extract.draft import Draft
from saidspec.extract.left_over import kept_in, left_right_behind, told_left
from saidspec.extract.passage import Passage
from saidspec.extract.place import MOST_COUNTED, Place
from saidspec.extract.scene import Scene
from saidspec.extract.sorts import Sort
from saidspec.normalise.numbers import TAKEN

ARTICLES = frozenset({"the", "these", "those", "other", "last", "first", "remaining", "my", "both"})
OURS = ("part", "fastener", "head", "modifier", "short", "standing", "material", "position", "action", "finding")
ENDS = frozenset({"", ".", ",", ";", "\n", "and", "so", "but"})
LISTING = (",", ":", "", "-")
NOT_PUMPED = (["of"], ["each"])


def pointed_at(place: Place) -> Sort | None:
    """"The two at the back", "those three": pieces pointed at, no value."""
    item, page, words = place.item, place.page, place.scene.words
    if not item.whole or item.form == "plural" or item.high is not None:
        return None
    if place.lead == "all" and item.value <= 20:
        return Sort(None, rule="count.all", no_fact=True)
    article = place.lead in ARTICLES or page.word(item.start - 2) in ARTICLES  # "front five in back" are two
    beside = page.lexemes[item.end] if item.end < len(page) else None
    if place.lead in ("other", "the", "these", "those") and item.value <= 16 and item.form == "words" and (
            beside is not None and beside.kind == "number" and beside.value is not None and beside.value > item.value):
        return Sort(None, rule="count.pointed", no_fact=True)  # "the other two 45"
    if place.lead in words.pointing and article and item.value <= 16 and (
            page.word(item.end) in words.pointed or page.starting("position", item.end)):
        return Sort(None, rule="count.pointed", no_fact=True)
    return None


def counted(place: Place) -> Sort | None:
    """"Three ten mil bolts": the first of two numbers counts the pieces."""
    item, page = place.item, place.page
    other = page.lexemes[item.end] if item.end < len(page) else None
    if other is None or other.kind not in ("number", "code") or not item.whole or not 1 <= item.value <= 24:
        return None
    if item.high is not None or item.angle is not None or place.lead == "at":
        return None
    further = page.lexemes[item.end + 1] if item.end + 1 < len(page) else None
    if other.kind == "number" and further is not None and further.kind == "number":
        return None  # "battery's twelve six five at rest"
    if other.value is not None and other.value > 36 and item.form == "words":
        return None  # "two hundred and": a figure that was told in two runs
    return Sort("count", handled(place, "used"), None, "count.pieces")


def count(place: Place) -> Sort | None:
    """"Eight screws", "two of them", "twenty times", "four strokes": pieces, strokes, turns."""
    item, after, words = place.item, place.after(3), place.scene.words
    if item.form == "fraction" and after[:1] and after[0] in words.packages and told_left(place.page, item.end):
        return Sort("count", "left over", None, "count.containers")
    if not item.whole or item.high is not None or item.form == "plural" or item.value < 1 or (
            place.led_by_a_fastener()):
        return None
    if role := _of_the_counted(place):
        return Sort("count", role, None, "count.rest")
    if after[:1] == ["odd"]:
        after = place.after(4)[1:]  # "thirty odd strokes"
    word = after[0] if after else ""
    opens = item.start == place.page.sentence_start(item.start)
    if opens and word in words.some_are and item.form == "words" and item.value <= 12:
        return Sort(None, rule="count.some", no_fact=True)
    if word in words.strokes or (word == "pump" and (
            after[1:2] in NOT_PUMPED or not words.pumping.isdisjoint(place.before(4)))):
        return Sort("count", "used", None, "count.strokes")
    if word == "time":
        return Sort("count", "used", None, "count.times")
    if word in words.packages:
        return Sort("count", handled(place, "bought"), None, "count.containers")
    if word in words.sets and after[1:2] == ["of"] and _part_near(place.page, item.end + 2):
        return Sort("count", handled(place, "used"), None, "count.sets")
    if _pieces(place, after):
        return Sort("count", handled(place, "used"), None, "count.pieces")
    return Sort("count", handled(place, "used"), None, "count.parts") if _parts(place) else None


def _part_near(page: Passage, at: int) -> bool:
    """A part is named at a token or behind an adjective: "set of | front pads"."""
    return any(page.inside(name, place) for name in ("part", "fastener") for place in range(at, at + 3))


def other_things(place: Place) -> Sort | None:
    """"3 nephews", "in two goes": what is counted is neither a part nor anything that a job uses."""
    page, end = place.page, place.item.end
    if not place.counts_things() or page.word(end) == "of":
        return None
    tightened = not place.scene.words.tightening.isdisjoint(place.before(5))
    if place.fastened or tightened or place.hint("measurement", 3):
        return None  # the noun may be a unit that was misheard
    ours = any(page.inside(name, at) for name in OURS for at in (end, end + 1))
    return None if ours else Sort(None, rule="count.other-things", no_fact=True)


def _pieces(place: Place, after: list[str]) -> bool:
    """"Two of them", "two of the front bolts", "three zip ties"."""
    item, page = place.item, place.page
    if after[:2] in (["of", "them"], ["of", "those"], ["of", "these"], ["of", "em"]):
        return True
    if _of_codes(place, after):
        return True
    if after[:2] == ["of", "the"] and any(
            page.starting(name, item.end + gap) for name in ("part", "fastener", "modifier") for gap in (2, 3)):
        return True
    material = page.starting("material", item.end)
    return material is not None and item.value <= 60 and page.lexemes[material.end - 1].text.endswith("s")


def _of_codes(place: Place, after: list[str]) -> bool:
    """"Two of the BN4410", "got 4 off SP-2214", "plugs, four off"."""
    item, page = place.item, place.page
    if after[:2] == ["of", "the"]:
        return item.end + 2 < len(page) and page.lexemes[item.end + 2].kind == "code"
    if after[:1] != ["off"] or item.form not in ("words", "figure") or item.value > 60:
        return False
    if item.end + 1 < len(page) and page.lexemes[item.end + 1].kind == "code":
        return True
    if place.lead in LISTING and any(page.starting(name, item.end + 1) for name in ("part", "fastener", "modifier")):
        return True  # "four off spark plugs"
    mention = place.mention
    behind_part = mention is not None and mention.end == item.start and mention.plural
    return (place.lead in LISTING or behind_part) and after[1:2] in ([], ["."], [","], ["\n"], ["and"])


def _parts(place: Place) -> bool:
    """"Eight screws": a plural part right behind."""
    mention, item = place.mention, place.item
    if item.value == 1 and item.form == "words" and place.page.word(item.end) == "new" and any(
            place.page.starting(name, item.end + 1) for name in ("part", "fastener", "modifier", "position")):
        return True
    if place.manner != "modifier" or mention is None or item.value > 60 or item.form == "fraction":
        return False
    if item.value > MOST_COUNTED and not place.scene.words.specifying.isdisjoint(place.before(3)):
        return False  # "the min is 22 pads have 7 left"
    last = mention.end - 1
    if item.value == 1 and item.form == "words" and (place.lead in TAKEN or told_left(place.page, item.end)):
        return True
    return mention.plural or (last < len(place.page) and place.page.lexemes[last].text.endswith("s"))


def _of_the_counted(place: Place) -> str | None:
    """The role of a number of the things counted before: "bought four, used three, one left"; or of what is kept
    somewhere: "four left in the tin".
    """
    page, item = place.page, place.item
    before = counted_before(place.scene, item.start)
    if item.value > MOST_COUNTED or (before is None and place.mention is None):
        return None
    if left_right_behind(page, item.end):
        behind = item.end + (2 if page.word(item.end + 1) == "over" else 1)
        return "left over" if before is not None or kept_in(page, behind) > behind else None
    ends = page.word(item.end) in ENDS or page.word(item.end + 1) == "left"
    return "used" if before is not None and place.lead == "used" and ends else None


def counted_before(scene: Scene, start: int) -> Draft | None:
    """The count right before token `start`: of this sentence or the one before it."""
    last = scene.memory.last
    near = last is not None and last.kind == "count" and last.mention is not None and (
        scene.page.sentence[start] - scene.page.sentence[last.start] <= 1)
    return last if near else None


def handled(place: Place, otherwise: str) -> str:
    """Whether pieces were bought, are left over, or were used."""
    page, item = place.page, place.item
    before = page.words(max(page.sentence_start(item.start), item.start - 6), item.start)
    after = page.words(item.end, min(page.sentence_end(item.start), item.end + 7))
    if told_left(page, item.end) or _goes_on(place):
        return "left over"
    if {"bought", "ordered", "purchased"} & {*before} or ("picked", "up") in itertools.pairwise(before):
        return "bought"
    got = "got" in before and ("from" in after or "new" in after[:2] or "i" in before)
    return "bought" if got else otherwise


def _goes_on(place: Place) -> bool:
    """"One filter left and two washers": the second of a row of things that are left, with no deed told of it."""
    page, item, last = place.page, place.item, place.memory.last
    if last is None or last.kind != "count" or last.role != "left over" or place.lead not in ("and", ",", "plus"):
        return False
    between = page.words(last.end, item.start)
    behind = page.words(item.end, min(page.sentence_end(item.start), item.end + 7))
    return page.same_sentence(last.start, item.start) and place.scene.words.taking.isdisjoint([*between, *behind])
