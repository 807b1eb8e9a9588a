"""Measures that hold under another condition than the sheet's: a battery while cranking, a tyre under load."""

from __future__ import annotations

from saidspec.model import Fact
from saidspec.reconcile.case import Case
from saidspec.reconcile.cues import cue
from saidspec.reconcile.question import Question
from saidspec.reference.units import dimension

# What each condition changes so much that another value holds (common practice).
CHANGES: dict[str, frozenset[str]] = {
    "running": frozenset({"voltage"}), "cranking": frozenset({"voltage"}),
    "under-load": frozenset({"voltage", "pressure"}), "switched": frozenset({"temperature"}),
}


def own_words(case: Case, fact: Fact) -> str:
    """The words of a measure's sentence that no other measure stands between."""
    before, after = case.around(fact)
    start, end = fact.provenance.start, fact.provenance.end
    others = [other.provenance for other in case.by_kind.get("measurement", ()) if other.id != fact.id]
    since = max((other.end for other in others if other.end <= start), default=0)
    until = min((other.start for other in others if other.start >= end), default=end + len(after))
    return before[-max(start - since, 0):] + " " + after[:max(until - end, 0)] if start > since else after


def other_condition(on: Question) -> str | None:
    """A voltage or pressure under a condition that the sheet's name of it does not have: "14.3 volts with it running",
    "cranking it dropped to 10.2", where the sheet has the battery at rest."""
    fact, spec = on.fact, on.spec
    if fact.kind != "measurement":
        return None
    words, name = own_words(on.case, fact), spec.component.lower()
    for condition, measures in CHANGES.items():
        found = cue(condition).search(words) if dimension(spec.unit) in measures else None
        named = cue(condition).search(name) or (found and found.lastindex and found[1] in name)
        if found and not named:
            return "it was measured under another condition than the sheet's"
    return None
