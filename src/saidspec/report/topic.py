"""What a preparation sheet is about: which entries and specifications belong to "front brakes" or "oil change"."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.reconcile.vocabulary import load_vocabulary
from saidspec.record.entries import Entry
from saidspec.report.parts import is_about, phrase, same_place, system, touches
from saidspec.report.prep_values import JobKnowledge


@dataclass(frozen=True, slots=True)
class Topic:
    """A part or a whole system; `system` is empty where only parts whose names hold the words belong to it."""

    about: str
    system: str
    parts: tuple[str, ...] = ()

    def holds(self, component: str | None) -> bool:
        """Whether a component belongs to it."""
        if not component or not same_place(component, self.about):
            return False
        if touches(component, self.about) or (self.system and system(component) == self.system):
            return True
        return any(is_about(component, part) or is_about(part, component) for part in self.parts)

    def has(self, entry: Entry) -> bool:
        """Whether an entry belongs to it; one without a component with the job that it is part of."""
        if entry.fact.component:
            return self.holds(entry.fact.component)
        return bool(self.system) and entry.system == self.system


def topic(about: str, known: JobKnowledge | None) -> Topic:
    """The topic that words name.  Words that only name a system ("front brakes") mean all of it."""
    vocabulary = load_vocabulary()
    told = phrase(about)
    whole = bool(told.order) and all(word in vocabulary.system_says for word in told.order)
    return Topic(about, (system(about) or "") if whole else "", known.parts if known else ())
