"""The description of an exported record: a Frictionless Data Package with a Table Schema for each file.

See https://specs.frictionlessdata.io/table-schema/.
"""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import Any, Literal

from saidspec.model import UnusableInput
from saidspec.record.schema import NAMES
from saidspec.record.tables import Column, Table, tables

Form = Literal["jsonl", "csv"]
DESCRIPTION = "datapackage.json"
TYPES = {"INTEGER": "integer", "REAL": "number", "TEXT": "string"}


def description(conn: sqlite3.Connection, form: Form) -> dict[str, Any]:
    """The description of all tables; its part `saidspec` is what import needs to know."""
    numbered = "SELECT name, seq FROM sqlite_sequence WHERE name NOT LIKE '\\_%' ESCAPE '\\' ORDER BY name"
    last = {row[0]: row[1] for row in conn.execute(numbered)}
    return {
        "profile": "data-package", "name": "saidspec-record", "title": "A maintenance record kept with saidspec",
        "saidspec": {"form": form, "version": len(NAMES), "last": last},
        "resources": [_resource(table, form) for table in tables()],
    }  # fmt: skip


def _resource(table: Table, form: Form) -> dict[str, Any]:
    schema: dict[str, Any] = {"fields": [_field(column) for column in table.columns], "primaryKey": list(table.key),
                              "missingValues": [""] if form == "csv" else []}  # fmt: skip
    if refers := [column for column in table.columns if column.refers_to]:
        schema["foreignKeys"] = [
            {"fields": column.name, "reference": {
                "resource": "" if column.refers_to == table.name else column.refers_to, "fields": "id"}}
            for column in refers]  # fmt: skip
    kind = {"format": "csv", "mediatype": "text/csv", "encoding": "utf-8",
            "dialect": {"delimiter": ",", "lineTerminator": "\r\n", "quoteChar": '"', "doubleQuote": True}}  # fmt: skip
    if form == "jsonl":
        kind = {"format": "ndjson", "mediatype": "application/x-ndjson", "encoding": "utf-8"}
    return {"name": table.name, "path": f"{table.name}.{form}", "profile": "tabular-data-resource",
            "description": table.about, **kind, "schema": schema}  # fmt: skip


def _field(column: Column) -> dict[str, Any]:
    told: dict[str, Any] = {"name": column.name, "type": TYPES[column.type]}
    if column.about:
        told["description"] = column.about
    return told | ({"constraints": {"required": True}} if column.required else {})


def described(folder: Path) -> dict[str, Any]:
    """The `saidspec` part of the description.  Raises UnusableInput where the folder is no export, or a newer one."""
    path = folder / DESCRIPTION
    try:
        told = json.loads(path.read_text("utf-8"))["saidspec"]
        form, version, last = told["form"], told["version"], told["last"]
    except FileNotFoundError:
        raise UnusableInput(f"{folder} is no export: it has no {DESCRIPTION}") from None
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise UnusableInput(f"{path} does not describe an export of saidspec ({error}): export again") from error
    if form not in ("jsonl", "csv") or not isinstance(version, int) or not isinstance(last, dict):
        raise UnusableInput(f"{path} does not describe an export of saidspec: export again")
    if version > len(NAMES):
        raise UnusableInput(f"{path} was written by a newer saidspec (version {version}): update saidspec")
    numbered = {table.name for table in tables()}
    return {"form": form, "last": {name: int(seq) for name, seq in last.items() if name in numbered}}
