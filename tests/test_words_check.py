"""`saidspec words check`: what is wrong with words of one's own, and what to write instead."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from typer.testing import CliRunner

import saidspec.cli.words  # noqa: F401 - registers the command
from saidspec.cli.main import app
from saidspec.model import UnusableInput
from saidspec.words.check import check
from saidspec.words.starter import start

CORPUS = tomllib.loads((Path(__file__).parent / "corpus/words.toml").read_text("utf-8"))
RIGHT = {one["file"]: one["text"] for one in CORPUS["right"]}
WRONG = [pytest.param(one["file"], one["text"], one["line"], one["told"], id=f"{one['file']}: {one['told']}")
         for one in CORPUS["wrong"]]  # fmt: skip


def written(folder: Path, files: dict[str, str]) -> Path:
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(content, "utf-8")
    return folder


def test_nothing_is_wrong_with_right_words(tmp_path: Path) -> None:
    told = check(written(tmp_path, RIGHT))
    assert [str(trouble) for trouble in told.troubles] == []
    assert (told.files, told.examples) == (len(RIGHT), 13)


@pytest.mark.parametrize(("name", "content", "line", "message"), WRONG)
def test_what_is_wrong_is_told_with_its_line_and_what_to_write(
    name: str, content: str, line: int, message: str, tmp_path: Path,
) -> None:  # fmt: skip
    told = [trouble for trouble in check(written(tmp_path, {name: content})).troubles if message in str(trouble)]
    assert [(trouble.path, trouble.line) for trouble in told] == [(tmp_path / name, line)]
    assert "\n" not in str(told[0])


def test_one_mistake_does_not_hide_another_and_none_moves_its_line(tmp_path: Path) -> None:
    content = ('[[finding]]\nsaid = "no id"\nseverity = "ok"\n[[finding]]\nid = "leak"\nseverity = "ok"\n'
               'said = "piddling"\n[[finding.example]]\ntext = "nothing here"\n')  # fmt: skip
    told = check(written(tmp_path, {"findings.toml": content, "odd.toml": ""})).troubles
    assert [(trouble.path.name, trouble.line) for trouble in told] == [
        ("findings.toml", 1), ("findings.toml", 6), ("findings.toml", 8), ("odd.toml", 1)]


def test_the_status_is_0_or_2(tmp_path: Path) -> None:
    right = CliRunner().invoke(app, ["words", "check", str(written(tmp_path / "right", RIGHT))])
    assert right.exit_code == 0
    assert right.output.rstrip().endswith("13 examples; nothing wrong")
    wrong = CliRunner().invoke(app, ["words", "check", str(written(tmp_path / "wrong", {"odd.toml": ""}))])
    assert wrong.exit_code == 2
    assert wrong.output.startswith(f"{tmp_path / 'wrong' / 'odd.toml'}:1: no rule file is called odd.toml")
    assert wrong.output.rstrip().endswith("1 to put right")


def test_a_folder_that_is_not_there_is_one_line(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput, match=r"no such folder; `saidspec words new .*` makes one"):
        check(tmp_path / "none")


def test_the_files_to_start_from_are_right_as_they_are_and_when_taken_up(tmp_path: Path) -> None:
    paths = start(tmp_path / "words")
    assert check(tmp_path / "words").troubles == ()
    taken = {str(path.relative_to(tmp_path / "words")): re.sub(r"(?m)^#(?! )", "", path.read_text("utf-8"))
             for path in paths}
    told = check(written(tmp_path / "taken", taken))
    assert told.troubles == ()
    assert told.examples >= 4


def test_files_that_are_there_are_never_written_over(tmp_path: Path) -> None:
    mine = written(tmp_path, {"findings.toml": "# mine\n"}) / "findings.toml"
    with pytest.raises(UnusableInput, match="is there already"):
        start(tmp_path)
    assert mine.read_text("utf-8") == "# mine\n"
    assert list(tmp_path.rglob("*.toml")) == [mine]
