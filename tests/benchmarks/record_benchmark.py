"""How long queries of a large generated record take, and whether ingesting slows as it grows.

    python -m tests.benchmarks.record_benchmark --facts 1000000 --vehicles 200 --record big.db

A record that is there already is used as it is.  The bar: find, due list and log of one vehicle under 100 ms each.
"""

from __future__ import annotations

import argparse
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

from tests.benchmarks import record_generator as generator

from saidspec.model import Specification
from saidspec.record.entries import Entry, FlagEntry, VehicleEntry
from saidspec.record.find import find, history
from saidspec.record.place import open_record
from saidspec.record.queries import vehicle_summaries
from saidspec.record.report_queries import (
    ENTRIES,
    due_lists,
    entries,
    flags,
    jobs,
    shelf_entries,
    specifications,
    vehicle_named,
)
from saidspec.record.store import ingest
from saidspec.report.due import due_list, due_of_vehicle
from saidspec.report.job_knowledge import knowledge
from saidspec.report.log import log
from saidspec.report.prep import prep
from saidspec.report.stock import stock

QUESTIONS = (
    "rear drain plug torque", "which socket for the caliper bracket", "1.74", "KD-3318-F", "torque", "Hallam Drover 0",
    "how much oil on the Marlow Tipper 11", "leaking", "front left brake pad thickness", "the the the", "propeller",
    "front rear left right upper lower", "look at the hub nut again",
)  # fmt: skip
ROUNDS = 5
ABOUT = "front brakes"
SIZES = (1_000, 10_000, 100_000)


Times = tuple[float, float]  # milliseconds: median of the processor's time, and of the time by the clock


def timed(work: Callable[[], object], rounds: int = ROUNDS) -> Times:
    """How long a piece of work takes.  The clock's time is longer where other programs keep the machine busy."""
    return _medians(_once(work) for _ in range(rounds))


def _once(work: Callable[[], object]) -> Times:
    start = (time.process_time(), time.perf_counter())
    work()
    return (time.process_time() - start[0]) * 1000, (time.perf_counter() - start[1]) * 1000


def _medians(taken: Iterable[Times]) -> Times:
    busy, clock = zip(*taken, strict=True)
    return statistics.median(busy), statistics.median(clock)


def ingest_times(conn: sqlite3.Connection, seed: int, count: int = 20) -> Times:
    """How long it takes to ingest a new note of 50 facts, one transaction each."""
    known = conn.execute("SELECT id FROM vehicles ORDER BY id LIMIT 1").fetchone()[0]
    outcomes = set()

    def take(job: generator.Job) -> None:
        outcomes.add(ingest(conn, job.reading, vehicle=known, candidates=generator.systems_of).outcome)

    jobs_to_do = list(generator.notes(count * generator.FACTS_A_NOTE, 1, seed))
    told = _medians(_once(lambda job=job: take(job)) for job in jobs_to_do)  # type: ignore[misc]
    assert outcomes == {"new"}, "the seed was used before"
    return told


def queries(conn: sqlite3.Connection) -> Iterable[tuple[str, Times]]:
    """Each query by name, with its times."""
    middle = "SELECT name FROM vehicles ORDER BY id LIMIT 1 OFFSET (SELECT count(*) / 2 FROM vehicles)"
    one = vehicle_named(conn, conn.execute(middle).fetchone()[0])
    today = date(2026, 5, 3)
    for text in QUESTIONS:
        yield f'find "{text}"', timed(lambda text=text: find(conn, text))  # type: ignore[misc]
        yield f'find "{text}" of one vehicle', timed(lambda text=text: find(conn, text, vehicle=one.id))  # type: ignore[misc]
    yield "history of brake pads", timed(lambda: history(conn, "brake pad"))
    yield "history of brake pads of one vehicle", timed(lambda: history(conn, "brake pad", vehicle=one.id))
    rows = f"{ENTRIES} WHERE f.vehicle = {one.id} ORDER BY job_day, f.vehicle, f.job, f.note, f.number, f.id"
    yield "log of one vehicle: query alone", timed(lambda: conn.execute(rows, {"unknown": ""}).fetchall())
    yield "log of one vehicle: facts read", timed(lambda: jobs(conn, one.id))
    yield "log of one vehicle: one year read", timed(lambda: jobs(conn, one.id, since=date(2024, 1, 1)))
    told = jobs(conn, one.id)
    yield "log of one vehicle: laid out", timed(lambda: log(told, "Log", today))
    yield "due list of one vehicle: facts read", timed(lambda: list(due_lists(conn, one)))
    read = list(due_lists(conn, one))
    yield "due list of one vehicle: worked out", timed(lambda: due_list("Due", today, [
        (about.name, *due_of_vehicle(about.name, entries, specs, about.vehicle.odometer_unit, today))
        for about, entries, specs in read]))  # fmt: skip
    yield "prep of one vehicle: facts read", timed(lambda: prep_facts(conn, one))
    known = prep_facts(conn, one)
    yield "prep of one vehicle: worked out", timed(lambda: prep_sheet(conn, one, known, today))
    yield "list of vehicles", timed(lambda: vehicle_summaries(conn))


def prep_facts(conn: sqlite3.Connection, one: VehicleEntry) -> tuple[list[Entry], list[Specification], list[FlagEntry]]:
    """What a preparation sheet is made from."""
    return entries(conn, one.id), specifications(conn, one), flags(conn, one.id)


def prep_sheet(
    conn: sqlite3.Connection, one: VehicleEntry, facts: tuple[list[Entry], list[Specification], list[FlagEntry]],
    today: date,
) -> object:  # fmt: skip
    """A preparation sheet, with the shelf of all vehicles looked up."""
    held, specs, flagged = facts
    parts = [entry.fact.component for entry in held if entry.fact.component]
    known = knowledge(ABOUT, parts, [*parts, *(spec.component for spec in specs)])
    return prep(one, ABOUT, held, specs, (flagged, {}),
                lambda names: stock(shelf_entries(conn, names), "Stock", today).items, known, today)  # fmt: skip


def main() -> None:
    """Fill the record, unless it is there, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--facts", type=int, default=50_000)
    parser.add_argument("--vehicles", type=int, default=200)
    parser.add_argument("--record", type=Path)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        path: Path = given.record or Path(folder) / "record.db"
        there = path.exists()
        conn = open_record(path)
        if not there:
            for size in (size for size in SIZES if size < given.facts):
                small = open_record(Path(folder) / f"{size}.db")
                generator.fill(small, size, min(given.vehicles, size // 50))
                print(shown(f"ingest of a note of 50 facts into {size:>9,} facts", ingest_times(small, seed=77)))
                small.close()
            start = time.perf_counter()
            generator.fill(conn, given.facts, given.vehicles)
            print(f"{given.facts:,} facts of {given.vehicles} vehicles: {time.perf_counter() - start:.0f} s")
        held = conn.execute("SELECT count(*) FROM facts").fetchone()[0]
        print(shown(f"ingest of a note of 50 facts into {held:>9,} facts", ingest_times(conn, seed=int(time.time()))))
        print(f"record: {path.stat().st_size / 1e6:.0f} MB\n")
        for name, times in queries(conn):
            print(shown(name, times))


def shown(name: str, times: Times) -> str:
    """A line of the table."""
    return f"{name:<62} {times[0]:6.1f} ms busy, {times[1]:6.1f} ms by the clock{' ***' if times[0] > 100 else ''}"


if __name__ == "__main__":
    main()
