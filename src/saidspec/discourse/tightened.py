"""A torque is of the part and not of what was measured on it: "spark plug gap 0.7 mm, torqued to 23 Nm"."""

from __future__ import annotations

from dataclasses import replace

from saidspec.extract.draft import Draft

MEASURED = frozenset({"gap", "clearance", "slack", "thickness", "pressure", "play", "depth"})


def of_the_part(drafts: list[Draft]) -> None:
    """Take what was measured off the part's name in torques and in the work of tightening."""
    for draft in drafts:
        mention = draft.mention
        if mention is None or len(mention.words) < 2 or mention.head not in MEASURED:
            continue
        if draft.kind == "torque" or (draft.kind == "operation" and draft.action == "tighten"):
            draft.mention = replace(mention, words=mention.words[:-1])
