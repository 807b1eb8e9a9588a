"""The command line: each verb is a module of this package, which is imported when its verb is called.

`--help` lists the verbs from the table below and imports none of them, so that it is fast; a test compares the table
with what the verbs say of themselves.  A module of a verb imports nothing heavy at its top.
"""

from __future__ import annotations

import sys
from importlib import import_module
from typing import Any, NoReturn

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

USAGE: Any = typer.BadParameter.__mro__[1]  # all errors of usage, by a name that typer does not export

# verb → (module, the first line of its help)
VERBS: dict[str, tuple[str, str]] = {
    "demo": ("demo", "Turn the notes of an invented workshop into a record."),
    "extract": ("extract", "Read one note and print its facts; opens no record."),
    "check": ("check", "Compare what a note says with a reference sheet."),
    "transcribe": ("transcribe", "Write down what is said in a recording, on this machine alone."),
    "ingest": ("ingest", "Read notes and put what they say into the record."),
    "vehicle": ("vehicle", "Add, list and rename vehicles; tell which one a note is about."),
    "sheet": ("sheet", "Start or check a reference sheet; list what was never used."),
    "reconcile": ("reconcile", "Compare the record with its sheets, and keep the flags."),
    "decide": ("decide", "Confirm, correct or reject facts; accept flags with a reason."),
    "log": ("log", "Write the clean log: jobs, values, findings, and what is left."),
    "find": ("find", "Find what was said: answers first, then sheets, then passages."),
    "history": ("history", "Tell the history of a part or a vehicle, oldest first.  Exit status 1 for nothing."),
    "due": ("due", "List what is due, overdue first: intervals and follow-ups."),
    "prep": ("prep", "Write the preparation sheet for the next job, for one page."),
    "stock": ("stock", "Show what is on the shelf: bought, used and left over."),
    "trend": ("trend", "Show how a measurement went, and when its limit is reached."),
    "hand-over": ("handover", "Write a vehicle's whole history for its next keeper."),
    "review": ("review", "Open a page to confirm or correct what was understood."),
    "listen": ("listen", "Play the seconds in which a fact was said."),
    "words": ("words", "Add words of your own; see which rule read what in a note."),
    "export": ("export", "Write the whole record as open tables, CSV or JSON lines."),
    "import": ("import_", "Read an export into a record that holds nothing yet."),
    "backup": ("backup", "Copy the record into one file, while it is in use."),
    "restore": ("backup", "Put the record back to a backup.  The former record is kept beside it."),
}


@app.callback()
def saidspec() -> None:
    """Turn dictated workshop notes into a maintenance record that can be trusted."""


def register(words: list[str]) -> None:
    """Import the module of the verb that is called; for the list of verbs, name them all and import none."""
    verb = next((word for word in words if not word.startswith("-")), None)
    if verb in VERBS:
        import_module(f"saidspec.cli.{VERBS[verb][0]}")
        return
    for name, (_, told) in VERBS.items():
        app.command(name, help=told)(lambda: None)


def main() -> None:
    """Run the command line; unusable input is one line on standard error and exit status 2."""
    register(sys.argv[1:])
    try:
        sys.exit(app(standalone_mode=False))
    except UnusableInput as problem:
        _refuse(str(problem))
    except USAGE as problem:
        _misused(problem)
    except typer.Abort:
        print("stopped", file=sys.stderr)
        sys.exit(1)


def _misused(problem: Any) -> NoReturn:
    """A command line that cannot be read, as one line; a verb without its own verb shows its help instead."""
    told = problem.format_message()
    if "\n" in told.strip():
        problem.show()
        sys.exit(problem.exit_code)
    of = problem.ctx.command_path if problem.ctx else "saidspec"
    told = told.strip().rstrip(".").replace("Value error, ", "")
    _refuse(f"{told}: see `{of} --help`")


def _refuse(told: str) -> NoReturn:
    print(f"saidspec: {told}", file=sys.stderr)
    sys.exit(2)
