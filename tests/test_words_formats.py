"""patterns/formats.toml: the package's own files are written as it says, and what is not written so is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from saidspec.extract.rules import load_rules
from saidspec.patterns import RuleFile, RuleSet, read_folder, rule_set
from saidspec.rule_formats import format_of, formats, troubles, usable
from saidspec.rule_values import instead, sample, wrong_value
from saidspec.toml_lines import lines_of
from saidspec.words.examples import CLAIMS, examples

FILES = rule_set().files
GRADES = "read as a code with its figures before names are looked for, and the code is a shorter one"
OTHER = "another finding's longer phrase holds its words"
KNOWN = {  # examples of the package that do not hold, each with its reason
    "upstream lambda sensor reads lazy": "the component is read with the word that narrows it",
    "the zip-ties had gone brittle": "a hyphen before a plural parts the words",
    "there is a snap ring behind the bearing": "joined to the bearing",
    "new crush washer on the sump plug": "joined: the washer of the plug",
    "crank seal has a bit of a weep": OTHER,
    "the rear pads are getting thin": OTHER,
    "front bearing is a bit rough": OTHER,
    "coolant level was a bit low": OTHER,
    "new disc runs true": OTHER,
    "low viscosity dot four for the abs": GRADES,
    "super dot four in the track car": GRADES,
    "drained the break-in oil": "taken for the brake",
    "ma two so the clutch is happy": "its figure is no part of the name as read",
    "a quart of fc-w": "a hyphen parts the name",
    "five weight fork oil": GRADES,
    "ten weight in both legs": GRADES,
    "fifteen weight fork oil": GRADES,
    "twenty weight fork oil": GRADES,
    "a gc-lb rated grease": "a hyphen parts the name",
    "filled it with e five": "its figure is no part of the name as read",
    "e ten has eaten the hose": "its figure is no part of the name as read",
    "hundred to one in that outboard": "a ratio is known as no fact",
    "mixed at fifty to one": "a ratio is known as no fact",
    "forty to one mix": "a ratio is known as no fact",
    "thirty two to one": "a ratio is known as no fact",
    "old one runs twenty five to one": "a ratio is known as no fact",
}
SHOWN = [
    pytest.param(table, entry, example, text, id=f"{table}: {text}",
                 marks=[pytest.mark.xfail(reason=KNOWN[text], strict=True)] if text in KNOWN else [])
    for file in FILES for _, table, entry, example, text in examples(file)
]  # fmt: skip


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_the_packages_files_are_written_as_their_format_says(file: RuleFile) -> None:
    assert [str(trouble) for trouble in troubles(file)] == []


@pytest.mark.parametrize(("table", "entry", "example", "text"), SHOWN)
def test_the_packages_examples_hold_what_they_show(table: str, entry: dict, example: dict, text: str) -> None:
    assert CLAIMS[table](text, entry, example, load_rules()) == ""


def test_there_are_examples_of_every_kind_that_can_be_tried() -> None:
    tables = {table for file in FILES for _, table, *_ in examples(file)}
    assert tables == set(CLAIMS) - {"shape", "position"}  # the package has no shapes; positions carry no examples


def test_every_format_is_one_of_a_file_of_the_package() -> None:
    used = {told.name for file in FILES if (told := format_of(file.name))}
    assert used == set(formats())


def test_lines_are_those_of_tables_entries_and_keys(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text('top = "x"\n[parts]\n"drain plug" = """\nmore = 3,\n[[no]]\n"""\n\n[[one]]\nid = "a"\n'
                    '[[one.example]]\ntext = "p"\n[[one]]\nid = "b"\n[[one.example]]\n[[one.example]]\ntext = "q"\n'
                    'side.left = "l"\n', "utf-8")  # fmt: skip
    lines = lines_of(path)
    assert lines[("top",)] == 1
    assert lines[("parts", "drain plug")] == 3
    assert ("no", 0) not in lines
    assert ("parts", "more") not in lines
    assert (lines[("one", 0)], lines[("one", 0, "id")]) == (8, 9)
    assert lines[("one", 0, "example", 0, "text")] == 11
    assert (lines[("one", 1)], lines[("one", 1, "example", 1, "text")]) == (12, 16)
    assert lines[("one", 1, "example", 1, "side", "left")] == 17


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_each_key_of_the_package_has_a_line_that_holds_it(file: RuleFile) -> None:
    text = file.path.read_text("utf-8").splitlines()
    lines = lines_of(file.path)
    for name, value in file.data.items():
        assert name in text[lines[(name,)] - 1]
        for at, entry in enumerate(value if isinstance(value, list) else ()):
            for key, each in entry.items():
                if not isinstance(each, list) or not isinstance(each[0], dict):
                    assert text[lines[(name, at, key)] - 1].startswith(key)
        for key in value if isinstance(value, dict) and file.name != "formats" else ():
            assert key in text[lines[(name, key)] - 1]


@pytest.mark.parametrize(("value", "kind"), [
    ("one, two", "forms"), ("watch", "ok | watch | act"), (0.5, "number"), (3, "number"), (3, "whole"), (True, "flag"),
    (["a", "b"], "texts"), ("a", "texts"), ("AA-9999(-A)", "picture"), ("kd-9999", "picture"), ("N*m", "unit"),
    ("torque", "dimension"), ("drain", "action"), ([1], "any"),
])  # fmt: skip
def test_right_values(value: object, kind: str) -> None:
    assert wrong_value("key", value, kind) == ""


@pytest.mark.parametrize(("value", "kind", "told"), [
    (["one", "two"], "forms", 'write key = "one, two"'), ("One, two", "forms", "capitals (One)"),
    (True, "number", "a number"), (1.5, "whole", "a whole number"), (1, "flag", "true or false"),
    ("act!", "ok | watch | act", "write 'act'"),
    ("Nm", "unit", "write 'N*m'"), ("drian", "action", "write 'drain'"), ("9999", "picture", "common numbers"),
    ("999-999", "picture", ""), ("A9", "picture", "at least four"), ("AA-9999(-A", "picture", "do not pair"),
    ("AA_9999", "picture", "holds '_'"), ("BK-9999", "picture", "holds 'B K'"), (7, "text", "must be a text"),
    (" ", "text", "is empty"),
])  # fmt: skip
def test_wrong_values_are_told_with_what_to_write(value: object, kind: str, told: str) -> None:
    message = wrong_value("key", value, kind)
    assert told in message
    assert bool(message) == bool(told)


def test_samples_are_right_values() -> None:
    kinds = {kind.removesuffix(", needed") for told in formats().values() for keys in (
        told.keys, *told.tables.values(), *told.entries.values()) for kind in keys.values()}  # fmt: skip
    for kind in kinds - {"any"}:
        value = sample(kind)
        made = {"true": True, "3": 3, "0.1": 0.1}.get(value, value.strip('"'))
        assert wrong_value("key", made, kind) == ""


def test_the_nearest_known_word_is_suggested_else_all() -> None:
    assert instead("mesures", ("parts", "measures")) == "write 'measures'"
    assert instead("zzz", ("parts", "measures")) == "known are parts, measures"


def test_what_cannot_be_used_is_left_out_and_told(tmp_path: Path) -> None:
    (tmp_path / "materials.toml").write_text(
        '[[material]]\nid = "a"\nsaid = "goop"\n[[material]]\nsaid = "x"\n[[material]]\nid = "c"\nsaid = "slime"\n',
        "utf-8")
    (tmp_path / "odd.toml").write_text("", "utf-8")
    files, problems = read_folder(tmp_path)
    kept = usable(RuleSet(tuple(files), tuple(problems)))
    assert [entry["id"] for entry in kept.entries("materials", "material")] == ["a", "c"]
    assert [problem.message.removeprefix(f"{tmp_path}/") for problem in kept.problems] == [
        'materials.toml:4: in [[material]] id is missing; write id = "…"; left out',
        "odd.toml:1: no rule file is called odd.toml; known are " + ", ".join(
            name for name, told in formats().items() if told.own) + "; left out",
    ]  # fmt: skip
    hollow = usable(RuleSet(tuple(files), ()), hollow=True)
    assert hollow.entries("materials", "material")[1] == {}
