"""What a short phrase leaves unsaid, taken from the phrases before it.

`heard` are the completed mentions before it, latest first.  "The nut" is an earlier one with the same last word, or
belongs to the part named last; "outer" is the part spoken of last that comes inner and outer.
"""

from __future__ import annotations

from dataclasses import replace

from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.passage import Passage

LEANING = frozenset({"on", "to", "in", "at", "into", "of"})
HELD_BY_NUTS = frozenset({"clamp"})  # fasteners with a fastener of their own
GAPPED = frozenset({"gap", "gapped", "regapped", "gapping"})
ONE_REACH = 8  # tokens from a fastener to "the variator one"
VALVE_REACH = 16  # tokens from the cylinder to its valve
HEADING = 2  # tokens beside the part in a sentence that only names it: "Leads.", "Points first."
ANSWERED, QUESTION = 2, 8  # messages from a question to its answer; tokens from the part asked about to its mark
OWNERS, TWINS = 4, 12  # mentions looked back for the part a fastener belongs to; for the same place of a part
OWNER_REACH, PLACE_REACH = 25, 40  # tokens looked back for these


def fluid_of(lexicon: Lexicon, system: str, heard: list[Mention], mention: Mention) -> Mention:
    """"The oil" is the fluid of the system spoken of, else that named last."""
    if len(mention.words) > 1:
        return mention
    here = lexicon.systems.get(system)
    name = here.fluid.split() if here else []
    if mention.head in name:
        return replace(mention, words=tuple(name), system=system, general=False)
    earlier = next((item for item in heard if item.head == mention.head and len(item.words) > 1), None)
    if earlier is None:
        return mention
    return replace(mention, words=earlier.words, system=earlier.system, general=False)


def full_name(page: Passage, heard: list[Mention], topic: Mention | None, mention: Mention) -> Mention:
    """A general phrase with the words of the part it belongs to, or of the longer phrase it repeats."""
    size = len(mention.words)
    plugs = mention.words == ("plug",) and mention.plural and (mention.is_new or heads(page, mention))
    same = next((item for item in heard if len(item.words) > size and item.head == mention.head
                 and {*mention.words} <= {*item.words} and (item.plural or not plugs)), None)  # not the sump plug
    owner = _owner(page, heard, topic, mention)
    if owner and (same is None or (owner.start > same.start and (
            mention.fastener or page.same_sentence(owner.start, mention.start)))):
        own = owner.words[:-1] if owner.head in page.classes.measured and len(owner.words) > 1 else owner.words
        words = (*own, *(word for word in mention.words if word not in own))
        near = page.same_sentence(owner.start, mention.start)
        owner = owner if near else of_both(page, heard[:OWNERS], owner)
        held = {axis: place for axis, place in owner.positions if near or axis != "cylinder"}
        positions = held | dict(mention.positions)
        return placed(replace(mention, words=words, system=owner.system, general=False), positions)
    if same is None:
        return _within(page, heard, mention)
    # the side is that of now, and other places are those of the phrase itself; front and rear hold on
    end = same.axis("end")
    here = not mention.plural or page.same_sentence(same.start, mention.start)
    positions = {"end": end} if end in ("front", "rear") and here else {}
    return placed(replace(mention, words=same.words, system=same.system, general=False),
                  positions | dict(mention.positions))


def _within(page: Passage, heard: list[Mention], mention: Mention) -> Mention:
    """"New rocker cover gasket. The cover has ten bolts": the part within a longer name just before."""
    first, rest = mention.words[0], mention.words[1:]
    if len(rest) > mention.fastener or first not in page.classes.completed_heads:
        return mention
    for item in heard[:OWNERS]:
        near = mention.start - item.end <= OWNER_REACH and item.head in page.classes.joint_parts
        if near and first in item.words[1:-1]:
            words = (*item.words[: item.words.index(first) + 1], *rest)  # the cover, the cover bolts
            return replace(mention, words=words, system=item.system, general=False)
    return mention


def _owner(page: Passage, heard: list[Mention], topic: Mention | None, mention: Mention) -> Mention | None:
    """The part named just before, in this sentence or the one before it, that a short phrase belongs to."""
    classes = page.classes
    if mention.words == ("plug",) and (mention.plural or not GAPPED.isdisjoint(
            page.words(mention.start - 3, mention.end + 4))):
        return None  # "new plugs", "plug gapped to 0.7": those of the engine, whatever was named last
    if (not mention.fastener and mention.head not in classes.completed_heads) or (
            len(mention.words) > 1 and mention.words[0] not in classes.loosely_named):
        return None
    if topic is not None and topic.head != mention.head and not topic.fastener and topic.head not in classes.loose:
        return topic
    pool, first = heard[:OWNERS], page.sentence_start(mention.start)
    plain = [item for item in pool if item.start >= first and not item.oblique and not leans(page, item)]
    if all(item.kind == "part" and item.head in classes.loose for item in plain):
        plain = pool  # "lock tab bent back, nut is 27": no part that owns a nut
    for item in plain:
        if page.sentence[mention.start] - page.sentence[item.start] > 1 or mention.start - item.end > OWNER_REACH:
            return None
        owns = (item.kind == "part" or item.head in HELD_BY_NUTS) and item.words and item.head not in classes.loose
        if owns and item.head != mention.head:
            return item
    return None


def leans(page: Passage, item: Mention) -> bool:
    """Named only as a place: "hangs on the gearbox", "at the rack"."""
    before = page.words(item.start - 2, item.start)
    place = page.starting("position", item.start)
    if place is not None and place.end == item.end:
        return False  # "on the right 4 mm": where the part itself is
    return len(before) == 2 and before[1] in ("the", "my", "this") and before[0] in LEANING


def same_place(page: Passage, heard: list[Mention], mention: Mention) -> Mention | None:
    """A mere position as the part that was last named at that very place, unless a part of that axis is near."""
    if _headed(page, heard, mention):
        return None
    exact = next((item for item in heard[:TWINS] if item.words and {*mention.positions} <= {*item.positions}), None)
    if exact is None or page.word(mention.end) in ("one", "ones"):
        return None
    axes = [axis for axis, _ in mention.positions]
    here = [item for item in heard[:3] if item.words and page.same_sentence(item.start, mention.start)]
    if any(any(map(item.axis, axes)) for item in here):
        return None
    near = next((item for item in heard if item.words), exact)
    if near.words != exact.words and any(
            OPPOSITE.get(near.axis(axis) or "") == place for axis, place in mention.positions):
        return None  # "right disc 9 mm. Pads 4 mm on the left. Right side 5": the pad
    if _measure_since(page, near, exact):
        return None
    if here and not page.same_sentence(exact.start, mention.start) and all(item.words != exact.words for item in here):
        return None  # "tread 3 mm on the inside", with the inner joint a sentence before
    positions = {axis: place for axis, place in exact.positions if axis != "side"} | dict(mention.positions)
    return _like(exact, mention, positions)


def asked(page: Passage, item: Mention, at: int) -> bool:
    """"And the discs?", asked by one speaker, and token `at` in the message of another one that answers."""
    said, number, answer = page.note.utterances, page.utterance[item.start], page.utterance[at]
    if not 0 < answer - number <= ANSWERED or answer >= len(said):
        return False
    speaker, other = said[number].speaker, said[answer].speaker
    return speaker is not None and other is not None and speaker != other and "?" in page.words(
        item.end, min(item.end + QUESTION, page.sentence_end(item.start)))


def _headed(page: Passage, heard: list[Mention], mention: Mention) -> bool:
    """"Pinch bolts upper 20, lower 25": a plural part right before a place with a value is what the place is of."""
    before = heard[0] if heard else None
    if before is None or not before.words or any(map(before.axis, dict(mention.positions))):
        return False
    if asked(page, before, mention.start):
        return True
    if not before.plural:
        return False
    colon = page.word(before.end) in (":", ",")
    return before.end + colon == mention.start and mention.end < len(page) and (
        page.lexemes[mention.end].kind == "number")


def other_place(page: Passage, heard: list[Mention], mention: Mention) -> Mention:
    """A mere position as the part spoken of last that comes in that axis, at this place."""
    axes = [axis for axis, _ in mention.positions]
    pool = [item for item in heard if item.words and not leans(page, item)] or [item for item in heard if item.words]
    if axes == ["cylinder"]:
        pool = [item for item in pool if not page.classes.numbered_parts.isdisjoint(item.words)]
        if not pool:
            return replace(mention, words=("cylinder",), system="engine", general=False, kind="part")
    if axes == ["length"]:
        pool = [item for item in pool if item.fastener]
    base = next((item for item in pool if any(map(item.axis, axes))), None)
    near = pool[0] if pool else None
    if near is not None and near is not base and (
            base is None or _headed(page, heard, mention) or _nearer(page, near, base, mention)):
        base = near
    if base is None:
        return mention
    positions = {axis: place for axis, place in base.positions if axis != "side" or not mention.plural}
    positions |= dict(mention.positions)
    if mention.axis("end") == "middle" and base.axis("end"):
        positions["end"] = base.axis("end") or ""
    elif mention.axis("end") == "middle" or (mention.axis("height") and base.axis("end") == "middle"):
        positions = {axis: place for axis, place in positions.items() if axis in axes or axis not in ("height", "end")}
    return _like(base, mention, positions)


def _nearer(page: Passage, near: Mention, base: Mention, mention: Mention) -> bool:
    """Whether the part named last is meant though it has not come in that axis: the other one is too far away."""
    if _measure_since(page, near, base):
        return True
    here = page.same_sentence(near.start, mention.start) and not page.same_sentence(base.start, mention.start)
    return here or heads(page, near) or page.sentence[mention.start] - page.sentence[base.start] > 1 or (
        mention.start - base.end > PLACE_REACH)


def _measure_since(page: Passage, near: Mention, other: Mention) -> bool:
    """"Rear shock done tyre pressures 31 front 35 back": what is measured was named since, in the plural."""
    return near.head in page.classes.measured and near.plural and near.start >= other.end and near.words != other.words


def heads(page: Passage, item: Mention) -> bool:
    """"Leads. Number one is eleven kilohms": a sentence of a part alone says what the next ones are about."""
    return page.sentence_end(item.start) - page.sentence_start(item.start) <= item.end - item.start + HEADING


def of_both(page: Passage, heard: list[Mention], last: Mention) -> Mention:
    """"Pads 2 mm on the left and 3 on the right. New ones are PD-40": of both, where both were told of."""
    twin = next((item for item in heard if item is not last and item.words == last.words), None)
    if twin is None or not page.same_sentence(twin.start, last.start):
        return last
    both = [axis for axis, place in last.positions if OPPOSITE.get(twin.axis(axis) or "") == place]
    return placed(last, {axis: place for axis, place in last.positions if axis not in both}) if len(both) == 1 else last


def one_of_it(before: Mention | None, mention: Mention) -> Mention:
    """"The clutch nut is a 19, the variator one a 17": the nut of that part."""
    if before is None or not before.fastener or mention.start - before.end > ONE_REACH or before.head in mention.words:
        return mention
    return replace(mention, words=(*mention.words, before.head), kind="fastener")


def of_the_cylinder(heard: list[Mention], mention: Mention) -> Mention:
    """"Cylinder one, intake 0.09, exhaust 0.11": a valve of the cylinder that was named last."""
    if mention.head != "valve" or mention.axis("cylinder"):
        return mention
    for item in heard:
        if mention.start - item.end > VALVE_REACH or (item.words and item.head not in ("valve", "cylinder") and not (
                item.axis("cylinder"))):
            return mention
        if item.axis("cylinder"):
            return placed(mention, dict(mention.positions) | {"cylinder": item.axis("cylinder") or ""})
    return mention


def _like(part: Mention, mention: Mention, positions: dict[str, str]) -> Mention:
    """The mention named as a part, at these places."""
    return placed(replace(mention, words=part.words, system=part.system, general=part.general,
                          kind="fastener" if part.fastener else "part"), positions)
