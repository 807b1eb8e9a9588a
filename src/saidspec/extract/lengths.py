"""What a length is: a measurement of a part, the size of a tool, a fastener or a tube, or millilitres said as "mil"."""

from __future__ import annotations

from decimal import Decimal

from saidspec.extract.measured_again import WORN_WITHIN, has_role
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity
from saidspec.extract.roles import Hint, part_role
from saidspec.extract.scene import Scene
from saidspec.extract.sorts import Sort
from saidspec.extract.volumes import gave_out, names_a_side

FINE_ROLES = ("play", "gap", "clearance", "runout")  # of few millimetres
LEAST_CYLINDER = 30  # mm of the bore of a cylinder; a smaller one is rather that of a hose (common practice)
LARGEST_FINE = 10  # mm of a gap or clearance (common practice)
# roles measured in other units
NO_LENGTH = ("pressure", "temperature", "voltage", "angle", "compression", "speed", "resistance", "current", "weight",
             "density")
HALF_SIZES = (Decimal("5.5"), Decimal("4.5"), Decimal("2.5"), Decimal("3.5"))  # keys and sockets with a half
SMALLEST_TOOL = Decimal("1.5")  # mm, of hexagon keys on a vehicle (common practice)
SMALLEST_SOCKET = 7  # mm, on a part that is no fastener (common practice)
LARGEST_TOOL = 36  # mm; larger figures are rather a length (common practice)
RIMS, RIM_SIZES = ("rim", "wheel", "alloy", "steelie"), range(4, 25)  # inches, of a rim
VAGUE = frozenset({"down", "measure", "measured", "worn", "micrometer", "mike", "miked", "calipered"})
ADJUSTED = frozenset({"adjustment", "thread"})
ALONG_REACH = 6  # tokens from the pieces of a chain to the length over them
LEAST_VACUUM = 3  # inches of mercury; smaller ones are rather of a vacuum hose
VACUUM_REACH = 6  # tokens from "vacuum" to its inches, which are of mercury
LEAST_POURED = 20  # mil that are poured without the fluid being named behind them
LEAST_GIVEN = 100  # mil that a leg or a plug gave: millilitres of what came out (common practice)
LENGTH_ROLES = ("thickness", "gap", "clearance", "play", "slack", "deflection", "depth", "runout", "diameter", "width",
                "travel", "height", "length")
WORN_ROLES = ("thickness", "depth", "diameter")  # what grows less on a lining, a tyre, a pin
EDGES = frozenset({"from", "below", "above", "under", "over"})
ENDS_OF_A_TUBE = frozenset({"top", "edge", "rim", "bottom", "brim", "lip"})
SPANNED = {"wide": "width", "thick": "thickness", "deep": "depth", "long": "length", "proud": "height",
           "high": "height", "tall": "height"}
SPANNING = ("below", "above", "out", "wide", "apart", "across", "long", "high",
            "proud", "short")


def length(scene: Scene, item: Quantity, mention: Mention | None, hints: list[Hint]) -> Sort:
    """The sort of a length, by the words around it and by the part it stands beside."""
    spanned = SPANNED.get(scene.page.word(item.end))
    deep = spanned == "depth" and mention is not None and mention.fastener and scene.page.word(item.start - 1) == "a"
    if spanned and item.unit != "thou" and not deep and not _tool_behind(scene, item):  # "plug takes a 13 mm deep"
        return Sort("measurement", spanned, "mm" if item.dimension == "mil" else item.unit, "measurement.spanned")
    if scene.page.word(item.end) == "of" and item.form == "fraction" and item.unit == "in" and (
            scene.page.word(item.end + 1) in scene.words.poured):
        return Sort("measurement", "depth", "in", "measurement.depth")  # "half an inch of water in it"
    if item.unit == "in" and scene.page.word(item.end) in RIMS and item.value in RIM_SIZES and (
            scene.page.word(item.end + 1) != "runout"):
        return Sort("size", "part", "in", "size.rim")  # "on ten inch rims"
    if item.unit == "in" and item.value >= LEAST_VACUUM and "vacuum" in scene.page.words(
            item.start - VACUUM_REACH, item.end + 3):
        return Sort("measurement", "pressure", "inHg", "measurement.vacuum")
    if item.dimension == "mil" and _named(scene, item, mention, [], "mm") is None:
        poured = _poured(scene, item, mention, hints)
        if poured is not None:
            return poured
    unit = "mm" if item.dimension == "mil" else item.unit
    measuring = [hint for hint in hints if hint.kind == "measurement" and hint.role not in NO_LENGTH]
    sizing = [hint for hint in hints if hint.kind == "size"]
    if unit == "thou" or (item.unit == "cm" and not sizing):
        near = _near(scene, item, mention, measuring)
        role = near.role if near is not None else _usual(scene, mention)
        return Sort("measurement", role, unit, "measurement.length")
    return _named(scene, item, mention, sizing, unit) or _of_part(scene, item, mention, measuring, sizing, unit)


def _tool_behind(scene: Scene, item: Quantity) -> bool:
    """"10 mm long socket": the word tells how the tool is made."""
    return not scene.words.tools.isdisjoint(scene.page.words(item.end + 1, item.end + 3))


def _poured(scene: Scene, item: Quantity, mention: Mention | None, hints: list[Hint]) -> Sort | None:
    """"Ten mil of fork oil", "drained 300 mil": millilitres, where a fluid is poured and no part is measured there."""
    page = scene.page
    roles = [hint for hint in hints if hint.kind == "volume" and hint.role in ("added", "drained", "left over") and (
        page.word(hint.start) != "measured" and not names_a_side(page, hint.start))]
    if item.value >= LEAST_GIVEN and gave_out(page, item.start):
        return Sort("volume", "drained", "mL", "volume.mil")
    of_fluid = _of_a_fluid(scene, item.end)
    filled = bool(roles) and roles[0].distance < 4
    if not of_fluid and (item.value < LEAST_POURED or from_an_edge(page, item) or _measured_so(
            scene, item, mention, hints, filled)):
        return None
    if of_fluid or filled or (mention is not None and mention.head in ("oil", "fluid", "coolant")):
        return Sort("volume", roles[0].role if roles else "added", "mL", "volume.mil")
    return None


def _of_a_fluid(scene: Scene, at: int) -> bool:
    """"Of fork oil", "of fresh DOT 4"."""
    page = scene.page
    return page.word(at) == "of" and (not scene.words.poured.isdisjoint(page.words(at + 1, at + 4)) or any(
        page.inside("fluid", i) or (i < len(page) and page.lexemes[i].form == "viscosity") for i in range(
            at + 1, at + 4)))


def _measured_so(scene: Scene, item: Quantity, mention: Mention | None, hints: list[Hint], filled: bool) -> bool:
    """A part that has a thickness, a bore, a gap stands beside the figure, or the name of such a quantity.

    Where pouring is told right there (`filled`) the part must stand nearer.
    """
    if mention is not None and not mention.fastener and part_role(mention, scene.lexicon) in LENGTH_ROLES and (
            not filled or item.start - mention.end <= 1):
        return True
    return any(hint.kind == "measurement" and hint.role in LENGTH_ROLES and hint.distance <= (2 if filled else 5) and (
        scene.page.word(hint.start) not in VAGUE) for hint in hints)


def from_an_edge(page: Passage, item: Quantity) -> bool:
    """"Oil level 140 mil from the top", "15 mil under the minimum": how far, and not how much."""
    at = item.end + (page.words(item.end, item.end + 2) == ["down", "from"])
    return page.word(at) in EDGES and (page.words(at, at + 2) != ["from", "the"] or (
        page.word(at + 2) in ENDS_OF_A_TUBE))


def _named(scene: Scene, item: Quantity, mention: Mention | None, sizing: list[Hint], unit: str) -> Sort | None:
    """The size of a tool or of a tube that is named right behind it."""
    page, words = scene.page, scene.words
    after = page.word(item.end)
    if unit == "mm" and item.value < SMALLEST_TOOL:
        return None
    if after in words.tools or (after in words.tool_makes and page.word(item.end + 1) in words.tools):
        return Sort("size", "tool", unit, "size.tool")
    told = mention is not None and mention.head in ("hose", "pipe", "tube") and sizing and sizing[0].role == "tube"
    return Sort("size", "tube", unit, "size.tube") if after in words.tubes or told else None


def _of_part(scene: Scene, item: Quantity, mention: Mention | None, measuring: list[Hint], sizing: list[Hint],
             unit: str) -> Sort:
    """A measurement or a size by the words around, by whether it can be a size at all, and by the part."""
    fastener = mention is not None and mention.fastener
    plain = _usual(scene, mention)
    if item.whole and item.value >= 8 and unit == "mm" and not sizing and not measuring and plain in FINE_ROLES and (
            mention is not None and mention.system not in ("brakes",)) and item.value <= LARGEST_TOOL:
        return Sort("size", "tool", unit, "size.part")  # "track rod end, 19 mil": no play is so large
    near = _near(scene, item, mention, measuring)
    if near is None and unit == "mm" and mention is not None and mention.head == "bore" and (
            item.value >= LEAST_CYLINDER):
        return Sort("measurement", "diameter", unit, "measurement.bore")
    nearer = bool(sizing) and near is not None and sizing[0].distance < near.distance
    if near is not None and not nearer and not (fastener and near.distance > 3):
        return Sort("measurement", near.role, unit, "measurement.length")
    role = near.role if near is not None else _likely_role(scene, item, mention, unit) or _of_plug(mention)
    sized_fraction = item.form == "fraction" and item.value * 64 % 1 == 0  # no wrench has tenths of an inch
    if not (item.whole or sized_fraction or item.value in HALF_SIZES):
        return Sort("measurement", role, unit, "measurement.length")
    if _of_something(scene, item) and not fastener:
        return Sort("measurement", role or "length", unit, "measurement.length")  # "needs 20 mil of adjustment"
    if fastener and item.value < SMALLEST_TOOL and item.form != "fraction":
        return Sort("measurement", role or "length", unit, "measurement.length")
    article = scene.page.word(item.start - 1) in ("a", "an") and item.value <= 60
    if fastener or (sizing and sizing[0].distance <= 4) or article:
        sized = sizing[0].role if sizing and not fastener else "tool"
        return Sort("size", sized, unit, "size.fastener")
    if role:
        return Sort("measurement", role, unit, "measurement.part")
    if (item.form == "fraction" and unit == "in") or _turned(scene, item, mention):
        return Sort("size", "tool", unit, "size.part")
    if role is None and mention is not None and mention.head in WORN_WITHIN:
        role = "thickness"
    return Sort("measurement", role or "length", unit, "measurement.length")


def _likely_role(scene: Scene, item: Quantity, mention: Mention | None, unit: str) -> str | None:
    """What is usually measured on a part; no clearance of fifty millimetres."""
    role = _usual(scene, mention)
    if mention is None or role not in FINE_ROLES or unit != "mm" or item.value < LARGEST_FINE:
        return role
    return next((name for name in ("diameter", "length") if has_role(scene, mention, name)), role)


def _of_something(scene: Scene, item: Quantity) -> bool:
    """"20 mil of adjustment": what is measured is named behind it."""
    page = scene.page
    return page.word(item.end) == "of" and (
        page.word(item.end + 1) in ADJUSTED or page.word(item.end + 1) in page.classes.measured)


def _usual(scene: Scene, mention: Mention | None) -> str | None:
    """What is usually measured on a part, where that is a length."""
    role = part_role(mention, scene.lexicon)
    return None if role in NO_LENGTH else role


def _of_plug(mention: Mention | None) -> str | None:
    """What is measured on a plug in fractions of a millimetre is its gap."""
    return "gap" if mention is not None and mention.head == "plug" else None


def _near(scene: Scene, item: Quantity, mention: Mention | None, measuring: list[Hint]) -> Hint | None:
    """The nearest word of measuring; "measured" alone means what is usually measured on the part."""
    near = next((hint for hint in measuring if hint.distance <= 8), None)
    if near is not None and scene.page.word(near.start) in VAGUE:  # "down to", "measures": the name of what is measured
        near = next((hint for hint in measuring if hint.distance <= 8 and (
            scene.page.word(hint.start) not in VAGUE)), near)
    if near is None or scene.page.word(near.start) not in VAGUE:
        return near
    if "bore" in scene.page.words(near.start - 3, near.start):
        return near._replace(role="diameter")  # "bore mikes out at 85.5"
    if _along_pieces(scene, item.start):
        return near._replace(role="length")
    if mention is None:
        return near
    if mention.fastener and any(not other.fastener and part_role(other, scene.lexicon) in WORN_ROLES
                                for other in scene.near.before(item.start)):
        return near  # "the disc comes off with one screw and it measured 21.6 mil"
    worn = scene.page.word(near.start) not in ("measure", "measured")
    roles = WORN_ROLES if worn else (*WORN_ROLES, "length")
    usual = part_role(mention, scene.lexicon)
    other = usual if not worn and item.unit == "thou" and usual in FINE_ROLES else near.role
    return near._replace(role=next((role for role in roles if has_role(scene, mention, role)), other))


def _along_pieces(scene: Scene, start: int) -> bool:
    """"Twenty links of the chain measure 321 mm": a number of its pieces stands before the length."""
    page = scene.page
    return any(page.norm[at] in scene.words.measured_along and page.lexemes[at].text.lower().endswith("s")
               and page.lexemes[at - 1].kind == "number" for at in range(max(1, start - ALONG_REACH), start))


def _turned(scene: Scene, item: Quantity, mention: Mention | None) -> bool:
    """A whole size of a part that is turned with a socket, or of no part: "the sensor is 22 mm"."""
    page = scene.page
    if mention is not None and not any(page.inside("socketed", at) for at in range(mention.start, mention.end)):
        return False
    if item.value < SMALLEST_SOCKET and item.unit != "in":
        return False
    return item.value <= LARGEST_TOOL and page.word(item.start - 1) != "by" and page.word(item.end) not in SPANNING
