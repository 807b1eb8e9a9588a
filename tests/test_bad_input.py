"""Input that cannot be used, through the commands: one clear line, exit status 2, and nothing else is lost."""

from __future__ import annotations

import io
import json
import random
import sqlite3
import zipfile
from pathlib import Path

import pytest

from tests.command_line import Shell

GOOD = "Drain plug torqued to 36 newton metres.\n"
PROSE = "then we sat on the wall for a while and the kettle had boiled before anything else happened on that evening\n"
SIZE = 5 * 2**20  # characters of the long note
SHEET = """[vehicle]
name = "Dunmore Packhorse"

[[spec]]
component = "drain plug"
kind = "torque"
value = "36 Newton metros"
source = "workshop manual, page 3"
"""


class Refusing(Shell):
    """A shell in which command lines are turned down."""

    def refused(self, *words: str) -> str:
        """The one line with which a command line is turned down."""
        assert self.run(*words) == 2
        assert self.out == ""
        assert self.err.startswith("saidspec: ")
        assert self.err.count("\n") == 1
        return self.err.removeprefix("saidspec: ").strip()


@pytest.fixture
def shell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Refusing:
    """A shell in an empty folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SAIDSPEC_RECORD", "record.db")
    return Refusing(monkeypatch, capsys)


def office_document() -> bytes:
    """A ZIP archive with one part, as office programs write them."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("word/document.xml", "<w:document/>" * 50)
    return made.getvalue()


NO_NOTES = [
    ("empty.txt", b"", "is empty"),
    ("blank.txt", b" \n\n\t\n", "holds no words"),
    ("noise.bin", random.Random(7).randbytes(200_000), "is a binary file"),
    ("noise.txt", random.Random(8).randbytes(200_000), "is a binary file"),
    ("photo.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF\0" + random.Random(9).randbytes(9000), "is a JPEG picture"),
    ("letter.docx", office_document(), "an office document"),
    ("page.pdf", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< >>\nendobj\n", "is a PDF file"),
    ("cut.json", b'{"segments": [{"start": 0, "end', "no complete JSON: line 1, column 28"),
    ("other.json", b'{"name": "x", "version": 3}', "JSON but no transcript"),
]


@pytest.mark.parametrize(("name", "data", "says"), NO_NOTES, ids=[name for name, _, _ in NO_NOTES])
@pytest.mark.parametrize("verb", ["extract", "ingest"])
def test_a_file_that_is_no_note(shell: Refusing, verb: str, name: str, data: bytes, says: str) -> None:
    Path(name).write_bytes(data)
    line = shell.refused(verb, name)
    assert name in line
    assert says in line


@pytest.mark.parametrize(("words", "says"), [
    (("extract", "nowhere.txt"), "nowhere.txt: no such file"),
    (("ingest", "nowhere.txt"), "nowhere.txt: no such file"),
    (("extract", "folder"), "folder is a folder: give one of its files"),
    (("extract", "good.txt", "--date", "yesterday"), "write it as YYYY-MM-DD"),
    (("extract", "good.txt", "--format", "yaml"), "text, json"),
    (("trend", "--format", "yaml"), "'yaml' is not one of 'text', 'markdown', 'html', 'json': see `"),
    (("due", "--formt", "html"), "No such option: --formt"),
    (("extract",), "Missing argument"),
    (("find", "oil", "--limit", "many"), "--limit"),
    (("check", "nowhere.txt", "--reference", "good.toml"), "nowhere.txt: no such file"),
    (("check", "good.txt", "--reference", "nowhere.toml"), "nowhere.toml: no such reference sheet"),
    (("check", "good.txt", "--reference", "folder"), "folder: is a folder"),
    (("check", "good.txt", "--reference", "good.txt"), "a reference sheet is a .toml or a .csv file"),
    (("check", "good.txt", "--reference", "bad.toml"),
     "bad.toml: entry 1, line 7: unknown unit 'Newton metros'; did you mean N*m?"),
    (("vehicle", "add", "--sheet", "bad.toml"), "bad.toml: entry 1, line 7: unknown unit 'Newton metros'"),
], ids=lambda value: " ".join(value) if isinstance(value, tuple) else None)  # fmt: skip
def test_a_command_that_cannot_run(shell: Refusing, words: tuple[str, ...], says: str) -> None:
    Path("folder").mkdir()
    Path("good.txt").write_text(GOOD)
    Path("bad.toml").write_text(SHEET)
    Path("good.toml").write_text(SHEET.replace("Newton metros", "N*m"))
    assert says in shell.refused(*words)
    assert shell.run("extract", "good.txt") == 0
    assert shell.run("check", "good.txt", "--reference", "good.toml") == 0


def test_a_wrong_byte_is_told_with_its_place_and_the_rest_is_read(shell: Refusing) -> None:
    Path("note.txt").write_bytes(GOOD.encode() + b"and \xff the filter cap to 25 newton metres.\n")
    assert shell.run("extract", "note.txt", "--format", "json") == 0
    told = json.loads(shell.out)
    torques = [fact["value"] for fact in told["facts"] if fact["kind"] == "torque"]
    assert torques == [36, 25]
    (problem,) = told["problems"]
    assert "byte 0xFF at byte offset 44 (line 2, column 5)" in problem["message"]
    shell.run("vehicle", "add", "Dunmore Packhorse")
    assert shell.run("ingest", "note.txt", "--vehicle", "Dunmore Packhorse") == 0
    assert "line 2: byte 0xFF" in shell.out


def test_of_a_folder_of_mixed_files_the_notes_are_taken_and_the_others_told(shell: Refusing) -> None:
    Path("notes").mkdir()
    for name, data, _ in NO_NOTES:
        (Path("notes") / name).write_bytes(data)
    (Path("notes") / "good.txt").write_text(GOOD)
    (Path("notes") / "sheet.toml").write_text(SHEET)
    (Path("notes") / "odd.txt").write_bytes(b"The filter cap \x81 is torqued to 25 newton metres.\n")
    shell.run("vehicle", "add", "Dunmore Packhorse")
    assert shell.run("ingest", "notes", "--vehicle", "Dunmore Packhorse") == 2
    assert len(shell.err.splitlines()) == len(NO_NOTES)
    for name, _, says in NO_NOTES:
        (line,) = (line for line in shell.err.splitlines() if name in line)
        assert says in line
    assert f"{len(NO_NOTES) + 2} files: 2 new, {len(NO_NOTES)} not read" in shell.out
    stored = sqlite3.connect("record.db").execute("SELECT value FROM facts WHERE kind = 'torque' ORDER BY value")
    assert [row[0] for row in stored] == ["25", "36"]


def test_a_refused_note_leaves_the_record_as_it_was(shell: Refusing) -> None:
    Path("good.txt").write_text(GOOD)
    shell.run("vehicle", "add", "Dunmore Packhorse")
    shell.run("ingest", "good.txt", "--vehicle", "Dunmore Packhorse")
    before = list(sqlite3.connect("record.db").iterdump())
    Path("good.txt").write_bytes(random.Random(7).randbytes(5000))
    assert "good.txt is a binary file" in shell.refused("ingest", "good.txt")
    assert list(sqlite3.connect("record.db").iterdump()) == before
    assert any("36" in line and "torque" in line for line in before)


def test_a_text_of_five_megabytes_is_read_from_its_first_to_its_last_words(shell: Refusing) -> None:
    last = "The filter cap is torqued to 25 newton metres.\n"
    text = GOOD + PROSE * (SIZE // len(PROSE)) + last
    Path("long.txt").write_text(text)
    assert shell.run("extract", "long.txt", "--format", "json") == 0
    told = json.loads(shell.out)
    found = [(fact["value"], fact["start"]) for fact in told["facts"] if fact["kind"] == "torque"]
    assert found == [(36, GOOD.index("36")), (25, text.rindex("25"))]
    assert shell.err == ""
