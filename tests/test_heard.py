"""Figures and codes that may have been misheard: what is doubted in a recording, and what is left alone."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saidspec.heard.believable import load_believables
from saidspec.heard.confusions import codes_alike, load_confusions, point_elsewhere, said_alike
from saidspec.heard.doubts import doubted
from saidspec.model import Note, Problem, Reading, Sheet, Specification, Vehicle
from saidspec.patterns import rule_set
from saidspec.pipeline import read
from saidspec.reconcile.run import reconcile
from saidspec.sources.read import read_text
from saidspec.words.examples import examples

KNOWN = load_confusions()
BELIEVABLE = [entry["text"] for _, table, _, entry, _ in examples(rule_set().named("mishearings")[0])
              if table == "believable"]  # fmt: skip


def spoken(text: str) -> Note:
    """A transcript whose words were all heard with the same probability."""
    words = [{"word": f" {word}", "start": at * 0.4, "end": at * 0.4 + 0.3, "probability": 0.9}
             for at, word in enumerate(text.split())]  # fmt: skip
    segment = {"start": 0.0, "end": len(words) * 0.4, "text": f" {text}", "words": words}
    return read_text(json.dumps({"segments": [segment]}).encode(), "memo.json")


def doubts(reading: Reading) -> dict[str, str]:
    """Quote -> doubt, of the problems that tell what else a figure may be."""
    return {reading.note.text[one.start:one.end]: one.message for one in reading.problems
            if any(sign in one.message for sign in ("may be", "may also be", "elsewhere"))}  # fmt: skip


@pytest.mark.parametrize(("text", "quote", "told"), [
    ("The bracket bolt is torqued to 4.8 newton metres, that's 35 foot pounds.", "4.8 newton metres", "may be 48 N·m"),
    ("The bracket bolt is torqued to 15 foot pounds, that's 68 newton metres.", "15 foot pounds", "may be 50 lbf·ft"),
    ("The bracket bolt is torqued to 48 newton metres, that's 95 foot pounds.", "48 newton metres", "one of them"),
    ("The drain plug is torqued to 4.8 newton metres.", "4.8 newton metres", "beyond belief: it may be 48 N·m"),
    ("Battery voltage is 126 volts.", "126 volts", "it may be 12.6 V"),
    ("The pump bolt is torqued to 48 newton metres. Fitted the belt. The pump bolt is torqued to 4.8 newton metres.",
     "4.8 newton metres", "48 N·m elsewhere"),
    ("The new oil filter is part number V0-1132.", "V0-1132", "may also be VO-1132"),
])  # fmt: skip
def test_a_figure_that_cannot_be_right_keeps_its_value_and_is_doubted(text: str, quote: str, told: str) -> None:
    reading = read(spoken(text))
    written = read(read_text(text.encode(), "note.txt"))
    assert told in doubts(reading)[quote]
    [fact] = [one for one in reading.facts if one.provenance.quote == quote and one.code != "note"]
    [same] = [one for one in written.facts if one.provenance.quote == quote]
    assert (fact.value, fact.unit, fact.code) == (same.value, same.unit, same.code)
    assert fact.provenance.confidence <= 0.55 < same.provenance.confidence
    assert doubts(written) == {}


@pytest.mark.parametrize("text", [
    "The bracket bolt is torqued to 4.8 newton metres.",
    "The bracket bolt is torqued to 48 newton metres, that's 35 foot pounds.",
    "The drain plug is torqued to 10 newton metres, that's 7 foot pounds.",
    "The drain plug is torqued to 48 newton metres.",
    "Battery voltage is 12.6 volts.",
    "Front tyre pressure is 2.2 bar.",
    "The head bolts were torqued to 15 newton metres. Then the head bolts were torqued to 50 newton metres.",
    "The pump bolt is torqued to 48 newton metres, no wait, the pump bolt is torqued to 4.8 newton metres.",
    "The new oil filter is part number KD-3308.",
])  # fmt: skip
def test_a_figure_that_may_be_right_is_left_alone(text: str) -> None:
    assert doubts(read(spoken(text))) == {}


@pytest.mark.parametrize("text", BELIEVABLE)
def test_each_example_of_what_is_not_believable_is_doubted_in_a_recording_alone(text: str) -> None:
    assert "beyond belief" in " ".join(doubts(read(spoken(text))).values())
    assert doubts(read(read_text(text.encode(), "note.txt"))) == {}


@pytest.mark.parametrize(("text", "flags"), [
    ("The drain plug is torqued to 4.8 newton metres.", [("differs", "decimal")]),
    ("The drain plug is torqued to 48 newton metres.", []),
    ("The drain plug is torqued to 480 newton metres.", [("differs", "decimal")]),
    ("The drain plug is torqued to 4.1 newton metres.", []),  # nothing explains it, and it was only heard
])  # fmt: skip
def test_a_doubtful_figure_is_called_wrong_where_a_slip_of_the_ear_explains_it(
    text: str, flags: list[tuple[str, str]]
) -> None:
    plug = Specification("engine oil drain plug", "torque", "workshop manual, sheet 3", Decimal(48), unit="N*m")
    found = reconcile(read(spoken(text)), Sheet(Vehicle("Hallam Drover"), (plug,)))[0]
    assert [(flag.check, flag.likely) for flag in found if flag.check == "differs"] == flags


def test_facts_that_were_not_heard_are_handed_on_as_they_are() -> None:
    reading = read(read_text(b"The drain plug is torqued to 4.8 newton metres.", "note.txt"))
    assert doubted(reading.note, reading.facts) == (reading.facts, ())


def test_a_doubt_has_the_place_of_its_figure() -> None:
    reading = read(spoken("Fitted the plug. The drain plug is torqued to 4.8 newton metres."))
    [told] = [one for one in reading.problems if "beyond belief" in one.message]
    assert isinstance(told, Problem)
    assert reading.note.text[told.start:told.end] == "4.8 newton metres"


@given(st.decimals("0.01", "5000", places=2))
def test_a_point_put_elsewhere_can_be_put_back(value: Decimal) -> None:
    for other in point_elsewhere(value, KNOWN):
        assert value in set(point_elsewhere(other, KNOWN))


@given(st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-", min_size=1, max_size=10))
def test_codes_said_alike_are_alike_and_another(code: str) -> None:
    for other in said_alike(code, KNOWN):
        assert other != code
        assert codes_alike(code, other, KNOWN)


def test_the_spans_are_spans() -> None:
    assert all(span.low < span.high for span in load_believables())
