"""Which part a measurement is of: one that is measured in this way, and no bolt that only says where."""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.attach import Target
from saidspec.extract.measured_again import LENGTHS, WORN_WITHIN, has_role, measured_again, measured_before, whole
from saidspec.extract.mention import Mention, placed
from saidspec.extract.placing import names_its_place
from saidspec.extract.roles import part_role
from saidspec.extract.scene import Scene
from saidspec.extract.unnamed_part import unnamed_part

VAGUE = ("length", "angle")  # what is measured on anything
OF_FASTENERS = ("resistance", "voltage", "temperature")  # what may be measured on a plug or a bolt
OF_FEW_PARTS = ("slack", "sag", "deflection")  # what is measured so is meant however long ago it was named
SWITCHING = frozenset({"cut", "cuts", "kicked", "kicks", "came", "comes", "switched", "switches", "clicked"})
SWITCHING_REACH = 4  # tokens from a part to the temperature at which it comes on
NOUNS_OF_ROLE = {role: (role,) for role in (
    "pressure", "voltage", "resistance", "clearance", "gap", "thickness", "play", "deflection", "slack", "travel",
)} | {"temperature": ("temperature", "temp")}  # fmt: skip


def measured_part(scene: Scene, role: str, target: Target, pool: list[Mention], start: int) -> Target:
    """The part of a measurement at token `start`; `pool` are the phrases before it in its sentence."""
    mention = target.mention
    fits = mention is not None and has_role(scene, mention, role)
    by_it = mention is not None and "it" in scene.page.words(mention.end, start)  # "a shim in, now it opens at 131 bar"
    spoken = target.manner == "focus" or (target.manner == "topic" and by_it and not fits and role not in LENGTHS)
    before = measured_before(scene, role, start) if spoken and role not in VAGUE else None
    if before is not None and before.mention is not None and not (
            fits and mention is not None and mention.start > before.end):
        places = {axis: place for axis, place in before.mention.positions if axis != "cylinder"}
        return Target(placed(before.mention, places), "focus", 0.75)
    pieces_of = whole(scene, mention) if mention is not None and not fits else None
    if pieces_of is not None:
        return Target(pieces_of, "topic", 0.8)
    if role == "compression" and mention is not None and not fits:
        return Target(_cylinder(scene, mention), target.manner, 0.75)
    unnamed = unnamed_part(scene, role, target, fits, start)
    if unnamed is not None:
        return unnamed
    if mention is not None and role == "thickness" and mention.head in WORN_WITHIN:
        return Target(replace(mention, words=(WORN_WITHIN[mention.head],)), target.manner, 0.75)
    if mention is not None and not fits:
        other = measured_again(scene, mention, role, target, start)
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
    if role == "temperature" and target.manner == "topic" and _switched(scene, mention, start):
        return target
    near = next((item for item in pool if has_role(scene, item, role)), None)
    if near and not (target.manner == "topic" and start - mention.end <= 3 and part_role(mention, scene.lexicon)):
        return Target(near, "topic", 0.85)
    return _in_focus(scene, target, mention, role) if target.manner == "focus" else target


def _switched(scene: Scene, mention: Mention, start: int) -> bool:
    """"Fan cut in at 97": the temperature at which the part right before its verb switches is told of that part."""
    said = scene.page.words(mention.end, start)
    return 1 < len(said) <= SWITCHING_REACH and said[0] in SWITCHING and said[1] in ("in", "on", "out", "off")


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
    named = [item for item in [*pool, *scene.attention.recent(10)] if item.words]
    fit = next((item for item in named if has_role(scene, item, role)), None)  # a spark plug has a gap
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
