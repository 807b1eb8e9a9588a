"""Which part a measurement is of: one that is measured in this way, and no bolt that only says where."""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.attach import ALL_SIDES, Target
from saidspec.discourse.attention import NO_SIDE
from saidspec.extract.draft import Draft
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.placing import names_its_place
from saidspec.extract.roles import part_role
from saidspec.extract.scene import Scene

UNNAMED = {"compression": "cylinder", "speed": "engine"}  # what is measured where no part is named
VAGUE = ("length", "angle")  # what is measured on anything
OF_FASTENERS = ("resistance", "voltage", "temperature")  # what may be measured on a plug or a bolt
LENGTHS = ("length", "thickness", "depth", "diameter", "width")  # often taken one for another
LENGTHS_AND_GAPS = ("gap", "clearance", *LENGTHS)
GOING_ON = 16  # tokens in which a value without a part of its own goes on about the last one
OF_FEW_PARTS = ("slack", "sag", "deflection")  # what is measured so is meant however long ago it was named
NOUNS_OF_ROLE = {role: (role,) for role in (
    "pressure", "voltage", "resistance", "clearance", "gap", "thickness", "play", "deflection", "slack", "travel",
)} | {"temperature": ("temperature", "temp")}  # fmt: skip


def measured_part(scene: Scene, role: str, target: Target, pool: list[Mention], start: int) -> Target:
    """The part of a measurement at token `start`; `pool` are the phrases before it in its sentence."""
    mention = target.mention
    fits = mention is not None and has_role(scene, mention, role)
    by_it = mention is not None and "it" in scene.page.words(mention.end, start)  # "a shim in, now it opens at 131 bar"
    spoken = target.manner == "focus" or (target.manner == "topic" and by_it and not fits and role not in LENGTHS)
    before = _measured_before(scene, role, start) if spoken and role not in VAGUE else None
    if before is not None and before.mention is not None and not (
            fits and mention is not None and mention.start > before.end):
        places = {axis: place for axis, place in before.mention.positions if axis != "cylinder"}
        return Target(placed(before.mention, places), "focus", 0.75)
    if role == "compression" and mention is not None and not fits:
        return Target(_cylinder(scene, mention), target.manner, 0.75)
    if role in UNNAMED and (mention is None or (not fits and (target.manner == "focus" or mention.fastener))):
        return Target(Mention(0, 0, (UNNAMED[role],), (), "part", "engine", False), "focus", 0.6)
    if role == "temperature" and not fits and target.manner != "modifier" and (
            "engine" in scene.page.words(start - 8, start)):
        return Target(Mention(0, 0, ("engine",), (), "part", "engine", False), "topic", 0.75)
    if role == "voltage" and (target.manner == "focus" or not (fits or target.manner == "for")):
        said = {*scene.page.words(max(scene.page.sentence_start(start), start - 8), start + 6)}
        named = "battery" if said & scene.words.battery_states else "charging system" if "charging" in said else None
        if named is not None:
            return Target(Mention(0, 0, tuple(named.split()), (), "part", "electrical", False), "focus", 0.7)
    tested = "tester" in scene.page.words(start - 6, start) and "cooling" in (
        scene.attention.system, scene.attention.job)
    if role == "pressure" and tested and (target.manner == "focus" or not fits):
        return Target(Mention(0, 0, ("cooling", "system"), (), "part", "cooling", False), "focus", 0.75)
    if mention is not None and not fits:
        other = _measured_on(scene, mention, role, target, start) or _at_that_place(scene, mention, role)
        if other is not None:
            return Target(other, target.manner, 0.75)
    if mention is None or fits or target.manner in ("modifier", "for", "copula"):
        return target
    if mention.fastener and role not in OF_FASTENERS and (
            role in OF_FEW_PARTS or not _named_fastener(scene, target, pool)):
        return _unfastened(scene, target, mention, role, pool)
    if target.manner == "place":
        return target
    subject = next((item for item in pool if scene.page.word(item.end) in NOUNS_OF_ROLE.get(role, ())), None)
    if subject is not None:
        return Target(subject, "topic", 0.85)  # "relief valve pressure next, gauge on the port, it made 175 bar"
    near = next((item for item in pool if has_role(scene, item, role)), None)
    if near and not (target.manner == "topic" and start - mention.end <= 3 and part_role(mention, scene.lexicon)):
        return Target(near, "topic", 0.85)
    return _in_focus(scene, target, mention, role) if target.manner == "focus" else target


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


def _measured_before(scene: Scene, role: str, start: int) -> Draft | None:
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


def _cylinder(scene: Scene, mention: Mention) -> Mention:
    """The cylinder that a compression is of, at the place that the phrase beside the value tells."""
    said = scene.near.by_start.get(mention.start)
    if said is not None and said.kind == "position":
        places = said.positions
    else:
        places = tuple(pair for pair in mention.positions if pair[0] == "cylinder")
    return Mention(0, 0, ("cylinder",), places, "part", "engine", False)


def _named_fastener(scene: Scene, target: Target, pool: list[Mention]) -> bool:
    """The sentence speaks of the fastener and of no other part: "cap bolts stretched to 98 mm"."""
    said = scene.near.by_start.get(target.mention.start) if target.mention is not None else None
    return target.manner == "topic" and said is not None and said.kind == "fastener" and not any(
        not item.fastener and item.words for item in pool)


def _unfastened(scene: Scene, target: Target, mention: Mention, role: str, pool: list[Mention]) -> Target:
    """A length or a play is no bolt's: the part spoken of before it, at the place that was named."""
    items = [item for item in [*pool, *scene.attention.recent(10)] if item.words and not item.fastener]
    sentence = scene.page.sentence
    fit = next((item for item in items if has_role(scene, item, role)), None)
    best = fit or next((item for item in items if sentence[mention.start] - sentence[item.start] <= 2), None)
    if best is None or (fit is None and mention.head in scene.words.loose_fasteners):
        return target
    positions = dict(best.positions) | (dict(mention.positions) if names_its_place(scene.near, mention) else {})
    return Target(replace(best, positions=tuple(positions.items())), target.manner, 0.7)


def _in_focus(scene: Scene, target: Target, mention: Mention, role: str) -> Target:
    """A part named lately that is measured so; a pressure in a system of fluid is that of the system."""
    reach = 40 if role in OF_FEW_PARTS else 8
    recent = next((item for item in scene.attention.recent(reach) if has_role(scene, item, role)), None)
    if recent and not (role == "pressure" and _in_system(scene, recent)):
        return Target(recent, "focus", 0.7)
    if role == "pressure" and _in_system(scene, mention):
        name = scene.lexicon.systems[scene.attention.system].name
        words = tuple(name.split()) if name.endswith("system") else (*name.split(), "system")
        return Target(Mention(0, 0, words, (), "part", scene.attention.system, False), "focus", 0.65)
    return target


def _in_system(scene: Scene, mention: Mention) -> bool:
    """A pressure that belongs to a system of fluid and not to a tyre."""
    attention = scene.attention
    system = scene.lexicon.systems.get(attention.system)
    return system is not None and bool(system.fluid) and mention.system == attention.system and (
        not {"tyre", "wheel"} & {*mention.words})
