"""Rows of the reports' queries as entries."""

from __future__ import annotations

import json
import sqlite3
from datetime import date
from decimal import Decimal

from saidspec.model import Flag, Quantity, Vehicle
from saidspec.record.entries import Decision, Entry, FlagEntry, VehicleEntry
from saidspec.record.rows import as_number, fact_value


def entry_value(row: sqlite3.Row) -> Entry:
    """The entry of a row of the reports' query."""
    return Entry(
        fact=fact_value(row), vehicle=row["vehicle_name"], note=row["note_name"], note_id=row["note"], job=row["job"],
        system=row["system"], day=day_value(row["job_day"]), odometer=as_number(row["odometer"]),
        odometer_unit=row["odometer_unit"], context=row["context"] or "", context_start=row["context_start"] or 0,
        speaker=row["speaker"], decision=decision_value(row),
    )  # fmt: skip


def decision_value(row: sqlite3.Row) -> Decision | None:
    """The decision that a row carries, None where nobody decided."""
    if not row["verdict"]:
        return None
    return Decision(row["verdict"], row["decided_at"], row["person"], row["reason"], day_value(row["done_on"]))


def vehicle_value(row: sqlite3.Row) -> VehicleEntry:
    """The vehicle of a row of `vehicles`."""
    options = tuple(json.loads(row["options"]))
    told = Vehicle(row["name"], row["year"], options, row["odometer_unit"], row["volume_system"])
    return VehicleEntry(row["id"], told)


def flag_value(row: sqlite3.Row) -> FlagEntry:
    """The flag of a row."""
    flag = Flag(
        check=row["check"], severity=row["severity"], message=row["message"], component=row["component"],
        kind=row["kind"], fact=row["fact"], said=_quantity(row["said"]) or Quantity(),
        reference=_quantity(row["reference"]), likely=row["likely"], also_likely=tuple(json.loads(row["also_likely"])),
        tolerance=row["tolerance"],
    )  # fmt: skip
    return FlagEntry(row["key"], flag, row["vehicle_name"], row["note_name"], row["job"], decision_value(row))


def _quantity(text: str | None) -> Quantity | None:
    if not text:
        return None
    told = json.loads(text)
    value, high = (Decimal(str(told[name])) if told.get(name) is not None else None for name in ("value", "value_high"))
    return Quantity(value, high, unit=told.get("unit"), code=told.get("code"), source=told.get("source"))


def day_value(text: str | None) -> date | None:
    """The day of a date or a date and time in ISO 8601."""
    return date.fromisoformat(text[:10]) if text else None
