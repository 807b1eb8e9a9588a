"""The store: idempotent, one note at a time, all of a note or none of it."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from saidspec.model import Problem, Reading, Transcript, Unclaimed, UnusableInput, Utterance, Vehicle, Word
from saidspec.patterns import rule_set
from saidspec.record.decisions import decide_fact, roles_of
from saidspec.record.place import open_record, open_to_read, record_path
from saidspec.record.queries import entries_of
from saidspec.record.store import ingest
from saidspec.record.vehicles import add_vehicle, assign
from saidspec.report.lines import decided
from tests.record_makers import BRAKES, all_rows, brakes, fact_of, note_of, reading_of, systems_of
from tests.report_samples import workshop


@pytest.fixture
def conn(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    record = open_record(tmp_path / "record.db")
    yield record
    record.execute("INSERT INTO facts_fts (facts_fts) VALUES ('integrity-check')")
    record.execute("INSERT INTO utterances_fts (utterances_fts) VALUES ('integrity-check')")
    assert record.execute("PRAGMA foreign_key_check").fetchall() == []
    assert record.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    record.close()


def values(conn: sqlite3.Connection, sql: str, *arguments: object) -> list[object]:
    return [row[0] for row in conn.execute(sql, arguments)]


def test_a_record_has_its_tables_recorded_and_is_strict(conn: sqlite3.Connection) -> None:
    assert values(conn, "SELECT name FROM _sqlite_migrations") == ["001_the_record"]
    assert values(conn, "PRAGMA journal_mode") == ["wal"]
    assert values(conn, "PRAGMA foreign_keys") == [1]
    with pytest.raises(sqlite3.IntegrityError, match="cannot store TEXT"):
        conn.execute("INSERT INTO vehicles (id, name, year) VALUES (1, 'x', 'last year')")


def test_a_note_is_stored_whole(conn: sqlite3.Connection) -> None:
    reading = brakes()
    drover = add_vehicle(conn, Vehicle("Hallam Drover"))
    done = ingest(conn, reading, vehicle=drover, candidates=systems_of)
    assert (done.outcome, done.facts, done.vehicle_unknown) == ("new", 8, 0)
    rows = conn.execute("SELECT * FROM facts ORDER BY number").fetchall()
    assert [row["quote"] for row in rows] == [BRAKES[row["start"] : row["end"]] for row in rows]
    assert [row["slot"] for row in rows] == [0, 0, 1, 0, 0, 0, 0, 0]
    assert rows[4]["replaced_by"] == rows[5]["id"]
    assert {row["vehicle"] for row in rows} == {drover}
    assert values(conn, "SELECT text FROM utterances ORDER BY position") == BRAKES.splitlines()
    jobs = conn.execute("SELECT * FROM jobs").fetchall()
    assert [(job["system"], job["day"], job["odometer"], job["odometer_unit"]) for job in jobs] == [
        ("brakes", "2026-05-03", "94200", "km")]


def test_numbers_stay_digit_for_digit(conn: sqlite3.Connection) -> None:
    text = "1.740 quarts, 1E3 and 100"
    facts = [fact_of(text, 1, "volume", "1.740", value="1.740", unit="qt"),
             fact_of(text, 2, "volume", "1E3", value="1E3", unit="mL"), fact_of(text, 3, "count", "100", value=100)]
    ingest(conn, reading_of(note_of(text), facts))
    assert values(conn, "SELECT value FROM facts ORDER BY number") == ["1.740", "1000", "100"]
    assert values(conn, "SELECT value_real FROM facts ORDER BY number") == [1.74, 1000.0, 100.0]


def test_the_same_note_again_touches_no_row(conn: sqlite3.Connection) -> None:
    drover = add_vehicle(conn, Vehicle("Hallam Drover"))
    text = BRAKES + "Cost me forty two."
    reading = Reading(note_of(text, problems=(Problem("bad byte", 3, 4),)), brakes(text).facts,
                      (Unclaimed("forty two", text.index("forty two"), len(text) - 1),), (Problem("odd", 1, 2),))
    ingest(conn, reading, place="/notes/a.txt", vehicle=drover, candidates=systems_of)
    before, changes = all_rows(conn), conn.total_changes
    done = ingest(conn, reading, place="/notes/a.txt", vehicle=drover, candidates=systems_of)
    assert done.outcome == "unchanged"
    assert conn.total_changes == changes
    assert all_rows(conn) == before
    assert len(before["problems"]) == 2
    assert len(before["unclaimed"]) == 1


def test_an_edited_note_changes_its_own_rows_only(conn: sqlite3.Connection) -> None:
    drover = add_vehicle(conn, Vehicle("Hallam Drover"))
    other = "Oil drain plug on the Hallam Drover at 31 newton metres."
    ingest(conn, reading_of(note_of(other, name="oil.txt"), [
        fact_of(other, 1, "torque", "31 newton metres", value=31, unit="N*m", component="oil drain plug")]),
        place="/notes/oil.txt", vehicle=drover, candidates=systems_of)
    first = ingest(conn, brakes(), place="/notes/b.txt", vehicle=drover, candidates=systems_of)
    before = all_rows(conn)
    edited = "Evening, two of us.\n" + BRAKES.replace("35.", "36.")
    reading = brakes(BRAKES)
    facts = [fact_of(edited, fact.id, fact.kind, fact.provenance.quote.replace("35", "36"), value=fact.value,
                     unit=fact.unit, component=fact.component, assertion=fact.assertion, action=fact.action,
                     role=fact.role, code=fact.code, replaced_by=fact.replaced_by) for fact in reading.facts]
    done = ingest(conn, reading_of(note_of(edited, name="front-brakes.txt"), facts), place="/notes/b.txt",
                  vehicle=drover, candidates=systems_of)
    after = all_rows(conn)
    assert (done.note, done.outcome) == (first.note, "changed")
    for table, column in (("facts", 1), ("utterances", 1), ("readings", 1), ("notes", 0)):
        theirs = [[row for row in rows[table] if row[column] != first.note] for rows in (before, after)]
        assert theirs[0] == theirs[1]
        assert len(theirs[0]) == 1
    assert after["jobs"] == before["jobs"]
    ids = [[row[0] for row in rows["facts"] if row[1] == first.note] for rows in (before, after)]
    assert len(set(ids[0]) & set(ids[1])) == 7  # all but the edited one are the rows they were
    assert values(conn, "SELECT quote FROM facts WHERE note = ? AND quote LIKE '3%' ORDER BY start", first.note) == [
        "31", "36"]
    assert values(conn, "SELECT current FROM readings WHERE note = ? ORDER BY id", first.note) == [0, 1]


def test_an_edit_taken_back_brings_the_former_text_back(conn: sqlite3.Connection) -> None:
    ingest(conn, brakes(), place="/b.txt")
    before = all_rows(conn)["facts"]
    ingest(conn, brakes("Morning.\n" + BRAKES), place="/b.txt")
    assert ingest(conn, brakes(), place="/b.txt").outcome == "changed"
    assert all_rows(conn)["facts"] == before
    assert values(conn, "SELECT count(*) FROM readings") == [2]


def test_an_older_text_found_elsewhere_does_not_put_the_newer_back(conn: sqlite3.Connection) -> None:
    ingest(conn, brakes(), place="/b.txt")
    ingest(conn, brakes("Morning.\n" + BRAKES), place="/b.txt")
    before = all_rows(conn)
    assert ingest(conn, brakes(), place="/backup/b.txt").outcome == "superseded"
    assert all_rows(conn) == before


def test_another_note_saved_over_a_file_is_another_note(conn: sqlite3.Connection) -> None:
    first = ingest(conn, brakes(), place="/dictation.txt")
    text = "Trailer bearings repacked, nothing else to tell."
    second = ingest(conn, reading_of(note_of(text)), place="/dictation.txt")
    assert second.note != first.note
    assert values(conn, "SELECT count(*) FROM facts WHERE note = ?", first.note) == [8]


def test_a_copy_is_the_same_note_and_an_edited_copy_another_one(conn: sqlite3.Connection) -> None:
    first = ingest(conn, brakes(), place="/a.txt")
    assert ingest(conn, brakes(), place="/b.txt").note == first.note
    assert ingest(conn, brakes(BRAKES + "More.\n"), place="/b.txt").note != first.note
    assert ingest(conn, brakes(), place="/a.txt").outcome == "unchanged"


def test_better_rules_update_a_row_and_keep_what_was_decided(conn: sqlite3.Connection) -> None:
    reading = brakes()
    ingest(conn, reading, candidates=systems_of)
    torque = values(conn, "SELECT id FROM facts WHERE quote = '35'")[0]
    assert isinstance(torque, int)
    decide_fact(conn, torque, "corrected", {"value": Decimal("38")}, reason="read off the wrench")
    better = [fact.but(value=Decimal(53), component="caliper pin bolt") if fact.id == 6 else fact
              for fact in reading.facts]
    ingest(conn, Reading(reading.note, tuple(better)), candidates=systems_of)
    row = conn.execute("SELECT * FROM facts_now WHERE id = ?", (torque,)).fetchone()
    assert (row["value"], row["component"], row["standing"], row["reason"]) == (
        "38", "caliper slide pin bolt", "corrected", "read off the wrench")
    assert values(conn, "SELECT value FROM facts WHERE id = ?", torque) == ["53"]


def test_a_wider_quote_with_the_same_value_is_the_same_row(conn: sqlite3.Connection) -> None:
    reading = brakes()
    ingest(conn, reading)
    ids = values(conn, "SELECT id FROM facts ORDER BY number")
    wider = [fact if fact.id != 6 else fact_of(BRAKES, 6, "torque", "scratch that, 35", value=35, unit="N*m",
                                               component=fact.component) for fact in reading.facts]
    ingest(conn, Reading(reading.note, tuple(wider)))
    assert values(conn, "SELECT id FROM facts ORDER BY number") == ids
    assert values(conn, "SELECT quote FROM facts WHERE number = 6") == ["scratch that, 35"]


def test_a_decision_outlives_a_fact_that_rules_lose_and_find_again(conn: sqlite3.Connection) -> None:
    reading = brakes()
    ingest(conn, reading)
    (torque,) = values(conn, "SELECT id FROM facts WHERE quote = '35'")
    assert isinstance(torque, int)
    decide_fact(conn, torque, "confirmed", person="Wanda")
    ingest(conn, Reading(reading.note, tuple(fact for fact in reading.facts if fact.id not in (5, 6))))
    assert values(conn, "SELECT fact FROM decisions") == [None]
    edited = "Evening.\n" + BRAKES
    ingest(conn, brakes(edited), place="/b.txt")
    assert values(conn, "SELECT fact FROM decisions") == [None]  # another note: it has no place in common
    ingest(conn, reading)
    assert values(conn, "SELECT standing FROM facts_now WHERE quote = '35' AND note = 1") == ["confirmed"]


def test_words_changed_under_a_decision_leave_it_without_a_fact(conn: sqlite3.Connection) -> None:
    ingest(conn, brakes(), place="/b.txt")
    (torque,) = values(conn, "SELECT id FROM facts WHERE quote = '35'")
    assert isinstance(torque, int)
    decide_fact(conn, torque, "confirmed")
    edited = BRAKES.replace("35.", "53.")
    other = fact_of(edited, 6, "torque", "53", value=53, unit="N*m")
    facts = [other if fact.id == 6 else fact for fact in brakes().facts]
    ingest(conn, reading_of(note_of(edited), facts), place="/b.txt")
    assert values(conn, "SELECT standing FROM facts_now WHERE quote = '53'") == ["unconfirmed"]
    assert values(conn, "SELECT quote FROM decisions WHERE fact IS NULL AND current = 1") == ["35"]


def heard(text: str, model: str, seconds: float) -> Reading:
    """A recording transcribed by some model: one utterance, a word a second."""
    words, start = [], 0
    for at, word in enumerate(text.split(" ")):
        words.append(Word(start, start + len(word), seconds + at, seconds + at + 0.9, 0.8))
        start += len(word) + 1
    note = note_of(text, name="memo.m4a", transcript=Transcript(model, "f" * 64, '{"beam": 5}', "[]"))
    said = Utterance(0, len(text), seconds, seconds + len(words), words=tuple(words))
    at = text.index("107")
    time = next(word.time for word in words if word.start == at)
    fact = fact_of(text, 1, "torque", "107 newton metres", value=107, unit="N*m", time=time)
    source = type(note.source)("memo.m4a", "a" * 64, "audio")
    return reading_of(type(note)(source, text, (said,), (), note.date, note.transcript), [fact])


def test_a_recording_heard_again_adds_a_reading_and_keeps_decisions(conn: sqlite3.Connection) -> None:
    ingest(conn, heard("bracket bolt 107 newton metres", "tiny", 3.0), place="/memo.m4a")
    decide_fact(conn, 1, "confirmed")
    done = ingest(conn, heard("the brackets bold at 107 newton metres then", "small", 2.0), place="/memo.m4a")
    assert done.note == 1
    assert [tuple(row) for row in conn.execute("SELECT model, current FROM readings ORDER BY id")] == [
        ("tiny", 0), ("small", 1)]
    assert values(conn, "SELECT count(*) FROM words GROUP BY reading ORDER BY reading") == [5, 8]
    assert [tuple(row) for row in conn.execute("SELECT id, standing, start FROM facts_now")] == [(1, "confirmed", 21)]


def test_a_chat_puts_each_fact_on_the_day_it_was_sent(conn: sqlite3.Connection) -> None:
    text = "oil at 4 litres\noil at 5 litres"
    said = (Utterance(0, 15, sent=datetime(2026, 3, 1, 9, 0)), Utterance(16, 31, sent=datetime(2026, 3, 2, 9, 0)))
    note = note_of(text)
    facts = [fact_of(text, at, "volume", f"{at + 3} litres", value=at + 3, unit="L", component="engine oil")
             for at in (1, 2)]
    ingest(conn, reading_of(type(note)(note.source, text, said, (), None), facts), candidates=systems_of)
    assert values(conn, "SELECT day FROM facts ORDER BY number") == ["2026-03-01", "2026-03-02"]
    assert values(conn, "SELECT count(*) FROM jobs") == [2]


def test_jobs_of_one_day_are_shared_between_notes_and_go_with_their_last_fact(conn: sqlite3.Connection) -> None:
    drover = add_vehicle(conn, Vehicle("Hallam Drover"))
    ingest(conn, brakes(), vehicle=drover, candidates=systems_of)
    text = "caliper bolt 40 newton metres at 94210 km"
    facts = [fact_of(text, 1, "torque", "40 newton metres", value=40, unit="N*m", component="caliper bolt"),
             fact_of(text, 2, "odometer", "94210 km", value=94210, unit="km")]
    ingest(conn, reading_of(note_of(text), facts), vehicle=drover, candidates=systems_of)
    assert [tuple(row) for row in conn.execute("SELECT system, odometer FROM jobs")] == [("brakes", "94210")]
    ingest(conn, reading_of(note_of(text)), vehicle=drover, candidates=systems_of)
    assert values(conn, "SELECT odometer FROM jobs") == ["94200"]
    ingest(conn, Reading(brakes().note, ()), vehicle=drover, candidates=systems_of)
    assert values(conn, "SELECT count(*) FROM jobs") == [0]


def test_a_note_without_a_vehicle_is_stored_and_can_be_assigned(conn: sqlite3.Connection) -> None:
    done = ingest(conn, brakes(), candidates=systems_of)
    assert done.vehicle_unknown == 5
    assert values(conn, "SELECT count(*) FROM facts WHERE vehicle IS NULL") == [8]
    marlow = add_vehicle(conn, Vehicle("Marlow Tipper"))
    assert assign(conn, done.note, marlow) == 8
    assert values(conn, "SELECT DISTINCT vehicle FROM facts") == [marlow]
    assert values(conn, "SELECT note FROM jobs") == [None]
    assert values(conn, "SELECT rowid FROM facts_fts WHERE facts_fts MATCH ?", f"vehicle : vehicle{marlow} AND pin")
    before = all_rows(conn)
    assert ingest(conn, brakes(), candidates=systems_of).outcome == "unchanged"
    assert all_rows(conn) == before
    with pytest.raises(UnusableInput, match="no note 99"):
        assign(conn, 99, marlow)


def test_unusable_places_are_answered_in_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(UnusableInput, match="is a folder"):
        open_record(tmp_path)
    (tmp_path / "letter.txt").write_text("Dear all, this is no database at all. " * 30)
    with pytest.raises(UnusableInput, match="not a database"):
        open_record(tmp_path / "letter.txt")
    sqlite3.connect(tmp_path / "other.db").execute("CREATE TABLE t (x)").connection.close()
    with pytest.raises(UnusableInput, match="another program"):
        open_record(tmp_path / "other.db")
    with pytest.raises(UnusableInput, match="no record at"):
        open_to_read(tmp_path / "none.db")
    record = open_record(tmp_path / "deep" / "new.db")
    record.execute("PRAGMA user_version = 99")
    record.close()
    with pytest.raises(UnusableInput, match="newer saidspec"):
        open_record(tmp_path / "deep" / "new.db")
    monkeypatch.setenv("SAIDSPEC_RECORD", str(tmp_path / "env.db"))
    assert record_path() == tmp_path / "env.db"
    assert record_path(tmp_path / "given.db") == tmp_path / "given.db"
    monkeypatch.delenv("SAIDSPEC_RECORD")
    assert record_path().name == "record.db"


def test_a_reader_cannot_write(tmp_path: Path) -> None:
    open_record(tmp_path / "r.db").close()
    with pytest.raises(sqlite3.OperationalError, match="readonly"):
        open_to_read(tmp_path / "r.db").execute("INSERT INTO vehicles (name) VALUES ('x')")


def test_a_record_that_another_program_writes_is_left_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setattr("saidspec.record.place.PATIENCE", 0.05)
    one, other = open_record(tmp_path / "r.db"), open_record(tmp_path / "r.db")
    one.execute("BEGIN IMMEDIATE")
    with pytest.raises(UnusableInput, match="another program has been writing"):
        ingest(other, brakes())
    one.execute("ROLLBACK")
    assert ingest(other, brakes()).outcome == "new"


def test_a_full_disk_leaves_none_of_the_note(tmp_path: Path) -> None:
    conn = open_record(tmp_path / "r.db")
    ingest(conn, brakes())
    before = all_rows(conn)
    conn.execute(f"PRAGMA max_page_count = {conn.execute('PRAGMA page_count').fetchone()[0]}")
    with pytest.raises(UnusableInput, match="could not be written, and is as it was: database or disk is full"):
        ingest(conn, brakes("Long.\n" * 20_000 + BRAKES))
    assert all_rows(conn) == before


INGEST_FOREVER = """
import sys
from saidspec.record.store import ingest, open_record
from tests.record_makers import brakes, BRAKES, systems_of
from tests.report_samples import workshop
conn = open_record(sys.argv[1])
print("open", flush=True)
for at in range(100000):
    text = f"Note {at}.\\n" + BRAKES * 6 + f"Note {at} ends.\\n"
    ingest(conn, brakes(text, f"{at}.txt"), place=f"/notes/{at % 50}.txt", candidates=systems_of)
"""


def test_killed_at_any_moment_all_of_a_note_or_none(tmp_path: Path) -> None:
    """Six kills at random moments (seeded), each on the record that the one before left."""
    path = tmp_path / "record.db"
    chance = random.Random(20260503)
    held = 0
    for _ in range(6):
        root = Path(__file__).parents[1]
        writer = subprocess.Popen([sys.executable, "-c", INGEST_FOREVER, str(path)], stdout=subprocess.PIPE, cwd=root,
                                  env={**os.environ, "PYTHONPATH": str(root)})
        assert writer.stdout
        assert writer.stdout.readline() == b"open\n"
        time.sleep(chance.uniform(0.05, 0.5))
        writer.send_signal(signal.SIGKILL)
        assert writer.wait() == -signal.SIGKILL
        writer.stdout.close()
        record = open_record(path)
        assert values(record, "PRAGMA integrity_check") == ["ok"]
        assert record.execute("PRAGMA foreign_key_check").fetchall() == []
        record.execute("INSERT INTO facts_fts (facts_fts) VALUES ('integrity-check')")
        notes = values(record, "SELECT id FROM notes")
        assert len(notes) >= held
        held = len(notes)
        for note in notes:
            assert values(record, "SELECT count(*) FROM facts WHERE note = ?", note) == [8]
            assert values(record, "SELECT count(*) FROM utterances WHERE note = ?", note) == [32]
            assert values(record, "SELECT count(*) FROM readings WHERE note = ? AND current = 1", note) == [1]
        record.close()
    assert held > 0


@pytest.mark.parametrize(("change", "says"), [
    ({"unit": "furlong"}, "no unit of a torque"), ({"unit": "mm"}, "no unit of a torque"),
    ({"value": Decimal(-5)}, "never below zero"), ({"role": "banana"}, "torque has no role"),
    ({"action": "banana"}, "no action"),
])  # fmt: skip
def test_a_correction_that_cannot_be_is_refused_and_changes_nothing(
    tmp_path: Path, change: dict[str, object], says: str
) -> None:
    conn = workshop(tmp_path / "r.db")
    fact = conn.execute("SELECT id FROM facts WHERE quote = '160 newton metres'").fetchone()[0]
    before = all_rows(conn)
    with pytest.raises(UnusableInput, match=says):
        decide_fact(conn, fact, "corrected", change)
    assert all_rows(conn) == before


@pytest.mark.parametrize(("quote", "change", "says"), [
    ("94200 kilometres", {"unit": "furlong"}, "no unit of an odometer"),
    ("94200 kilometres", {"unit": "N*m"}, "no unit of an odometer"),
    ("KD dash 3318 dash F", {"unit": "mm"}, "part number has no unit"),
    ("KD dash 3318 dash F", {"role": "banana"}, "no role of a part number: choose from installed, removed, bought"),
    ("slide pin was dry", {"unit": "mm"}, "observation has no unit"),
    ("100 mil", {"role": "tool"}, "no role of a volume"),
])  # fmt: skip
def test_units_and_roles_fit_the_kind(tmp_path: Path, quote: str, change: dict[str, object], says: str) -> None:
    conn = workshop(tmp_path / "r.db")
    fact = conn.execute("SELECT id FROM facts WHERE quote = ?", (quote,)).fetchone()[0]
    with pytest.raises(UnusableInput, match=says):
        decide_fact(conn, fact, "corrected", change)


@pytest.mark.parametrize(("quote", "change"), [
    ("100 mil", {"role": "drained"}), ("94200 kilometres", {"unit": "mi"}), ("KD dash 3318 dash F", {"role": "bought"}),
    ("a 19", {"role": "thread"}), ("100 mil", {"role": None}), ("5.9 millimetres", {"role": "depth"}),
])  # fmt: skip
def test_what_fits_is_taken(tmp_path: Path, quote: str, change: dict[str, object]) -> None:
    conn = workshop(tmp_path / "r.db")
    fact = conn.execute("SELECT id FROM facts WHERE quote = ?", (quote,)).fetchone()[0]
    decide_fact(conn, fact, "corrected", change)
    ((name, value),) = change.items()
    assert conn.execute("SELECT * FROM facts_now WHERE id = ?", (fact,)).fetchone()[name] == value


def test_a_role_of_the_users_own_words_is_known_by_its_facts(tmp_path: Path) -> None:
    conn = workshop(tmp_path / "r.db")
    conn.execute("UPDATE facts SET role = 'crown' WHERE quote = '8.4 millimetres'")
    fact = conn.execute("SELECT id FROM facts WHERE quote = '5.9 millimetres'").fetchone()[0]
    decide_fact(conn, fact, "corrected", {"role": "crown"})
    with pytest.raises(UnusableInput, match="no role of a measurement"):
        decide_fact(conn, fact, "corrected", {"role": "banana"})


def test_only_what_was_still_to_do_is_done(tmp_path: Path) -> None:
    conn = workshop(tmp_path / "r.db")
    ids = {row[1]: row[0] for row in conn.execute("SELECT id, quote FROM facts")}
    for quote in ("160 newton metres", "took the caliper off", "64</b> quid"):
        with pytest.raises(UnusableInput, match="and nothing to do"):
            decide_fact(conn, ids[quote], "done")
    with pytest.raises(UnusableInput, match="still to come"):
        decide_fact(conn, ids["should retorque the wheel nuts"], "done", done_on=date(2999, 1, 1))
    decide_fact(conn, ids["should retorque the wheel nuts"], "done", person="Ann", done_on=date(2026, 5, 4))
    decide_fact(conn, ids["after 50 kilometres"], "done")
    (entry,) = entries_of(conn, [ids["should retorque the wheel nuts"]])
    assert entry.decision is not None
    assert (entry.done, entry.decision.done_on) == (True, date(2026, 5, 4))
    assert decided(entry.decision).startswith("done on 2026-05-04, by Ann, ")


def test_every_role_that_the_rules_tell_can_be_corrected_to() -> None:
    told = {(entry["kind"], entry["id"]) for entry in rule_set().entries("roles", "role")}
    told |= {("measurement", role) for file in rule_set().under("components") for role in file.data.get("measures", {})}
    named = {"torque", "odometer"}  # kinds without roles, whose words tell the kind
    assert {(kind, role) for kind, role in told if role not in roles_of(kind)} == {(name, name) for name in named}


def test_a_unit_is_corrected_in_any_written_form(tmp_path: Path) -> None:
    conn = workshop(tmp_path / "r.db")
    fact = conn.execute("SELECT id FROM facts WHERE quote = '160 newton metres'").fetchone()[0]
    decide_fact(conn, fact, "corrected", {"unit": "ft-lb"})
    assert conn.execute("SELECT unit FROM facts_now WHERE id = ?", (fact,)).fetchone()[0] == "lbf*ft"
