"""The component that fits a kind: a torque goes to a fastener, a volume to a fluid, a thickness to a lining."""

from __future__ import annotations

from saidspec.discourse.attach import Target
from saidspec.extract.bought_part import bought_part
from saidspec.extract.fluid_meant import fluid_meant, of_the_leg
from saidspec.extract.measured_part import measured_part
from saidspec.extract.mention import Mention
from saidspec.extract.scene import Scene
from saidspec.model import Kind

SAID_FOR_IT = ("modifier", "for", "copula", "place")  # manners of standing beside that leave no doubt
LOCKING_PINS = frozenset({"split", "cotter", "roll", "r", "dowel"})
SCREWED_IN = frozenset({"joint", "end", "link", "sender"})  # parts that are tightened though they are no fasteners
ASKING = frozenset({"take", "takes", "need", "needs", "want", "wants"})
SIZED_REACH = 4  # tokens from the size of a tool to the torque of what it turns
HOLDING = frozenset({"held", "hold", "bolted", "fixed", "secured", "fastened", "hang", "hung", "screwed", "attached",
                     "mounted", "sit", "clamped"})  # "the pump's held on with two 10s": what holds it


def fitting(scene: Scene, kind: Kind, role: str | None, target: Target, start: int) -> Target:
    """The target itself, or a part spoken of before that fits the kind of the value at token `start` better."""
    pool = scene.near.before(start) if target.manner in ("topic", "focus") or kind == "torque" else []
    if kind in ("torque", "size") and role in (None, "tool", "thread"):
        return _fastened(scene, target, pool, kind, start)
    if kind == "volume" and role != "capacity":
        return of_the_leg(scene, fluid_meant(scene, target, start), start)
    if kind in ("volume", "fluid"):
        return fluid_meant(scene, target, start)
    if kind == "measurement" and role:
        if role == "temperature" and not scene.words.frost.isdisjoint(scene.page.words(start - 8, start + 6)):
            return fluid_meant(scene, target, start)  # how cold the coolant may get
        return measured_part(scene, role, target, pool, start)
    if kind in ("part_number", "cost"):
        return bought_part(scene, target, pool, start)
    return target


def _fastened(scene: Scene, target: Target, pool: list[Mention], kind: Kind, start: int) -> Target:
    """A torque or the size of a tool belongs to a fastener: the one named in the sentence, else one named lately."""
    mention = target.mention
    if kind == "torque" and target.manner in ("topic", "focus") and not (
            {"hand", "contact", "spin", "spun"}.isdisjoint(scene.page.words(start - 8, start + 8))):
        spun = next((item for item in scene.attention.recent(8)
                     if not scene.words.hand_tightened.isdisjoint(item.words[-1:])), None)
        if spun is not None and not (mention is not None and mention.fastener and start - mention.end <= 6):
            return Target(spun, "topic", 0.8)  # "new filter, oil on the gasket, three quarters of a turn by hand"
    if kind == "torque" and mention is not None and mention.head == "wheel" and target.manner in ("topic", "focus"):
        fixed = next((item for item in scene.attention.recent() if item.fastener and (
            "wheel" in item.words or "lug" in item.words)), None)
        if fixed is not None:
            return Target(fixed, "topic", 0.75)  # "wheels on, 90 newton metres all ten"
    if mention is None or (target.manner in SAID_FOR_IT and not (mention.head in scene.words.joint_parts and pool)) or (
            mention.fastener and (kind == "size" or is_tightened(scene, mention))):
        return target
    turned = not mention.general or (start == mention.end and scene.page.inside("socketed", mention.end - 1))
    if target.manner == "topic" and start - mention.end <= 2 and turned and not (
            mention.fastener or _laid_in(scene, mention)):
        return target
    if target.manner == "topic" and not ASKING.isdisjoint(scene.page.words(start - 2, start)) and not mention.oblique:
        return target  # "and the bracket behind it takes a 21"
    if target.manner == "topic" and not HOLDING.isdisjoint(scene.page.words(mention.end, start)):
        return target
    if kind == "torque" and _sized_before(scene, mention, start):
        return target
    same = _same_torque(scene, pool, start) if kind == "torque" else None
    if same is not None:
        return Target(same, "topic", 0.8)
    near = next((item for item in pool if is_tightened(scene, item)), None)
    if near:
        return Target(near, "topic", 0.85)
    if target.manner == "topic" and mention.head not in scene.words.joint_parts:
        return target
    recent = _recent_fastener(scene, start)
    if recent and recent.start < mention.start and mention.head in SCREWED_IN:
        return target  # it is turned itself: "hub nut 280. Track rod end off. Forty newton metres"
    if recent and scene.page.sentence[mention.start] - scene.page.sentence[recent.start] <= 3:
        return Target(recent, "focus", 0.65)
    return target


def _sized_before(scene: Scene, mention: Mention, start: int) -> bool:
    """"Idler seventeen millimetre, forty five newton metres": the tool was told of that part, and so is the torque."""
    last = scene.memory.last
    return last is not None and last.kind == "size" and last.role == "tool" and last.mention is not None and (
        start - last.end <= SIZED_REACH and last.mention.words == mention.words)


def is_tightened(scene: Scene, mention: Mention) -> bool:
    """Whether a part is a fastener that takes a torque: no washer, no split pin."""
    return mention.fastener and not _laid_in(scene, mention)


def _laid_in(scene: Scene, mention: Mention) -> bool:
    return mention.head in scene.words.joint_parts or (
        mention.head == "pin" and not LOCKING_PINS.isdisjoint(mention.words))


def _same_torque(scene: Scene, pool: list[Mention], start: int) -> Mention | None:
    """The part of the torque said before in the sentence, where no other fastener was named since."""
    last = scene.memory.last
    if last is None or last.kind != "torque" or not scene.page.same_sentence(last.anchor, start):
        return None
    if last.mention is None or any(item.fastener and item.start >= last.start for item in pool):
        return None
    return last.mention


def _recent_fastener(scene: Scene, start: int) -> Mention | None:
    """The fastener named last; in an entry of a list one of the same entry."""
    page = scene.page
    listed = bool(page.note.utterances) and page.note.utterances[page.utterance[start]].item
    return next((item for item in scene.attention.recent(6) if (is_tightened(scene, item) or "plug" in item.words) and (
        not listed or page.utterance[item.start] == page.utterance[start])), None)
