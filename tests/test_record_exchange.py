"""Export and import of everything: byte for byte the same after a round trip, and described for other tools."""

from __future__ import annotations

import csv
import json
import sqlite3
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saidspec.model import Agreement, Flag, Quantity, Specification, UnusableInput, Vehicle
from saidspec.record.data_package import Form
from saidspec.record.decisions import decide_fact, decide_flag
from saidspec.record.exchange import export, import_
from saidspec.record.exchange_files import neutral, restored
from saidspec.record.place import open_record
from saidspec.record.sheets import put_flags, put_sheet
from saidspec.record.store import ingest
from saidspec.record.tables import as_markdown, tables
from saidspec.record.vehicles import add_vehicle
from tests.record_makers import BRAKES, all_rows, brakes, fact_of, note_of, reading_of, systems_of

ODD = 'Bolt "A", =SUM(A1)\ttab\n\'quoted\' – 17 mm\n@home +3 -5\nempty\x00nul\n'


def filled(path: Path) -> sqlite3.Connection:
    """A record with something in every table, and with characters that trouble spreadsheets."""
    conn = open_record(path)
    drover = add_vehicle(conn, Vehicle("=Hallam Drover", 2012, ("vented discs",), "km", "imperial"), also=("the van",))
    ingest(conn, brakes(), place="/notes/brakes.txt", vehicle=drover, candidates=systems_of)
    ingest(conn, brakes("Evening.\n" + BRAKES), place="/notes/brakes.txt", vehicle=drover, candidates=systems_of)
    facts = [fact_of(ODD, 1, "torque", "-5", value="-5.50", unit="", component="=cmd|'/c calc'!A0"),
             fact_of(ODD, 2, "material", "@home", code="'already"), fact_of(ODD, 3, "count", "+3", code="")]
    ingest(conn, reading_of(note_of(ODD, name="-odd.txt", day=None), facts))
    bolt = Specification("bolt", "torque", "sheet 1", Decimal("107.0"), unit="N*m", replaces=("A-1",))
    put_sheet(conn, drover, [bolt], "/sheets/d.toml", "0" * 64)
    said = Quantity(Decimal(107), None, "N*m")
    put_flags(conn, drover, [Flag("differs", "wrong", "+ it differs", "bolt", "torque", 2, said, said)],
              [Agreement("bolt", "torque", 3, "bolt, sheet 1", "same words")])
    decide_fact(conn, 6, "corrected", {"value": Decimal("36"), "unit": None}, reason="=wrench", person="Wanda")
    decide_flag(conn, 1, "accepted", reason="fine")
    return conn


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.parametrize("form", ["jsonl", "csv"])
def test_export_import_export_is_the_same_bytes(tmp_path: Path, form: Form) -> None:
    first = filled(tmp_path / "a.db")
    export(first, tmp_path / "one", form)
    second = open_record(tmp_path / "b.db")
    counts = import_(second, tmp_path / "one")
    export(second, tmp_path / "two", form)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")
    assert all(counts[table.name] > 0 for table in tables() if table.name not in ("words", "unclaimed", "problems"))
    data = {name: rows for name, rows in all_rows(first).items() if name != "_sqlite_migrations"}
    assert {name: all_rows(second)[name] for name in data} == data
    for index in ("facts_fts", "utterances_fts", "specifications_fts"):
        second.execute(f"INSERT INTO {index} ({index}) VALUES ('integrity-check')")
    assert second.execute("SELECT count(*) FROM facts_fts WHERE facts_fts MATCH 'caliper'").fetchone()[0] == 5
    ids = [conn.execute("INSERT INTO notes (name, sha256, format) VALUES ('n', 'n', 'text')").lastrowid
           for conn in (first, second)]
    assert ids[0] == ids[1]  # numbers once given are not given again in the copy either


def test_no_cell_of_the_csv_is_a_formula(tmp_path: Path) -> None:
    export(filled(tmp_path / "a.db"), tmp_path / "out", "csv")
    texts = {table.name: {column.name for column in table.columns if column.type == "TEXT"} for table in tables()}
    seen = 0
    for table in tables():
        with (tmp_path / "out" / f"{table.name}.csv").open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                for name in texts[table.name]:
                    seen += row[name].startswith("'")
                    assert not row[name].lstrip().startswith(("=", "+", "-", "@"))
    assert seen >= 8


@given(st.text())
def test_a_neutral_cell_gives_its_text_back(text: str) -> None:
    assert restored(neutral(text)) == text
    assert not neutral(text).lstrip()[:1] or neutral(text).lstrip()[0] not in "=+-@＝＋－＠"


def test_the_description_names_every_column_and_what_it_refers_to(tmp_path: Path) -> None:
    export(filled(tmp_path / "a.db"), tmp_path / "out", "csv")
    told = json.loads((tmp_path / "out" / "datapackage.json").read_text("utf-8"))
    for resource in told["resources"]:
        with (tmp_path / "out" / resource["path"]).open(encoding="utf-8", newline="") as file:
            assert next(csv.reader(file)) == [field["name"] for field in resource["schema"]["fields"]]
        assert {field["type"] for field in resource["schema"]["fields"]} <= {"integer", "number", "string"}
    facts = next(resource for resource in told["resources"] if resource["name"] == "facts")
    assert {"fields": "replaced_by", "reference": {"resource": "", "fields": "id"}} in facts["schema"]["foreignKeys"]
    assert facts["schema"]["primaryKey"] == ["id"]
    names = [resource["name"] for resource in told["resources"]]
    for resource in told["resources"]:
        for key in resource["schema"].get("foreignKeys", ()):
            there = key["reference"]["resource"] or resource["name"]
            assert names.index(there) <= names.index(resource["name"])


def cut_a_cell(text: str) -> str:
    lines = text.split("\r\n")
    return "\r\n".join([lines[0], lines[1].rsplit(",", 1)[0], *lines[2:]])


@pytest.mark.parametrize(("name", "change", "says"), [
    ("facts.csv", lambda text: text.replace("confidence", "konfidence", 1), "facts.csv, line 1: has other columns"),
    ("facts.csv", cut_a_cell, r"facts.csv, line 2: has \d+ cells"),
    ("facts.csv", lambda text: text.replace("\r\n1,", "\r\none,", 1), 'line 2: "one" in column id is no number'),
    ("notes.csv", lambda text: text.split("\r\n")[0] + "\r\n", "refers to a row"),
    ("facts.csv", lambda text: text + text.split("\r\n", 1)[1], "does not fit into the record"),
    ("datapackage.json", lambda text: text.replace('"version": 1', '"version": 99'), "newer saidspec"),
    ("datapackage.json", lambda text: text[1:], "does not describe an export"),
])  # fmt: skip
def test_what_does_not_fit_is_named_and_nothing_is_imported(
    tmp_path: Path, name: str, change: Callable[[str], str], says: str,
) -> None:  # fmt: skip
    export(filled(tmp_path / "a.db"), tmp_path / "out", "csv")
    path = tmp_path / "out" / name
    path.write_bytes(change(path.read_bytes().decode()).encode())
    conn = open_record(tmp_path / "b.db")
    with pytest.raises(UnusableInput, match=says):
        import_(conn, tmp_path / "out")
    assert not any(rows for table, rows in all_rows(conn).items() if table != "_sqlite_migrations")


def test_only_an_empty_record_is_imported_into_and_only_an_own_folder_written(tmp_path: Path) -> None:
    conn = filled(tmp_path / "a.db")
    export(conn, tmp_path / "out", "jsonl")
    export(conn, tmp_path / "out", "jsonl")
    with pytest.raises(UnusableInput, match="holds vehicles already"):
        import_(conn, tmp_path / "out")
    (tmp_path / "out" / "letter.txt").write_text("mine")
    with pytest.raises(UnusableInput, match=r"other files \(letter.txt\)"):
        export(conn, tmp_path / "out", "jsonl")
    with pytest.raises(UnusableInput, match="is no export"):
        import_(open_record(tmp_path / "b.db"), tmp_path)


def test_every_table_is_described() -> None:
    told = as_markdown()
    assert all(f"### {table.name}" in told and table.about for table in tables())
    assert [table.name for table in tables()] == [
        "vehicles", "vehicle_names", "notes", "places", "readings", "words", "utterances", "jobs", "facts", "unclaimed",
        "problems", "sheets", "specifications", "flags", "agreements", "decisions"]
