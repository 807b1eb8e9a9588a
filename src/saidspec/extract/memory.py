"""What the values said before tell of the next one: their units, and how the note counts distance."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from saidspec.extract.draft import Draft

KEPT = 24  # drafts that are looked back on
SMALL_VOLUMES = ("mL", "floz")


@dataclass(frozen=True, slots=True)
class Travel:
    """How the note counts distance: the unit of its readings where it tells one, the words of such units, and the
    tokens behind each date of the past ("March 2022, 104,800")."""

    unit: str | None = None
    words: dict[str, str] = field(default_factory=dict)
    past: frozenset[int] = frozenset()


@dataclass(slots=True)
class Memory:
    """The units that were said last: by kind, by kind and role, and by value; and the last value of the passage."""

    by_kind: dict[str, str] = field(default_factory=dict)
    by_role: dict[tuple[str, str | None], str] = field(default_factory=dict)
    values: dict[tuple[str, Decimal], str] = field(default_factory=dict)
    last: Draft | None = None
    recent: list[Draft] = field(default_factory=list)
    travel: Travel = field(default_factory=Travel)
    said: frozenset[str] = frozenset()  # the units of the whole passage

    def keep(self, draft: Draft) -> None:
        """Remember a value's unit; call in the order of the note."""
        if draft.unit:
            self.by_kind[draft.kind] = draft.unit
            self.by_role[(draft.kind, draft.role)] = draft.unit
            if draft.value is not None:
                self.values[(draft.kind, draft.value)] = draft.unit
        self.last = draft
        self.recent.append(draft)
        if len(self.recent) > KEPT:
            del self.recent[: KEPT // 2]

    def unit(self, kind: str, role: str | None, value: Decimal) -> str | None:
        """That of an equal value said before, else of the role, else of the kind."""
        same = self.values.get((kind, value))
        if same:
            return same
        unit = self.by_role.get((kind, role)) or (self.by_kind.get(kind) if kind != "measurement" else None)
        if kind == "volume" and unit is not None:
            return self._volume(unit, value)
        if kind == "torque" and unit == "lbf*in":  # inch pounds are said for the one small bolt that has them
            return next((draft.unit for draft in reversed(self.recent)
                         if draft.kind == "torque" and draft.unit not in (None, "lbf*in")), unit)
        return unit

    def since(self, kind: str, at: int) -> int:
        """How many tokens lie between the last value of a kind and token `at`; a large number where there is none."""
        return next((at - draft.end for draft in reversed(self.recent) if draft.kind == kind), 10**6)

    def _volume(self, unit: str, value: Decimal) -> str:
        """Of the units said the one that makes the volume a likely one: 4.3 is no millilitres, 525 no litres."""
        small = unit in SMALL_VOLUMES
        if (small and value < 20) or (not small and value > 90):
            others = (draft.unit for draft in reversed(self.recent)
                      if draft.kind == "volume" and draft.unit and (draft.unit in SMALL_VOLUMES) != small)
            return next(others, unit)
        return unit
