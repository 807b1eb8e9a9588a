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

from saidspec.record.find import find, history
from saidspec.record.place import open_record
from saidspec.record.queries import vehicle_summaries
from saidspec.record.report_queries import due_lists, jobs, vehicle_named
from saidspec.record.store import ingest
from saidspec.report.due import due_list, due_of_vehicle
from saidspec.report.log import log

QUESTIONS = (
    "rear drain plug torque", "which socket for the caliper bracket", "1.74", "KD-3318-F", "torque", "Hallam Drover 0",
    "how much oil on the Marlow Tipper 11", "leaking", "front left brake pad thickness", "the the the", "propeller",
    "front rear left right upper lower", "look at the hub nut again",
)  # fmt: skip
ROUNDS = 5
SIZES = (1_000, 10_000, 100_000)


def timed(work: Callable[[], object], rounds: int = ROUNDS) -> tuple[float, float]:
    """Median and worst milliseconds of a piece of work."""
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        taken.append((time.perf_counter() - start) * 1000)
    return statistics.median(taken), max(taken)


def ingest_times(conn: sqlite3.Connection, seed: int, count: int = 20) -> tuple[float, float]:
    """Milliseconds to ingest a new note of 50 facts, one transaction each: median and worst."""
    known = conn.execute("SELECT id FROM vehicles ORDER BY id LIMIT 1").fetchone()[0]
    taken = []
    for job in generator.notes(count * generator.FACTS_A_NOTE, 1, seed):
        start = time.perf_counter()
        done = ingest(conn, job.reading, vehicle=known, candidates=generator.systems_of)
        taken.append((time.perf_counter() - start) * 1000)
        assert done.outcome == "new", "the seed was used before"
    return statistics.median(taken), max(taken)


def queries(conn: sqlite3.Connection) -> Iterable[tuple[str, tuple[float, float]]]:
    """Each query by name, with its median and worst milliseconds."""
    one = vehicle_named(conn, conn.execute("SELECT name FROM vehicles ORDER BY id LIMIT 1").fetchone()[0])
    today = date(2026, 5, 3)
    for text in QUESTIONS:
        yield f'find "{text}"', timed(lambda text=text: find(conn, text))  # type: ignore[misc]
        yield f'find "{text}" of one vehicle', timed(lambda text=text: find(conn, text, vehicle=one.id))  # type: ignore[misc]
    yield "history of brake pads", timed(lambda: history(conn, "brake pad"))
    yield "history of brake pads of one vehicle", timed(lambda: history(conn, "brake pad", vehicle=one.id))
    yield "log of one vehicle: facts read", timed(lambda: jobs(conn, one.id))
    yield "log of one vehicle: one year read", timed(lambda: jobs(conn, one.id, since=date(2024, 1, 1)))
    told = jobs(conn, one.id)
    yield "log of one vehicle: laid out", timed(lambda: log(told, "Log", today))
    yield "due list of one vehicle: facts read", timed(lambda: list(due_lists(conn, one)))
    read = list(due_lists(conn, one))
    yield "due list of one vehicle: worked out", timed(lambda: due_list("Due", today, [
        (about.name, *due_of_vehicle(about.name, entries, specs, about.vehicle.odometer_unit, today))
        for about, entries, specs in read]))  # fmt: skip
    yield "list of vehicles", timed(lambda: vehicle_summaries(conn))


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
                middle, worst = ingest_times(small, seed=77)
                print(f"ingest of a note of 50 facts into {size:>9,} facts: {middle:6.1f} ms, worst {worst:6.1f} ms")
                small.close()
            start = time.perf_counter()
            generator.fill(conn, given.facts, given.vehicles)
            print(f"{given.facts:,} facts of {given.vehicles} vehicles: {time.perf_counter() - start:.0f} s")
        middle, worst = ingest_times(conn, seed=int(time.time()))
        held = conn.execute("SELECT count(*) FROM facts").fetchone()[0]
        print(f"ingest of a note of 50 facts into {held:>9,} facts: {middle:6.1f} ms, worst {worst:6.1f} ms")
        print(f"record: {path.stat().st_size / 1e6:.0f} MB\n")
        for name, (middle, worst) in queries(conn):
            print(f"{name:<70} {middle:7.1f} ms, worst {worst:7.1f} ms{'  over 100 ms' if middle > 100 else ''}")


if __name__ == "__main__":
    main()
