"""Values without a unit that stand beside another value: a correction, a specification, an entry of a list."""

from __future__ import annotations

from decimal import Decimal

from saidspec.discourse.corrections import between, narrows, numbered
from saidspec.extract.draft import Draft
from saidspec.extract.measured_again import WORN_WITHIN
from saidspec.extract.place import Place
from saidspec.extract.quantity import number_at
from saidspec.extract.roles import part_role
from saidspec.extract.sorts import Sort
from saidspec.extract.unnamed_part import UNNAMED

# Property classes of bolts, ISO 898-1 table 1.
PROPERTY_CLASSES = frozenset(map(Decimal, ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")))
SIDES = frozenset({"left", "right", "front", "rear", "other"})
CODED = ("part_number", "date", "fluid", "trouble_code")  # kinds whose value is no figure
WORN_DOWN = ("thickness", "depth", "diameter")  # of a pad, a tyre, a drum: no figure of a bolt beside it
CONDITIONS = ("temperature", "speed")  # roles under which something else was measured: "at 20 degrees"
# "Minimum cast on the edge is nineteen", "plate on the door: 3.5 front".
LIMITS = frozenset({"minimum", "maximum", "min", "max", "limit", "sticker", "placard", "plate", "decal"})
SPECIFIED_REACH = 12  # tokens from a count to what a book says of it
COUNTED_OFF = ("count.turns", "count.strokes", "count.times")
WIDE = ("voltage", "current", "resistance")  # roles whose values lie far apart
FAR_OFF = 10  # times a value beyond which a figure is no limit of it
READS = frozenset({"is", "'s", "was", "had", "has", "reads", ":"})
LOADED, CHARGING = 5, 16  # volts of a system of 12 V (common practice)
CRANKED = 4  # times its ampere hours, a figure of a battery is rather its cranking current (common practice)
COPULAS = frozenset({"is", "are", "'s", "other", "was"})
JOINED = frozenset({"and", ",", "at", "idle", "then"})
BY = frozenset({"by", "x", "×"})
EACH = (["a"], ["per"], ["each"])


def corrected(place: Place) -> Sort | None:
    """The value behind a correction is of the kind of the one that it takes back: "a 12... no, 13"."""
    last, item, page = place.memory.last, place.item, place.page
    if last is None or not 0 < item.start - last.end <= 14 or item.form == "year":
        return None
    found = between(page, last.end, item.start)
    if found is None or item.start - found.end > 6 or found.start - last.end > 6 or found.term.detail == "recall":
        return None
    if last.kind in CODED or (last.kind != "size" and narrows(page, found.end, item.end)):
        return None
    if last.value is not None and last.value > 0 and not last.value / 20 <= item.value <= last.value * 20:
        return None
    return Sort(last.kind, last.role, last.unit, f"{last.kind}.corrected")


def same_there(place: Place) -> Sort | None:
    """"25 Nm on no 1, same on 2 and 3": numbers of places behind a back reference."""
    item = place.item
    if not item.whole or not 1 <= item.value <= 12 or item.unit or "same" not in place.before(5):
        return None
    return Sort(None, rule="cylinder.same", no_fact=True) if place.lead in ("on", "for", "and", ",") else None


def of_two_numbers(place: Place) -> Sort | None:
    """"Washer eighteen by twenty four", "28 by 40 by 7 seal": a size of two numbers, neither of which is a value."""
    page, item = place.page, place.item
    behind = place.lead in BY and number_at(page, item.start - 2)
    ahead = page.word(item.end) in BY and number_at(page, item.end + 1)
    return Sort(None, rule="size.of-two-numbers") if behind or ahead else None


def bolt_class(place: Place) -> Sort | None:
    """"M10 8.8, 45 Nm": the property class of a bolt (ISO 898-1) behind its thread."""
    page, at = place.page, place.item.start - 1
    while at > 0 and page.word(at) in ("class", "grade", "bolt", "a"):
        at -= 1
    threaded = at >= 0 and page.lexemes[at].kind == "code" and page.lexemes[at].form == "thread"
    if not threaded or place.item.value not in PROPERTY_CLASSES or place.item.unit:
        return None
    return Sort(None, rule="bolt.class", no_fact=True)


def cylinder_label(place: Place) -> Sort | None:
    """"Two is 95, three is 100": a small number before "is" and a value is that of a cylinder."""
    item, page, at = place.item, place.page, place.item.end
    if item.whole and item.value == 1 and item.high is not None and page.word(at) == ":" and item.high <= 12:
        return Sort(None, rule="cylinder.labels", no_fact=True)  # "compression 1 to 4: 12.4 12.6"
    if not item.whole or not 1 <= item.value <= 12 or item.unit or item.high is not None:
        return None
    label = Sort(None, rule="cylinder.label", no_fact=True)
    if numbered(page, item.start - 2) or place.lead in ("number", "#", "cyl", "cylinder"):
        return label
    if number_at(page, at) and _next_cylinder(place):
        return label  # "number one 150, number two 155, three 148"
    valued = number_at(page, at + 1) or (page.word(at + 1) in ("about", "a", "around") and number_at(page, at + 2))
    last = place.memory.last
    measured = last is not None and last.kind == "measurement" and item.start - last.end <= 12
    return label if page.word(at) in READS and valued and measured else None


def _next_cylinder(place: Place) -> bool:
    """The number is one more than the cylinder that the value before it was of."""
    last = place.memory.last
    if last is None or last.kind != "measurement" or last.mention is None or place.item.start - last.end > 4:
        return False
    return last.mention.axis("cylinder") == str(place.item.value - 1)


def specified(place: Place) -> Sort | None:
    """"Spec's 170 to 180": the unit of what was just measured on that part."""
    if not _tells_a_limit(place):
        return None
    item, last, conditions = place.item, place.memory.last, None
    for draft in reversed(place.memory.recent):
        if item.start - draft.end > 40:
            break
        if draft.value is None or not _limited(place, draft):
            continue
        if _far_off(draft, item.value):
            if draft.kind == "volume":
                break
            continue  # "label says 2018"
        if draft.role not in CONDITIONS or (draft is last and item.start - draft.end <= 8
                                            and draft.value / 3 <= item.value <= draft.value * 3):
            role = draft.role if draft.kind != "volume" else "capacity"
            return Sort(draft.kind, role, draft.unit, f"{draft.kind}.specified")
        conditions = conditions or draft
    return Sort("measurement", conditions.role, conditions.unit, "measurement.specified") if conditions else None


def _tells_a_limit(place: Place) -> bool:
    """Words of a limit stand before the figure, and nothing else tells what it is."""
    item, last = place.item, place.memory.last
    told = not place.scene.words.specifying.isdisjoint(place.before(4)) or not LIMITS.isdisjoint(place.before(7))
    if item.form in ("plural", "year") or not told or place.counts_things() or place.of_a_tool():
        return False
    if last is not None and last.rule in COUNTED_OFF and item.start - last.end <= SPECIFIED_REACH:
        return False  # "took it up six clicks. The book says five to seven"
    named = next((hint for hint in place.hints if hint.kind == "measurement" and hint.distance <= 3), None)
    if named is not None and (named.start < item.start or not named.distance):
        return False
    return not place.hint("odometer", 3) and not any(
        hint.kind == "volume" and hint.end <= item.start and hint.distance <= 2 for hint in place.hints)


def _limited(place: Place, draft: Draft) -> bool:
    """Whether a value said before may be the one that the figure is a limit of."""
    item = place.item
    if draft.kind == "volume":
        poured = draft is place.memory.last or item.start - draft.end <= 12 or place.hint("volume", 4)
        return bool(draft.unit and poured) and not place.names_another(None)
    if draft.role in WORN_DOWN and place.fastened and item.whole and _named_since(place, draft):
        return False
    return draft.kind == "measurement" or (draft.kind == "torque" and bool(draft.unit))


def _far_off(draft: Draft, value: Decimal) -> bool:
    """Whether a figure is too far from a value to be a limit of it."""
    far = FAR_OFF * FAR_OFF if draft.role in WIDE else FAR_OFF
    return draft.value is not None and draft.value > 0 and not draft.value / far <= value <= draft.value * far


def _named_since(place: Place, draft: Draft) -> bool:
    """Whether the component of the figure was named behind a value."""
    return place.mention is not None and place.mention.start >= draft.end


def parallel(place: Place) -> Sort | None:
    """A value in a list with the one before: "inner is 3 millimetres and the outer is 5"."""
    last, item, page = place.memory.last, place.item, place.page
    if last is None or last.value is None or not last.unit or item.start - last.end > 14 or place.counts_things():
        return None
    if not page.same_sentence(last.anchor, item.start) and item.start - last.end > 8:
        return None
    joint = {*page.words(last.end, item.start)}
    if last.kind not in ALIKE or not ALIKE[last.kind](place, last, joint):
        return None
    if place.fastened and last.kind != "torque" and place.hint("torque", 2):
        return None
    spread = 25 if joint <= JOINED and item.start - last.end <= 5 else 8
    if last.value > 0 and not last.value / spread <= item.value <= last.value * spread:
        return None
    unit = last.unit
    if unit == "lbf*in":  # said for the small bolts alone: "hub nut 129 as well" is as it was said before
        unit = place.memory.values.get((last.kind, item.value), unit)
    return Sort(last.kind, last.role, unit, f"{last.kind}.parallel")


def _volume_alike(place: Place, last: Draft, joint: set[str]) -> bool:
    if place.hint("measurement", 5):
        return False  # "put 467 in again and the level came out at 132"
    if place.item.start - last.end <= 8 and not SIDES.isdisjoint(joint) and (
            place.page.same_sentence(last.anchor, place.item.start)):
        return True  # "left leg gave 460 ml, right leg 470"
    near = place.item.start - last.end <= 8 and not {"and", "other"}.isdisjoint(joint)
    return bool(place.hint("volume", 3) or near) and place.page.same_sentence(last.anchor, place.item.start)


def _size_alike(place: Place, last: Draft, joint: set[str]) -> bool:
    """A whole size, told of a fastener or as another one; not "two a side"."""
    if place.item.value > 60 or not place.item.whole or place.item.high is not None or (
            last.unit == "in" and place.item.value >= 4) or place.names_another(None):
        return False
    if place.lead == "to" or place.after(1) == ["of"]:
        return False  # "sprocket nuts are 14 mm and they go to 45"
    if place.after(1)[:1] in EACH and {*place.after(3)} & {"side", "corner", "apiece"}:
        return False
    return place.article or place.fastened or not COPULAS.isdisjoint(joint)


def _measurement_alike(place: Place, last: Draft, _: set[str]) -> bool:
    """On the same part, or on one on which the same is measured; not where another thing measured was named since."""
    if place.names_another(last.role):
        return False
    if last.role in UNNAMED and place.manner != "topic":
        return True  # the engine was not named
    if last.role == "current" and not place.item.whole and place.lead == "at":
        return False  # "80 amps at 14.2"
    if last.unit == "Ah" and last.value is not None and place.item.value > last.value * CRANKED:
        return False  # "80 amp hour 740": the current it cranks with
    likely = not place.item.whole and LOADED <= place.item.value <= CHARGING
    if last.role == "voltage" and likely and not place.fastened:
        return True  # "12.4 volts at the plug and only 9.1 at the left magnet"
    if place.loose or place.mention is None or last.mention is None or place.mention.head == last.mention.head:
        return True
    if part_role(place.mention, place.scene.lexicon) == last.role or (
            last.role == "thickness" and place.mention.head in WORN_WITHIN):
        return True
    adjusted = place.before(3)[:2] == ["all", "4"] or not {"all", "both"}.isdisjoint(place.before(4))
    return adjusted and not _named_since(place, last)  # "tyre tread 5 mm. pressures were 29, set all four to 33"


def _torque_alike(place: Place, last: Draft, joint: set[str]) -> bool:
    if place.article or not place.scene.words.tools.isdisjoint(place.after(1)):  # "is a ten", "needs a 10 socket"
        return False
    if place.names_another(None):
        return False  # "locknut 17 newton metres. Free play at the pedal was nine"
    if place.manner == "topic" and place.mention is not None and last.mention is not None and (
            last.mention.fastener and {*place.mention.words} & {*last.mention.words[:-1]}):
        return True  # "bottom yoke bolts 20 Nm, top yoke eighteen"
    if place.manner == "topic" and place.mention is not None and place.item.start - place.mention.end <= 1 and (
            place.page.inside("socketed", place.mention.end - 1)):
        return True  # "manifold nuts 25 newton metres, lambda sensor 45"
    return place.fastened or not {"then", "to", "and", "at"}.isdisjoint(joint)


# Whether a bare value goes on with a value of a kind: by the value, the one before, and the words between the two.
ALIKE = {"volume": _volume_alike, "size": _size_alike, "measurement": _measurement_alike, "torque": _torque_alike}
