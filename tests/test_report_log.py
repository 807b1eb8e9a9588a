"""The clean log: everything said stands in exactly one place, and what is no fact of the job stands apart."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.model import ACTIONS, ASSERTIONS, KINDS, Flag, Quantity, Unclaimed
from saidspec.record.entries import Decision, Entry, FlagEntry, JobEntries
from saidspec.report.lines import NOT_CLEAR, line
from saidspec.report.log import JobLog, job_log, log
from tests.report_samples import VAN, entry

DAY = date(2026, 5, 3)


def logged(*entries: Entry, **more: Any) -> JobLog:
    return job_log(JobEntries(1, VAN.name, "brakes", DAY, entries=entries, **more))


def places(made: JobLog) -> dict[int, list[str]]:
    """Where each entry stands in a log."""
    told: dict[int, list[str]] = {}
    groups = [*made.sections, *made.apart]
    for title, some in [*((g.title, g.lines) for g in groups), ("to do", made.to_do), ("rejected", made.rejected)]:
        for one in some:
            told.setdefault(one.id, []).append(title)
    return told


@st.composite
def facts(draw: st.DrawFn) -> list[Entry]:
    told = []
    for number in range(draw(st.integers(1, 12))):
        verdict = draw(st.sampled_from([None, "confirmed", "corrected", "rejected", "done"]))
        told.append(entry(
            number, draw(st.sampled_from(KINDS)), assertion=draw(st.sampled_from(ASSERTIONS)),
            component=draw(st.sampled_from([None, "wheel nut", "brake fluid"])),
            value=draw(st.sampled_from(["1", "2.5"])), unit=draw(st.sampled_from(["N*m", "mm", None])),
            role=draw(st.sampled_from([None, "until", "added", "act"])),
            action=draw(st.sampled_from([None, *ACTIONS])), decision=Decision(verdict) if verdict else None,
        ))  # fmt: skip
    return told


@settings(deadline=None)
@given(facts())
def test_every_entry_stands_in_exactly_one_place(entries: list[Entry]) -> None:
    told = places(logged(*entries))
    assert sorted(told) == sorted(one.fact.id for one in entries)
    assert {len(where) for where in told.values()} == {1}


@pytest.mark.parametrize(("assertion", "title"), [
    ("stated", "Torques"), ("quoted", "Only quoted"), ("planned", "Only planned"), ("possible", "Not sure"),
    ("historical", "From earlier"), ("negated", "Said not to be so"), ("retracted", "Taken back"),
])  # fmt: skip
def test_only_what_is_stated_is_true_of_the_job(assertion: str, title: str) -> None:
    made = logged(entry(1, "torque", component="wheel nut", value="160", unit="N*m", assertion=assertion))
    assert places(made) == {1: [title]}


@pytest.mark.parametrize(("fields", "text"), [
    ({"kind": "torque", "component": "wheel nut", "value": "160", "unit": "N*m"}, "wheel nut: 160 N·m (118 lbf·ft)"),
    ({"kind": "torque", "component": "head bolt", "value": "35", "unit": "N*m", "angle": "90"},
     "head bolt: 35 N·m (25.8 lbf·ft) + 90°"),
    ({"kind": "torque", "component": "filter", "angle": "270"}, "filter: hand tight + 270°"),
    ({"kind": "torque", "component": "nut", "value": "20", "value_high": "25", "unit": "lbf*ft"},
     "nut: 20 to 25 lbf·ft (27.1 to 33.9 N·m)"),
    ({"kind": "torque", "value": "9", "unit": "N*m"}, f"{NOT_CLEAR}: 9 N·m (79.7 lbf·in)"),
    ({"kind": "size", "component": "wheel nut", "value": "21", "unit": "mm", "role": "tool"}, "wheel nut: 21 mm tool"),
    ({"kind": "volume", "component": "oil", "value": "4.25", "unit": "L", "role": "added", "approximate": True},
     "oil: about 4.25 L (4.49 qt) added"),
    ({"kind": "measurement", "component": "pad", "value": "3", "unit": "mm", "role": "thickness"},
     "pad: 3 mm (0.118 in) thickness"),
    ({"kind": "odometer", "value": "148312", "unit": "km"}, "odometer: 148,312 km (92,157 mi)"),
    ({"kind": "operation", "component": "front pad", "action": "replace"}, "replaced front pad"),
    ({"kind": "observation", "component": "pin", "finding": "dry"}, "pin: dry"),
    ({"kind": "observation", "component": "hose", "finding": "leak", "assertion": "negated"}, "hose: leak: no"),
    ({"kind": "follow_up", "component": "hose", "action": "replace", "code": "2026-09-01", "assertion": "planned"},
     "replace hose, by 2026-09-01"),
    ({"kind": "follow_up", "quote": "do it by hand by May", "component": "hose", "code": "2026-05"},
     "hose: do it by hand by May, by 2026-05"),
    ({"kind": "interval", "component": "chain", "value": "1", "unit": "month", "role": "every"},
     "chain: every 1 month"),
    ({"kind": "duration", "value": "20", "unit": "min"}, "time taken: 20 min"),
    ({"kind": "cost", "component": "pad", "value": "64", "code": "GBP", "role": "total"}, "pad: 64 GBP total"),
])  # fmt: skip
def test_lines_read_as_a_person_writes(fields: dict[str, Any], text: str) -> None:
    kind = fields["kind"]
    assert line(entry(1, kind, **{name: value for name, value in fields.items() if name != "kind"})).text == text


def test_a_line_leads_to_its_words_and_time() -> None:
    words = line(entry(7, "torque", "at one sixty", time=754.0, start=10, context="did the nuts at one sixty today",
                       context_start=-3)).words  # fmt: skip
    assert (words.quote, words.note, words.start, words.time) == ("at one sixty", "van.txt", 10, "12:34")
    assert words.parts() == ("did the nuts ", "at one sixty", " today")


def test_words_of_an_unknown_place_are_the_quote() -> None:
    assert line(entry(7, "torque", "one sixty", start=99, context="short")).words.parts() == ("", "one sixty", "")


def test_what_was_taken_back_says_what_it_became() -> None:
    made = logged(entry(1, "size", component="bolt", value="18", unit="mm", assertion="retracted", replaced_by=2),
                  entry(2, "size", component="bolt", value="19", unit="mm"))  # fmt: skip
    assert made.apart[0].lines[0].marks == ("corrected to bolt: 19 mm",)


def test_decisions_and_doubt_are_shown() -> None:
    heard = entry(1, "torque", component="nut", value="170", unit="N*m").fact
    fixed = Decision("corrected", "2026-05-04T10:00:00+00:00", "Ann", "wrench says 107")
    made = line(entry(1, "torque", component="nut", value="107", unit="N*m", decision=fixed, heard=heard))
    assert made.marks == ("corrected by Ann, 2026-05-04: wrench says 107", "heard as 170 N·m (125 lbf·ft)")
    unsure = line(entry(2, "torque", component="nut", value="107", unit="N*m", confidence=0.3))
    assert unsure.marks == ("uncertain reading: check the words",)
    assert line(entry(3, "torque", component="nut", value="107", unit="N*m")).marks == ()


def test_a_guessed_follow_up_says_so() -> None:
    made = logged(entry(1, "follow_up", component="hose", action="inspect", assertion="possible"))
    assert made.to_do[0].marks == ("the speaker was not sure",)


def test_a_follow_up_without_a_part_is_told_in_its_words() -> None:
    context = "the clip looked tired so keep an eye on it"
    made = line(entry(1, "follow_up", "keep an eye on", action="inspect", context=context, start=25))
    assert made.text == f"inspect: “{context}”"
    long = "first of all " * 20 + "need a new washer " + "and so on " * 20
    made = line(entry(2, "follow_up", "need a", context=long, start=260))
    assert "need a new washer" in made.text
    assert made.text.count("…") == 2
    assert len(made.text) < 150


def test_flags_come_with_cause_and_the_settled_ones_last() -> None:
    def flag(key: str, severity: Any, decision: Decision | None = None) -> FlagEntry:
        return FlagEntry(key, Flag("differs", severity, key, "nut", "torque", 1, Quantity(), None, "unit"), VAN.name,
                         decision=decision)  # fmt: skip

    found = (flag("settled", "danger", Decision("accepted", "2026-05-04", "Ann", "torn manual")), flag("look", "look"),
             flag("danger", "danger"))  # fmt: skip
    told = logged(entry(1, "torque"), flags=found).flags
    assert [one.message for one in told] == ["danger", "look", "settled"]
    assert told[0].cause == "probably the number is right in another unit"
    assert told[0].likely == "unit"
    spelled = Flag("differs", "wrong", "said 1. Likely the unit.", "nut", "torque", likely="unit")
    (once,) = logged(entry(1, "torque"), flags=(FlagEntry("k", spelled, VAN.name),)).flags
    assert once.cause == ""
    assert told[2].marks == ("accepted by Ann, 2026-05-04: torn manual",)


def test_numbers_that_no_rule_understood_are_kept() -> None:
    made = logged(unclaimed=(("van.txt", Unclaimed("47", 3, 5, 61.0)),))
    assert [(one.quote, one.time) for one in made.leftovers] == [("47", "1:01")]
    assert made.notes == ("van.txt",)


def test_jobs_are_in_order_of_time_and_the_undated_last() -> None:
    days = (date(2026, 5, 3), None, date(2024, 1, 1))
    told = log([JobEntries(n, VAN.name, "brakes", day) for n, day in enumerate(days)], "Log", DAY)
    assert [job.id for job in told.jobs] == [2, 0, 1]


def test_an_odometer_without_a_unit_is_not_given_one() -> None:
    from decimal import Decimal

    assert logged(odometer=Decimal(94200)).odometer == "94200 (unit not said)"
    assert logged().odometer == ""
