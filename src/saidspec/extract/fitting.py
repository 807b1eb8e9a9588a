"""The component that fits a kind: a torque goes to a fastener, a volume to a fluid, a thickness to a lining."""

from __future__ import annotations

from saidspec.discourse.attach import Target
from saidspec.discourse.attention import NO_SIDE
from saidspec.extract.draft import Draft
from saidspec.extract.fluid_meant import fluid_meant
from saidspec.extract.grammar import BE
from saidspec.extract.measured_part import measured_part
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.passage import Passage
from saidspec.extract.scene import Scene
from saidspec.model import Kind

SAID_FOR_IT = ("modifier", "for", "copula", "place")  # manners of standing beside that leave no doubt
LOCKING_PINS = frozenset({"split", "cotter", "roll", "r", "dowel"})
SCREWED_IN = frozenset({"joint", "end", "link", "sender"})  # parts that are tightened though they are no fasteners
ONES = frozenset({"one", "ones", "pair", "set"})
COSTING = BE | {"cost", "came", "to"}  # between a part and its price
ASKING = frozenset({"take", "takes", "need", "needs", "want", "wants"})
FOR_THE_OTHER = (["for", "the", "other"], ["on", "the", "other"])
FOR_THE = (["for", "the"], ["on", "the"])
ENDING = frozenset({"", ".", ",", ";", "\n", "one", "and"})
HOLDING = frozenset({"held", "hold", "bolted", "fixed", "secured", "fastened", "hang", "hung", "screwed", "attached",
                     "mounted", "sit", "clamped"})  # "the pump's held on with two 10s": what holds it
NAMES_OF_A_SET = frozenset({"that", "kit", "set"})


def fitting(scene: Scene, kind: Kind, role: str | None, target: Target, start: int) -> Target:
    """The target itself, or a part spoken of before that fits the kind of the value at token `start` better."""
    pool = scene.near.before(start) if target.manner in ("topic", "focus") or kind == "torque" else []
    if kind in ("torque", "size") and role in (None, "tool", "thread"):
        return _fastened(scene, target, pool, kind, start)
    if kind in ("volume", "fluid"):
        return fluid_meant(scene, target, start)
    if kind == "measurement" and role:
        if role == "temperature" and not scene.words.frost.isdisjoint(scene.page.words(start - 8, start + 6)):
            return fluid_meant(scene, target, start)  # how cold the coolant may get
        return measured_part(scene, role, target, pool, start)
    if kind in ("part_number", "cost"):
        return _bought(scene, target, pool, start)
    return target


def _fastened(scene: Scene, target: Target, pool: list[Mention], kind: Kind, start: int) -> Target:
    """A torque or the size of a tool belongs to a fastener: the one named in the sentence, else one named lately."""
    mention = target.mention
    if kind == "torque" and target.manner in ("topic", "focus") and "hand" in scene.page.words(start - 6, start + 6):
        spun = next((item for item in scene.attention.recent(8)
                     if not scene.words.hand_tightened.isdisjoint(item.words[-1:])), None)
        if spun is not None and not (mention is not None and mention.fastener and start - mention.end <= 6):
            return Target(spun, "topic", 0.8)  # "new filter, oil on the gasket, three quarters of a turn by hand"
    if mention is None or (target.manner in SAID_FOR_IT and not (mention.head in scene.words.joint_parts and pool)) or (
            mention.fastener and (kind == "size" or is_tightened(scene, mention))):
        return target
    if target.manner == "topic" and start - mention.end <= 2 and not mention.general and not (
            mention.fastener or _laid_in(scene, mention)):
        return target
    if target.manner == "topic" and not ASKING.isdisjoint(scene.page.words(start - 2, start)) and not mention.oblique:
        return target  # "and the bracket behind it takes a 21"
    if target.manner == "topic" and not HOLDING.isdisjoint(scene.page.words(mention.end, start)):
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


def _bought(scene: Scene, target: Target, pool: list[Mention], start: int) -> Target:
    """What a part number or a price is of: no bolt, where a part, a kit or what a can holds is spoken of."""
    page, mention = scene.page, target.mention
    number = next((draft for draft in reversed(scene.memory.recent[-3:]) if draft.kind == "part_number"), None)
    numbered = number.mention if number is not None else None
    loose = target.manner in ("topic", "focus")
    other = _at_a_side(scene, number, target, start)
    if other is not None:
        return Target(other, "topic", 0.8)
    if loose and number and numbered and _told_of(page, number, start) and (
            numbered.head in ("kit", "set") or not NAMES_OF_A_SET.isdisjoint(page.words(number.end, start))):
        return Target(numbered, "topic", 0.85)
    if loose and _in_a_container(scene, start) and not any(start - item.end <= 4 for item in pool):
        return fluid_meant(scene, target, start)
    if target.manner == "topic" and mention is not None and COSTING.issuperset(page.words(mention.end, start)):
        return target  # "and the nuts were 60 pence each"
    topic = scene.attention.topic_at(start)
    if loose and topic is not None and not topic.fastener and mention is not None and not mention.is_new:
        return Target(topic, "topic", 0.85)
    if loose and number and numbered and _unnamed_since(number, pool, start):
        return Target(numbered, "topic", 0.85)
    if mention is None or not mention.fastener or mention.head in ("plug", "cap"):
        return target
    if target.manner in ("modifier", "for"):
        return target
    near = next((item for item in pool if not item.fastener), None)
    if near is None and target.manner == "focus":
        near = _renewed_lately(scene, start)
    return Target(near, "topic", 0.8) if near else target


def _renewed_lately(scene: Scene, start: int) -> Mention | None:
    """"The old one says TR-9061, new ones are TR-9062": the part worked on, and not the nut that held it."""
    page = scene.page
    if ONES.isdisjoint(page.words(max(page.sentence_start(start), start - 8), start)):
        return None
    parts = (item for item in scene.attention.recent(8) if item.words and not item.fastener and not item.oblique)
    return next((item for item in parts if page.sentence[start] - page.sentence[item.start] <= 4), None)


def _at_a_side(scene: Scene, number: Draft | None, target: Target, start: int) -> Mention | None:
    """"LA-2250 for this side, LA-2251 for the other"; "the left one, TE-4416-L": the part numbered before, at a side."""
    page, mention = scene.page, target.mention
    if number is None or number.mention is None or start - number.end > 30 or not (
            0 <= page.sentence[start] - page.sentence[number.anchor] <= 1):
        return None
    if page.words(start + 1, start + 4) in FOR_THE_OTHER and page.word(start + 4) in ENDING:
        side = OPPOSITE.get(number.mention.axis("side") or scene.attention.side or "")
        return placed(number.mention, dict(number.mention.positions) | {"side": side}) if side else None
    behind = scene.near.by_start.get(start + 3) if page.words(start + 1, start + 3) in FOR_THE else None
    if behind is not None and behind.kind == "position" and behind.axis("side") not in (None, *NO_SIDE):
        return placed(number.mention, dict(number.mention.positions) | dict(behind.positions))
    said = scene.near.by_start.get(mention.start) if mention is not None else None
    if said is None or said.start in scene.near.spent or said.kind != "position" or said.words or said.axis("side") is None or (
            target.manner not in ("topic", "focus", "for") or said.start < number.end):
        return None
    side = (scene.attention.completed(said).axis("side") or "") if said.axis("side") in NO_SIDE else said.axis("side")
    return placed(number.mention, dict(number.mention.positions) | {"side": side or ""}) if side else None


def _told_of(page: Passage, number: Draft, start: int) -> bool:
    """No figure between a part number and its price: "kit is CL-4471, that's the disc and the cover, 212 dollars"."""
    return page.same_sentence(number.anchor, start) and all(
        lex.kind != "number" for lex in page.lexemes[number.end : start])


def _in_a_container(scene: Scene, at: int) -> bool:
    """Whether a can or a bottle is spoken of beside a value, and no brake drum."""
    page = scene.page
    return any(page.word(i) in scene.words.fluid_containers and (
        page.word(i + 1) == "of" or not page.inside("part", i)) for i in range(at - 4, at + 5))


def _unnamed_since(number: Draft, pool: list[Mention], start: int) -> bool:
    """Right behind a part number, with no part named in between."""
    return start - number.end <= 14 and not any(item.start >= number.end for item in pool)
