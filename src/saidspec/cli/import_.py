"""`saidspec import`: an exported record into a new one."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.options import counted
from saidspec.cli.reporting import RecordOption


@app.command("import")
def import_command(
    folder: Annotated[Path, typer.Argument(help="A folder that `saidspec export` wrote.")],
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Read an export into a record that holds nothing yet.

    All of it is read, or nothing where something does not fit.

    Example: saidspec import record-2026 --record copy.db
    """
    from saidspec.model import UnusableInput
    from saidspec.record.exchange import import_
    from saidspec.record.place import open_record, record_path

    path = record_path(record)
    fresh = not path.exists()
    conn = open_record(path)
    try:
        counts = import_(conn, folder)
    except UnusableInput:
        conn.close()
        if fresh:  # nothing was read, so no record is left behind
            path.unlink(missing_ok=True)
        raise
    told = ", ".join(counted(counts[f"{name}s"], name) for name in ("vehicle", "note", "fact", "decision"))
    print(f"imported into {path}: {told}")
