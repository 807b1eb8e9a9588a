"""Each phrase of the development corpus is a case of its own; the held-back one is scored by `tests.held_back`."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from saidspec.model import Fact, Provenance, Unclaimed
from saidspec.pipeline import read
from saidspec.sources.read import read_text
from tests.held_back import Score, table
from tests.phrase_corpus import (
    DEVELOPMENT,
    HELD_BACK,
    Phrase,
    case_faults,
    faults,
    judge,
    known_failures,
    load,
    what_is_wrong,
)

PHRASES = load(DEVELOPMENT)
KNOWN = known_failures()


def as_case(phrase: Phrase, number: int) -> object:
    reason = KNOWN.get(phrase.text)
    marks = [pytest.mark.xfail(reason=reason, strict=True)] if reason else []
    return pytest.param(phrase, id=f"{phrase.case}:{number}", marks=marks)


@pytest.mark.parametrize("phrase", [as_case(phrase, number) for number, phrase in enumerate(PHRASES)])
def test_phrase(phrase: Phrase) -> None:
    reading = read(read_text(phrase.text.encode(), "phrase.txt", day=phrase.day), phrase.day)
    assert judge(phrase, reading.facts, reading.unclaimed) == []


def test_the_files_are_sound() -> None:
    assert faults() == []


def test_the_corpus_is_large_enough() -> None:
    held_back = load(HELD_BACK)
    assert len(PHRASES) + len(held_back) >= 1500
    assert len(held_back) >= 600  # enough to tell a share within some 3 points; phrasings are added to the others
    assert {phrase.file for phrase in held_back} <= {phrase.file for phrase in PHRASES}


def test_known_failures_are_phrases_of_the_corpus() -> None:
    assert KNOWN.keys() <= {phrase.text for phrase in PHRASES}


FACT = Fact(1, "torque", Provenance("bolts at 30", 0, 11), "front bracket bolt", Decimal(30), unit="N*m")
PHRASE = Phrase("torque", "an-id", "bolts at 30", date(2026, 5, 9), (
    {"kind": "torque", "value": "30", "unit": "N*m", "component": "bracket bolt", "assertion": "stated"},
), frozenset({"torque"}), known=True)  # fmt: skip


def test_judge_finds_nothing_wrong_with_the_right_fact() -> None:
    assert judge(PHRASE, [FACT], []) == []


@pytest.mark.parametrize(
    "changes",
    [{"value": Decimal(31)}, {"unit": "lbf*ft"}, {"component": "nut"}, {"component": None}, {"assertion": "quoted"}],
)
def test_judge_names_what_is_wrong(changes: dict[str, object]) -> None:
    (name,) = changes
    (message,) = judge(PHRASE, [FACT.but(**changes)], [])
    assert message.startswith(f"{name}: wanted")


@pytest.mark.parametrize(
    ("changes", "cause"),
    [({"value": Decimal(31)}, "another value: torque"), ({"component": None}, "no part found: torque"),
     ({"component": "front bolt"}, "only some words of the part: torque"),
     ({"component": "nut"}, "another part: torque"), ({"assertion": "quoted"}, "assertion: stated read as quoted"),
     ({"kind": "size"}, "not found: torque")],
)  # fmt: skip
def test_failures_of_one_class_have_one_cause(changes: dict[str, object], cause: str) -> None:
    assert what_is_wrong(PHRASE, [FACT.but(**changes)], [])[0].cause == cause


def test_judge_counts_each_fact_once() -> None:
    twice = replace(PHRASE, expect=PHRASE.expect * 2)
    assert len(judge(twice, [FACT], [])) == 1
    assert judge(twice, [FACT, FACT], []) == []


def test_judge_takes_what_will_do_instead() -> None:
    either = replace(PHRASE, expect=({"kind": "size", "value": "30", "or": PHRASE.expect[0]},))
    assert judge(either, [FACT], []) == []
    assert judge(either, [FACT.but(kind="size", unit=None)], []) == []
    assert len(judge(either, [FACT.but(kind="count")], [])) == 1


def test_judge_minds_extra_facts_only_of_complete_kinds() -> None:
    extra = [FACT, FACT.but(id=2, value=Decimal(9)), FACT.but(id=3, kind="size")]
    assert [message.split(":")[0] for message in judge(PHRASE, extra, [])] == ["too much"]


def test_judge_minds_unclaimed_numbers_and_broken_quotes() -> None:
    broken = FACT.but(provenance=Provenance("bolts at 3", 0, 11))
    assert len(judge(PHRASE, [broken], [Unclaimed("30", 9, 11)])) == 2


def test_judge_minds_the_replacement_of_a_retracted_reading() -> None:
    old, new = FACT.but(id=1, assertion="retracted", replaced_by=2), FACT.but(id=2, value=Decimal(35))
    corrected = replace(PHRASE, expect=(
        {"kind": "torque", "value": "30", "assertion": "retracted", "replaced_by": 1},
        {"kind": "torque", "value": "35"},
    ))  # fmt: skip
    assert judge(corrected, [old, new], []) == []
    assert len(judge(corrected, [old.but(replaced_by=None), new], [])) == 1


def test_the_table_counts_phrases_kinds_and_sure_facts() -> None:
    development, held_back = Score(), Score()
    development.add(PHRASE, (FACT,), [])
    development.add(PHRASE, (), what_is_wrong(PHRASE, [], []))
    assert development.right["all phrases"] == 1
    assert development.all == {"all phrases": 2, "theme torque": 2, "kind torque": 2, "kind unclaimed": 2,
                               "facts at 0.9": 1}  # fmt: skip
    assert any("1/2" in line and "50.0%" in line for line in table(development, held_back).splitlines())

def test_a_faulty_case_is_told() -> None:
    case = {"id": "x", "expect": [{"kind": "torque", "unit": "Nm", "value": "ten"}], "phrases": ["a"] * 4, "note": ""}
    assert sorted(case_faults(case)) == [
        "expect 0: unknown unit Nm", "expect 0: value is no number: ten", "unknown key note",
    ]  # fmt: skip
