"""An invented workshop for the tests of the reports: entries by hand, and a record in a file."""

from __future__ import annotations

import hashlib
import sqlite3
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from saidspec.model import Fact, Note, Provenance, Reading, Source, Unclaimed, Utterance, Vehicle
from saidspec.record.decisions import decide_fact
from saidspec.record.entries import Entry
from saidspec.record.store import ingest, open_record
from saidspec.record.vehicles import add_vehicle

VAN = Vehicle("Hallam Drover", 2012, ("ventilated discs",), "km")
BIKE = Vehicle("Penrose Kite 400", 1998, (), "mi")
NUMBERS = {"value", "value_high", "angle"}
PLACE = {"note", "note_id", "decision", "heard", "context", "context_start", "vehicle", "job", "odometer",
         "odometer_unit", "system"}  # fmt: skip
Line = tuple[str, list[tuple[Any, ...]]]


def said(number: int, kind: str, quote: str, start: int = 0, time: float | None = None, **fields: Any) -> Fact:
    """A fact of those words; numbers may be given as text."""
    confidence = fields.pop("confidence", 0.9)
    for name in NUMBERS & fields.keys():
        fields[name] = Decimal(fields[name])
    words = Provenance(quote, start, start + len(quote), time, None, "test", None, confidence)
    return Fact(number, kind, words, **fields)  # type: ignore[arg-type]


def entry(number: int, kind: str, quote: str = "so it is", day: str | None = "2026-05-03", **fields: Any) -> Entry:
    """An entry of the van's record with a fact of those words."""
    about = {"vehicle": VAN.name, "note": "van.txt", "note_id": 1}
    about |= {name: fields.pop(name) for name in PLACE & fields.keys()}
    return Entry(said(number, kind, quote, **fields), day=date.fromisoformat(day) if day else None, **about)


def reading(name: str, day: str, lines: list[Line], loose: tuple[str, ...] = ()) -> Reading:
    """A note of lines, each with its facts (kind, quote, fields); line n is said at n * 15 seconds."""
    text, facts, utterances = "", [], []
    for at, (line, told) in enumerate(lines):
        start = len(text)
        text += line + "\n"
        utterances.append(Utterance(start, start + len(line), float(at * 15), float(at * 15 + 10)))
        for kind, quote, fields in told:
            place = text.index(quote, start)
            facts.append(said(len(facts) + 1, kind, quote, place, float(at * 15), **fields))
    unclaimed = tuple(Unclaimed(quote, text.rindex(quote), text.rindex(quote) + len(quote), 0.0) for quote in loose)
    source = Source(name, hashlib.sha256(text.encode()).hexdigest(), "text")
    return Reading(Note(source, text, tuple(utterances), date=date.fromisoformat(day)), tuple(facts), unclaimed)


def brakes(day: str, odometer: str, thickness: str, name: str) -> Reading:
    """A look at the van's front brakes."""
    return reading(name, day, [
        (f"van, {odometer} kilometres, looking at the front brakes",
         [("odometer", f"{odometer} kilometres", {"value": odometer, "unit": "km"}),
          ("operation", "looking at the front brakes", {"component": "front brakes", "action": "inspect"})]),
        (f"front pad is at {thickness} millimetres",
         [("measurement", f"{thickness} millimetres",
           {"component": "front brake pad", "value": thickness, "unit": "mm", "role": "thickness"})]),
    ])  # fmt: skip


FULL_JOB = [
    ("right, 94200 kilometres on her, front brakes today",
     [("odometer", "94200 kilometres", {"value": "94200", "unit": "km"})]),
    ("wheel nuts want the 21 socket, bracket bolts an 18, no wait, a 19",
     [("size", "21 socket", {"component": "wheel nut", "value": "21", "unit": "mm", "role": "tool"}),
      ("size", "an 18", {"component": "front caliper bracket bolt", "value": "18", "unit": "mm", "role": "tool",
                         "assertion": "retracted", "replaced_by": 4}),
      ("size", "a 19", {"component": "front caliper bracket bolt", "value": "19", "unit": "mm", "role": "tool"})]),
    ("took the caliper off and fitted new pads, KD dash 3318 dash F, <b>64</b> quid the set",
     [("operation", "took the caliper off", {"component": "front caliper", "action": "remove"}),
      ("operation", "fitted new pads", {"component": "front brake pad", "action": "replace"}),
      ("part_number", "KD dash 3318 dash F", {"component": "front brake pad", "code": "KD-3318-F",
                                              "role": "installed"}),
      ("cost", "64</b> quid", {"component": "front brake pad", "value": "64", "code": "GBP", "role": "total"})]),
    ("book says 107 newton metres for the bracket bolts, did them at 170 newton metres",
     [("torque", "107 newton metres", {"component": "front caliper bracket bolt", "value": "107", "unit": "N*m",
                                       "assertion": "quoted"}),
      ("torque", "170 newton metres", {"component": "front caliper bracket bolt", "value": "170", "unit": "N*m"})]),
    ("blue thread locker on those, slide pin was dry, no leaks at the piston",
     [("material", "blue thread locker", {"component": "front caliper bracket bolt", "code": "blue thread locker"}),
      ("observation", "slide pin was dry", {"component": "front slide pin", "finding": "dry", "role": "watch"}),
      ("observation", "no leaks", {"component": "front caliper piston", "finding": "leak", "role": "ok",
                                   "assertion": "negated"})]),
    ("poured in about 100 mil of DOT 4, bought a 1 litre bottle, wheel nuts 160 newton metres",
     [("volume", "100 mil", {"component": "brake fluid", "value": "100", "unit": "mL", "role": "added",
                             "approximate": True}),
      ("fluid", "DOT 4", {"component": "brake fluid", "code": "DOT 4"}),
      ("volume", "1 litre", {"component": "brake fluid", "value": "1", "unit": "L", "role": "bought"}),
      ("torque", "160 newton metres", {"component": "wheel nut", "value": "160", "unit": "N*m"})]),
    ("should retorque the wheel nuts after 50 kilometres, and the hose wants doing by 2026-09-01, maybe 7",
     [("follow_up", "should retorque the wheel nuts", {"component": "wheel nut", "action": "tighten",
                                                       "assertion": "planned"}),
      ("interval", "after 50 kilometres", {"component": "wheel nut", "value": "50", "unit": "km", "role": "until",
                                           "assertion": "planned"}),
      ("follow_up", "hose wants doing by 2026-09-01", {"component": "front brake hose", "action": "replace",
                                                       "code": "2026-09-01", "assertion": "planned"})]),
]  # fmt: skip


def systems(fact: Fact) -> tuple[str, ...]:
    """The systems of a component, as far as these tests go."""
    return ("brakes",) if fact.component else ()


def workshop(path: Path) -> sqlite3.Connection:
    """A record at `path` of the van's front brakes over three years, with one fact confirmed and one corrected."""
    conn = open_record(path)
    van = add_vehicle(conn, VAN)
    add_vehicle(conn, BIKE)
    for day, odometer, thickness in (("2023-04-20", "41000", "10.5"), ("2024-05-02", "57500", "8.4"),
                                     ("2025-05-11", "76000", "5.9")):  # fmt: skip
        ingest(conn, brakes(day, odometer, thickness, f"look-{day}.txt"), vehicle=van, candidates=systems)
    ingest(conn, reading("front-brakes.vtt", "2026-05-03", FULL_JOB, loose=("7",)), vehicle=van, candidates=systems)
    confirmed, corrected = (conn.execute("SELECT id FROM facts WHERE quote = ?", (quote,)).fetchone()[0]
                            for quote in ("160 newton metres", "170 newton metres"))  # fmt: skip
    decide_fact(conn, confirmed, "confirmed", person="Ann")
    decide_fact(conn, corrected, "corrected", {"value": Decimal(107)}, person="Ann", reason="wrench says 107")
    return conn
