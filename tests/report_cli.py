"""Running the commands of the reports in this process, on a record of the invented workshop."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

from typer.testing import CliRunner

from saidspec.cli.main import app
from saidspec.model import UnusableInput
from tests.report_samples import workshop

for verb in ("log", "due", "prep", "stock", "trend", "handover", "review"):
    import_module(f"saidspec.cli.{verb}")


def record_in(folder: Path) -> Path:
    """A record of the workshop in a folder."""
    path = folder / "record.db"
    workshop(path).close()
    return path


def run(*arguments: str | Path) -> str:
    """The standard output of a command that must succeed."""
    result = CliRunner().invoke(app, [str(argument) for argument in arguments], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout


def refused(*arguments: str | Path) -> str:
    """The one line with which a command turns unusable input down."""
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert isinstance(result.exception, UnusableInput), result.output
    line = str(result.exception)
    assert "\n" not in line
    return line
