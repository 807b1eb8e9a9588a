"""What a preparation sheet is about: which entries and specifications belong to "front brakes" or "oil change"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from saidspec.model import Fact, Provenance
from saidspec.record.components import components
from saidspec.record.entries import Entry, by_note
from saidspec.report.job_knowledge import whole_system
from saidspec.report.parts import is_about, is_small, may_be, same_place, system, touches
from saidspec.report.prep_values import JobKnowledge

ON_THE_WAY = frozenset({"operation", "torque", "size", "material", "count"})
RENEWED = frozenset({"replace", "repair"})
OWN_WORK = RENEWED | {"drain", "fill", "flush", "bleed", "adjust", "rotate"}  # not what is done to get at a part
CLOSE_BY = 10  # entries before and after work on a part that may tell of the same job (our choice)
SHOW_WORK = frozenset({"operation", "part_number", "fluid"})  # kinds of facts that show that a job worked on a part


@dataclass(frozen=True, slots=True)
class Topic:
    """A part or a whole system; `system` is empty where only parts whose names hold the words belong to it."""

    about: str
    system: str
    parts: tuple[str, ...] = ()
    of: tuple[str, ...] = ()  # what jobs of that name are about: "engine oil" of the oil change
    jobs: frozenset[int | None] = frozenset()
    systems: frozenset[str] = frozenset()
    near: frozenset[int] | None = None  # the entries said close to work on it; None where its jobs belong to it wholly
    others: frozenset[int] = frozenset()  # entries of work that the same notes tell of other parts

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
        if self.near is not None and (
                entry.fact.id not in self.near or entry.fact.id in self.others or self._aside(entry)):
            return False
        return entry.job in self.jobs and (component is None or same_place(component, self.about))

    def _aside(self, entry: Entry) -> bool:
        """Whether an entry is of another system and nothing that one needs on the way to this one: what was looked at
        while the wheel was off.
        """
        known = system(entry.fact.component) if entry.fact.component else None
        return known is not None and known not in self.systems and entry.fact.kind not in ON_THE_WAY


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
    there = [entry for entry in entries if entry.note_id in notes]
    near = None if whole else _around([*shown, *(one for one in there if core.holds(one.fact.component))], there)
    made = replace(made, jobs=frozenset(entry.job for entry in jobs), systems=frozenset(systems), near=near)
    return made if whole else replace(made, others=_others(made, there))


def _others(made: Topic, entries: Iterable[Entry]) -> frozenset[int]:
    """The entries of work of its own on another part: what is told of that part, and of small parts right behind it.

    A part of another system that was drained, renewed or adjusted in the note is a job of its own, and so is a part
    of any system that was renewed; what was only taken off or tightened lies on the way.
    """
    told: set[int] = set()
    for those in by_note(entries).values():
        those.sort(key=lambda entry: entry.fact.provenance.start)
        own = _worked_on(made, those)
        aside = False
        for entry in those:
            component = entry.fact.component
            if component and (made.holds(component) or not is_small(component)):
                elsewhere = not made.holds(component)
                aside = elsewhere and (_about_one_of(component, own) or entry.fact.kind == "observation")
                if elsewhere and aside and _about_one_of(component, own):
                    told.add(entry.fact.id)
            elif component and aside:
                told.add(entry.fact.id)
    return frozenset(told)


def _worked_on(made: Topic, entries: Iterable[Entry]) -> frozenset[str]:
    """The parts of a note, and the systems, on which other work was done than what the topic is about."""
    home = {*made.systems, *(system(name) for name in (made.about, *made.of))}
    told: set[str] = set()
    for entry in entries:
        fact, of = entry.fact, system(entry.fact.component or "")
        if fact.kind != "operation" or not entry.stands or not fact.component or made.holds(fact.component):
            continue
        if of is not None and of not in home and fact.action in OWN_WORK:
            told.add(of)
        elif fact.action in RENEWED and not is_small(fact.component):
            told.add(fact.component)
    return frozenset(told)


def _about_one_of(component: str, own: frozenset[str]) -> bool:
    """Whether a component is one of those worked on, or of a system that was."""
    return system(component) in own or any(is_about(component, name) or is_about(name, component) for name in own)


def _around(shown: Iterable[Entry], entries: Iterable[Entry]) -> frozenset[int]:
    """The entries said close to some of their notes: a mower's service in one note is many jobs."""
    anchors = {entry.fact.id for entry in shown}
    told: set[int] = set()
    for those in by_note(entries).values():
        those.sort(key=lambda entry: entry.fact.provenance.start)
        for at, entry in enumerate(those):
            if entry.fact.id in anchors:
                told |= {one.fact.id for one in those[max(at - CLOSE_BY, 0) : at + CLOSE_BY + 1]}
    return frozenset(told)


def _in_short(entry: Entry, about: str) -> bool:
    """Whether work on a part said in short ("the belt") may be work on the one asked for."""
    component = entry.fact.component
    return component is not None and may_be(component, about, "operation")
