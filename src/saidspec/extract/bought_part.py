"""What a part number or a price is of: a part, a kit or what a can holds, and at which side."""

from __future__ import annotations

from saidspec.discourse.attach import Target
from saidspec.discourse.attention import NO_SIDE
from saidspec.extract.draft import Draft
from saidspec.extract.fluid_meant import fluid_meant
from saidspec.extract.grammar import BE
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.passage import Passage
from saidspec.extract.scene import Scene

ONES = frozenset({"one", "ones", "pair", "set"})
COSTING = BE | {"cost", "came", "to"}  # between a part and its price
FOR_THE_OTHER = (["for", "the", "other"], ["on", "the", "other"])
FOR_THE = (["for", "the"], ["on", "the"])
POURED = 8  # tokens from the volume of a bottle to its price
ENDING = frozenset({"", ".", ",", ";", "\n", "one", "and"})
NAMES_OF_A_SET = frozenset({"that", "kit", "set"})


def bought_part(scene: Scene, target: Target, pool: list[Mention], start: int) -> Target:
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
    poured = scene.memory.last
    if loose and poured is not None and poured.kind == "volume" and start - poured.end <= POURED and not any(
            item.start >= poured.end for item in scene.attention.recent(2)) and poured.mention is not None:
        return Target(poured.mention, "topic", 0.8)  # "a litre bottle, 80 ml left. 11.95"
    entry = _of_the_entry(scene, mention, start) if target.manner == "focus" and mention is not None else None
    if entry is not None:
        return Target(entry, "focus", 0.75)
    if mention is None or not mention.fastener or mention.head in ("plug", "cap"):
        return target
    if target.manner in ("modifier", "for"):
        return target
    near = next((item for item in pool if not item.fastener), None)
    if near is None and target.manner == "focus":
        near = _renewed_lately(scene, start)
    return Target(near, "topic", 0.8) if near else target


def _of_the_entry(scene: Scene, mention: Mention, start: int) -> Mention | None:
    """"- inline filter changed, 1/4 in hose. FF-1102": what the entry of a list is about, and no hose by the way."""
    page = scene.page
    if not mention.general or not page.note.utterances or not page.note.utterances[page.utterance[start]].item:
        return None
    here = [item for item in scene.attention.recent(6) if page.utterance[start] - page.utterance[item.start] <= 1 and (
        "\n" not in page.norm[item.start : start])]
    first = here[-1] if here else mention
    return first if first.words and not first.general and not first.fastener and first.words != mention.words else None


def _renewed_lately(scene: Scene, start: int) -> Mention | None:
    """"The old one says TR-9061, new ones are TR-9062": the part worked on, and not the nut that held it."""
    page = scene.page
    if ONES.isdisjoint(page.words(max(page.sentence_start(start), start - 8), start)):
        return None
    parts = (item for item in scene.attention.recent(8) if item.words and not item.fastener and not item.oblique)
    return next((item for item in parts if page.sentence[start] - page.sentence[item.start] <= 4), None)


def _at_a_side(scene: Scene, number: Draft | None, target: Target, start: int) -> Mention | None:
    """"LA-2250 for this side, LA-2251 for the other": the part numbered before, at the side told of this number."""
    page, mention = scene.page, target.mention
    if number is None or number.mention is None or start - number.end > 30 or not (
            0 <= page.sentence[start] - page.sentence[number.anchor] <= 1):
        return None
    if page.words(start + 1, start + 4) in FOR_THE_OTHER and page.word(start + 4) in ENDING:
        side = OPPOSITE.get(number.mention.axis("side") or scene.attention.side or "")
        return placed(number.mention, dict(number.mention.positions) | {"side": side}) if side else None
    behind = scene.near.by_start.get(start + 3) if page.words(start + 1, start + 3) in FOR_THE else None
    base = number.mention
    if behind is None:
        behind = scene.near.by_start.get(start + 1)  # "SA-12 for the left and SA-13 right"
        behind = behind if behind is not None and not behind.words else None
        base = next((item for item in scene.attention.recent(6) if item.words and item.start >= number.end), base)
    if behind is not None and behind.kind == "position" and behind.axis("side") not in (None, *NO_SIDE):
        return placed(base, dict(base.positions) | dict(behind.positions))
    said = scene.near.by_start.get(mention.start) if mention is not None else None
    if said is None or said.kind != "position" or said.words or said.axis("side") is None:
        return None
    if said.start in scene.near.spent or said.start < number.end or target.manner not in ("topic", "focus", "for"):
        return None
    side = scene.attention.completed(said).axis("side") if said.axis("side") in NO_SIDE else said.axis("side")
    return placed(number.mention, dict(number.mention.positions) | {"side": side}) if side else None


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
