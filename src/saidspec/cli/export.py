"""`saidspec export`: the whole record as open data."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.options import check_format
from saidspec.cli.reporting import RecordOption, opened


@app.command("export")
def export_command(
    folder: Annotated[Path, typer.Argument(help="The folder to write into: a new or empty one, or an older export.")],
    form: Annotated[str, typer.Option("--format", help="jsonl (JSON lines) or csv.")] = "jsonl",
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Write the whole record as open tables, CSV or JSON lines.

    Each table is a file; datapackage.json describes them (Frictionless Table Schema).

    In CSV an apostrophe before a cell keeps spreadsheets from taking it for a formula; import takes it off again.

    Example: saidspec export record-2026 --format csv
    """
    from saidspec.record.exchange import export

    check_format(form, "export", ("jsonl", "csv"))
    written = export(opened(record), folder, "csv" if form == "csv" else "jsonl")
    print(f"written: {len(written)} files in {folder}, described by {written[-1].name}")
