"""`saidspec demo`: the whole way from spoken notes to a checked record, on the notes of an invented workshop."""

from __future__ import annotations

import os
import shlex
import sys
from collections.abc import Iterator
from contextlib import chdir, contextmanager, redirect_stderr
from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app, register

OTHERS = ("SAIDSPEC_VEHICLE", "SAIDSPEC_RECORD")  # settings of the user that the demo must not touch or take over


@app.command("demo")
def demo_command(
    record: Annotated[Path | None, typer.Option(
        "--record", help="Make the record here, with everything else beside it; else in a new temporary folder.",
    )] = None,
) -> None:  # fmt: skip
    """Turn the notes of an invented workshop into a record.

    One command after another is run and shown with what it prints.  Nothing of yours is touched: the demo makes a
    record of its own, and tells where it is.

    Example: saidspec demo
    """
    from tempfile import mkdtemp

    from saidspec.demo import lay_out, steps
    from saidspec.model import UnusableInput

    if record is not None and record.exists():
        raise UnusableInput(f"{record} is there already: the demo makes a new record, name another file")
    folder = record.absolute().parent if record else Path(mkdtemp(prefix="saidspec-demo-"))
    name = record.name if record else "record.db"
    files = lay_out(folder)
    _say(f"The demo works in {folder}, with a record of its own ({name}).\n"
         "Vehicles, people, parts and values are invented.  Each line that begins with $ is a command; below it is\n"
         "what that command prints.")  # fmt: skip
    with chdir(folder), _own_record(name), redirect_stderr(sys.stdout):  # one stream: in order, whatever it is sent to
        for number, step in enumerate(steps(files), 1):
            _say(f"\n== {number}. {step.title}\n{step.says}")
            for command in step.commands:
                _run(command)
    _say("\n".join(_farewell(folder, name)))


@contextmanager
def _own_record(name: str) -> Iterator[None]:
    """The demo's record as the one that commands take, until the end of the block."""
    former = {variable: os.environ.pop(variable, None) for variable in OTHERS}
    os.environ["SAIDSPEC_RECORD"] = name
    try:
        yield
    finally:
        os.environ.pop("SAIDSPEC_RECORD", None)
        os.environ.update({variable: value for variable, value in former.items() if value is not None})


def _run(command: tuple[str, ...]) -> None:
    """Run a command of this program as the shell would, in this process; exit status 1 is an answer, 2 is none."""
    _say(f"\n$ saidspec {shlex.join(command)}")
    register(list(command))
    status = app(list(command), prog_name="saidspec", standalone_mode=False)
    sys.stdout.flush()
    if isinstance(status, int) and status > 1:
        raise typer.Exit(status)


def _farewell(folder: Path, record: str) -> list[str]:
    pages = ", ".join(sorted(page.name for page in folder.glob("*.html")))
    return [
        "\n== Where everything is, and how to go on",
        f"record  {folder / record}",
        f"notes   {folder / 'demo_notes'} (with the reference sheets)",
        f"pages   {folder}: {pages}",
        "",
        "Try the commands yourself:",
        f"  cd {shlex.quote(str(folder))}",
        *_to_path(),
        f"  export SAIDSPEC_RECORD={shlex.quote(record)}",
        "  saidspec find how much oil does the van take",
        "  saidspec reconcile --vehicle Packhorse --explain   why each fact was compared with which value",
        "  saidspec review                                    a page to confirm and correct what was understood",
        "  saidspec --help                                    all commands",
        "Edit a note in demo_notes and ingest it again: only what you changed changes in the record.",
        "For a record of your own leave SAIDSPEC_RECORD unset: it is then kept in your data folder.",
        "",
        "A reference value is worth what its source is worth.  For work on a vehicle its maker's manual, local rules",
        "and licensed practice come first; saidspec finds disagreements, it gives no specifications.",
    ]  # fmt: skip


def _to_path() -> list[str]:
    """The line by which a shell finds this program, where it does not yet: in an environment that is not active."""
    from shutil import which

    own = Path(sys.executable).parent
    if which("saidspec") or not (own / "saidspec").exists():
        return []
    return [f'  export PATH={shlex.quote(str(own))}:"$PATH"']


def _say(text: str) -> None:
    print(text, flush=True)
