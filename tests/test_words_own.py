"""Words of one's own in the reading: parts, slang, shapes of part numbers; in one process and through the commands."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from saidspec.extract.rules import Rules, load_rules
from saidspec.normalise.spelling import shape
from saidspec.pipeline import read
from saidspec.words.examples import note_of

PARTS = '''system = "brakes"
[parts]
"caliper" = "squeezer"
"grombler" = ""
[short]
"blatters" = "wheel nut"
'''
SHAPES = '''[[shape]]
id = "belts"
pattern = "99-AA-99(-9)"
[[shape]]
id = "boxes"
pattern = "99999-99"
[[shape]]
id = "castings"
pattern = "kd-999"
'''
SHEET = '''[vehicle]
name = "Hallam Drover"

[[spec]]
component = "caliper bolt"
kind = "torque"
value = "60 N*m"
source = "workshop manual, sheet 2"
'''


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("words")
    (made / "components").mkdir()
    (made / "components/mine.toml").write_text(PARTS, "utf-8")
    (made / "part_numbers.toml").write_text(SHAPES, "utf-8")
    return made


@pytest.fixture(scope="module")
def rules(folder: Path) -> Rules:
    return load_rules(folder)


@pytest.mark.parametrize(("picture", "fits", "misses"), [
    ("AA-9999-A", ("KD-3318-F", "KD3318F", "KD3318-F"), ("KD-3318", "K1-3318-F", "KD-331-F")),
    ("kd-99(-A)", ("KD-33", "KD-33-F", "KD33"), ("KE-33", "KD-33-")),
    ("X99.9", ("A12.3", "112.3", "A123"), ("-12.3",)),
    ("4X-999", ("4A-120", "41-120"), ("5A-120",)),
    ("99999-99", ("44120-33",), ("4412033",)),
])  # fmt: skip
def test_pictures(picture: str, fits: tuple[str, ...], misses: tuple[str, ...]) -> None:
    made = shape(picture)
    assert [code for code in (*fits, *misses) if made.fullmatch(code)] == list(fits)


@pytest.mark.parametrize(("text", "codes"), [
    ("the belt is a 41-bk-20 and it fits", ["41-BK-20"]),
    ("fitted 41-BK-20-3, torque 30 newton metres", ["41-BK-20-3"]),
    ("fitted four one dash b k dash two zero dash three", ["41-BK-20-3"]),
    ("fitted 41 bk 20 two of them", ["41BK20"]),
    ("the box is 44120 dash 33", ["44120-33"]),
    ("casting k d dash four one two", ["KD-412"]),
    ("ring him on 555 0142", []),
    ("set to 41 newton metres, then 20 of the 33 mm ones", []),
    ("odometer 44120, 33 degrees outside", []),
])  # fmt: skip
def test_shapes_of_part_numbers_are_read(text: str, codes: list[str], rules: Rules) -> None:
    facts = read(note_of(text), rules=rules).facts
    assert [fact.code for fact in facts if fact.kind == "part_number"] == codes


def test_a_figure_with_a_unit_is_no_part_number_whatever_the_shape(tmp_path: Path) -> None:
    (tmp_path / "part_numbers.toml").write_text('[[shape]]\nid = "a"\npattern = "999AA(A)"\n', "utf-8")
    said = "tightened to 107Nm, then to 140 nm; the seal is 107bk"
    facts = read(note_of(said), rules=load_rules(tmp_path)).facts
    assert [(fact.kind, fact.code) for fact in facts if fact.value is not None or fact.code] == [
        ("torque", None), ("torque", None), ("part_number", "107BK")]


def test_parts_of_ones_own_are_read_and_the_packages_stay(rules: Rules) -> None:
    said = ("squeezer bolts got 35 newton metres, grombler bolt 12 newton metres, blatters 110 newton metres, "
            "drain plug 30 newton metres")  # fmt: skip
    facts = read(note_of(said), rules=rules).facts
    assert [fact.component for fact in facts if fact.kind == "torque"] == [
        "squeezer bolt", "grombler bolt", "wheel nut", "drain plug"]
    assert rules.lexicon.systems["brakes"].sided
    assert rules.lexicon.systems["brakes"].fluid == "brake fluid"


def test_broken_words_are_told_and_the_rest_is_read(tmp_path: Path) -> None:
    (tmp_path / "materials.toml").write_text(
        '[[material]]\nsaid = "goop"\n[[material]]\nid = "g"\nsaid = "gloop"\n', "utf-8")
    (tmp_path / "cues.toml").write_text("[[cue]\n", "utf-8")
    found = read(note_of("put some gloop on the drain plug, 30 newton metres"), rules=load_rules(tmp_path))
    assert {fact.kind for fact in found.facts} >= {"torque", "material"}
    messages = [problem.message for problem in found.problems]
    assert len(messages) == 2
    assert any("materials.toml:1: in [[material]] id is missing" in message for message in messages)
    assert any("cues.toml: cannot be read as TOML" in message for message in messages)


def run(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "saidspec", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_the_commands_read_with_the_words_of_a_folder(folder: Path, tmp_path: Path) -> None:
    note, sheet = tmp_path / "n.txt", tmp_path / "drover.toml"
    note.write_text("Squeezer bolts got 35 newton metres, and part 41-bk-20 went in.\n", "utf-8")
    sheet.write_text(SHEET, "utf-8")
    assert "part_number  41-BK-20" in run("extract", note, "--words", folder).stdout
    compared = run("check", note, "--reference", sheet, "--words", folder)
    assert compared.returncode == 1
    assert "caliper bolt" in compared.stdout
    without = run("check", note, "--reference", sheet)
    assert without.returncode == 0  # without the words nobody knows what a squeezer is
    taken = run("ingest", note, "--words", folder, "--record", tmp_path / "record.db")
    assert "n.txt: new, 3 facts" in taken.stdout


def test_a_folder_of_words_that_is_not_there_is_one_line(tmp_path: Path) -> None:
    done = run("extract", "any.txt", "--words", tmp_path / "none")
    assert done.returncode == 2
    none = tmp_path / "none"
    told = f"saidspec: --words {none}: no such folder; `saidspec words new {none}` makes one to start from\n"
    assert done.stderr == told
