"""`saidspec words show` and `list`: which rule read what, what no rule claims, and what a word means."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

import saidspec.cli.words  # noqa: F401 - registers the command
from saidspec.cli.main import app
from saidspec.extract.rules import load_rules
from saidspec.model import UnusableInput
from saidspec.words.examples import note_of
from saidspec.words.marks import Mark, Marked, marked
from saidspec.words.place import file_lines, word_lines
from saidspec.words.show import lines, painted, rows

SAID = ("Bled the brakes, no weight, that is 45 on the brain plug. The book says 34 newton metres for the drain plug. "
        "Ring him on 555 0142 about the grombler, 17.\n"
        "Second line, caliper bracket bolts got 107 newton metres.\n")  # fmt: skip
BACK = re.compile(r"\[|\](?:\d+|[~x?])")


@pytest.fixture(scope="module")
def told() -> Marked:
    return marked(note_of(SAID), load_rules())


def test_each_mark_tells_the_rule_and_what_was_read(told: Marked) -> None:
    by_quote = {SAID[mark.start : mark.end]: mark for mark in told.marks}
    book = by_quote["34 newton metres"]
    assert book.style == "quoted"
    told_of = r"torque 34 N\*m.* \| drain plug \| quoted by source-says \| rule torque\.\w+ \| \d\.\d\d"
    assert re.fullmatch(told_of, book.told)
    done = by_quote["107 newton metres"]
    assert done.told.startswith("torque 107 N*m | caliper bracket bolt | stated | rule torque.")
    assert by_quote["weight"].told == "heard as 'wait' | rule mishearing.no-wait"
    assert by_quote["brain"].told == "heard as 'drain' | rule mishearing.drain-plug"
    assert by_quote["0142"].told.startswith("known as no fact | rule distractor.telephone")


def test_each_number_of_a_note_is_marked(told: Marked) -> None:
    """A number is in a fact, left over, or known as none: none goes without a mark."""
    inside = {at for mark in told.marks if mark.style != "put-right" for at in range(mark.start, mark.end)}
    assert [found.group() for found in re.finditer(r"\d+", SAID) if found.start() not in inside] == []


def test_a_number_that_no_rule_claims_is_told() -> None:
    note = marked(note_of("the flange has 17 wizzle"), load_rules())
    assert [(mark.style, mark.told) for mark in note.marks] == [("unclaimed", "no rule claims this number")]
    assert "numbers that no rule claims: 1" in "\n".join(lines(note, colour=False))


def test_words_of_no_rule_file_are_listed_once(told: Marked) -> None:
    assert "grombler" in told.strange
    assert not {"caliper", "book", "the", "newton", "bled"} & set(told.strange)
    twice = marked(note_of("grombler and Grombler again"), load_rules())
    assert twice.strange.count("grombler") == 1


def test_without_colour_marks_are_brackets_and_the_text_is_that_of_the_note(told: Marked) -> None:
    shown = [line for line in lines(told, colour=False, width=60) if not line.startswith("    ")]
    text = " ".join(shown[: shown.index("")])
    assert "[34 newton metres]" in text
    assert "\033" not in text
    assert " ".join(BACK.sub("", text).split()) == " ".join(SAID.split())


def test_in_colour_the_text_is_that_of_the_note(told: Marked) -> None:
    shown = [line for line in lines(told, colour=True, width=60) if not line.startswith("    ")]
    text = " ".join(shown[: shown.index("")])
    assert "\033[34m34 newton metres\033[0m" in text
    assert " ".join(re.sub(r"\033\[[\d;]*m", "", text).split()) == " ".join(SAID.split())


def test_marks_within_marks_are_each_shown() -> None:
    marks = [Mark(0, 9, "stated", "1", ""), Mark(4, 9, "quoted", "2", "")]
    assert painted("one three four", 0, 14, marks, colour=False) == "[one [three]1]2 four"
    assert painted("one three four", 0, 14, marks, colour=True) == "\033[1;32mone \033[0m\033[34mthree\033[0m four"


def test_rows_are_parted_at_blanks_and_never_within_a_mark() -> None:
    text = "aaa bbb ccc ddd eee fff"
    assert [text[start:end] for start, end in rows(text, 0, 23, [], 8)] == ["aaa bbb ", "ccc ddd ", "eee fff"]
    held = [Mark(4, 15, "stated", "1", "")]
    assert [text[start:end] for start, end in rows(text, 0, 23, held, 8)] == ["aaa ", "bbb ccc ddd ", "eee fff"]
    assert list(rows("", 0, 0, [], 8)) == []


@pytest.mark.parametrize(("word", "line"), [
    ("rotor", r"'rotor' is (short for|the part) disc  \(components/brakes\.toml:\d+\)"),
    ("bleed nipples", r"'bleed nipple' is the fastener bleed screw  \(components/brakes\.toml:\d+\)"),
    ("drained", r"'drained' is the action drain  \(actions\.toml:\d+\)"),
    ("foot pounds", r"'foot pound' is the unit pound-foot  \(units\.toml:\d+\)"),
    ("brain plug", r"'brain plug' is the mishearing drain-plug  \(mishearings\.toml:\d+\)"),
    ("torque wrench", r"'torque wrench' is a tool and no part  \(tools\.toml:\d+\)"),
])  # fmt: skip
def test_a_word_is_told_with_the_file_and_line_that_say_so(word: str, line: str) -> None:
    assert any(re.fullmatch(line, told) for told in word_lines(word, 5))


def test_longer_phrases_are_cut_off_at_the_limit() -> None:
    told = list(word_lines("caliper", 5))
    assert len([line for line in told if line.startswith("  ")]) == 6
    assert re.fullmatch(r"  and \d+ more phrases", told[-1])


def test_an_unknown_word_is_one_line() -> None:
    with pytest.raises(UnusableInput, match="no rule file has 'grombler'"):
        list(word_lines("grombler", 5))


def test_files_are_listed_with_those_of_ones_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "materials.toml").write_text('[[material]]\nid = "goop"\nsaid = "green goop, gloop"\n', "utf-8")
    monkeypatch.setenv("SAIDSPEC_WORDS", str(tmp_path))
    told = list(file_lines())
    own = tmp_path / "materials.toml"
    assert f"     2  materials                what a job uses up that is no part  ({own})" in told
    assert told[-1] == f"your own words: {tmp_path}"
    assert list(word_lines("gloop", 5)) == [f"'gloop' is the material goop  ({tmp_path / 'materials.toml'}:3)"]


def test_the_command_shows_a_note_in_brackets_where_it_is_no_terminal(tmp_path: Path) -> None:
    note = tmp_path / "n.txt"
    note.write_text(SAID, "utf-8")
    shown = CliRunner().invoke(app, ["words", "show", str(note)])
    assert shown.exit_code == 0
    assert "[34 newton metres]" in shown.output
    assert "\033" not in shown.output
