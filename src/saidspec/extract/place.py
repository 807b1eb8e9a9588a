"""A value without a unit in its context, and the memory of the units said before."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from saidspec.extract.draft import Draft
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.quantities import Quantity
from saidspec.extract.roles import Hint


@dataclass(frozen=True, slots=True)
class Travel:
    """How the note counts distance: the unit of its readings where it tells one, the words of such units, and the
    tokens behind each date of the past ("March 2022, 104,800")."""

    unit: str | None = None
    words: dict[str, str] = field(default_factory=dict)
    past: frozenset[int] = frozenset()


@dataclass(slots=True)
class Memory:
    """The units that were said last: by kind, by kind and role, and by part; and the last value of the passage."""

    by_kind: dict[str, str] = field(default_factory=dict)
    by_role: dict[tuple[str, str | None], str] = field(default_factory=dict)
    values: dict[tuple[str, Decimal], str] = field(default_factory=dict)
    last: Draft | None = None
    recent: list[Draft] = field(default_factory=list)
    travel: Travel = field(default_factory=lambda: Travel())

    def keep(self, draft: Draft) -> None:
        """Remember a value's unit; call in the order of the note."""
        if draft.unit:
            self.by_kind[draft.kind] = draft.unit
            self.by_role[(draft.kind, draft.role)] = draft.unit
            if draft.value is not None:
                self.values[(draft.kind, draft.value)] = draft.unit
        self.last = draft
        self.recent.append(draft)
        if len(self.recent) > 24:
            del self.recent[:12]

    def unit(self, kind: str, role: str | None, value: Decimal) -> str | None:
        """That of an equal value said before, else of the role, else of the kind."""
        same = self.values.get((kind, value))
        if same:
            return same
        unit = self.by_role.get((kind, role)) or (self.by_kind.get(kind) if kind != "measurement" else None)
        if kind == "volume" and unit is not None:
            return self._volume(unit, value)
        if unit == "lbf*in" and kind == "torque":
            return next((draft.unit for draft in reversed(self.recent) if draft.kind == "torque" and (
                draft.unit not in (None, "lbf*in"))), unit)
        return unit

    def since(self, kind: str, at: int) -> int:
        """How many tokens lie between the last value of a kind and token `at`; a large number where there is none."""
        return next((at - draft.end for draft in reversed(self.recent) if draft.kind == kind), 10**6)

    def _volume(self, unit: str, value: Decimal) -> str:
        """Of the units said the one that makes the volume a likely one: 4.3 is no millilitres, 525 no litres."""
        small = unit in ("mL", "floz")
        if (small and value < 20) or (not small and value > 90):
            other = (draft.unit for draft in reversed(self.recent) if draft.kind == "volume" and draft.unit and (
                draft.unit in ("mL", "floz")) != small)
            return next(other, unit)
        return unit


@dataclass(frozen=True, slots=True)
class Place:
    """A bare value in its context."""

    page: Passage
    item: Quantity
    mention: Mention | None
    manner: str
    hints: list[Hint]
    lexicon: Lexicon
    memory: Memory
    loose: bool = False  # the part is told by a mere place or a number: "top 118", "two is 95"

    def before(self, count: int) -> list[str]:
        return self.page.words(self.item.start - count, self.item.start)

    def after(self, count: int) -> list[str]:
        return self.page.words(self.item.end, self.item.end + count)

    def hint(self, kind: str, reach: int, role: str | None = None) -> Hint | None:
        return next((hint for hint in self.hints if hint.kind == kind and hint.distance <= reach
                     and (role is None or hint.role == role)), None)
