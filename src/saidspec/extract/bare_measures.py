"""Measurements without a unit: by the name of what is measured, and by the part."""

from __future__ import annotations

from decimal import Decimal

from saidspec.extract.lengths import VAGUE
from saidspec.extract.measured_again import has_role
from saidspec.extract.place import Place
from saidspec.extract.roles import Hint, part_role
from saidspec.extract.sorts import Sort

LENGTHS = ("gap", "clearance", "play", "height", "thickness", "depth")  # roles that are read without knowing the unit
WORN_OR_LOW = ("thickness", "depth", "diameter", "pressure")  # what a part may be down to
FINE = ("thickness", "gap", "clearance")  # roles of few millimetres
PLAINLY_NAMED = ("pressure", "resistance", "temperature")  # roles kept without a unit where their name stands beside
UNTIL = frozenset({"until", "till"})  # "open until 6", "no shaking until 120"
STATES = frozenset({"hot", "cold", "warm", "outside"})  # rather the state something was measured in
READING = frozenset({"read", "reads", "measured", "measure", "measures"})
ELECTRIC = ("temperature", "voltage", "current", "resistance")  # roles that a bare figure beside a part does not tell
UNITS_OF_LISTS = {"mm": "mm", "millimetre": "mm", "thou": "thou", "inch": "in", "mil": "mm"}
LONGEST_INCHES = 60
FROSTY = ("coolant", "antifreeze", "concentrate")
LOADED, CHARGING = 8, 16  # volts that a battery of 12 V may show (common practice)
FLAT = 10  # volts of a battery of 12 V that is flat (common practice)
CHARGED = frozenset({"charging", "charge"})
BESIDE = 4  # tokens from a part to its volts: "alternator puts out", "battery sat at"
IDLING = (300, 4000)  # rpm that an idle may have (common practice)
CLOSE, FAR = 3, 9  # tokens between a figure and the name of what is measured
NAMES = ("part", "fastener", "position", "modifier", "head", "short")
NAMED_BETWEEN = frozenset({"number", "cylinder", "new", "old", "no", "my", "after", "before", "was", "got", "pumped",
                           "it", "them", "both", "all", "should", "wants", "want"})
VALVES = frozenset({"valve", "intake", "inlet", "exhaust", "tappet"})
SMALLEST_CLEARANCE, SMALLEST_MM, LARGEST_CLEARANCE = Decimal("0.002"), Decimal("0.03"), Decimal("0.6")
LOWEST_BAR, HIGHEST_BAR = Decimal("1.2"), Decimal("5.5")  # of tyres (common practice)
# Of battery acid and coolant against water, "1.265" or "twelve sixty-five" (common practice).
DENSITIES = ((Decimal("0.98"), Decimal("1.4")), (Decimal(980), Decimal(1400)))
ALIGNED, STEEPEST = frozenset({"camber", "caster", "castor"}), 15  # angles of a wheel, in degrees (common practice)
BRAKE_SIZES = {"drum": (Decimal(120), Decimal(420)), "disc": (Decimal(3), Decimal(45))}  # mm (common practice)


def measured(place: Place) -> Sort | None:
    """A value beside the name of what is measured: "gap is point eight", "pumped it to thirty six"."""
    item, near = place.item, _named(place)
    if near is None or item.form == "plural" or item.value > 4000 or place.counts_things() or place.lead in UNTIL:
        return None
    if near.role == "temperature" and not item.whole and item.value < 1:  # "lash, cold: intake .004"
        near = next((hint for hint in place.hints if hint.kind == "measurement" and hint.role in LENGTHS), near)
    if not _tied(place, near) or (near.start >= item.end and place.led_by_a_fastener()):
        return None
    if near.role == "thickness" and part_role(place.mention, place.scene.lexicon) in ELECTRIC:
        return None  # "battery cranks down to 9.8"
    if place.counts_things():
        return None  # "3 pumps of grease"
    sized = place.hint("size", 1)
    if sized is not None and not (near.distance == 0 and near.start < item.start):
        return None  # not where "volts" stands right before it: "volts ten point two, bit of a drip"
    if place.article and (place.fastened or near.role == "pressure"):
        return None
    if near.role == "speed" and not (IDLING[0] <= item.value <= IDLING[1] and item.whole and near.distance <= 4):
        return None
    if near.role == "density":
        dense = any(low <= item.value <= high for low, high in DENSITIES) and item.value != 1
        return Sort("measurement", "density", "", "measurement.density") if dense else None
    unit = _unit_of_the_list(place, near.role) or place.unsaid(near.role, place.page.word(near.start))
    if place.page.word(near.start) in STATES and ("measurement", "temperature") not in place.memory.by_role:
        return None  # "oil pressure was 45 hot and 70 cold"
    named = near.start < item.start and place.page.word(near.start) not in VAGUE
    if unit is None and item.form == "fraction" and near.role in LENGTHS and named and item.value < LONGEST_INCHES:
        return Sort("measurement", near.role, "in", f"measurement.{near.role}")  # "ride height, twenty-one and a half"
    if unit is None and near.role == "angle" and place.page.word(near.start) in ALIGNED and abs(item.value) < STEEPEST:
        unit = "deg"  # "camber left -0.6"
    if unit is None and not _length_without_unit(place, near) and not _plainly_named(place, near):
        return None
    if unit == "mm" and near.role in FINE and item.value > 60:
        return None
    return Sort("measurement", near.role, unit, f"measurement.{near.role}")


def _named(place: Place) -> Hint | None:
    """The nearest name of what is measured; "measured" and "down to" alone mean what is worn on the part."""
    near = place.hint("measurement", 10)
    if near is None or place.page.word(near.start) not in VAGUE:
        return near
    named = next((hint for hint in place.hints if hint.kind == "measurement" and hint.distance <= 4 and (
        place.page.word(hint.start) not in VAGUE)), None)
    if named is not None or place.mention is None:
        return named or near
    fits = (role for role in WORN_OR_LOW if has_role(place.scene, place.mention, role) and (
        place.unsaid(role) is not None))
    return near._replace(role=next(fits, near.role))


def _unit_of_the_list(place: Place, role: str) -> str | None:
    """"Gaps in mm: 1.1, 1.4": the unit that is told before a list."""
    page, start = place.page, place.item.start
    first = max(page.sentence_start(start), start - 6)
    at = next((at for at in range(first, start - 1) if page.norm[at] == "in"), None)
    return UNITS_OF_LISTS.get(page.word(at + 1)) if at is not None and role in LENGTHS else None


def _tied(place: Place, near: Hint) -> bool:
    """Whether a figure stands close to the name of what is measured, or nothing but linking words and the names of
    parts lies between: "gap on the number two plug is 0.9".
    """
    first, last = (near.end, place.item.start) if near.start < place.item.start else (place.item.end, near.start)
    if near.distance <= CLOSE:
        return True
    page = place.page
    return last - first <= FAR and all(
        page.word(at) in page.classes.topic_links or page.word(at) in NAMED_BETWEEN
        or page.word(at) in page.classes.instruments
        or any(page.inside(name, at) for name in NAMES) for at in range(first, last))


def _plainly_named(place: Place, near: Hint) -> bool:
    """"Oil pressure was 45", "resistance is 420": what is measured is named right before, whatever it is counted in."""
    page, item = place.page, place.item
    if near.role not in PLAINLY_NAMED or page.word(near.start) != near.role or place.mention is None:
        return False
    return near.end <= item.start and near.distance <= CLOSE and item.form not in ("year", "fraction") and (
        page.classes.topic_links.issuperset(page.words(near.end, item.start)))


def _length_without_unit(place: Place, near: Hint) -> bool:
    """Whether a length may be kept without any unit: a height, or a figure with decimals close to its name."""
    item = place.item
    if near.role not in LENGTHS or near.distance > 8 or item.value <= 0 or place.hint("torque", 3):
        return False
    if item.form in ("year", "fraction") or place.page.word(near.start) in ("measure", "measured"):
        return False
    return near.role == "height" or (near.distance <= 4 and not item.whole)


def charged(place: Place) -> Sort | None:
    """Volts and tenths where torques are told: "clamp bolt nine newton metres, alternator puts out 14.3"."""
    item, mention = place.item, place.mention
    if item.whole or item.form == "fraction" or not FLAT <= item.value <= CHARGING or "torque" not in (
            place.memory.by_kind) or place.article or place.counts_things():
        return None
    beside = mention is not None and not place.fastened and item.start - mention.end <= BESIDE and (
        part_role(mention, place.scene.lexicon) == "voltage")
    if not beside and CHARGED.isdisjoint(place.before(3)):
        return None
    return Sort("measurement", "voltage", place.unsaid("voltage") or "V", "measurement.charged")


def valve_clearance(place: Place) -> Sort | None:
    """"Inlet was 0.08, exhaust 0.12": hundredths are of a millimetre, thousandths of an inch (common practice)."""
    item, mention = place.item, place.mention
    if mention is None or mention.head not in VALVES or item.whole or item.form in ("fraction", "plural"):
        return None
    if not SMALLEST_CLEARANCE <= item.value <= LARGEST_CLEARANCE:
        return None
    said = place.memory.by_role.get(("measurement", "clearance"))
    unit = said if said in ("mm", "in") else "in" if item.value < SMALLEST_MM else "mm"
    return Sort("measurement", "clearance", unit, "measurement.valve")


def tyre_pressure(place: Place) -> Sort | None:
    """"Tyres 2.3 front and 2.4 rear", where no unit was ever said: a pressure with decimals is in bar."""
    item, mention = place.item, place.mention
    if mention is None or mention.head not in ("tyre", "spare") or item.whole or item.form == "fraction":
        return None
    if place.manner not in ("topic", "place", "for") or not LOWEST_BAR <= item.value <= HIGHEST_BAR:
        return None
    known = place.memory.by_role.get(("measurement", "pressure"))
    return Sort("measurement", "pressure", "bar", "measurement.tyre") if known in (None, "bar") else None


def brake_size(place: Place) -> Sort | None:
    """"Drum measures 203.4", "disc 21.5", where no unit was ever said: millimetres (common practice)."""
    mention, item = place.mention, place.item
    span = BRAKE_SIZES.get(mention.head) if mention is not None else None
    if span is None or item.whole or item.form == "fraction" or not span[0] <= item.value <= span[1]:
        return None
    if place.manner not in ("topic", "place", "for") or place.memory.by_kind.get("measurement") not in (None, "mm"):
        return None
    return Sort("measurement", part_role(mention, place.scene.lexicon), "mm", "measurement.brake")


def usual_of_part(place: Place) -> Sort | None:
    """A value of a part that is usually measured in one way, whose unit was said before: "disc is 25.2"."""
    if place.mention is None or place.item.form == "plural" or place.counts_things():
        return None
    role = part_role(place.mention, place.scene.lexicon)
    if place.mention.fastener and (role != "gap" or place.item.whole):
        return None  # of fasteners the spark plug alone
    if place.names_another(role):
        return None
    known = place.memory.by_role.get(("measurement", role)) is not None or (role in FINE and _plain_figure(place))
    unit = place.unsaid(role) if known else None
    if place.item.value < 0 and place.mention.head in FROSTY:
        return Sort("measurement", "temperature", place.memory.by_role.get(("measurement", "temperature")),
                    "measurement.frost")  # "coolant is good down to minus 35"
    if role == "voltage" and LOADED <= place.item.value <= CHARGING and not place.item.whole and (
            place.item.form != "fraction" and place.lead != "," and place.item.start - place.mention.end <= 5):
        return Sort("measurement", role, unit or "V", "measurement.voltage")
    if role is None or unit is None or (role in ELECTRIC and place.lead not in READING):
        return None
    return Sort("measurement", role, unit, f"measurement.{role}")


def _plain_figure(place: Place) -> bool:
    """"Shoes got about two and a half on them", "rotor's at 1.02": a figure with decimals close behind its part."""
    item, mention = place.item, place.mention
    return mention is not None and not item.whole and place.manner == "topic" and item.start - mention.end <= 5 and (
        place.page.classes.topic_links.issuperset(place.page.words(mention.end, item.start)))
