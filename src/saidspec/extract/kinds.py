"""What a value with a unit is a fact of: its kind, role and final unit, by the words around it."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.quantities import Quantity
from saidspec.extract.reach import distance, span_of_time, turns
from saidspec.extract.roles import Hint
from saidspec.extract.sorts import Sort

ELECTRIC = {
    "voltage": "voltage",
    "current": "current",
    "resistance": "resistance",
    "charge": "capacity",
    "power": "power",
    "speed": "speed",
    "percent": "percent",
    "weight": "weight",
}
POURED = {
    "oil",
    "fluid",
    "coolant",
    "water",
    "antifreeze",
    "fuel",
    "petrol",
    "diesel",
    "atf",
    "mix",
}  # "ten mil of fork oil"
TOOL_WORDS = {
    "socket",
    "wrench",
    "spanner",
    "key",
    "allen",
    "hex",
    "torx",
    "bit",
    "driver",
    "ratchet",
    "deep",
    "impact",
    "drill",
}


def sort_of(
    page: Passage, item: Quantity, mention: Mention | None, hints: list[Hint], lexicon: Lexicon, hot: bool = False
) -> Sort:
    """The sort of a quantity that has a unit; `hot` tells that temperatures were given before."""
    if item.dimension == "torque":
        return Sort("torque", None, item.unit, "torque.unit")
    if item.dimension == "volume":
        return _volume(page, item, hints)
    if item.dimension in ("length", "mil"):
        return _length(page, item, mention, hints, lexicon)
    if item.dimension == "pressure":
        role = (
            "compression"
            if (mention and mention.head == "compression") or any(hint.role == "compression" for hint in hints)
            else "pressure"
        )
        return Sort("measurement", role, item.unit, "measurement.pressure")
    if item.dimension == "pound":
        return _pound(mention, hints)
    if item.dimension == "temperature":
        return Sort("measurement", "temperature", item.unit, "measurement.temperature")
    if item.dimension == "degree":
        return _degree(page, item, hints, hot)
    if (
        item.unit == "kg"
        and item.value < 60
        and (
            (mention is not None and mention.fastener)
            or any(hint.kind == "torque" and hint.distance < 4 for hint in hints)
        )
    ):
        return Sort("torque", None, "kgf*m", "torque.kilos")  # as workshops that count in kgf m say it
    if item.dimension in ELECTRIC:
        return Sort("measurement", ELECTRIC[item.dimension], item.unit, "measurement." + item.dimension)
    if item.dimension == "gauge":
        return Sort("size", "part", "gauge", "size.gauge")
    if item.dimension in ("distance", "k"):
        return distance(page, item, hints)
    if item.dimension == "turn":
        return turns(page, item)
    if item.dimension == "time":
        return span_of_time(page, item, hints)
    if item.dimension == "long":
        return Sort(None, None, None, "length.of-no-part", no_fact=True)
    return Sort(None)


def _volume(page: Passage, item: Quantity, hints: list[Hint]) -> Sort:
    """A volume by what was done with it: the words right behind it, else the nearest word of pouring before or
    after.
    """
    roles = [hint for hint in hints if hint.kind == "volume"]
    after = _until_number(page, item.end, 6)
    if after[:1] and after[0] in ("engine", "petrol", "diesel", "turbo", "motor"):
        return Sort(None, None, None, "engine.size", no_fact=True)
    role = roles[0].role if roles else "added"
    behind = next((hint.role for hint in roles if hint.start >= item.end and hint.distance <= 2), None)
    if ({"left", "remaining", "leftover", "spare"} & {*after[:5]} and "to" not in after[:2]) or "leaves" in page.words(
        item.start - 3, item.start
    ):
        role = "left over"
    elif (after[:1] and after[0] in CONTAINERS) or ("each" in after[:2] and roles and roles[0].role == "bought"):
        role = "bought"
    elif (
        "out" in after
        and not {"run", "find", "of"} & {*after[after.index("out") - 1 : after.index("out")]}
        and (behind is None or behind != "added")
    ):
        role = "drained"
    elif roles and roles[0].role == "bought" and roles[0].start > item.start and len(roles) > 1:
        role = roles[0].role if roles[0].distance < 2 else roles[1].role
    if page.word(item.start - 1) == "another":
        role = "added"
    return Sort("volume", role, item.unit, "volume." + role.replace(" ", "-"))


CONTAINERS = {"jug", "bottle", "can", "drum", "tin", "tub", "container", "canister", "jerrycan", "carton", "pack"}


def _until_number(page: Passage, at: int, reach: int) -> list[str]:
    """The words from a token on, up to the next number or mark."""
    words: list[str] = []
    for i in range(at, min(at + reach, len(page))):
        if page.lexemes[i].kind in ("number", "code") or page.word(i) in (",", ".", ";", "\n", "and", "so"):
            break
        words.append(page.norm[i])
    return words


def _length(page: Passage, item: Quantity, mention: Mention | None, hints: list[Hint], lexicon: Lexicon) -> Sort:
    if item.dimension == "mil":
        volume = [hint for hint in hints if hint.kind == "volume" and hint.role in ("added", "drained", "left over")]
        fluid = mention is not None and mention.head in ("oil", "fluid", "coolant")
        poured = page.word(item.end) == "of" and bool({*page.words(item.end + 1, item.end + 4)} & POURED)
        if (((volume and volume[0].distance < 4) or fluid) and item.value >= 20) or poured:
            return Sort("volume", volume[0].role if volume else "added", "mL", "volume.mil")
    unit = "mm" if item.dimension == "mil" else item.unit
    measuring = [
        hint
        for hint in hints
        if hint.kind == "measurement"
        and hint.role not in ("pressure", "temperature", "voltage", "angle", "compression")
    ]
    sizing = [hint for hint in hints if hint.kind == "size"]
    after = page.word(item.end)
    fastener = mention is not None and mention.fastener
    if unit == "thou" or (item.unit == "cm" and not sizing):
        return Sort(
            "measurement",
            measuring[0].role if measuring else part_role(mention, lexicon, None),
            unit,
            "measurement.length",
        )
    if after in TOOL_WORDS or (
        page.word(item.end + 1) in TOOL_WORDS
        and after
        in (
            "deep",
            "flare",
            "long",
            "ring",
            "combination",
            "six",
            "open",
            "line",
            "box",
            "half",
            "impact",
            "hex",
            "allen",
            "plug",
        )
    ):
        return Sort("size", "tool", unit, "size.tool")
    if after in ("bore", "hose", "pipe", "tube", "tubing", "line"):
        return Sort("size", "tube", unit, "size.tube")
    if mention is not None and mention.head in ("hose", "pipe", "tube") and sizing and sizing[0].role == "tube":
        return Sort("size", "tube", unit, "size.tube")
    integral = (
        item.value == item.value.to_integral_value()
        or item.form == "fraction"
        or item.value in (Decimal("5.5"), Decimal("4.5"), Decimal("2.5"), Decimal("3.5"))
    )
    near = [hint for hint in measuring if hint.distance <= 8]
    if near and page.word(near[0].start) == "measure" and part_role(mention, lexicon, None):
        near = [replace(near[0], role=part_role(mention, lexicon, None) or near[0].role)]
    if near and not (sizing and sizing[0].distance < near[0].distance) and not (fastener and near[0].distance > 3):
        return Sort("measurement", near[0].role, unit, "measurement.length")
    if not integral:
        return Sort("measurement", part_role(mention, lexicon, near), unit, "measurement.length")
    if (
        fastener
        or (sizing and sizing[0].distance <= 4)
        or (page.word(item.start - 1) in ("a", "an") and item.value <= 60)
    ):
        return Sort(
            "size",
            "tool" if not sizing or sizing[0].role == "tool" or fastener else sizing[0].role,
            unit,
            "size.fastener",
        )
    role = part_role(mention, lexicon, near)
    if role and role not in ("voltage", "pressure", "temperature"):
        return Sort("measurement", role, unit, "measurement.part")
    turned = (
        mention is not None and any(page.inside("socketed", at) for at in range(mention.start, mention.end))
    ) or mention is None
    if (
        turned
        and item.value <= 36
        and item.form != "fraction"
        and page.word(item.start - 1) != "by"
        and after not in ("below", "above", "out", "wide", "apart", "across", "long", "high")
    ) or item.form == "fraction":
        return Sort("size", "tool", unit, "size.part")
    return Sort("measurement", role or "length", unit, "measurement.length")


def part_role(mention: Mention | None, lexicon: Lexicon, near: list[Hint] | None) -> str | None:
    """What is usually measured on a part: thickness of a pad, gap of a plug."""
    if near:
        return near[0].role
    if mention is None:
        return None
    for first in range(len(mention.words)):
        name = " ".join(mention.words[first:])
        for key in (lexicon.canonical.get(name, name), name):
            if key in lexicon.measures:
                return lexicon.measures[key]
    return None


def _pound(mention: Mention | None, hints: list[Hint]) -> Sort:
    tyre = mention is not None and {"tyre", "spare", "wheel"} & {*mention.words} and not mention.fastener
    if tyre or any(hint.role == "pressure" and hint.distance < 10 for hint in hints):
        return Sort("measurement", "pressure", "psi", "measurement.pounds")
    if (mention is not None and mention.fastener) or any(hint.kind == "torque" and hint.distance < 4 for hint in hints):
        return Sort("torque", None, "lbf*ft", "torque.pounds")
    return Sort("measurement", "weight", "lb", "measurement.weight")


def _degree(page: Passage, item: Quantity, hints: list[Hint], hot: bool) -> Sort:
    if any(hint.role == "angle" and hint.distance < 8 for hint in hints):
        return Sort("measurement", "angle", "deg", "measurement.angle")
    if page.word(item.start - 1) in ("another", "further", "extra", "plus", "then") or page.word(item.end) in (
        "more",
        "further",
        "turn",
        "past",
    ):
        return Sort("torque", None, "deg", "torque.angle")
    if hot or any(hint.role == "temperature" and hint.distance < 10 for hint in hints):
        return Sort("measurement", "temperature", "degC", "measurement.degrees")
    if item.value in (90, 180, 60, 45, 30, 120, 270, 135):
        return Sort("torque", None, "deg", "torque.angle")
    return Sort("measurement", "temperature", "degC", "measurement.degrees")
