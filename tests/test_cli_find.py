"""`saidspec find`, `history` and `decide` on a small record."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.record_commands import Commands

NOTE = "odometer 94200\ncaliper bracket bolt at 107 newton metres\nrear drain plug at 31 newton metres\n"


@pytest.fixture
def saidspec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Commands:
    told = Commands(tmp_path / "record.db", monkeypatch, capsys)
    (tmp_path / "may.txt").write_text(NOTE)
    told.run("vehicle", "add", "Hallam Drover")
    told.run("ingest", tmp_path / "may.txt", "--date", "2026-05-03", "--vehicle", "Hallam Drover")
    return told


def test_an_answer_shows_what_when_where_and_the_words(saidspec: Commands) -> None:
    assert saidspec.run("find", "rear", "drain", "plug", "torque", "--limit", "1") == 0
    assert saidspec.out.splitlines()[:3] == [
        "rear drain plug: 31 N·m (22.9 lbf·ft)",
        "  3 May 2026, 94,200 km (58,533 mi), Hallam Drover, not confirmed  [fact 3]",
        '  "rear drain plug at 31 newton metres"  (may.txt)']
    assert "Passages:" in saidspec.out
    assert "\x1b" not in saidspec.out


def test_json_has_the_fields_of_the_contract_and_the_place(saidspec: Commands) -> None:
    assert saidspec.run("find", "caliper bracket torque", "--format", "json") == 0
    told = json.loads(saidspec.out)
    assert told["understood"]["kind"] == "torque"
    answer = told["answers"][0]
    assert (answer["component"], answer["value"], answer["unit"], answer["vehicle"], answer["date"], answer["odometer"],
            answer["confirmed"]) == ("caliper bracket bolt", 107, "N*m", "Hallam Drover", "2026-05-03", 94200, False)
    assert NOTE[answer["start"] : answer["end"]] == answer["quote"]


def test_what_a_person_decides_shows(saidspec: Commands) -> None:
    given = ("--value", "35", "--reason", "read off the wrench", "--by", "Wanda")
    assert saidspec.run("decide", "correct", "3", *given) == 0
    assert saidspec.out == "fact 3: corrected: rear drain plug: 35 N·m (25.8 lbf·ft)\n"
    saidspec.run("find", "rear drain plug torque", "--limit", "1")
    assert "corrected  [fact 3]" in saidspec.out
    saidspec.run("decide", "confirm", "2")
    saidspec.run("decide", "list")
    assert saidspec.out.splitlines()[0].endswith(
        'corrected by Wanda, fact 3, "rear drain plug at 31 newton metres" (may.txt): read off the wrench')
    assert "confirmed, fact 2" in saidspec.out
    saidspec.run("decide", "reject", "2")
    saidspec.run("history", "caliper")
    assert saidspec.out == "nothing found\n"
    saidspec.run("decide", "undo", "3")
    saidspec.run("find", "rear drain plug torque", "--limit", "1")
    assert "31 N·m" in saidspec.out


@pytest.mark.parametrize(("arguments", "says"), [
    (("decide", "confirm", "99"), "there is no fact 99"),
    (("decide", "correct", "3"), "what of fact 3 is to be corrected"),
    (("decide", "correct", "3", "--value", "a lot"), '"a lot" is no number'),
    (("decide", "correct", "3", "--assertion", "true"), '"true" is no assertion'),
    (("decide", "correct", "3", "--unit", "furlong"), '"furlong" is no unit of a torque'),
    (("decide", "correct", "3", "--role", "banana"), "a torque has no role"),
    (("decide", "done", "3"), "fact 3 is a torque and nothing to do"),
    (("decide", "done", "3", "--date", "monday"), "write it as YYYY-MM-DD"),
    (("decide", "accept", "9", "--reason", "x"), "there is no flag 9"),
    (("find", "drain", "--format", "yaml"), '"yaml" is no format'),
    (("find", "drain", "--vehicle", "Hallam Drovr"), "name one of Hallam Drover"),
    (("history",), "whose history"),
])  # fmt: skip
def test_unusable_orders_are_answered_in_one_line(saidspec: Commands, arguments: tuple[str, ...], says: str) -> None:
    assert saidspec.run(*arguments) == 2
    assert says in saidspec.err
    assert saidspec.err.count("\n") == 1


def test_near_answers_say_what_they_do_not_fit(saidspec: Commands) -> None:
    assert saidspec.run("find", "front drain plug torque") == 0
    assert saidspec.out.splitlines()[:3] == [
        'Nothing fits "front"; without it:', "", "rear drain plug: 31 N·m (22.9 lbf·ft)"]


def test_long_words_are_cut_around_what_is_meant() -> None:
    from saidspec.cli.find import window

    text = "word " * 100 + "MEANT here" + " more" * 100
    start = text.index("MEANT")
    told = window(text, start, start + 10)
    assert told.startswith("… word word")
    assert told.endswith("more more …")
    assert "MEANT here" in told
    assert len(told) < 180
    assert window("as it is", 0, 2) == "as it is"


def test_nothing_found_is_said_with_status_1(saidspec: Commands) -> None:
    assert saidspec.run("find", "propeller") == 1
    assert saidspec.out == "nothing found\n"


def test_no_record_yet_is_said(saidspec: Commands, tmp_path: Path) -> None:
    assert saidspec.run("find", "plug", "--record", tmp_path / "none.db") == 2
    assert "there is no record at" in saidspec.err
    assert not (tmp_path / "none.db").exists()


def test_history_is_grouped_by_day_with_the_reading(saidspec: Commands, tmp_path: Path) -> None:
    (tmp_path / "june.txt").write_text("odometer 95000\nrear drain plug at 33 newton metres\n")
    saidspec.run("ingest", tmp_path / "june.txt", "--date", "2026-06-07", "--vehicle", "Hallam Drover")
    assert saidspec.run("history", "drain plug") == 0
    assert saidspec.out.splitlines() == [
        "3 May 2026, Hallam Drover, 94,200 km (58,533 mi)  (may.txt)",
        "  rear drain plug: 31 N·m (22.9 lbf·ft)  [fact 3]",
        "7 June 2026, Hallam Drover, 95,000 km (59,030 mi)  (june.txt)",
        "  rear drain plug: 33 N·m (24.3 lbf·ft)  [fact 5]"]
    saidspec.run("history", "--vehicle", "Hallam Drover", "--format", "json")
    assert len(json.loads(saidspec.out)["entries"]) == 5
