"""Running the commands of the reports in this process, on a record of the invented workshop."""

from __future__ import annotations

from pathlib import Path

from typer.testing import CliRunner

from saidspec.cli.main import app
from saidspec.model import UnusableInput
from tests.command_line import answered
from tests.report_samples import workshop


def record_in(folder: Path) -> Path:
    """A record of the workshop in a folder."""
    path = folder / "record.db"
    workshop(path).close()
    return path


def run(*arguments: str | Path) -> str:
    """The standard output of a command that must succeed."""
    status, printed = answered(*arguments)
    assert status == 0, printed
    return printed


def refused(*arguments: str | Path) -> str:
    """The one line with which a command turns unusable input down."""
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert isinstance(result.exception, UnusableInput), result.output
    line = str(result.exception)
    assert "\n" not in line
    return line
