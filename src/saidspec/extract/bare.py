"""Values said without a unit: what they are by the words around them, by their neighbours, and by their part.

Each reader looks at one way of leaving the unit out and answers a sort with the unit of the context, or None.
"""

from __future__ import annotations

from decimal import Decimal

from saidspec.discourse.corrections import between, narrows, numbered
from saidspec.extract.bare_counts import count, counted, duration, odometer
from saidspec.extract.kinds import TOOL_WORDS, part_role
from saidspec.extract.passage import is_stop
from saidspec.extract.place import Place
from saidspec.extract.sorts import Sort

TORQUE_VERBS = {
    "torque",
    "torqued",
    "tighten",
    "tightened",
    "torquing",
    "tightening",
    "snug",
    "snugged",
    "seat",
    "seated",
    "nipped",
    "cranked",
}
DOING = {
    "did",
    "done",
    "do",
    "set",
    "gets",
    "get",
    "got",
    "goes",
    "went",
    "at",
    "to",
    "take",
    "takes",
    "for",
    "need",
    "needs",
    "want",
    "wants",
}


def bare_sort(place: Place) -> Sort | None:
    """The sort of a value without a unit; None where no reader claims it."""
    for reader in READERS:
        sort = reader(place)
        if sort is not None:
            return sort
    return None


def _corrected(place: Place) -> Sort | None:
    """The value behind a correction is of the kind of the one that it takes back: "a 12... no, 13"."""
    last, item, page = place.memory.last, place.item, place.page
    if last is None or not 0 < item.start - last.end <= 14 or item.form == "year":
        return None
    found = between(page, last.end, item.start)
    if found is None or item.start - found.end > 6 or found.start - last.end > 6 or found.term.detail == "recall":
        return None
    if (narrows(page, found.end, item.end) and last.kind != "size") or last.kind in (
        "part_number",
        "date",
        "fluid",
        "trouble_code",
    ):
        return None
    if last.value is not None and last.value > 0 and not last.value / 20 <= item.value <= last.value * 20:
        return None
    return Sort(last.kind, last.role, last.unit, f"{last.kind}.corrected")


def _these(place: Place) -> Sort | None:
    """ "The two at the back", "those three": pieces pointed at, no value."""
    item, page = place.item, place.page
    if (
        page.word(item.start - 1) == "all"
        and item.value <= 20
        and item.value == item.value.to_integral_value()
        and item.form != "plural"
        and item.high is None
    ):
        return Sort(None, None, None, "count.all", no_fact=True)
    if (
        page.word(item.start - 1)
        not in (
            "the",
            "these",
            "those",
            "other",
            "last",
            "first",
            "remaining",
            "upper",
            "lower",
            "top",
            "bottom",
            "outer",
            "inner",
            "front",
            "rear",
            "back",
        )
        or item.form == "plural"
        or (item.value != item.value.to_integral_value() or item.value > 16 or item.high is not None)
    ):
        return None
    after = page.word(item.end)
    if after in (
        "at",
        "in",
        "on",
        "by",
        "near",
        "of",
        "are",
        "were",
        "from",
        "behind",
        "under",
        "that",
        "which",
        "with",
        "other",
        "long",
        "short",
        "big",
        "small",
        "outer",
        "inner",
        "got",
        "get",
        "take",
        "need",
        "go",
        "went",
        "facing",
        "closest",
        "along",
        "around",
        "up",
        "down",
        "came",
        "front",
        "rear",
        "top",
        "bottom",
        "upper",
        "lower",
        "look",
        "looks",
    ) or item.end in place.page.at.get("position", {}):
        return Sort(None, None, None, "count.pointed", no_fact=True)
    return None


def _angled(place: Place) -> Sort | None:
    """ "Hundred and twenty and then the ninety degrees": the torque's unit is that of the torque said before."""
    if place.item.angle is None:
        return None
    return Sort("torque", None, place.memory.unit("torque", None, place.item.value), "torque.angle-bare")


def _specified(place: Place) -> Sort | None:
    """ "Spec's 170 to 180": the unit of what was just measured on that part."""
    _page, item = place.page, place.item
    if item.form in ("plural", "year") or not {*place.before(4)} & SPECIFYING:
        return None
    if (
        place.hint("measurement", 3)
        or any(hint.kind == "volume" and hint.end <= item.start and hint.distance <= 2 for hint in place.hints)
        or place.hint("odometer", 3)
    ):
        return None
    conditions = None
    for draft in reversed(place.memory.recent):
        if item.start - draft.end > 40:
            break
        if (
            draft.kind not in ("measurement", "torque", "volume")
            or (not draft.unit and draft.kind != "measurement")
            or draft.value is None
        ):
            continue
        if draft.role in ("temperature", "speed"):
            conditions = conditions or draft
            continue
        return Sort(
            draft.kind, draft.role if draft.kind != "volume" else "capacity", draft.unit, f"{draft.kind}.specified"
        )
    return Sort("measurement", conditions.role, conditions.unit, "measurement.specified") if conditions else None


SPECIFYING = {
    "spec",
    "limit",
    "max",
    "min",
    "maximum",
    "minimum",
    "say",
    "says",
    "should",
    "above",
    "below",
    "specification",
    "wants",
    "least",
    "allow",
    "allowed",
    "stamped",
}


def _plural(place: Place) -> Sort | None:
    """ "The two at the back are eights"."""
    if place.item.form != "plural":
        return None
    return Sort("size", "tool", place.memory.by_kind.get("size") or "mm", "size.plural")


def _parallel(place: Place) -> Sort | None:
    """A value in a list with the one before: "inner is 3 millimetres and the outer is 5"."""
    last, item, page = place.memory.last, place.item, place.page
    if last is None or last.value is None or item.start - last.end > 14 or not last.unit or _counts_things(place):
        return None
    if last.kind not in ("measurement", "torque", "size", "volume") or (
        not page.same_sentence(last.anchor, item.start) and (item.start - last.end > 8)
    ):
        return None
    between = {*page.words(last.end, item.start)}
    if last.kind == "volume" and not (
        (place.hint("volume", 3) or ({"and", "other"} & between and item.start - last.end <= 8))
        and page.same_sentence(last.anchor, item.start)
    ):
        return None
    if (
        {*place.after(3)} & {"side", "corner", "apiece"}
        and place.after(1)[:1] in (["a"], ["per"], ["each"])
        and last.kind == "size"
    ):
        return None
    if last.kind == "size" and (item.value > 60 or item.value != item.value.to_integral_value()):
        return None
    if (
        last.kind == "size"
        and not _article(place)
        and not between & {"is", "are", "'s", "other", "was"}
        and not _is_fastener(place)
    ):
        return None
    if place.hint("torque", 2) and last.kind != "torque" and place.mention is not None and place.mention.fastener:
        return None
    if (
        last.kind == "measurement"
        and not place.loose
        and place.mention is not None
        and last.mention is not None
        and (place.mention.head != last.mention.head and part_role(place.mention, place.lexicon, None) != last.role)
    ):
        return None
    if (
        last.kind == "torque"
        and not (place.mention and place.mention.fastener)
        and not between & {"then", "to", "and", "at"}
    ):
        return None
    spread = 25 if between <= {"and", ",", "at", "idle", "then"} and item.start - last.end <= 5 else 8
    if last.value > 0 and not last.value / spread <= item.value <= last.value * spread:
        return None
    return Sort(last.kind, last.role, last.unit, f"{last.kind}.parallel")


def _article(place: Place) -> bool:
    return place.page.word(place.item.start - 1) in ("a", "an")


def _is_fastener(place: Place) -> bool:
    return place.mention is not None and place.mention.fastener


def _measured(place: Place) -> Sort | None:
    """A value beside the name of what is measured: "gap is point eight", "pumped it to thirty six"."""
    item = place.item
    near = place.hint("measurement", 10)
    if near is None or item.form == "plural":
        return None
    if place.hint("size", 1) or (_article(place) and _is_fastener(place)):
        return None
    unit = place.memory.by_role.get(("measurement", near.role)) or DEFAULT_UNIT.get(near.role)
    if item.value > 4000 or (
        unit is None
        and not (near.role in LENGTHS and near.distance <= 8 and item.value > 0 and not place.hint("torque", 3))
    ):
        return None
    if unit is None and (
        place.page.word(near.start) in ("measure", "measured")
        or (near.role != "height" and item.value == item.value.to_integral_value())
    ):
        return None
    if unit is None and ((near.distance > 4 and near.role != "height") or item.form in ("year", "fraction")):
        return None
    if (near.role in ("thickness", "gap", "clearance") and unit == "mm" and item.value > 60) or (
        near.role == "pressure" and _article(place)
    ):
        return None
    return Sort("measurement", near.role, unit, f"measurement.{near.role}")


LENGTHS = {"gap", "clearance", "play", "height", "thickness", "depth"}
# The unit of a quantity where none was ever said; None asks for one said before.
DEFAULT_UNIT = {
    "compression": "psi",
    "voltage": "V",
    "temperature": None,
    "pressure": None,
    "thickness": None,
    "gap": None,
    "clearance": None,
    "play": None,
}


def _counts_things(place: Place) -> bool:
    """ "In two rounds", "two sets": a small whole number before a plural noun that no rule knows counts
    something else.
    """
    page, at = place.page, place.item.end
    if (
        place.item.value != place.item.value.to_integral_value()
        or place.item.value > 20
        or at >= len(page)
        or page.lexemes[at].kind != "word"
    ):
        return False
    plural = page.lexemes[at].text.endswith("s") and page.norm[at] != page.lexemes[at].text
    return plural and not is_stop(page.word(at)) and page.word(at) not in UNIT_LIKE


UNIT_LIKE = {"thou", "pound", "newton", "inch"}


def _labelled(place: Place) -> Sort | None:
    """ "Two is 95, three is 100": a small number before "is" and a value is that of a cylinder."""
    item, page = place.item, place.page
    if item.value != item.value.to_integral_value() or not 1 <= item.value <= 12 or item.unit or item.high is not None:
        return None
    if numbered(page, item.start - 2) or page.word(item.start - 1) in ("number", "#", "cyl", "cylinder"):
        return Sort(None, None, None, "cylinder.label", no_fact=True)
    at = item.end
    if (
        page.word(at) in ("is", "'s", "was", "had", "has", "reads", ":")
        and at + 1 < len(page)
        and (
            page.lexemes[at + 1].kind == "number"
            or (
                page.word(at + 1) in ("about", "a", "around")
                and at + 2 < len(page)
                and page.lexemes[at + 2].kind == "number"
            )
        )
    ):
        last = place.memory.last
        if last is not None and last.kind == "measurement" and item.start - last.end <= 12:
            return Sort(None, None, None, "cylinder.label", no_fact=True)
    return None


def _torque(place: Place) -> Sort | None:
    """ "Did it at 31", "this one gets thirty one", "45 for the pump", "torqued to 80", "nuts at 65, pinch bolts 14"."""
    item = place.item
    if item.form in ("fraction", "plural", "year") or not 1 <= item.value <= 800 or _article(place):
        return None
    if (place.mention is not None and {"tyre", "spare"} & {*place.mention.words}) or _counts_things(place):
        return None
    known = place.memory.unit("torque", None, item.value)
    if {*place.before(5)} & TORQUE_VERBS:
        return Sort("torque", None, known, "torque.bare")
    if known is None or place.hint("measurement", 12) or place.hint("size", 2) or place.hint("odometer", 2):
        return None
    equal = ("torque", item.value) in place.memory.values
    if equal and (
        place.manner in ("for", "copula")
        or (_is_fastener(place) and place.manner == "topic")
        or {*place.after(2)} & {"again", "there"}
        or (place.memory.since("torque", item.start) <= 25 and _is_fastener(place))
    ):
        return Sort("torque", None, known, "torque.again")
    since = place.memory.since("torque", item.start)
    if since > 60 or not _is_fastener(place) or (place.manner == "focus" and not {*place.before(4)} & ACTED):
        return None
    last = place.memory.last
    if _is_fastener(place) and {*place.before(6), *place.after(4)} & QUOTING and since <= 150:
        return Sort("torque", None, known, "torque.quoted")
    listing = last is not None and last.kind == "torque" and since <= 25
    if listing or {*place.before(4)} & (DOING if since <= 30 else ACTED) or place.manner in ("for", "copula"):
        return Sort("torque", None, known, "torque.listed")
    return None


QUOTING = {"according", "manual", "book", "spec", "chart", "handbook", "sheet", "recommended"}
ACTED = {"took", "take", "did", "done", "set", "gets", "got", "went", "gave", "goes", "get", "getting", "pulled"}


def _size(place: Place) -> Sort | None:
    """ "A 17", "the six", "takes a fifteen", "five eighths plug socket"."""
    item, page = place.item, place.page
    tool = place.hint("size", 3)
    if (
        item.form == "fraction"
        and item.value < 1
        and place.after(1) == ["of"]
        and {*place.after(3)} & {"play", "slop", "movement", "slack", "runout", "wear", "endplay"}
    ):
        return Sort("measurement", "play", "in", "measurement.fraction")  # "a sixteenth of slop"
    if item.form == "fraction" and place.after(2)[:1] == ["of"] and item.value < 1 and place.after(2)[1:] != ["an"]:
        return Sort(None, None, None, "fraction.of", no_fact=True)  # "three quarters of the stick"
    if item.form == "fraction" and item.value < 4 and (item.value * 32) % 1 == 0:
        if item.value >= 1 and (item.value * 2) % 1 == 0 and not tool and not _is_fastener(place):
            return None
        if tool or _is_fastener(place) or _article(place) or item.value != item.value.to_integral_value():
            role = (
                "tube" if place.after(1) and place.after(1)[0] in ("bore", "hose", "pipe", "tube", "line") else "tool"
            )
            return Sort("size", role, "in", "size.fraction")
    if item.value != item.value.to_integral_value() and item.value not in (
        Decimal("5.5"),
        Decimal("4.5"),
        Decimal("2.5"),
    ):
        return None
    if not 2 <= item.value <= 60 or (item.high is not None and not item.high - item.value <= 4):
        return None
    unit = place.memory.by_kind.get("size") if place.memory.by_kind.get("size") in ("mm", "in") else None
    unit = unit if unit == "mm" else "mm"
    after = place.after(2)
    if (after[:1] and after[0] in TOOL_WORDS) or (len(after) > 1 and after[1] in ("socket", "wrench", "spanner")):
        return Sort("size", "tool", unit, "size.tool")
    if (
        _article(place)
        and (place.manner in ("topic", "focus", "for", "copula", "place"))
        and (not after or after[0] not in ("mile", "minute", "year", "percent", "tooth", "speed", "volt", "inch"))
    ):
        return Sort("size", "tool", unit, "size.article")
    if (
        _is_fastener(place)
        and place.manner == "topic"
        and page.word(item.start - 1) in ("is", "are", "'s", "take", "takes", "was", "were")
        and (
            place.memory.since("size", item.start) <= 60
            and place.memory.since("size", item.start) < place.memory.since("torque", item.start)
        )
        and (not after or after[0] in (".", ",", "and", "as", "too", "\n", ";", "but", "..."))
    ):
        return Sort("size", "tool", unit, "size.listed")
    if (
        page.word(item.start - 1) in ("the",)
        and _is_fastener(place)
        and place.manner in ("topic", "focus")
        and place.memory.by_kind.get("size")
    ):
        return Sort("size", "tool", unit, "size.article")
    if place.manner == "modifier" and _is_fastener(place) and place.mention is not None and not place.mention.plural:
        return Sort("size", "tool", unit, "size.modifier")
    return None


def _part(place: Place) -> Sort | None:
    """A value of a part that is usually measured in one way, whose unit was said before: "disc is 25.2"."""
    item = place.item
    if place.mention is None or item.form == "plural" or place.mention.fastener:
        return None
    role = part_role(place.mention, place.lexicon, None)
    if role is None or role in ("temperature", "voltage", "current", "resistance"):
        return None
    unit = place.memory.by_role.get(("measurement", role))
    if unit is None:
        return None
    return Sort("measurement", role, unit, f"measurement.{role}")


def _volume(place: Place) -> Sort | None:
    """ "4.3 in total", "takes 3.5", "0.7 left" after a volume with its unit."""
    unit = place.memory.unit("volume", None, place.item.value)
    if (
        unit is None
        or _article(place)
        or place.item.form == "plural"
        or (place.item.value > 60 and unit not in ("mL", "floz"))
    ):
        return None
    after, before = place.after(3), place.before(3)
    if {*after[:2]} & {"left", "remaining", "leftover"} and not (
        after[:1] == ["left"] and after[1:2] and after[1] in ("and", "hand", "side")
    ):
        return Sort("volume", "left over", unit, "volume.bare")
    role = next((role for words, role in POURED if before[-len(words) :] == list(words)), None)
    if role is None and {*after[:2]} & {"total", "altogether"}:
        role = "added"
    if role is None and (
        after[:2] in (["went", "in"], ["went", "back"], ["to", "fill"])
        or (after[:1] == ["in"] and after[1:2] in (["."], [","], [""], ["and"]))
    ):
        role = "added"
    near = place.hint("measurement", 2)
    fluid = place.memory.since("volume", place.item.start) <= 40
    return Sort("volume", role, unit, "volume.bare") if role and not near and fluid else None


POURED = (
    (("take",), "capacity"),
    (("takes",), "capacity"),
    (("hold",), "capacity"),
    (("holds",), "capacity"),
    (("to", "hold"), "capacity"),
    (("put", "in"), "added"),
    (("poured", "in"), "added"),
    (("added",), "added"),
    (("another",), "added"),
    (("plus",), "added"),
    (("filled", "with"), "added"),
    (("drained",), "drained"),
    (("in", "went"), "added"),
    (("out", "came"), "drained"),
    (("it", "took"), "added"),
    (("poured",), "added"),
    (("used",), "added"),
    (("calls", "for"), "capacity"),
    (("capacity", "is"), "capacity"),
)


READERS = (
    _labelled,
    _angled,
    _these,
    counted,
    _corrected,
    _plural,
    count,
    odometer,
    duration,
    _volume,
    _specified,
    _parallel,
    _measured,
    _torque,
    _size,
    _part,
)
