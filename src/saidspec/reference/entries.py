"""The vehicle and the entries of a reference sheet, from the keys and texts that TOML and CSV share."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from typing import Any, Literal, cast

from saidspec.model import Kind, Specification, Vehicle
from saidspec.reference.units import dimension
from saidspec.reference.values import SPEC_KINDS, SpecValue, UnreadableError, read_tolerance, read_value

SPEC_KEYS = ("component", "kind", "value", "role", "tolerance", "only", "replaces", "source")
LIMITS = frozenset({"min", "minimum", "max", "maximum", "limit", "at least", "at most"})
REQUIRED = ("component", "kind", "value", "source")
VEHICLE_KEYS = ("name", "year", "options", "odometer_unit", "volume_system")
ROLES: dict[str, tuple[str, ...]] = {
    "volume": ("capacity", "added", "drained", "bought", "left over"),
    "size": ("tool", "thread", "tube", "tyre", "part"),
    "interval": ("every", "since last", "until"),
    "part_number": ("installed", "removed", "bought"),
}


def suggestion(word: str, known: Iterable[str]) -> str:
    """`; did you mean X?` or the list of what is known."""
    names = list(known)
    near = get_close_matches(word.lower(), names, n=1, cutoff=0.6)
    return f"; did you mean {near[0]}?" if near else f"; known are {', '.join(names)}"


def read_vehicle(table: object, where: str) -> tuple[Vehicle, list[str]]:
    """The vehicle of a sheet and what is wrong with it."""
    if not isinstance(table, dict):
        return Vehicle(""), [f"{where}: write a [vehicle] table with at least name = \"…\""]
    problems = [f"{where}: unknown key '{key}'{suggestion(key, VEHICLE_KEYS)}" for key in table
                if key not in VEHICLE_KEYS]
    name, year, options = table.get("name"), table.get("year"), table.get("options", [])
    if not isinstance(name, str) or not name.strip():
        problems.append(f"{where}: name is missing; write name = \"…\"")
        name = ""
    if year is not None and (not isinstance(year, int) or isinstance(year, bool)):
        problems.append(f"{where}: year must be a whole number, as year = 2012")
        year = None
    if not isinstance(options, list) or not all(isinstance(option, str) for option in options):
        problems.append(f"{where}: options must be a list of texts, as options = [\"2.0 diesel\"]")
        options = []
    unit, system = table.get("odometer_unit"), table.get("volume_system")
    if unit not in (None, "km", "mi", "hour"):
        problems.append(f"{where}: odometer_unit must be \"km\", \"mi\" or \"hour\", not {unit!r}")
        unit = None
    if system not in (None, "imperial", "us"):
        problems.append(f"{where}: volume_system must be \"imperial\" or \"us\", not {system!r}")
        system = None
    return Vehicle(name.strip(), year, tuple(options), unit,
                   cast(Literal["imperial", "us"] | None, system)), problems


def check_keys(entry: Mapping[str, Any]) -> list[tuple[str, str]]:
    """(key, what is wrong with it) for an entry's keys, their types, kind and role."""
    found = [(key, f"unknown key '{key}'{suggestion(key, SPEC_KEYS)}") for key in entry if key not in SPEC_KEYS]
    for key in REQUIRED:
        if key not in entry:
            found.append((key, f"'{key}' is missing; write {key} = \"…\""))
    for key in SPEC_KEYS:
        value = entry.get(key)
        if key == "replaces":
            if value is not None and (not isinstance(value, list) or not all(isinstance(one, str) for one in value)):
                found.append((key, "replaces must be a list of texts, as replaces = [\"KD-3318-E\"]"))
        elif value is not None and not isinstance(value, str):
            found.append((key, f"{key} must be a text in quotes, as {key} = \"{value}\""))
        elif isinstance(value, str) and not value.strip():
            found.append((key, f"{key} is empty; write {key} = \"…\" or leave the line out"))
    kind, role = entry.get("kind"), entry.get("role")
    if isinstance(kind, str) and kind.strip() and kind not in SPEC_KINDS:
        found.append(("kind", f"unknown kind '{kind}'{suggestion(kind, SPEC_KINDS)}"))
    if isinstance(role, str) and isinstance(kind, str) and kind in ROLES and role.strip() and role not in ROLES[kind]:
        found.append(("role", f"unknown role '{role}' of a {kind}{suggestion(role, ROLES[kind])}"))
    elif isinstance(role, str) and role.strip().lower() in LIMITS:
        found.append(("role", f"'{role}' is a limit and no role; write it with the value, as value = \"min 2 mm\""))
    return found


def read_entry(entry: Mapping[str, Any], place: str) -> tuple[Specification | None, list[tuple[str, str]]]:
    """One specification, or None and the (key, problem) pairs that stand against it."""
    problems = check_keys(entry)
    if any(key in (*REQUIRED, "tolerance", "replaces") for key, _ in problems):
        return None, problems
    kind = cast(Kind, entry["kind"])
    try:
        value = read_value(kind, entry["value"])
    except UnreadableError as error:
        return None, [*problems, ("value", str(error))]
    tolerance = None
    if "tolerance" in entry:
        try:
            tolerance = checked_tolerance(entry["tolerance"], value)
        except UnreadableError as error:
            return None, [*problems, ("tolerance", str(error))]
    if entry.get("replaces") and kind != "part_number":
        problems.append(("replaces", f"replaces belongs to a part_number, not to a {kind}; leave it out"))
    if problems:
        return None, problems
    return Specification(
        component=entry["component"].strip(), kind=kind, source=entry["source"].strip(), value=value.value,
        value_high=value.value_high, unit=value.unit, code=value.code, angle=value.angle, bound=value.bound,
        or_value=value.or_value, or_unit=value.or_unit, role=entry.get("role"),
        tolerance=tolerance[0] if tolerance else None, tolerance_unit=tolerance[1] if tolerance else None,
        only=entry.get("only"), replaces=tuple(entry.get("replaces", ())), place=place,
    ), []  # fmt: skip


def checked_tolerance(written: str, value: SpecValue) -> tuple[Any, str]:
    """The tolerance of a value that can have one; UnreadableError where the value is a limit, a range or a code."""
    if value.value is None:
        raise UnreadableError("a code has no tolerance; leave the line out")
    if value.bound or value.value_high is not None:
        raise UnreadableError("a limit or a range stands as it is and has no tolerance; leave the line out")
    amount, unit = read_tolerance(written, value.unit)
    if unit == "%" and dimension(value.unit) == "temperature":
        raise UnreadableError("a percentage of a temperature depends on its scale; write the tolerance in degrees")
    return amount, unit
