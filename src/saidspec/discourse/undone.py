"""The figures of work that was not done: "wheel nuts not torqued yet, they need 110 Nm" tells what is asked for."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage

ASKED = frozenset({"need", "needs", "get", "gets", "want", "wants", "take", "takes", "is", "'s", "are", "be", "should"})
DONE_ALL_THE_SAME = frozenset({"but", "to", "only", "so", "now", "instead", "just", "went", "because", "since", "did"})
WORK = frozenset({"tighten", "replace", "install"})
REACH = 10  # tokens from the work to its figure


def undone(page: Passage, drafts: list[Draft]) -> None:
    """Make a torque quoted where the clause before it says that its work was not done."""
    denied = [draft for draft in drafts if draft.kind == "operation" and draft.assertion == "negated"
              and draft.action in WORK and draft.mention is not None]
    for value in drafts:
        if value.kind == "torque" and value.assertion == "stated" and any(
                _asked_of(page, work, value) for work in denied):
            value.assertion, value.cue = "quoted", "work-undone"


def _asked_of(page: Passage, work: Draft, value: Draft) -> bool:
    """The value follows the work in its sentence, of the same part, and a verb in the present asks for it."""
    if not 0 < value.start - work.end <= REACH or not page.same_sentence(work.start, value.start):
        return False
    if work.mention is None or value.mention is None or {*work.mention.words}.isdisjoint(value.mention.words):
        return False
    between = page.words(work.end, value.start)
    return not ASKED.isdisjoint(between) and DONE_ALL_THE_SAME.isdisjoint(between)
