"""Back references that carry a value over: "same as the other side", "same nut size", "ditto on the right"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from saidspec.discourse.attention import Attention
from saidspec.extract.draft import Draft
from saidspec.extract.mention import CONTRARY, OPPOSITE, Mention, opposite, placed
from saidspec.extract.passage import Passage

SAME = frozenset({"same", "ditto", "likewise", "identical"})
CARRIED = frozenset({"torque", "size", "measurement", "part_number", "volume"})
NO_SIDE = ("other side", "both sides", "this side", "that side")
LOOKED_BACK = 60  # drafts in which the values of a part are looked for
REACH = 9  # tokens of a back reference


@dataclass(frozen=True, slots=True)
class BackReference:
    """Tokens at..end refer back: to a value of a kind, of a part, on the other side, as far as they say so."""

    at: int
    end: int
    kind: str | None
    named: Mention | None


def carried(page: Passage, at: int, drafts: list[Draft], attention: Attention,
            mentions: dict[int, Mention]) -> Draft | None:
    """The fact that a back reference at token `at` stands for, or None where it cannot be told."""
    said = _back_reference(page, at, mentions)
    if said is None:
        return None
    about = _about(page, said, attention)
    source = (_across(said, drafts) if about is None else None) or _source(said.kind, about, drafts)
    if about is None and source is not None and said.named is not None and not said.named.words:
        about = _at_named_place(page, said, source.mention)
    if source is None or source.mention is None:
        return None
    if about is not None and source.mention.start == about.start:
        about = source.mention  # "left caliper 3 mm" was told of its pad
    side, other = _side(page, said)
    target = _target(source.mention, _at_named_place(page, said, about), side, other, attention)
    if target is None or (target.words == source.mention.words and target.positions == source.mention.positions):
        return None
    return replace(source, start=at, end=said.end, anchor=at, mention=target, confidence=0.75, rule="carried.same",
                   back=True, replaced_by=None, manner="back", assertion="stated", cue=None)


def _back_reference(page: Passage, at: int, mentions: dict[int, Mention]) -> BackReference | None:
    """The words of a back reference; None for "the same day" and where the value is said after all."""
    if page.norm[at] not in SAME or (page.word(at - 1) == "the" and page.word(at + 1) in ("time", "day", "as") and (
            page.word(at + 2) not in ("the", "other"))):
        return None
    end, named, kind = at + 1, None, None
    while end < len(page) and end - at < REACH and page.same_sentence(at, end):
        if end in mentions:
            named, end = mentions[end], mentions[end].end
            continue
        word = page.norm[end]
        if word in page.classes.same_kind:
            kind = page.classes.same_kind[word]
        elif word not in page.classes.back_reference:
            break
        end += 1
    if page.lexemes[end - 1].kind == "mark":
        end -= 1
    if _value_behind(page, end, min(end + 3, page.sentence_end(at))):
        return None
    return BackReference(at, end, kind, named)


def _value_behind(page: Passage, end: int, last: int) -> bool:
    """Whether the value is said after all: "same again, 30"; not behind another verb: "the same, put in 2 L"."""
    for place in range(end, last):
        if page.lexemes[place].kind in ("number", "code"):
            return True
        if page.starting("action", place):
            return False
    return False


def _about(page: Passage, said: BackReference, attention: Attention) -> Mention | None:
    """The part of a back reference: the subject right before it, else the part it names."""
    before = [item for item in attention.recent(4)
              if item.end <= said.at and said.at - item.end < 8 and page.same_sentence(item.start, said.at)]
    if before and before[0].words:
        return before[0]
    named = said.named
    return attention.completed(named) if named is not None and named.words and "side" not in named.words else None


def _at_named_place(page: Passage, said: BackReference, about: Mention | None) -> Mention | None:
    """"Top plug to 27, and the same on the lower one": the subject at the place that the reference names."""
    named = said.named
    if about is None or named is None or named.words or "as" in page.words(said.at, named.start):
        return about
    places = {axis: place for axis, place in named.positions if axis != "side"}
    return placed(about, dict(about.positions) | places) if places else about


def _side(page: Passage, said: BackReference) -> tuple[str | None, bool]:
    """(side, other) of a back reference: the side it names for the value, and whether it speaks of the other one."""
    other = "other" in page.words(said.at, said.end)
    side = said.named.axis("side") if said.named is not None else None
    if said.named is not None and side and "as" in page.words(said.at, said.named.start):
        return None, True  # "the same as the nearside": that is where the value comes from
    if side in NO_SIDE:
        return None, other or side == "other side"
    return side, other


def _across(said: BackReference, drafts: list[Draft]) -> Draft | None:
    """"Top bolt 17 Nm. Engine at 80 degrees. Same on the bottom one": what was told of the opposite place."""
    if said.named is None or said.named.words or said.kind is not None:
        return None
    last = next((draft.mention for draft in reversed(drafts) if draft.kind in CARRIED), None)
    sided = last is not None and last.axis("side") is not None
    wanted = {(axis, OPPOSITE.get(place, "")) for axis, place in said.named.positions if axis != "side" or not sided}
    words = {word for word, contrary in CONTRARY.items() if ("height", contrary) in said.named.positions}
    return next((draft for draft in reversed(drafts[-LOOKED_BACK:]) if draft.kind in CARRIED and (
        draft.assertion == "stated" and draft.mention is not None) and not (
            wanted.isdisjoint(draft.mention.positions) and words.isdisjoint(draft.mention.words))), None)


def _source(kind: str | None, about: Mention | None, drafts: list[Draft]) -> Draft | None:
    """The latest value of that part (by its last words) and kind."""
    if kind is None and about is not None:
        kind = _kind_of(about, drafts)
    if kind is None:
        kind = next((draft.kind for draft in reversed(drafts) if draft.kind in CARRIED), None)
        if kind == "measurement" and about is not None and about.fastener:
            return None  # "bolts same as the other side", and no value of a bolt was said
    mine = {*about.words} if about is not None else set()
    narrower = alike = None
    for draft in reversed(drafts):
        if draft.kind != kind or draft.assertion != "stated" or draft.mention is None:
            continue
        words = draft.mention.words
        if about is None or mine <= {*words} or 0 < draft.mention.start == about.start:
            return draft
        narrower = narrower or (draft if {*words} <= mine else None)
        alike = alike or (draft if words[-1:] == about.words[-1:] else None)
    return narrower or alike


def _kind_of(about: Mention, drafts: list[Draft]) -> str | None:
    """The kind of value that a part has had so far: the torque of a fastener, else what was said of it last."""
    found = None
    told = [draft for draft in drafts[-LOOKED_BACK:]
            if draft.kind in CARRIED and draft.kind != "part_number" and draft.assertion == "stated"]
    if about.fastener and told and told[-1].kind == "torque":
        return "torque"
    for draft in reversed(told):
        if draft.mention is None:
            continue
        words = draft.mention.words
        if words[-1:] == about.words[-1:] and ({*about.words} <= {*words} or {*words} <= {*about.words}):
            found = found or draft.kind
            if draft.kind == "torque" and about.fastener:
                return "torque"
    return found


def _target(measured: Mention, about: Mention | None, side: str | None, other: bool,
            attention: Attention) -> Mention | None:
    """The part the value is carried over to: the named one, at the named side, else at the other side."""
    base = about if about is not None and len(about.words) >= len(measured.words) else measured
    positions = dict(base.positions)
    was = measured.axis("side")
    if side:
        positions["side"] = side
    elif about is not None and about.axis("side") and about.axis("side") != was:
        pass
    elif attention.side and attention.side != was and was:
        positions["side"] = attention.side
    elif other:
        flipped = opposite(measured)
        place = (flipped.axis("side") if flipped else None) if was else attention.side
        if not place:
            return None
        positions["side"] = place
    return placed(replace(base, words=max(base.words, measured.words, key=len)), positions)
