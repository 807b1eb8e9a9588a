"""A large record of an invented fleet, the same for the same seed: notes, and facts at the words they quote."""

from __future__ import annotations

import hashlib
import random
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from saidspec.model import Fact, Note, Provenance, Reading, Source, Specification, Utterance, Vehicle
from saidspec.record.place import at_once
from saidspec.record.sheets import put_sheet
from saidspec.record.store import ingest
from saidspec.record.vehicles import add_vehicle

MAKERS = ("Hallam", "Marlow", "Tarn", "Orrell", "Penrose", "Wick", "Brant", "Selby", "Corran", "Ludlow")
TYPES = ("Drover", "Tipper", "Carrier", "Ranger", "Courier", "Swift", "Porter", "Packhorse", "Lark", "Yeoman")
PLACES = ("front left", "front right", "rear left", "rear right", "front", "rear", "upper", "lower")
PARTS = {
    "brakes": ("caliper bracket bolt", "slide pin bolt", "brake disc", "brake pad", "bleed screw"),
    "engine": ("engine oil drain plug", "oil filter", "spark plug", "valve cover bolt", "sump bolt"),
    "suspension": ("shock absorber bolt", "control arm bush", "drop link nut", "spring seat", "fork pinch bolt"),
    "driveline": ("hub nut", "wheel bearing", "drive shaft bolt", "gearbox drain plug", "fill plug"),
    "cooling": ("thermostat housing bolt", "coolant hose clamp", "water pump bolt", "radiator cap", "drain cock"),
}
SYSTEM = {part: system for system, parts in PARTS.items() for part in parts}
KINDS = ("torque",) * 5 + ("operation",) * 6 + ("observation",) * 3 + ("measurement",) * 3 + ("size",) * 2 + (
    "volume", "part_number", "follow_up")
ACTIONS = (("remove", "removed"), ("replace", "replaced"), ("clean", "cleaned"), ("inspect", "looked at"))
FINDINGS = (("ok", "fine"), ("worn", "worn"), ("leak", "leaking"), ("corrosion", "rusty"))
SAYINGS = {"torque": "newton metres", "measurement": "millimetres", "size": "mil socket", "volume": "litres"}
UNITS = {"torque": "N*m", "measurement": "mm", "size": "mm", "volume": "L"}
ROLES = {"measurement": "thickness", "size": "tool", "volume": "capacity", "part_number": "installed"}
FACTS_A_NOTE = 50
FIRST_DAY = date(2008, 1, 7)


@dataclass(frozen=True, slots=True)
class Job:
    """One generated note: what was read of it, and the number of its vehicle."""

    vehicle: int
    reading: Reading


def systems_of(fact: Fact) -> list[str]:
    """The system of a generated component."""
    words = (fact.component or "").split()
    return [SYSTEM[" ".join(words[at:])] for at in range(len(words)) if " ".join(words[at:]) in SYSTEM]


def notes(facts: int, vehicles: int, seed: int) -> Iterator[Job]:
    """As many notes as hold that many facts, in order of time, over vehicles numbered from 0."""
    chance = random.Random(seed)
    count = facts // FACTS_A_NOTE
    for at in range(count):
        vehicle = at % vehicles
        day = FIRST_DAY + timedelta(days=at * 6500 // count)
        yield Job(vehicle, _reading(chance, at, day, 20_000 + (at // vehicles) * 1_731 + vehicle * 77))


def fill(conn: sqlite3.Connection, facts: int, vehicles: int, seed: int = 1, batch: int = 200) -> None:
    """Put a fleet with its sheets and notes into the record, many notes a transaction."""
    ids = [add_vehicle(conn, Vehicle(f"{MAKERS[at % 10]} {TYPES[at // 10 % 10]} {at}", 2000 + at % 20, (), "km"))
           for at in range(vehicles)]  # fmt: skip
    for ident in ids:
        put_sheet(conn, ident, _specifications(), f"sheet-{ident}.toml", "0" * 64)
    waiting: list[Job] = []
    for job in notes(facts, vehicles, seed):
        waiting.append(job)
        if len(waiting) == batch:
            _store(conn, waiting, ids)
            waiting = []
    _store(conn, waiting, ids)


def _store(conn: sqlite3.Connection, jobs: list[Job], ids: list[int]) -> None:
    with at_once(conn):
        for job in jobs:
            ingest(conn, job.reading, vehicle=ids[job.vehicle], candidates=systems_of)


def _specifications() -> list[Specification]:
    told = [Specification(part, "torque", f"manual, {system}", Decimal(20 + at), unit="N*m")
            for system, parts in PARTS.items() for at, part in enumerate(parts)]  # fmt: skip
    return told + [Specification(part, "interval", "manual, service", Decimal(20_000), unit="km",
                                 or_value=Decimal(24), or_unit="month", role="every")
                   for part in ("oil filter", "spark plug", "brake pad")]  # fmt: skip


def _reading(chance: random.Random, at: int, day: date, odometer: int) -> Reading:
    pieces = [f"Note {at}."]
    length = len(pieces[0])
    utterances = [Utterance(0, length)]
    facts = []
    for number in range(1, FACTS_A_NOTE + 1):
        kind, text, quote, fields = _read_off(odometer) if number == 1 else _said(chance)
        start = length + 1
        pieces.append(text)
        length = start + len(text)
        utterances.append(Utterance(start, length))
        where = start + text.index(quote)
        words = Provenance(quote, where, where + len(quote), rule=f"generated.{kind}", confidence=0.9)
        facts.append(Fact(number, kind, words, **fields))
    text = "\n".join(pieces)
    source = Source(f"note-{at:06}.txt", hashlib.sha256(text.encode()).hexdigest(), "text")
    return Reading(Note(source, text, tuple(utterances), (), day), tuple(facts))


def _read_off(odometer: int) -> tuple[Any, str, str, dict[str, Any]]:
    quote = f"{odometer} kilometres"
    return "odometer", f"{quote} on it.", quote, {"value": Decimal(odometer), "unit": "km"}


def _said(chance: random.Random) -> tuple[Any, str, str, dict[str, Any]]:
    """A fact as (kind, what is said, the words that it quotes, its fields)."""
    kind = chance.choice(KINDS)
    system = chance.choice(tuple(PARTS))
    component = f"{chance.choice(PLACES)} {chance.choice(PARTS[system])}"
    if kind == "operation":
        action, said = chance.choice(ACTIONS)
        return kind, f"{said} the {component}.", said, {"component": component, "action": action}
    if kind == "observation":
        finding, said = chance.choice(FINDINGS)
        return kind, f"{component} is {said}.", said, {"component": component, "finding": finding, "role": "ok"}
    if kind == "part_number":
        code = f"KD-{chance.randrange(1000, 9999)}-{chance.choice('ABCDEF')}"
        return kind, f"{component} is part {code}.", code, {"component": component, "code": code, "role": "installed"}
    if kind == "follow_up":
        return kind, f"look at the {component} again next time.", f"look at the {component} again", {
            "component": component, "action": "inspect"}
    value = Decimal(chance.randrange(4, 180)) / (10 if kind in ("measurement", "volume") else 1)
    quote = f"{value} {SAYINGS[kind]}"
    return kind, f"{component} {quote}.", quote, {
        "component": component, "value": value, "unit": UNITS[kind], "role": ROLES.get(kind)}
