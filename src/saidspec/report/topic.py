"""What a preparation sheet is about: which entries and specifications belong to "front brakes" or "oil change"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from saidspec.model import Fact, Provenance
from saidspec.record.components import components
from saidspec.record.entries import Entry
from saidspec.report.job_knowledge import whole_system
from saidspec.report.parts import is_about, may_be, same_place, system, touches
from saidspec.report.prep_values import JobKnowledge

SHOW_WORK = frozenset({"operation", "part_number", "fluid"})  # kinds of facts that show that a job worked on a part


@dataclass(frozen=True, slots=True)
class Topic:
    """A part or a whole system; `system` is empty where only parts whose names hold the words belong to it."""

    about: str
    system: str
    parts: tuple[str, ...] = ()
    of: tuple[str, ...] = ()  # what jobs of that name are about: "engine oil" of the oil change
    jobs: frozenset[int | None] = frozenset()

    def holds(self, component: str | None) -> bool:
        """Whether a component belongs to it."""
        if not component or not same_place(component, self.about):
            return False
        if any(touches(component, name) for name in (self.about, *self.of)):
            return True
        if self.system and system(component) == self.system:
            return True
        return any(is_about(component, part) or is_about(part, component) for part in self.parts)

    def has(self, entry: Entry) -> bool:
        """Whether an entry belongs to it, or was said on one of its jobs and not of another place."""
        component = entry.fact.component
        if self.holds(component):
            return True
        return entry.job in self.jobs and (component is None or same_place(component, self.about))


def topic(about: str, known: JobKnowledge | None, entries: Iterable[Entry] = ()) -> Topic:
    """The topic that words name, with the jobs that worked on it.  Words that only name a system mean all of it."""
    whole = (system(about) or "") if whole_system(about) else ""
    made = Topic(about, whole, known.parts if known else (), known.of if known else ())
    core = replace(made, parts=())  # a wheel nut alone makes no brake job
    systems = components().systems_of(Fact(0, "operation", Provenance(about, 0, len(about)), component=about))
    entries = [entry for entry in entries if entry.job is not None]
    beside = {entry.note_id for entry in entries if entry.system in systems}
    shown = [
        entry for entry in entries if entry.fact.kind in SHOW_WORK and entry.stands
        and (core.holds(entry.fact.component) or (entry.note_id in beside and _in_short(entry, about)))
    ]  # fmt: skip
    notes = {entry.note_id for entry in shown}
    jobs = [*shown, *(entry for entry in entries if entry.system in systems and entry.note_id in notes)]
    return replace(made, jobs=frozenset(entry.job for entry in jobs))


def _in_short(entry: Entry, about: str) -> bool:
    """Whether work on a part said in short ("the belt") may be work on the one asked for."""
    component = entry.fact.component
    return component is not None and may_be(component, about, "operation")
