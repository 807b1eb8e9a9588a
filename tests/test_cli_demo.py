"""`saidspec demo`; ingesting its notes again changes nothing, and an edited note changes its own rows only."""

from __future__ import annotations

import os
import re
import shlex
import sqlite3
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from saidspec.cli.main import main, register
from saidspec.demo import NOTES, lay_out, steps
from saidspec.model import UnusableInput
from saidspec.record.tables import tables
from tests.command_line import answered

Rows = dict[tuple[str, object], tuple[object, ...]]

def run(*words: str | Path) -> str:
    """What a command prints that may answer 0 or 1."""
    status, printed = answered(*words)
    assert status < 2, printed
    return printed


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A folder in which the demo was run, and what it printed."""
    folder = tmp_path_factory.mktemp("demo")
    return folder, run("demo", "--record", folder / "kept.db")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo's notes and a record of them."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SAIDSPEC_RECORD", "record.db")
    for step in steps(lay_out(tmp_path))[:2]:
        for command in step.commands:
            run(*command)
    run("reconcile")
    return tmp_path


def commands(text: str) -> list[list[str]]:
    """The command lines that the demo printed."""
    return [shlex.split(line)[2:] for line in text.splitlines() if line.startswith("$ ")]


def test_each_command_prints_in_the_demo_what_it_prints_alone(
    shown: tuple[Path, str], monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    folder, text = shown
    monkeypatch.chdir(folder)
    monkeypatch.setenv("SAIDSPEC_RECORD", "kept.db")
    reading = [words for words in commands(text) if words[0] in ("find", "log", "due", "stock", "trend")
               and "--output" not in words]  # fmt: skip
    assert len(reading) == 5
    for words in reading:
        told = run(*words)
        if words[0] == "stock":  # it tells the day on which it is made
            told = "\n".join(told.splitlines()[1:])
        assert told in text


def test_all_that_issue_and_newcomer_ask_for_is_shown(shown: tuple[Path, str]) -> None:
    _, text = shown
    assert {words[0] for words in commands(text)} == {
        "vehicle", "ingest", "find", "reconcile", "log", "due", "stock", "trend", "prep", "hand-over"}
    counts = re.findall(r"^demo_notes/\S+: new, (\d+) facts, [A-Z]\w+ [A-Z]\w+, \d{4}-\d{2}-\d{2}$", text, re.MULTILINE)
    assert len(counts) == 6
    assert all(int(count) > 10 for count in counts)
    assert re.search(r"differs: .*\n?.* Likely ", text)
    assert "maker's manual" in text


def test_the_places_it_names_are_there(shown: tuple[Path, str]) -> None:
    folder, text = shown
    for place in re.findall(r"^(?:record|notes) +(\S+)", text, re.MULTILINE):
        assert Path(place).exists()
    pages = re.findall(r"\w[\w-]*\.html", text.split("\npages ")[1].splitlines()[0])
    assert pages == ["due.html", "hand-over.html", "log.html", "prep.html"]
    for page in pages:
        assert (folder / page).read_text("utf-8").startswith("<!")
    assert f"cd {folder}" in text
    assert "export SAIDSPEC_RECORD=kept.db" in text


def test_without_a_record_it_makes_a_new_folder_and_leaves_the_users_settings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    monkeypatch.setenv("SAIDSPEC_RECORD", str(tmp_path / "mine.db"))
    monkeypatch.setenv("SAIDSPEC_VEHICLE", "Hallam Drover")
    monkeypatch.setenv("PATH", str(tmp_path))  # as in a shell in which the environment is not active
    before = Path.cwd()
    assert f'export PATH={Path(sys.executable).parent}:"$PATH"' in run("demo")
    (made,) = tmp_path.iterdir()
    assert made.name.startswith("saidspec-demo-")
    assert (made / "record.db").is_file()
    assert Path.cwd() == before
    assert os.environ["SAIDSPEC_RECORD"] == str(tmp_path / "mine.db")
    assert os.environ["SAIDSPEC_VEHICLE"] == "Hallam Drover"


def test_nothing_is_written_over(
    shown: tuple[Path, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    folder, _ = shown
    for record in (folder / "kept.db", folder / "another.db"):  # the record is there; its folder has notes already
        monkeypatch.setattr("sys.argv", ["saidspec", "demo", "--record", str(record)])
        with pytest.raises(SystemExit) as ended:
            main()
        assert ended.value.code == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert said.err.count("\n") == 1
        assert "is there already" in said.err
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(UnusableInput, match="cannot write the notes to"):
        lay_out(tmp_path / "file")


def rows_of(record: Path) -> Rows:
    """Every row of every table, by table and key."""
    conn = sqlite3.connect(record)
    made: Rows = {}
    for table in tables():
        names = [column.name for column in table.columns]
        for row in conn.execute(f"SELECT * FROM {table.name}"):
            made[table.name, tuple(row[names.index(name)] for name in table.key)] = row
    conn.close()
    assert len(made) > 200
    return made


def test_a_second_ingest_of_the_folder_changes_no_row(folder: Path) -> None:
    before = rows_of(folder / "record.db")
    watch = sqlite3.connect(folder / "record.db")  # SQLite tells a connection whether another one has written
    seen = watch.execute("PRAGMA data_version").fetchone()
    told = run("ingest", NOTES)
    assert told.splitlines()[-1].startswith("6 files: 6 unchanged; ")
    assert rows_of(folder / "record.db") == before
    assert watch.execute("PRAGMA data_version").fetchone() == seen
    run("ingest", NOTES, "--date", "2026-05-05")
    assert watch.execute("PRAGMA data_version").fetchone() != seen


def changed(before: Rows, after: Rows) -> Iterator[tuple[str, tuple[object, ...]]]:
    """The table and the row, as it was and as it is, of each row that is not what it was."""
    for key in before.keys() | after.keys():
        if before.get(key) != after.get(key):
            yield from ((str(key[0]), row) for row in (before.get(key), after.get(key)) if row)


def column(table: str, name: str, row: tuple[object, ...]) -> object:
    """A field of a row."""
    return row[next(at for at, one in enumerate(found.columns) if one.name == name)] if (
        found := next(one for one in tables() if one.name == table)) else None


def test_editing_one_note_changes_the_rows_of_that_note_alone(folder: Path) -> None:
    record, note = folder / "record.db", folder / NOTES / "2026-03-14-motorcycle-fork-oil.md"
    before = rows_of(record)
    text = note.read_text("utf-8")
    assert text.count("Fork caps torqued to 23 Nm") == 1
    note.write_text(text.replace("Fork caps torqued to 23 Nm", "Fork caps torqued to 24 Nm"), "utf-8")
    told = run("ingest", NOTES)
    assert "1 changed, 5 unchanged" in told
    after = rows_of(record)
    (own,) = (row[0] for (table, _), row in after.items() if table == "notes" and note.name in row)
    jobs_of_others = {column("facts", "job", row) for (table, _), row in after.items()
                      if table == "facts" and column("facts", "note", row) != own}  # fmt: skip
    readings = {row[0] for rows in (before, after) for (table, _), row in rows.items()
                if table == "readings" and column("readings", "note", row) == own}  # fmt: skip
    touched = list(changed(before, after))
    assert {"notes", "readings", "utterances", "facts"} <= {table for table, _ in touched}
    for table, row in touched:
        if table == "notes":
            assert row[0] == own
        elif table == "jobs":
            assert row[0] not in jobs_of_others
        elif table == "words":
            assert column(table, "reading", row) in readings
        elif table == "agreements":  # follows its fact
            facts = {**before, **after}
            assert column("facts", "note", facts["facts", (column(table, "fact", row),)]) == own
        else:
            assert column(table, "note", row) == own, (table, row)
    values = {row[0] for row in sqlite3.connect(record).execute(
        "SELECT value FROM facts WHERE note = ? AND kind = 'torque'", (own,))}  # fmt: skip
    assert "24" in values
    assert "23" not in values


def test_the_demo_is_one_of_the_verbs() -> None:
    register(["demo"])
    assert run("demo", "--help").count("Example: saidspec demo") == 1
