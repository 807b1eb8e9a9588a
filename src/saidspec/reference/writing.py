"""Writes reference sheets: specifications as TOML, and a first sheet from what notes quoted, to be confirmed."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Literal

from saidspec.model import Fact, Specification, Vehicle
from saidspec.reference.units import plain
from saidspec.reference.values import SPEC_KINDS, UnreadableError, read_value

TO_CONFIRM = "TO CONFIRM"
BEFORE = 80  # characters before a quoted value in which its limit is told
LIMIT = re.compile(r"\b(min|max)(?:imum)?\b")
STOP = re.compile(r"[.;!?]\s|\n|\d")  # the words of another sentence or of another value
HEAD = f"""\
# A first sheet from what the notes quoted.  Look each value up, correct it, and put its source (book, page) in place of
# the words after "{TO_CONFIRM}"; `saidspec sheet validate` lists the entries that are still to be confirmed.
"""


def value_text(spec: Specification) -> str:
    """The value of a specification as a sheet writes it: `100 to 115 N*m`, `35 N*m + 90 deg`, `min 22 mm`, a code."""
    if spec.value is None:
        return spec.code or ""
    high = f" to {plain(spec.value_high)}" if spec.value_high is not None else ""
    turn = f" + {plain(spec.angle)} deg" if spec.angle is not None else ""
    other = f" or {plain(spec.or_value)} {spec.or_unit}" if spec.or_value is not None else ""
    return f"{f'{spec.bound} ' if spec.bound else ''}{plain(spec.value)}{high} {spec.unit}{turn}{other}"


def entry_text(spec: Specification) -> str:
    """One [[spec]] entry."""
    lines = ["[[spec]]", f"component = {told(spec.component)}", f"kind = {told(spec.kind)}",
             f"value = {told(value_text(spec))}"]
    if spec.role:
        lines.append(f"role = {told(spec.role)}")
    if spec.tolerance is not None and spec.tolerance_unit:
        lines.append(f"tolerance = {told(f'{plain(spec.tolerance)} {spec.tolerance_unit}')}")
    if spec.only:
        lines.append(f"only = {told(spec.only)}")
    if spec.replaces:
        lines.append(f"replaces = [{', '.join(told(code) for code in spec.replaces)}]")
    return "\n".join([*lines, f"source = {told(spec.source)}"])


def told(text: str) -> str:
    """A TOML basic string; JSON escapes what TOML does."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def sheet_text(vehicle: Vehicle, specifications: Iterable[Specification], head: str = "") -> str:
    """A whole sheet as TOML."""
    lines = ["[vehicle]", f"name = {told(vehicle.name)}"]
    if vehicle.year is not None:
        lines.append(f"year = {vehicle.year}")
    if vehicle.options:
        lines.append(f"options = [{', '.join(told(option) for option in vehicle.options)}]")
    for name in ("odometer_unit", "volume_system"):
        if value := getattr(vehicle, name):
            lines.append(f"{name} = {told(value)}")
    return head + "\n\n".join(["\n".join(lines), *(entry_text(spec) for spec in specifications)]) + "\n"


def bound_of(fact: Fact, before: str = "") -> str | None:
    """Whether a quoted measurement is given as a limit, by its role, its words or the words before it."""
    found = LIMIT.search(f"{fact.role or ''} {fact.provenance.quote}".lower())
    if found:
        return found[1]
    told: list[str] = LIMIT.findall(STOP.split(before.lower())[-1])
    return told[-1] if told else None


def words_before(fact: Fact, text: str) -> str:
    """The text of a note before the words of a fact, as far as a limit may stand there."""
    start = fact.provenance.start
    return text[max(0, start - BEFORE) : start]


def as_specification(fact: Fact, note: str, before: str = "") -> Specification | None:
    """A quoted fact as an entry to be confirmed; None where it cannot stand in a sheet (no part, no value)."""
    if fact.kind not in SPEC_KINDS or not fact.component or fact.assertion != "quoted":
        return None
    if fact.value is None and not fact.code:
        return None
    source = f"{TO_CONFIRM}: {note} has \"{' '.join(fact.provenance.quote.split())}\""
    limit = bound_of(fact, before) if fact.kind == "measurement" and fact.value_high is None else None
    bound: Literal["min", "max"] | None = "min" if limit == "min" else "max" if limit else None
    role = "capacity" if fact.kind == "volume" else None
    spec = Specification(fact.component, fact.kind, source, fact.value, fact.value_high, fact.unit, fact.code,
                         fact.angle, bound=bound, role=role)
    try:
        read_value(spec.kind, value_text(spec))
    except UnreadableError:
        return None
    return spec


def started(quoted: Iterable[tuple[Fact, str, str]]) -> list[Specification]:
    """Entries from quoted facts, each with the name of its note and the text before it.

    One for each part and kind with the same value.

    Two quotes that do not agree both become entries, so that nobody's word is lost; `check` then calls them ambiguous.
    """
    found: dict[tuple[str, str, Decimal | None, str | None, str | None], Specification] = {}
    told = [spec for fact, note, before in quoted if (spec := as_specification(fact, note, before))]
    for spec in told:
        both = without_side(spec.component)
        values = {value_text(other) for other in told if other.kind == spec.kind
                  and without_side(other.component) == both}
        entry = spec if len(values) > 1 else replace(spec, component=both)
        found.setdefault((entry.component.casefold(), spec.kind, spec.value, spec.unit, spec.code), entry)
    return list(found.values())


def without_side(component: str) -> str:
    """A component without left or right: what is said of one side holds for both, unless they differ."""
    return " ".join(word for word in component.split() if word not in ("left", "right")) or component


def unconfirmed(specifications: Iterable[Specification]) -> list[Specification]:
    """The entries of which the source was never filled in."""
    return [spec for spec in specifications if spec.source.startswith(TO_CONFIRM)]
