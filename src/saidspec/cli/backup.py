"""`saidspec backup` and `saidspec restore`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.reporting import RecordOption, opened


@app.command("backup")
def backup_command(
    target: Annotated[Path, typer.Argument(help="The file to write the backup to.")],
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there.")] = False,
    record: RecordOption = None,
) -> None:
    """Copy the record into one file, while it is in use.

    The file is complete or not there.

    Example: saidspec backup /media/stick/record-2026-05-03.db
    """
    from saidspec.record.backup import back_up

    back_up(opened(record), target, replace=replace)
    print(f"written: {target}")


@app.command("restore")
def restore_command(
    source: Annotated[Path, typer.Argument(help="A file that `saidspec backup` wrote.")], record: RecordOption = None,
) -> None:  # fmt: skip
    """Put the record back to a backup.  The former record is kept beside it.

    Example: saidspec restore /media/stick/record-2026-05-03.db
    """
    from saidspec.record.backup import restore
    from saidspec.record.place import record_path

    path = record_path(record)
    former = restore(path, source)
    print(f"restored: {path}" + (f"; the former record is kept as {former}" if former else ""))
