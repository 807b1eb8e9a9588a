"""Back references that carry a value over: "same as the other side", "same nut size", "ditto on the right".

And what a later value says of an earlier one: a value measured before the part was put right is history.
"""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.attention import Attention, opposite
from saidspec.extract.components import Mention
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage

AFTER = {
    ">",
    "→",
    "now",
    "after",
    "pumped",
    "adjusted",
    "brought",
    "reset",
    "set",
    "inflated",
    "up",
    "put",
    "let",
    "down",
    "then",
    "finally",
    "new",
    "retested",
    "wound",
    "slackened",
    "tightened",
    "aired",
    "topped",
    "closed",
    "opened",
    "gapped",
    "filed",
    "bent",
    "bled",
    "redid",
    "cleaned",
    "again",
    "corrected",
    "dropped",
    "raised",
    "afterwards",
}
SAME = {"same", "ditto", "likewise", "identical"}
KIND_WORDS = {
    "torque": "torque",
    "size": "size",
    "socket": "size",
    "spanner": "size",
    "wrench": "size",
    "number": "part_number",
    "pressure": "measurement",
    "thread": "size",
    "setting": "torque",
    "figure": "torque",
    "thickness": "measurement",
    "gap": "measurement",
}
CARRIED = {"torque", "size", "measurement", "part_number", "volume"}
BACK_WORDS = {
    "as",
    "other",
    "side",
    "the",
    "again",
    "on",
    "for",
    "that",
    "this",
    "here",
    "there",
    "one",
    "too",
    "figure",
    "torque",
    "size",
    "before",
    "deal",
    "thing",
    "goe",
    "goes",
    "go",
    "left",
    "right",
    "with",
    "and",
    "in",
    "at",
}


def carried(
    page: Passage, at: int, drafts: list[Draft], attention: Attention, mentions: dict[int, Mention]
) -> Draft | None:
    """The fact that a back reference at token `at` stands for, or None where it cannot be told."""
    if page.norm[at] not in SAME or (
        page.word(at - 1) in ("the",)
        and page.word(at + 1) in ("time", "day", "as")
        and page.word(at + 2) not in ("the", "other")
    ):
        return None
    end = at + 1
    named: Mention | None = None
    kind: str | None = None
    while end < len(page) and end - at < 9 and page.same_sentence(at, end):
        if end in mentions:
            named, end = mentions[end], mentions[end].end
            continue
        word = page.norm[end]
        if word in KIND_WORDS:
            kind = KIND_WORDS[word]
        elif word not in BACK_WORDS:
            break
        end += 1
    if page.lexemes[end - 1].kind == "mark":
        end -= 1
    if any(page.lexemes[i].kind in ("number", "code") for i in range(end, min(end + 3, page.sentence_end(at)))):
        return None  # the value is said after all
    return _copy(page, at, end, kind, named, drafts, attention)


def _copy(
    page: Passage, at: int, end: int, kind: str | None, named: Mention | None, drafts: list[Draft], attention: Attention
) -> Draft | None:
    before = [
        item
        for item in attention.recent(4)
        if item.end <= at and page.same_sentence(item.start, at) and at - item.end < 8
    ]
    subject = before[0] if before and before[0].words else None
    other = "other" in page.words(at, end)
    side = named.axis("side") if named is not None else None
    if side and "as" in page.words(at, named.start if named is not None else at):
        other, side = True, None  # "the same as the nearside": that is where the value comes from
    if side in ("other side", "both sides", "this side", "that side"):
        other, side = other or side == "other side", None
    full = attention.completed(named) if named is not None and named.words and "side" not in named.words else None
    about = subject or full
    source = _source(kind, about, drafts)
    if source is None or source.mention is None:
        return None
    target = _target(source, about, side, other, attention)
    if target is None or (target.words == source.mention.words and target.positions == source.mention.positions):
        return None
    return replace(
        source,
        start=at,
        end=end,
        anchor=at,
        mention=target,
        confidence=0.75,
        rule="carried.same",
        back=True,
        replaced_by=None,
        manner="back",
        assertion="stated",
        cue=None,
    )


def _source(kind: str | None, about: Mention | None, drafts: list[Draft]) -> Draft | None:
    """The latest value of that part (by its last words) and kind."""
    wanted = kind
    if wanted is None and drafts:
        last = next((draft for draft in reversed(drafts) if draft.kind in CARRIED), None)
        wanted = last.kind if last else None
    pool = [
        draft for draft in drafts if draft.kind == wanted and draft.assertion == "stated" and draft.mention is not None
    ]
    if about is None:
        return pool[-1] if pool else None
    for fits in (
        lambda words: {*about.words} <= {*words},
        lambda words: {*words} <= {*about.words},
        lambda words: words[-1:] == about.words[-1:],
    ):
        for draft in reversed(pool):
            if draft.mention is not None and fits(draft.mention.words):
                return draft
    return None


def _target(
    source: Draft, about: Mention | None, side: str | None, other: bool, attention: Attention
) -> Mention | None:
    """The part the value is carried over to: the named one, at the named side, else at the other side."""
    assert source.mention is not None
    base = about if about is not None and len(about.words) >= len(source.mention.words) else source.mention
    positions = dict(base.positions)
    was = source.mention.axis("side")
    if side:
        positions["side"] = side
    elif about is not None and about.axis("side") and about.axis("side") != was:
        pass
    elif attention.side and attention.side != was and was:
        positions["side"] = attention.side
    elif other and was:
        flipped = opposite(source.mention)
        if flipped is None:
            return None
        positions["side"] = flipped.axis("side") or ""
    elif other and attention.side:
        positions["side"] = attention.side
    elif other:
        return None
    return replace(
        base,
        words=source.mention.words if len(source.mention.words) > len(base.words) else base.words,
        positions=tuple(positions.items()),
    )


def outdated(page: Passage, drafts: list[Draft]) -> None:
    """Values measured before an adjustment become historical where the note then gives the value after it."""
    measured = [draft for draft in drafts if draft.kind == "measurement" and draft.mention is not None]
    for index, late in enumerate(measured):
        if late.assertion != "stated" or late.mention is None:
            continue
        for early in reversed(measured[max(0, index - 5) : index]):
            if (
                early.role != late.role
                or early.assertion != "stated"
                or early.mention is None
                or early.unit != late.unit
                or (early.value == late.value)
            ):
                continue
            if not {*early.mention.words} & {*late.mention.words} or not _same_place(early.mention, late.mention):
                continue
            if early.role not in ADJUSTABLE:
                continue
            before = page.words(max(early.end, late.start - 8), late.start)
            words = {*before, *page.words(late.end, late.end + 2)}
            if {*before[-5:]} & {"was", "were", "had"} and "now" not in words:
                if (
                    {"before", "down", "from", "previously"} & words
                    and late.start - early.end < 25
                    and not {"was", "were"} & {*page.words(early.start - 4, early.start)}
                ):
                    late.assertion, late.cue = "historical", "before-adjustment"
                break
            if words & AFTER:
                early.assertion, early.cue = "historical", "before-adjustment"


ADJUSTABLE = {
    "pressure",
    "slack",
    "deflection",
    "play",
    "voltage",
    "clearance",
    "gap",
    "depth",
    "current",
    "travel",
    "height",
    "length",
    "angle",
    "speed",
    "runout",
    "resistance",
}


def _same_place(early: Mention, late: Mention) -> bool:
    mine, theirs = dict(early.positions), dict(late.positions)
    return all(mine.get(axis, place) == place for axis, place in theirs.items())
