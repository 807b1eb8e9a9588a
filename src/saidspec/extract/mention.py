"""A component phrase as it was said, and its places: left and right, front and rear, upper and lower."""

from __future__ import annotations

from dataclasses import dataclass, replace

# In the order in which they are said of a part.
AXES = ("order", "length", "end", "side", "height", "depth", "stage", "cylinder")
# A part has only one place of each of these: "leading upper shoe" is said in full, "lower upper arm" is not.
CONTRARY = {"leading": "trailing", "trailing": "leading", "upper": "lower", "lower": "upper", "front": "rear",
            "rear": "front", "inner": "outer", "outer": "inner", "top": "lower", "bottom": "upper", "left": "right",
            "right": "left"}
COMPOUNDS = {"locknut": "lock nut", "capscrew": "cap screw", "setscrew": "set screw", "wingnut": "wing nut"}
OPPOSITE = {"left": "right", "right": "left", "front": "rear", "rear": "front", "upper": "lower", "lower": "upper",
            "inner": "outer", "outer": "inner", "top": "bottom", "bottom": "top", "driver side": "passenger side",
            "passenger side": "driver side", "port": "starboard", "starboard": "port",
            "drive side": "non-drive side", "non-drive side": "drive side", "nearside": "offside",
            "offside": "nearside"}

Positions = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Mention:
    """A component phrase at tokens start..end (exclusive).

    `words`: the trade words as said, singular, without positions; `positions`: axis → position; `head`: the last word;
    `kind`: part, fastener or position (only a position); `system`: of its most particular part;
    `general`: whether all of its words are general ones, so that it needs the part it belongs to.
    """

    start: int
    end: int
    words: tuple[str, ...]
    positions: Positions
    kind: str
    system: str
    general: bool
    plural: bool = False
    is_new: bool = False
    is_old: bool = False
    oblique: bool = False  # hangs on a preposition that only says where or with what: "off the knuckle"
    pair: Positions = ()  # two places on one axis that are both said: "upper and lower"

    @property
    def head(self) -> str:
        return self.words[-1] if self.words else ""

    @property
    def fastener(self) -> bool:
        return self.kind == "fastener"

    def axis(self, name: str) -> str | None:
        """The place on an axis, where one is said."""
        return dict(self.positions).get(name)


def placed(mention: Mention, positions: dict[str, str]) -> Mention:
    """The mention at these places."""
    return replace(mention, positions=tuple(positions.items()))


def phrase(words: tuple[str, ...], positions: Positions) -> str:
    """The component as a reader needs it: positions in their usual order, then the words."""
    if not positions:
        return " ".join(words)
    places = dict(positions)
    words = tuple(word for word in words if word not in CONTRARY or CONTRARY[word] not in places.values())
    before = [places[axis] for axis in AXES if axis in places and axis != "cylinder" and (places[axis],) != words[:1]]
    if "cylinder" in places:
        if "cylinder" in words:
            at = words.index("cylinder") + 1
            words = (*words[:at], places["cylinder"], *words[at:])
        else:
            before.append(f"cylinder {places['cylinder']}")
    return " ".join([*before, *(COMPOUNDS.get(word, word) for word in words)])


def phrase_of_both(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[str, ...]:
    """The words of two parts in one phrase; what they share at their end is said once."""
    if one == other:
        return one
    shared = 1 if one[-1:] == other[-1:] else 0
    return (*one[: len(one) - shared], "and", *other)


def named(mention: Mention | None) -> str | None:
    """The component of a completed mention as text; None for a mere position without a part."""
    if mention is None or not mention.words:
        return None
    order = sorted(mention.positions, key=lambda place: AXES.index(place[0]) if place[0] in AXES else 9)
    return phrase(mention.words, tuple(order))


def same_places(one: Mention, other: Mention) -> bool:
    """Whether no place that one mention names is another one in the other."""
    theirs = dict(other.positions)
    return all(theirs.get(axis, place) == place for axis, place in one.positions)


def opposite(mention: Mention, axis: str = "side") -> Mention | None:
    """The same part on the other side; None where no side is known."""
    said = mention.axis(axis)
    if said is None or said not in OPPOSITE:
        return None
    return placed(mention, dict(mention.positions) | {axis: OPPOSITE[said]})
