"""What makes an interval start again: work on the part, a new one fitted, a fluid changed, a lubricant put on.

Looking at a thing, taking it off or topping it up starts nothing.  Words that say less than the interval ("the belt"
for the drive belt) count only where neither the sheet nor the note has another part that they may mean.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from saidspec.model import Kind, Specification
from saidspec.record.entries import Entry, by_note
from saidspec.reference.units import convert, convertible
from saidspec.report.distance import OdometerReading, reading_on
from saidspec.report.due_values import LastDone
from saidspec.report.lines import line
from saidspec.report.parts import is_about, is_fluid, phrase, same_place, touches

RENEWS = frozenset({"replace", "install", "flush", "lubricate", "adjust", "repair", "bleed", "rotate", "clean", "reset",
                    "drain", "tighten"})  # fmt: skip
UPKEEP = frozenset({"clean", "tighten", "lubricate", "adjust"})  # counts only where nothing stronger is on record
WHOLE_FILL = Decimal("0.8")  # share of the sheet's capacity from which a fill is no topping up (common practice)
NAMES: frozenset[Kind] = frozenset({"operation", "volume", "part_number", "fluid"})  # facts that name parts worked on


@dataclass(frozen=True, slots=True)
class Renewal:
    """An entry that shows that a part was renewed, by which kind of work, and whether it says less than its name."""

    entry: Entry
    action: str
    in_short: bool = False


def last_done(
    component: str, entries: Sequence[Entry], history: Sequence[OdometerReading],
    specifications: Iterable[Specification] = (),
) -> LastDone | None:  # fmt: skip
    """The last work on record that makes an interval of `component` start again."""
    found = list(renewals(component, entries, list(specifications)))
    strong = [one for one in found if one.action not in UPKEEP] or found
    if not strong:
        return None
    best = max(strong, key=lambda one: (one.entry.day or date.min, not one.in_short))
    day = best.entry.day or date.min
    at = reading_on(history, day)
    told = line(best.entry)
    marks = (f'only said as "{best.entry.fact.component}"',) if best.in_short else ()
    return LastDone(day, at[0] if at else None, bool(at and at[1]), told.words, told.text, best.action, marks)


def renewals(component: str, entries: Sequence[Entry], specifications: Sequence[Specification]) -> Iterator[Renewal]:
    """All work on record that renews `component`, in order of time."""
    notes = _notes_on(component, entries)
    standing = (entry for entry in entries if entry.note_id in notes and entry.stands and entry.day)
    sheet = [spec.component for spec in specifications if spec.component != component]
    for those in by_note(standing).values():
        named = [entry.fact.component for entry in those if entry.fact.kind in NAMES and entry.fact.component]
        means = Meaning(component, sheet, named)
        yield from _changed(component, those, means, specifications) if is_fluid(component) else _worked(
            component, those, means)


def _notes_on(component: str, entries: Iterable[Entry]) -> set[int]:
    """The notes that name the component, more of it or less: only these are looked at closely."""
    whole = " ".join(phrase(component).order)
    told: dict[str, set[int]] = defaultdict(set)
    for entry in entries:
        for said in (entry.fact.component, entry.fact.code if entry.fact.kind == "material" else None):
            if said:
                told[said].add(entry.note_id)
    return {
        note for said, notes in told.items() for note in notes
        if is_about(said, component) or is_about(said, component, "measurement") or touches(said, component)
        or is_about(whole, " ".join(phrase(said).order))
    }  # fmt: skip


class Meaning:
    """Which words of one note mean a component: its name or more of it, or less where nothing else can be meant."""

    def __init__(self, component: str, sheet: Iterable[str], named: Iterable[str]) -> None:
        self.component = component
        self._sheet = [other for other in sheet if not self._same(other)]
        self._named = list(named)

    def full(self, said: str | None) -> bool:
        """Whether words name it wholly."""
        return is_about(said, self.component)

    def short(self, said: str | None) -> bool:
        """Whether words say less than its name and can mean nothing else here."""
        if not said or self.full(said) or not same_place(said, self.component):
            return False
        bare, whole = (" ".join(phrase(text).order) for text in (said, self.component))
        if not bare or not is_about(whole, bare):
            return False
        more = len(phrase(said).order) + 1
        here = [name for name in self._named if is_about(name, bare) and len(phrase(name).order) >= more]
        if any(not self._same(name) for name in here):
            return False
        return bool(here) or not any(is_about(other, said) for other in self._sheet)

    def _same(self, other: str) -> bool:
        return is_about(other, self.component) or is_about(self.component, other)


def _worked(component: str, those: Iterable[Entry], means: Meaning) -> Iterator[Renewal]:
    """Work on a part in one note, and a new one fitted by its number."""
    for entry in those:
        fact = entry.fact
        action = fact.action or "" if fact.kind == "operation" else ""
        if fact.kind == "part_number" and fact.role in ("installed", None):
            action = "replace"
        if fact.kind == "material" and fact.code and touches(fact.code, component):
            yield Renewal(entry, "lubricate")  # "chain lube" is for the chain, whatever part was talked of
        if action not in RENEWS:
            continue
        # "adjusted the chain slack" is upkeep of the chain
        of_it = action in UPKEEP and is_about(fact.component, component, "measurement")
        if means.full(fact.component) or of_it:
            yield Renewal(entry, action)
        elif means.short(fact.component):
            yield Renewal(entry, action, in_short=True)


def _changed(
    component: str, those: Sequence[Entry], means: Meaning, specifications: Sequence[Specification],
) -> Iterator[Renewal]:  # fmt: skip
    """A fluid changed in one note: work that says so, drained and poured in, or so much poured that it was a change."""
    own = [entry for entry in those if entry.fact.kind in NAMES
           and (means.full(entry.fact.component) or means.short(entry.fact.component))]  # fmt: skip
    poured = [one for one in own if one.fact.action == "fill" or one.fact.role == "added"]
    for entry in own:
        action = entry.fact.action or ("drain" if entry.fact.role == "drained" else "")
        if action not in RENEWS or action in UPKEEP:
            continue
        # Out but not in again is no change, unless the whole name leaves no doubt what the work was.
        if poured or (means.full(entry.fact.component) and entry.fact.kind == "operation"):
            yield Renewal(entry, action, in_short=not means.full(entry.fact.component) and not any(
                means.full(one.fact.component) for one in poured))  # fmt: skip
    fills = [one for one in poured if one.fact.kind == "volume"]
    if fills and _whole(component, fills, specifications):
        yield Renewal(fills[-1], "fill", in_short=not means.full(fills[-1].fact.component))


def _whole(component: str, fills: Iterable[Entry], specifications: Iterable[Specification]) -> bool:
    """Whether what was poured in comes near the sheet's capacity; an amount said twice counts once."""
    poured = {convert(one.fact.value, one.fact.unit, "L") for one in fills
              if one.fact.value is not None and one.fact.unit and convertible(one.fact.unit, "L")}  # fmt: skip
    holds = [convert(spec.value, spec.unit, "L") for spec in specifications
             if spec.kind == "volume" and spec.value is not None and spec.unit and is_about(spec.component, component)]
    return bool(holds) and sum(poured, Decimal(0)) >= WHOLE_FILL * min(holds)
