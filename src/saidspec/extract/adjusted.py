"""Values that go on from the one before: after an adjustment, behind a pronoun, like the size or the torque before."""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.attach import ALL_SIDES, Target
from saidspec.discourse.corrections import between
from saidspec.extract.both_put_right import first_of_two, second_of_two
from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention, placed
from saidspec.extract.passage import Passage
from saidspec.extract.place import counts_things
from saidspec.extract.quantity import Quantity
from saidspec.extract.roles import Hint
from saidspec.extract.scene import Scene
from saidspec.extract.sorts import Sort
from saidspec.normalise.number_words import whole

COUNTED = frozenset({"pumps", "turns", "clicks", "strokes", "squirts", "goes", "shots", "flats", "notches", "teeth"})
REMAINING = frozenset({"left", "remaining", "thick", "deep"})  # "pads have got six mil left": no size
LISTED_REACH = 8  # tokens from a value to the next one of its list
RIGHT_REACH = 14  # tokens between a value and what it was put right to
FROM_TO = frozenset({"to", "up", "down", "back", "out", "in", "till", "until"})
BETWEEN = FROM_TO | {"it", "them", "that", "i", "we", "so", "and", "then", "at", "the", "is", "'s", "was", ",", ".",
                     ";", "of", "mm", "all", "round", "a", "about", "just", "both", "they", "are", "by", "over", "'ve",
                     "in", "got", "has", "had", "my"}
ALL_FOUR_TO = frozenset({"to", "at", "up", "are", "were", "is"})
IT_IS = (["it", "is"], ["it", "'s"])
NOW_IT_IS = (["now", "it", "is"], ["now", "it", "'s"], ["it", "is", "now"])
PRONOUNS = frozenset({"it", "that", "they"})
STANDS_AT = frozenset({"is", "'s", "was", "are", "were", "'re", "reads", "read", "went"})
SEATING = frozenset({"hand", "finger", "contact", "snug", "touch", "touched", "seated", "gasket", "spun", "spin"})
MORE = frozenset({"more", "further", "past", "extra", "another", "plus", "then"})
UNDONE = frozenset({"out", "back", "off", "loose"})
AMERICAN, METRIC = frozenset({"qt", "floz", "gal"}), frozenset({"L", "mL"})


def gone_on(scene: Scene, item: Quantity) -> tuple[Sort, Target] | None:
    """The sort and component of a value that is told to be the same thing measured again, or None."""
    if not item.unit and item.end < len(scene.page) and scene.page.lexemes[item.end].text in COUNTED:
        return None  # "at 10 now, 3 pumps of grease in each"
    if scene.page.word(item.start - 1) == "all" and scene.page.word(item.end) in ALL_FOUR_TO:
        return None  # "set all four to 33"
    return _adjusted(scene, item) or _same_again(scene, item) or _put_right(scene, item)


def _put_right(scene: Scene, item: Quantity) -> tuple[Sort, Target] | None:
    """"Slack was 45 mm, took it up to 30 mm", "from 45 mm down to 30 mm": the value after it was put right.

    Between the two stand words of putting right and small words alone, and no other part.
    """
    page, recent = scene.page, scene.memory.recent
    second = second_of_two(scene, item)
    if second is not None:
        sort = Sort("measurement", second.role, second.unit, "measurement.put-right")
        return sort, Target(second.mention, "focus", 0.8)
    early = recent[-1] if recent else None
    if early is None or early is not scene.memory.last or not 0 < item.start - early.end <= RIGHT_REACH or (
            early.role not in page.classes.adjustable or not _measured_alike(early, item)):
        return None
    between = page.words(early.end, item.start)
    if between == ["instead", "of"]:
        sort = Sort("measurement", early.role, early.unit, "measurement.put-right")
        return sort, Target(early.mention, "focus", 0.85)
    moved = not page.classes.adjusting.isdisjoint(between) or (
        between[-1:] in (["to"], ["at"]) and not page.classes.changed.isdisjoint(between))
    if not moved and (page.word(early.start - 1) != "from" or not FROM_TO.issuperset(between)):
        return None
    part = early.mention
    inside = range(part.start, part.end) if part is not None else range(0)
    small = page.classes.adjusting | page.classes.changed | page.classes.measured | BETWEEN
    if not all(page.word(at) in small or at in inside for at in range(early.end, item.start)):
        return None
    part = first_of_two(scene, item) or part
    said = scene.near.placed_after(item.start, item.end) if part is not None else None
    if part is not None and said is not None:  # "31 front 35 back, pumped up to 32 front and 36 back"
        part = placed(part, dict(part.positions) | dict(said.positions))
    if part is not None and not {"all", "both"}.isdisjoint(between):  # "fronts 51, rears 48, brought them all to 55"
        part = placed(part, {axis: place for axis, place in part.positions if axis not in ("side", "end")})
    return Sort("measurement", early.role, early.unit, "measurement.put-right"), Target(part, "focus", 0.85)


def _adjusted(scene: Scene, item: Quantity) -> tuple[Sort, Target] | None:
    """"Moved it over, now 11 mm": the value after an adjustment is of what was measured before."""
    page = scene.page
    pronoun = page.words(item.start - 2, item.start) in IT_IS and not page.classes.adjusting.isdisjoint(
        page.words(max(page.sentence_start(item.start), item.start - 10), item.start))
    behind = page.words(item.end, min(item.end + 2, page.sentence_end(item.start)))
    if page.word(item.start - 1) != "now" and "now" not in behind and (
            page.words(item.start - 3, item.start) not in NOW_IT_IS and not pronoun):
        return None
    role = page.word(item.start - 2)  # "slack now 35 mm": the slack, whatever else was measured since
    for early in reversed(scene.memory.recent):
        if item.start - early.end > 60 or (early.kind == "count" and not item.unit and early.rule != "count.turns"):
            return None
        if counts_things(page, item):
            return None
        if _measured_alike(early, item) and (role not in page.classes.measured or early.role in (None, role)):
            named = next((mention for mention in scene.near.before(item.start, 4)
                          if mention.end > early.end and mention.words), None)
            opens = page.words(item.start - 2, item.start) in ([",", "now"], [".", "now"])
            if named is not None and not named.general and not opens and not pronoun:
                return None
            sort = Sort("measurement", early.role, early.unit, "measurement.adjusted")
            return sort, Target(_at_the_place_behind(scene, item, early.mention), "focus", 0.85)
    return None


def _at_the_place_behind(scene: Scene, item: Quantity, part: Mention | None) -> Mention | None:
    """"Now it is 5 at the top and 5.5 at the bottom": the part at the place that is told behind the value."""
    place = scene.near.placed_after(item.start, item.end) if part is not None else None
    if part is None or place is None or place.axis("side") in ALL_SIDES:
        return part
    return placed(part, dict(part.positions) | dict(place.positions))


def _measured_alike(early: Draft, item: Quantity) -> bool:
    """A measurement in the same unit and of the same order of magnitude."""
    if early.kind != "measurement" or not early.value or (not early.unit and item.unit):
        return False
    alike = not item.unit or item.unit == early.unit or (item.dimension == "mil" and early.unit == "mm")
    return alike and early.value / 20 <= item.value <= early.value * 20


def _same_again(scene: Scene, item: Quantity) -> tuple[Sort, Target] | None:
    """"It's 12.2 there", "that is six now": a pronoun and a value of the kind said last is of the same part."""
    page = scene.page
    last, words = scene.memory.last, page.words(item.start - 2, item.start)
    if last is None or last.kind != "measurement" or not last.unit or not last.value or len(words) < 2:
        return None
    if words[0] not in PRONOUNS or words[1] not in STANDS_AT or (words[0] == "that" and item.start - last.end > 8):
        return None
    if item.start - last.end > 20 or (item.unit and item.unit != last.unit):
        return None
    if not last.value / 6 <= item.value <= last.value * 6:
        return None
    near = scene.near
    if near.placed_after(item.start, item.end) or near.governed(item.end) or any(
            mention.start >= last.end and not _worked_on(page, mention.start) for mention in near.before(item.start)):
        return None
    return Sort("measurement", last.role, last.unit, "measurement.pronoun"), Target(last.mention, "focus", 0.85)


def _worked_on(page: Passage, at: int) -> bool:
    """"After adjusting the pushrod it is 6 mm": what was worked on by the way, and not what "it" stands for."""
    return any(page.lower(i).endswith("ing") for i in (at - 1, at - 2) if i >= 0)


def like_last(scene: Scene, item: Quantity, sort: Sort, hints: list[Hint]) -> Sort:
    """A length right behind a size, or behind a correction of one, is a size too: "18 mm; at the rack it is 16 mm"."""
    last, page = scene.memory.last, scene.page
    if last is None or last.kind != "size" or sort.kind != "measurement" or sort.unit != last.unit:
        return sort
    if not item.unit or item.start - last.end > 16 or item.value > 60 or not (item.whole or item.form == "fraction"):
        return sort
    if any(hint.kind == "measurement" and hint.distance <= 5 for hint in hints) or page.word(item.end) in REMAINING:
        return sort
    if not page.same_sentence(last.anchor, item.start) and between(page, last.end, item.start) is None:
        return sort
    return replace(sort, kind="size", role=last.role, rule="size.like-last")


def like_measured(scene: Scene, item: Quantity, sort: Sort, target: Target) -> Sort:
    """A length of the part measured just before, at another place of it, is measured so too and no size."""
    last = scene.memory.last
    if sort.kind != "size" or target.manner != "place" or last is None or last.kind != "measurement" or (
            last.unit != sort.unit or last.mention is None or target.mention is None):
        return sort
    if last.mention.words != target.mention.words or item.start - last.end > LISTED_REACH:
        return sort
    return Sort("measurement", last.role, last.unit, "measurement.like-last")


def like_compression(scene: Scene, item: Quantity, sort: Sort, target: Target) -> Sort:
    """A pressure behind the word compression, or behind a value of it, is one; not that of a tyre."""
    if sort.role != "pressure":
        return sort
    last, page = scene.memory.last, scene.page
    after = last is not None and last.role == "compression" and item.start - last.end < 40
    named = "compression" in page.words(item.start - 24, item.start)
    if (after or named) and not _other_pressure(scene, item, target):
        return replace(sort, role="compression")
    return sort


def _other_pressure(scene: Scene, item: Quantity, target: Target) -> bool:
    """Whether a part was named since the compression that has a pressure of its own: a tyre, a pump, a cap."""
    mention, last = target.mention, scene.memory.last
    said = [other for other in scene.near.before(item.start, 8) if other.words and (
        last is None or last.role != "compression" or other.start >= last.end)]
    return any(not scene.words.compressed.intersection(other.words)
               for other in (*said, *([mention] if mention is not None and mention.words else [])))


def scaled(said_units: frozenset[str], item: Quantity, sort: Sort) -> Sort:
    """Degrees without a scale are Fahrenheit where that scale was said, or US measures are and the figure is high."""
    if sort.rule != "measurement.degrees" or "degC" in said_units:
        return sort
    american = not AMERICAN.isdisjoint(said_units) and METRIC.isdisjoint(said_units)
    return replace(sort, unit="degF") if "degF" in said_units or (american and item.value >= 100) else sort


def turned_further(scene: Scene, item: Quantity, sort: Sort) -> bool:
    """"180 newton metres with a helper on the brake, and then another 90 degrees", "fifty newton metres. Marked it
    with paint and then a quarter turn more": adds the angle to that torque.
    """
    last, page = scene.memory.last, scene.page
    if last is None or last.kind != "torque" or last.angle is not None or not last.value:
        return False
    between = page.words(last.end, item.start)
    if item.start - last.end > 16 or not SEATING.isdisjoint(between) or any(
            other.fastener for other in scene.near.before(item.start, 16) if other.start >= last.end):
        return False  # "cover eighteen foot pounds, drain screw hand tight and a quarter turn past"
    more = item.dimension == "turn" and item.value <= 2 and (
        page.word(item.end) in MORE or not MORE.isdisjoint(between[-1:])) and page.word(item.end) not in UNDONE
    if not more and (sort.rule != "torque.angle" or not page.same_sentence(last.anchor, item.start)):
        return False
    last.angle, last.end = whole(item.value * (360 if item.dimension == "turn" else 1)), item.end
    return True
