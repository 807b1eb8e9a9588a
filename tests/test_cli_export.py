"""`saidspec export`, `import`, `backup` and `restore` as commands."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.record_commands import Commands


@pytest.fixture
def saidspec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Commands:
    told = Commands(tmp_path / "record.db", monkeypatch, capsys)
    told.run("vehicle", "add", "Hallam Drover")
    told.run("ingest", "-", "--vehicle", "Hallam Drover", given=b"drain plug at 31 newton metres\n")
    return told


@pytest.mark.parametrize("form", ["jsonl", "csv"])
def test_export_and_import(saidspec: Commands, tmp_path: Path, form: str) -> None:
    assert saidspec.run("export", tmp_path / "out", "--format", form) == 0
    assert saidspec.out == f"written: 17 files in {tmp_path / 'out'}, described by datapackage.json\n"
    assert saidspec.run("import", tmp_path / "out", "--record", tmp_path / "copy.db") == 0
    assert saidspec.out == f"imported into {tmp_path / 'copy.db'}: 1 vehicle, 1 note, 1 fact, 0 decisions\n"
    saidspec.run("export", tmp_path / "again", "--format", form, "--record", tmp_path / "copy.db")
    both = [{path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in ("out", "again")]
    assert both[0] == both[1]
    assert saidspec.run("import", tmp_path / "out") == 2
    assert "import into a new one" in saidspec.err
    (tmp_path / "empty").mkdir()
    assert saidspec.run("import", tmp_path / "empty", "--record", tmp_path / "none.db") == 2
    assert not (tmp_path / "none.db").exists()


@pytest.mark.parametrize(("first", "then"), [("csv", "jsonl"), ("jsonl", "csv")])
def test_an_older_export_of_the_other_form_is_told(saidspec: Commands, tmp_path: Path, first: str, then: str) -> None:
    saidspec.run("export", tmp_path / "out", "--format", first)
    assert saidspec.run("export", tmp_path / "out", "--format", then) == 2
    assert f"holds an older export as {first}: add --format {first} to write it anew" in saidspec.err
    (tmp_path / "out" / "letter.txt").write_text("mine")
    assert saidspec.run("export", tmp_path / "out", "--format", first) == 2
    assert "holds other files (letter.txt)" in saidspec.err


def test_backup_and_restore(saidspec: Commands, tmp_path: Path) -> None:
    assert saidspec.run("backup", tmp_path / "copy.db") == 0
    saidspec.run("vehicle", "add", "Marlow Tipper")
    assert saidspec.run("restore", tmp_path / "copy.db") == 0
    assert "the former record is kept as" in saidspec.out
    saidspec.run("vehicle", "list")
    assert "Marlow" not in saidspec.out
    assert saidspec.run("backup", tmp_path / "copy.db") == 2
    assert "is there already" in saidspec.err
    assert saidspec.run("restore", tmp_path / "none.db") == 2
    assert saidspec.run("export", tmp_path / "out", "--format", "xml") == 2
