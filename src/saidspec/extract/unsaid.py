"""The unit of a measurement that nobody said: by what is measured, on which part, and how large the figure is."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from saidspec.normalise.words import normal_form
from saidspec.patterns import listed

FAR = 2  # times a span beyond which a figure is not in its unit


@dataclass(frozen=True, slots=True)
class Usual:
    """What a figure low..high of a role is counted in on some parts (on any where `of` is empty), unless the note
    counts in one of the units `unless`."""

    unit: str
    low: Decimal
    high: Decimal
    of: frozenset[str]
    unless: frozenset[str]


def usual_units(entries: Iterable[dict[str, Any]]) -> dict[str, list[Usual]]:
    """The usual units of the rule files by role."""
    made: dict[str, list[Usual]] = {}
    for entry in entries:
        made.setdefault(entry["role"], []).append(Usual(
            entry["unit"], Decimal(str(entry["low"])), Decimal(str(entry["high"])),
            frozenset(map(normal_form, listed(entry.get("of")))), frozenset(listed(entry.get("unless")))))
    return made


def unsaid_unit(usual: Mapping[str, list[Usual]], role: str | None, value: Decimal, words: Collection[str],
                known: str | None, said: Collection[str]) -> str | None:
    """The unit of a figure without one: `known`, the one said last for the role, else the usual one.

    `words` name the part and what is measured; `said` are the units of the whole note.  A known unit gives way where
    the figure is usual for the part in another unit alone: 33 of a tyre is no bar.  It holds for no figure far off what
    is usual in it: 33 of a tread is no mm.
    """
    on_part = [each for each in usual.get(role or "", ()) if not each.of or not each.of.isdisjoint(words)]
    spans = [each for each in on_part if each.low <= value <= each.high]
    if known is not None and (not spans or any(each.unit == known for each in spans)):
        far = [each for each in on_part if each.unit == known and not each.low / FAR <= value <= each.high * FAR]
        return None if far else known
    found = next((each.unit for each in spans if each.unless.isdisjoint(said)), None)
    return found if spans else known
