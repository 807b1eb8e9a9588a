"""Between which figures a value can be believed as it was heard: [[believable]] of patterns/mishearings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Any

from saidspec.model import Fact
from saidspec.patterns import listed, rule_set, user_folder
from saidspec.reference.units import convert, convertible
from saidspec.rule_formats import usable


@dataclass(frozen=True, slots=True)
class Believable:
    """A span for the values of some parts; `role` is that of a measurement, empty for any."""

    id: str
    kind: str
    parts: tuple[str, ...]
    low: Decimal
    high: Decimal
    unit: str
    role: str = ""


def believables(entries: Iterable[dict[str, Any]]) -> tuple[Believable, ...]:
    """The entries of rule files as spans."""
    return tuple(
        Believable(entry["id"], entry["kind"], tuple(listed(entry["parts"])), Decimal(str(entry["low"])),
                   Decimal(str(entry["high"])), entry["unit"], entry.get("role", ""))
        for entry in entries
    )  # fmt: skip


def load_believables(own: Path | None = None) -> tuple[Believable, ...]:
    """The package's spans with those of the folder `own` (default: the user's folder of words)."""
    return _loaded(own or user_folder())


@lru_cache(maxsize=4)
def _loaded(own: Path | None) -> tuple[Believable, ...]:
    return believables(usable(rule_set(own)).entries("mishearings", "believable"))


def inside(value: Decimal, unit: str, span: Believable) -> bool:
    """Whether a value lies in a span, in any unit of its dimension."""
    return span.low <= convert(value, unit, span.unit) <= span.high


def spans_of(fact: Fact, spans: Iterable[Believable]) -> Iterator[Believable]:
    """The spans that hold for a fact: of its kind, role and part, in a unit that can be compared."""
    named = f" {fact.component or ''} "
    for span in spans:
        if (fact.kind == span.kind and span.role in ("", fact.role) and convertible(fact.unit, span.unit)
                and any(f" {part} " in named for part in span.parts)):
            yield span
