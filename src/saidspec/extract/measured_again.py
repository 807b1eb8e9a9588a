"""What goes on about a measurement: the same thing measured again, at another place, or the whole of its pieces."""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.attach import ALL_SIDES, Target
from saidspec.discourse.attention import NO_SIDE
from saidspec.extract.draft import Draft
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.scene import Scene

LENGTHS = ("length", "thickness", "depth", "diameter", "width")  # often taken one for another
LENGTHS_AND_GAPS = ("gap", "clearance", *LENGTHS)
WORN_WITHIN = {"caliper": "pad"}  # what is measured where its holder is named: "left caliper 3 mm"
GOING_ON = 16  # tokens in which a value without a part of its own goes on about the last one
OF_IT = (["of", "it"], ["of", "that"])


def measured_again(scene: Scene, mention: Mention, role: str, target: Target, start: int) -> Mention | None:
    """The part that a value at a mere place, or at none, is of: what was measured last, or is measured so."""
    return _measured_on(scene, mention, role, target, start) or _at_that_place(scene, mention, role)


def whole(scene: Scene, mention: Mention) -> Mention | None:
    """"Twenty links of it measure 323 mm": of the chain, of which the links are pieces."""
    said = scene.near.by_start.get(mention.start)
    if said is None or not said.plural or scene.page.words(said.end, said.end + 2) not in OF_IT:
        return None
    return next((item for item in scene.attention.recent(6) if item.start < said.start and item.words and not (
        item.fastener or item.head == said.head)), None)


def _measured_on(scene: Scene, mention: Mention, role: str, target: Target, start: int) -> Mention | None:
    """"9 mm at the top and 3 at the bottom. Now it is 5 at the top": the same thing measured on, at another place."""
    last, said = scene.memory.last, scene.near.by_start.get(mention.start)
    if last is None or last.kind != "measurement" or last.mention is None or start - last.end > GOING_ON:
        return None
    if last.role != role and not (last.role in LENGTHS_AND_GAPS and role in LENGTHS_AND_GAPS):
        return None
    placed_only = said is not None and said.kind == "position" and not said.words
    if not placed_only and target.manner != "focus":
        return None
    since = (item for item in scene.near.mentions if last.end <= item.start < start)
    if any(item.kind != "position" for item in since):
        return None
    if not placed_only or said is None or said.start < last.end:
        return scene.near.lasting(last.mention, start)
    return placed(last.mention, _held(last.mention, said) | _told(said, last.mention))


def _held(part: Mention, said: Mention) -> dict[str, str]:
    """The places of a part that a phrase leaves as they are: "both sides" takes its side away."""
    return {axis: place for axis, place in part.positions if axis != "side" or said.axis("side") not in ALL_SIDES}


def _told(said: Mention, part: Mention) -> dict[str, str]:
    """The places of a phrase; "the other side" is the one across from that of the part, "both sides" is none."""
    places, side = dict(said.positions), said.axis("side")
    if side in NO_SIDE:
        del places["side"]
        across = OPPOSITE.get(part.axis("side") or "") if side == "other side" else None
        places |= {"side": across} if across else {}
    return places


def _at_that_place(scene: Scene, mention: Mention, role: str) -> Mention | None:
    """"Gap on number two", "left one's 10.06": a mere place is that of the part last named that is measured so."""
    said = scene.near.by_start.get(mention.start)
    if said is None or said.kind != "position" or said.words or role in LENGTHS:
        return None
    fit = next((item for item in scene.attention.recent(12) if item.words and item.head not in scene.words.filled_fluids
                and (has_role(scene, item, role) or (role == "gap" and item.plural and item.head == "plug"))), None)
    if fit is None:
        return None
    held = {axis: place for axis, place in _held(fit, said).items() if axis in ("end", "side") and (
        place not in ALL_SIDES)}
    if "middle" in dict(said.positions).values() and "end" in held:
        return fit  # "2 mm left in the middle, pressure is 2.5 bar": the tread's middle
    axes = (*dict(mention.positions), "end", "side")
    said_of = {axis: place for axis, place in _told(said, fit).items() if axis in axes}
    return replace(fit, positions=tuple((held | said_of).items()))


def measured_before(scene: Scene, role: str, start: int) -> Draft | None:
    """The same measured a sentence or two before: "the book allows 4 to 6" goes on about it."""
    sentence = scene.page.sentence
    before = next((draft for draft in reversed(scene.memory.recent) if draft.kind == "measurement"), None)
    if before is None or before.role != role or before.mention is None or (
            before.mention.fastener or not before.mention.words):
        return None
    return before if sentence[start] - sentence[before.anchor] <= 2 else None


def has_role(scene: Scene, mention: Mention, role: str) -> bool:
    """Whether a part is one on which the role is measured."""
    parts, canonical = scene.lexicon.roles.get(role, set()), scene.lexicon.canonical
    for first in range(len(mention.words)):
        name = " ".join(mention.words[first:])
        if name in parts or canonical.get(name, name) in parts:
            return True
    return False
