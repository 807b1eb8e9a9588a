"""`saidspec export`: the whole record as open data."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.reporting import RecordOption


@app.command("export")
def export_command(
    folder: Annotated[Path, typer.Argument(help="The folder to write into: a new or empty one, or an older export.")],
    form: Annotated[str, typer.Option("--format", help="jsonl (JSON lines) or csv.")] = "jsonl",
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Write the whole record as one file a table, described in datapackage.json (Frictionless Table Schema).

    In CSV an apostrophe before a cell keeps spreadsheets from taking it for a formula; import takes it off again.

    Example: saidspec export record-2026 --format csv
    """
    from saidspec.model import UnusableInput
    from saidspec.record.exchange import export
    from saidspec.record.place import open_to_read, record_path

    if form not in ("jsonl", "csv"):
        raise UnusableInput(f'"{form}" is no format of export: choose jsonl or csv')
    written = export(open_to_read(record_path(record)), folder, "csv" if form == "csv" else "jsonl")
    print(f"written: {len(written)} files in {folder}, described by {written[-1].name}")
