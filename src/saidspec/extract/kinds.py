"""What a value with a unit is a fact of: its kind, role and final unit, by the words around it."""

from __future__ import annotations

from saidspec.extract.lengths import length
from saidspec.extract.measured_again import has_role
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity
from saidspec.extract.reach import distance, span_of_time, turns
from saidspec.extract.roles import Hint, part_role
from saidspec.extract.scene import Scene
from saidspec.extract.sorts import Sort
from saidspec.extract.volumes import volume

# Dimensions that are measured in one way only, with their role.
ROLES = {"voltage": "voltage", "current": "current", "resistance": "resistance", "charge": "capacity", "power": "power",
         "speed": "speed", "percent": "share", "weight": "weight", "temperature": "temperature"}
FURTHER = ("another", "further", "extra", "plus", "then")
HEATED = ("coolant", "antifreeze", "thermostat", "engine", "oil", "water", "manifold", "vent", "heater", "drum")
HOT = 65  # degrees from which they are rather of heat (common practice)
MEASURED = ("is", "'s", "measures", "measure", "measured", "are")
GRADES = (5, 10, 15, 20)  # SAE J300 winter grades, as of fork oil
LARGEST_KILOHM = 60  # in which a sensor, a lead or a coil is measured (common practice)
FURTHER_BEHIND = ("more", "further", "turn", "past")
TURNS = (90, 180, 60, 45, 30, 120, 270, 135)  # degrees of usual further turns (common practice)


def sort_of(scene: Scene, item: Quantity, mention: Mention | None, hints: list[Hint], hot: bool = False) -> Sort:
    """The sort of a quantity that has a unit; `hot` tells that temperatures were given before."""
    page, dimension = scene.page, item.dimension
    if dimension == "torque":
        return Sort("torque", None, item.unit, "torque.unit")
    if dimension == "volume":
        return volume(scene, item, hints)
    if dimension in ("length", "mil"):
        return length(scene, item, mention, hints)
    if dimension == "pressure":
        return _pressure(scene, item, mention, hints)
    if dimension == "pound":
        return _pound(mention, hints)
    if dimension == "degree":
        return _degree(scene, item, mention, hints, hot)
    if item.unit == "kg" and item.value < 60 and (_fastened(mention) or _near(hints, "torque", 4)):
        return Sort("torque", None, "kgf*m", "torque.kilos")  # as workshops that count in kgf m say it
    if item.unit == "W" and item.value in GRADES and page.word(item.start - 1) == "of":
        return Sort(None)  # "475 ml a leg of 10W": of oil, and no power
    if dimension in ROLES:
        return Sort("measurement", ROLES[dimension], item.unit, f"measurement.{dimension}")
    if dimension == "gauge":
        return Sort("size", "part", "gauge", "size.gauge")
    if dimension == "k" and _of_resistance(scene, item, mention):
        return Sort("measurement", "resistance", "kohm", "measurement.kilohm")
    if dimension in ("distance", "k"):
        return distance(page, item, hints)
    if dimension == "turn":
        return turns(page, item)
    if dimension == "time":
        return span_of_time(page, item, hints)
    if dimension == "long":
        return _long(page, item, mention)
    return Sort(None)


def _of_resistance(scene: Scene, item: Quantity, mention: Mention | None) -> bool:
    """"Sensor reads 2.2 k": thousands of ohms of a part that has a resistance, and no reading of the odometer."""
    if mention is None or item.value >= LARGEST_KILOHM or scene.page.word(item.start - 1) in ("at", "after", "since"):
        return False
    return has_role(scene, mention, "resistance") and item.start - mention.end <= 4


def _long(page: Passage, item: Quantity, mention: Mention | None) -> Sort:
    """Feet and metres are the length of a part that is told to be so long; else of a bar, a walk, or some wire."""
    long = page.word(item.end) == "long" or (
        page.word(item.start - 1) in MEASURED and page.word(item.end) in (".", ",", "", "\n", "and"))
    if long and mention is not None and mention.words and page.same_sentence(mention.start, item.start) and (
            item.start - mention.end in range(6)):
        return Sort("measurement", "length", item.unit, "measurement.long")
    return Sort(None, rule="length.of-no-part", no_fact=True)


def _fastened(mention: Mention | None) -> bool:
    return mention is not None and mention.fastener


def _near(hints: list[Hint], kind: str, reach: int) -> bool:
    return any(hint.kind == kind and hint.distance < reach for hint in hints)


def _pressure(scene: Scene, item: Quantity, mention: Mention | None, hints: list[Hint]) -> Sort:
    """A pressure, or a compression where that is named and no other part is since."""
    hint = next((hint for hint in hints if hint.role == "compression"), None)
    other = hint is not None and any(
        prior.start >= hint.end and prior.words and scene.words.compressed.isdisjoint(prior.words)
        for prior in scene.near.before(item.start, 8))
    named = mention is not None and (mention.head == "compression" or (
        mention.words == ("cylinder",) and mention.axis("cylinder") is not None))
    compression = named or (hint is not None and not other)
    return Sort("measurement", "compression" if compression else "pressure", item.unit, "measurement.pressure")


def _pound(mention: Mention | None, hints: list[Hint]) -> Sort:
    """Pounds of pressure in a tyre or under a radiator cap, of torque on a fastener, else of weight."""
    tyre = mention is not None and not mention.fastener and bool({"tyre", "spare", "wheel"} & {*mention.words})
    capped = mention is not None and mention.head == "cap" and mention.system == "cooling"
    if tyre or capped or any(hint.role == "pressure" and hint.distance < 10 for hint in hints):
        return Sort("measurement", "pressure", "psi", "measurement.pounds")
    if _fastened(mention) or _near(hints, "torque", 4):
        return Sort("torque", None, "lbf*ft", "torque.pounds")
    return Sort("measurement", "weight", "lb", "measurement.weight")


ANGLE_REACH = 60  # tokens from an angle to the next degrees that are one too


def _degree(scene: Scene, item: Quantity, mention: Mention | None, hints: list[Hint], hot: bool) -> Sort:
    """Degrees of an angle that is measured, of a further turn, or of heat."""
    page = scene.page
    of_angle = next((hint for hint in hints if hint.role in ("angle", "toe") and hint.distance < 8), None)
    if of_angle is not None:
        return Sort("measurement", of_angle.role, "deg", "measurement.angle")
    further = page.word(item.start - 1) in FURTHER or page.word(item.end) in FURTHER_BEHIND
    hinted = any(hint.role == "temperature" and hint.distance < 10 for hint in hints)
    warm = hot or hinted
    if further or (not warm and item.value in TURNS):
        return Sort("torque", None, "deg", "torque.angle")
    before = next((draft for draft in reversed(scene.memory.recent) if draft.unit in ("deg", "degC", "degF")), None)
    if before is not None and before.unit == "deg" and before.kind == "measurement" and (
            item.start - before.end <= ANGLE_REACH and not hinted) and (
            not warm or page.same_sentence(before.anchor, item.start)):
        return Sort("measurement", "angle", "deg", "measurement.angle")  # "timing was 2 degrees ... it's 6 degrees now"
    heated = mention is not None and (part_role(mention, scene.lexicon) == "temperature" or mention.head in HEATED)
    if not warm and not heated and not further and item.value < HOT:
        return Sort(None)  # of an angle or of heat: nobody knows
    return Sort("measurement", "temperature", "degC", "measurement.degrees")
