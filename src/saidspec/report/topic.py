"""What a preparation sheet is about: which entries and specifications belong to "front brakes" or "oil change"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from saidspec.record.entries import Entry
from saidspec.report.job_knowledge import whole_system
from saidspec.report.parts import is_about, same_place, system, touches
from saidspec.report.prep_values import JobKnowledge


@dataclass(frozen=True, slots=True)
class Topic:
    """A part or a whole system; `system` is empty where only parts whose names hold the words belong to it."""

    about: str
    system: str
    parts: tuple[str, ...] = ()
    jobs: frozenset[int] = frozenset()

    def holds(self, component: str | None) -> bool:
        """Whether a component belongs to it."""
        if not component or not same_place(component, self.about):
            return False
        if touches(component, self.about) or (self.system and system(component) == self.system):
            return True
        return any(is_about(component, part) or is_about(part, component) for part in self.parts)

    def has(self, entry: Entry) -> bool:
        """Whether an entry belongs to it; of a whole system all that was said on one of its jobs, unless elsewhere."""
        component = entry.fact.component
        if self.holds(component):
            return True
        return entry.job in self.jobs and (component is None or same_place(component, self.about))


def topic(about: str, known: JobKnowledge | None, entries: Iterable[Entry] = ()) -> Topic:
    """The topic that words name.  Words that only name a system ("front brakes") mean all of it, and its jobs."""
    parts = known.parts if known else ()
    if not whole_system(about):
        return Topic(about, "", parts)
    made = Topic(about, system(about) or "", parts)
    worked = (entry for entry in entries if entry.fact.kind == "operation" and entry.stands)
    jobs = frozenset(entry.job for entry in worked if entry.job is not None and made.holds(entry.fact.component))
    return replace(made, jobs=jobs)
