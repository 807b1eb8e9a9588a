"""Commands run in this process, as the tests of several commands need them."""

from __future__ import annotations

import sys
from importlib import import_module
from io import BytesIO, TextIOWrapper
from pathlib import Path

import pytest
from typer.testing import CliRunner

from saidspec.cli.main import VERBS, app, main

for module, _ in VERBS.values():
    import_module(f"saidspec.cli.{module}")


def answered(*arguments: str | Path) -> tuple[int, str]:
    """The exit status and the standard output of a command; raises what the command raises."""
    done = CliRunner().invoke(app, [str(argument) for argument in arguments], catch_exceptions=False)
    return done.exit_code, done.stdout


def shop_with(folder: Path, monkeypatch: pytest.MonkeyPatch, sheet: str) -> Path:
    """A folder for notes, with a record of one vehicle, the Hallam Drover, and its sheet."""
    monkeypatch.setenv("SAIDSPEC_RECORD", str(folder / "record.db"))
    monkeypatch.delenv("SAIDSPEC_VEHICLE", raising=False)
    (folder / "drover.toml").write_text(sheet, "utf-8")
    answered("vehicle", "add", "Hallam Drover", "--sheet", folder / "drover.toml")
    return folder


def take(shop: Path, name: str, text: str, day: str = "2026-05-03") -> str:
    """What is printed where a note on the Hallam Drover is written into a folder and ingested."""
    (shop / name).write_text(text, "utf-8")
    return answered("ingest", shop / name, "--vehicle", "Hallam Drover", "--date", day)[1]


class Shell:
    """Runs command lines in this process as `saidspec` does; `status`, `out` and `err` are those of the last one."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self._monkeypatch, self._capsys = monkeypatch, capsys

    def run(self, *words: str | Path, given: bytes = b"") -> int:
        """The exit status of a command line that finds `given` at its standard input."""
        self._monkeypatch.setattr(sys, "argv", ["saidspec", *map(str, words)])
        self._monkeypatch.setattr(sys, "stdin", TextIOWrapper(BytesIO(given)))
        try:
            main()
            self.status = 0
        except SystemExit as end:
            self.status = int(end.code or 0)
        self.out, self.err = self._capsys.readouterr()
        return self.status
