"""What `saidspec vehicle` prints."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from saidspec.cli.options import counted

if TYPE_CHECKING:
    from saidspec.record.queries import VehicleSummary


def print_vehicles(told: list[VehicleSummary], form: str, nothing: str) -> None:
    """Print vehicles as text or JSON; `nothing` is said where there are none."""
    if form == "json":
        print_json({"schema": "saidspec/vehicles-1", "vehicles": [_object(one) for one in told]})
        return
    for one in told:
        print("\n".join(_lines(one)))
    if not told and nothing:
        print(nothing)


def _lines(one: VehicleSummary) -> list[str]:
    """A vehicle in a few lines: its names, its last reading, what the record holds."""
    head = f"{one.name}{f' ({one.year})' if one.year else ''}{': ' + ', '.join(one.also) if one.also else ''}"
    reading = f"odometer {_reading(one.odometer, one.odometer_unit)}" if one.odometer else "no odometer reading"
    reading += f" on {one.odometer_day}" if one.odometer_day else ""
    span = f", {one.first} to {one.last}" if one.first else ""
    sheet = f"sheet {one.sheet}, {counted(one.specifications, 'value')}" if one.sheet else "no reference sheet"
    held = ", ".join((counted(one.notes, "note"), counted(one.jobs, "job"), counted(one.facts, "fact")))
    return [head, f"  {held}{span}; {reading}; {sheet}"]


def _reading(odometer: str, unit: str | None) -> str:
    from decimal import Decimal

    from saidspec.report.wording import distance, number

    return distance(Decimal(odometer), unit) if unit else number(Decimal(odometer))


def _object(one: VehicleSummary) -> dict[str, Any]:
    from dataclasses import asdict
    from datetime import date

    return {name: value.isoformat() if isinstance(value, date) else value for name, value in asdict(one).items()}


def print_json(told: dict[str, Any]) -> None:
    """Print an object for other programs."""
    import json

    print(json.dumps(told, indent=1, ensure_ascii=False))
