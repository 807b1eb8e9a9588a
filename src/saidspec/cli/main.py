"""The command line: each verb is a module of this package, imported light, working lazily.

A module of a verb imports nothing heavy at its top (typer and the standard library only), so that `--help` is fast.
"""

from __future__ import annotations

import sys

import typer

from saidspec.model import UnusableInput

app = typer.Typer(
    name="saidspec",
    help="Turn dictated workshop notes into a maintenance record that can be trusted.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


@app.callback()
def saidspec() -> None:
    """Turn dictated workshop notes into a maintenance record that can be trusted."""


VERBS = (
    "extract", "check", "transcribe", "ingest", "vehicle", "reconcile", "sheet", "decide", "log", "find", "history", "due",
    "prep", "stock", "trend", "handover", "review", "listen", "export", "import_", "backup",
)  # fmt: skip


def main() -> None:
    """Run the command line; unusable input is one line on standard error and exit status 2."""
    from importlib import import_module

    for verb in VERBS:
        import_module(f"saidspec.cli.{verb}")
    try:
        app()
    except UnusableInput as problem:
        print(f"saidspec: {problem}", file=sys.stderr)
        sys.exit(2)
