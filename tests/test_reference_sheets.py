"""Reference sheets: TOML and CSV, and every error with its file, its entry and line, and what to write instead."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from saidspec.model import Sheet, UnusableInput
from saidspec.reference.applicability import applies, unknown_options
from saidspec.reference.sheets import load_sheet, read_sheet

GOOD = """\
[vehicle]
name = "Hallam Drover"
year = 2012
options = ["2.0 diesel", "ventilated discs"]
odometer_unit = "km"
volume_system = "imperial"

[[spec]]
component = "front caliper bracket bolt"
kind = "torque"
value = "107 N*m"
tolerance = "10 %"
only = "ventilated discs"
source = "workshop manual, brakes, sheet 12"

[[spec]]
component = "front brake pad set"
kind = "part_number"
value = "KD-3318-F"
replaces = ["KD-3318-E", "KD-3318-D"]
source = "parts list"
"""


def written(folder: Path, text: str, name: str = "drover.toml") -> Path:
    path = folder / name
    path.write_text(text, "utf-8")
    return path


def problems_of(folder: Path, text: str, name: str = "drover.toml") -> list[str]:
    path = written(folder, text, name)
    return [problem.replace(str(path), name) for problem in read_sheet(path)[1]]


def test_reads_a_sheet(tmp_path: Path) -> None:
    sheet = load_sheet(written(tmp_path, GOOD))
    assert (sheet.vehicle.name, sheet.vehicle.year, sheet.vehicle.volume_system) == ("Hallam Drover", 2012, "imperial")
    bolt, pads = sheet.specifications
    assert (bolt.value, bolt.unit, bolt.tolerance, bolt.tolerance_unit) == (Decimal(107), "N*m", Decimal(10), "%")
    assert (bolt.only, bolt.place) == ("ventilated discs", "entry 1, line 8")
    assert (pads.code, pads.replaces) == ("KD-3318-F", ("KD-3318-E", "KD-3318-D"))


SPEC = '[vehicle]\nname = "X"\n[[spec]]\ncomponent = "drain plug"\nkind = "torque"\nvalue = "34 N*m"\nsource = "m"\n'
WRONG = [
    (SPEC.replace("34 N*m", "34 N*n"), "drover.toml: entry 1, line 6: unknown unit 'N*n'; did you mean N*m?"),
    (SPEC.replace("component", "componnt"),
     "drover.toml: entry 1, line 4: unknown key 'componnt'; did you mean component?"),
    (SPEC.replace("component", "componnt"),
     "drover.toml: entry 1, line 3: 'component' is missing; write component = \"…\""),
    (SPEC.replace('"torque"', '"torqe"'), "drover.toml: entry 1, line 5: unknown kind 'torqe'; did you mean torque?"),
    (SPEC.replace('"torque"', '"weight"'),
     "drover.toml: entry 1, line 5: unknown kind 'weight'; known are torque, volume, size, part_number, fluid, "
     "measurement, interval"),
    (SPEC.replace('"34 N*m"', "34"), "drover.toml: entry 1, line 6: value must be a text in quotes, as value = \"34\""),
    (SPEC.replace('"34 N*m"', '""'),
     "drover.toml: entry 1, line 6: value is empty; write value = \"…\" or leave the line out"),
    (SPEC + 'tolerance = "5 mm"\n',
     "drover.toml: entry 1, line 8: tolerance '5 mm' is not in a unit of the value; did you mean N*m?"),
    (SPEC + 'replaces = ["A"]\n',
     "drover.toml: entry 1, line 8: replaces belongs to a part_number, not to a torque; leave it out"),
    (SPEC.replace('"torque"', '"volume"').replace("N*m", "L") + 'role = "capcity"\n',
     "drover.toml: entry 1, line 8: unknown role 'capcity' of a volume; did you mean capacity?"),
    (SPEC.replace('name = "X"', 'nmae = "X"'), "drover.toml: [vehicle]: unknown key 'nmae'; did you mean name?"),
    (SPEC.replace('name = "X"', 'year = "2012"'), "drover.toml: [vehicle]: name is missing; write name = \"…\""),
    (SPEC.replace('name = "X"', 'name = "X"\nodometer_unit = "furlong"'),
     "drover.toml: [vehicle]: odometer_unit must be \"km\", \"mi\" or \"hour\", not 'furlong'"),
    (SPEC.replace("[vehicle]\nname = \"X\"\n", ""),
     "drover.toml: [vehicle]: write a [vehicle] table with at least name = \"…\""),
    ('[vehicle]\nname = "X"\n', "drover.toml: no [[spec]] entry; write at least one"),
    (SPEC + SPEC.partition("[[spec]]")[1] + SPEC.partition("[[spec]]")[2],
     "drover.toml: entry 2, line 8: the same as entry 1, line 3 (drain plug, torque); remove one"),
    (SPEC.replace('"torque"', '"measurement"').replace("34 N*m", "min 3 mm") + 'tolerance = "1 mm"\n',
     "drover.toml: entry 1, line 8: a limit or a range stands as it is and has no tolerance; leave the line out"),
    (SPEC.replace('"torque"', '"measurement"').replace("34 N*m", "90 degC") + 'tolerance = "5 %"\n',
     "drover.toml: entry 1, line 8: a percentage of a temperature depends on its scale; "
     "write the tolerance in degrees"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "problem"), WRONG, ids=[problem for _, problem in WRONG])
def test_an_error_names_its_place_and_what_to_write(tmp_path: Path, text: str, problem: str) -> None:
    assert problem in problems_of(tmp_path, text)


def test_a_wrong_entry_keeps_the_others_from_nothing(tmp_path: Path) -> None:
    sheet, problems = read_sheet(written(tmp_path, GOOD.replace("107 N*m", "107 N*n")))
    assert [spec.component for spec in sheet.specifications] == ["front brake pad set"]
    assert len(problems) == 1


def test_loading_a_sheet_with_problems_tells_the_first_and_how_many_more(tmp_path: Path) -> None:
    text = GOOD.replace("107 N*m", "107 N*n").replace('kind = "part_number"', 'kind = "number"')
    with pytest.raises(UnusableInput, match=r"unknown unit 'N\*n'; did you mean N\*m\? \(and 1 more; "):
        load_sheet(written(tmp_path, text))


@pytest.mark.parametrize(("name", "data", "why"), [
    ("x.toml", b"[vehicle\n", "not valid TOML"),
    ("x.toml", b"\xff\xfe", "byte 0 is not UTF-8; save the sheet as UTF-8"),
    ("x.txt", b"hello", "is a .toml or a .csv file"),
    ("x.toml", b'[vehicle]\nname="a"\n[spec]\ncomponent="b"\n', r"begins with \[\[spec\]\] in double brackets"),
    ("x.csv", b"", "the sheet is empty; its first line must be component,kind,value"),
])  # fmt: skip
def test_a_file_that_is_no_sheet(tmp_path: Path, name: str, data: bytes, why: str) -> None:
    (tmp_path / name).write_bytes(data)
    with pytest.raises(UnusableInput, match=why):
        load_sheet(tmp_path / name)


def test_no_such_sheet_and_a_folder(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput, match="no such reference sheet"):
        load_sheet(tmp_path / "none.toml")
    with pytest.raises(UnusableInput, match="is a folder"):
        load_sheet(tmp_path)


CSV = """\
component,kind,value,role,tolerance,only,replaces,source,vehicle,year,options,odometer_unit
front caliper bracket bolt,torque,107 N*m,,10 %,ventilated discs,,"manual, brakes",Hallam Drover,2012,OPTIONS,km
front brake pad set,part_number,KD-3318-F,,,,KD-3318-E|KD-3318-D,parts list,,,,
engine oil,volume,4.3 L,capacity,,,,handbook,,,,
""".replace("OPTIONS", "2.0 diesel|ventilated discs")


@pytest.mark.parametrize("text", [CSV, "\ufeff" + CSV, CSV.replace("\n", "\r\n")])
def test_reads_csv_as_a_spreadsheet_writes_it(tmp_path: Path, text: str) -> None:
    (tmp_path / "drover.csv").write_bytes(text.encode())
    sheet = load_sheet(tmp_path / "drover.csv")
    assert sheet.vehicle.name == "Hallam Drover"
    assert sheet.vehicle.options == ("2.0 diesel", "ventilated discs")
    assert [spec.component for spec in sheet.specifications] == [
        "front caliper bracket bolt", "front brake pad set", "engine oil"]
    assert sheet.specifications[1].replaces == ("KD-3318-E", "KD-3318-D")
    assert sheet.specifications[2].place == "line 4"


def test_reads_csv_with_semicolons(tmp_path: Path) -> None:
    text = "component;kind;value;source\nengine oil;volume;4.3 L;handbook, page 3\n"
    sheet = load_sheet(written(tmp_path, text, "drover.csv"))
    assert sheet.specifications[0].source == "handbook, page 3"
    assert sheet.vehicle.name == "drover"


CSV_WRONG = [
    ("componet,kind,value,source\n", "drover.csv: line 1: unknown column 'componet'; did you mean component?"),
    ("component,kind,value\n",
     "drover.csv: line 1: column 'source' is missing; the header needs component, kind, value, source"),
    ("component,kind,kind,value,source\n", "drover.csv: line 1: column 'kind' stands 2 times; keep one"),
    ("component,kind,value,source,\n", "drover.csv: line 1: column 5 has no name; name it or remove it"),
    ("component,kind,value,source\noil,volume,4 N*m,m\n",
     "drover.csv: line 2: a volume cannot be in N*m; write for example 4.3 L"),
    ("component,kind,value,source\noil,volume,4 L,m,extra\n",
     "drover.csv: line 2: 5 cells under 4 columns; put a value that holds ',' in double quotes"),
    ("component,kind,value,source,vehicle\noil,volume,4 L,m,A\nplug,torque,9 N*m,m,B\n",
     "drover.csv: line 3: vehicle 'B' is not 'A' of line 2; a sheet is one vehicle"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "problem"), CSV_WRONG, ids=[problem for _, problem in CSV_WRONG])
def test_csv_errors_name_the_line(tmp_path: Path, text: str, problem: str) -> None:
    assert problem in problems_of(tmp_path, text, "drover.csv")


def sheet_with(tmp_path: Path, options: str) -> Sheet:
    return load_sheet(written(tmp_path, GOOD.replace('options = ["2.0 diesel", "ventilated discs"]', options)))


def test_only_is_held_against_the_options(tmp_path: Path) -> None:
    with_it = sheet_with(tmp_path, 'options = ["Ventilated  Discs"]')
    without = sheet_with(tmp_path, 'options = ["solid discs"]')
    unknown = sheet_with(tmp_path, "")
    assert applies(with_it.specifications[0], with_it.vehicle) is True
    assert applies(without.specifications[0], without.vehicle) is False
    assert applies(unknown.specifications[0], unknown.vehicle) is None
    assert applies(unknown.specifications[1], unknown.vehicle) is True
    assert unknown_options(without.specifications, without.vehicle) == ("ventilated discs",)
