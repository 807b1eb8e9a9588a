"""A disagreement for the record of the invented workshop."""

from __future__ import annotations

import json
import sqlite3

from saidspec.record.rows import insert


def flagged(conn: sqlite3.Connection) -> int:
    """Add a flag on the bracket bolts' torque; its id."""
    fact = conn.execute("SELECT id, note, job FROM facts WHERE quote = '170 newton metres'").fetchone()
    return insert(conn, "flags", {
        "key": "bracket bolt torque", "vehicle": 1, "note": fact["note"], "fact": fact["id"], "job": fact["job"],
        "check": "differs", "severity": "danger", "message": "said 170 N·m, reference 107 N·m", "kind": "torque",
        "component": "front caliper bracket bolt", "said": json.dumps({"value": "170", "unit": "N*m"}),
        "likely": "transposed"})  # fmt: skip
