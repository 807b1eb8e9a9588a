"""The standing of what is said, by the cues around it: where a cue's scope ends, and what only looks like a cue."""

from __future__ import annotations

import pytest

from tests.sentences import facts


@pytest.mark.parametrize(("text", "standing"), [
    ("the drain plug is 30 newton metres", "stated"),
    ("I did the drain plug at 30 newton metres", "stated"),
    ("the book says 30 newton metres for the drain plug", "quoted"),
    ("manual calls for 30 newton metres on the drain plug", "quoted"),
    ("drain plug spec is 30 newton metres", "quoted"),
    ("30 newton metres on the drain plug according to the manual", "quoted"),
    ("sticker on the door gives 30 newton metres for the drain plug", "quoted"),
    ("sticker on the lid gives 30 newton metres for the drain plug", "quoted"),
    ("will torque the drain plug to 30 newton metres tomorrow", "planned"),
    ("I still need to torque the drain plug to 30 newton metres", "planned"),
    ("drain plug should be about 30 newton metres I think", "possible"),
    ("not sure, maybe 30 newton metres on the drain plug", "possible"),
    ("I think the drain plug is 30 newton metres", "possible"),
    ("if you have the steel pan the drain plug is 30 newton metres", "possible"),
    ("is the drain plug 30 newton metres?", "possible"),
    ("last time I did the drain plug at 30 newton metres", "historical"),
    ("last year the drain plug got 30 newton metres", "historical"),
])  # fmt: skip
def test_cues(text: str, standing: str) -> None:
    (fact,) = facts(text, "torque")
    assert fact.assertion == standing
    assert (fact.provenance.cue is None) == (standing == "stated")


@pytest.mark.parametrize(("text", "standings"), [
    ("the book says 30 newton metres but I gave the drain plug 35 newton metres", ["quoted", "stated"]),
    ("manual says 54 newton metres, torqued the bolts to 50 newton metres", ["quoted", "stated"]),
    ("I think the drain plug is 30 newton metres. The fill plug got 35 newton metres.", ["possible", "stated"]),
    ("drain plug got 30 newton metres, the book says 35 newton metres", ["stated", "quoted"]),
    ("last time the drain plug got 30 newton metres, this time I gave it 35 newton metres", ["historical", "stated"]),
    ("I will do the drain plug at 30 newton metres tomorrow. The fill plug is done at 35 newton metres.",
     ["planned", "stated"]),
    ("spec is 30 to 35 newton metres so I went with 32 newton metres", ["quoted", "stated"]),
    ("drain plug got 30 newton metres and the fill plug is probably 35 newton metres", ["stated", "possible"]),
])  # fmt: skip
def test_where_a_scope_ends(text: str, standings: list[str]) -> None:
    assert [fact.assertion for fact in facts(text, "torque")] == standings


@pytest.mark.parametrize("text", [
    "no problem getting the drain plug to 30 newton metres",
    "not only the drain plug but the fill plug too got 30 newton metres",
    "without a doubt the drain plug got 30 newton metres",
    "no wonder it leaked, drain plug is at 30 newton metres now",
    "the drain plug got 30 newton metres, can't miss it",
])  # fmt: skip
def test_what_only_looks_like_a_cue(text: str) -> None:
    assert {fact.assertion for fact in facts(text, "torque")} == {"stated"}


@pytest.mark.parametrize("text", [
    "the gauge says 30 psi in the left front tyre", "the meter reads 12.4 volts at the battery",
    "scale says the spring is 2 kg",
])  # fmt: skip
def test_an_instrument_is_no_authority(text: str) -> None:
    assert [fact.assertion for fact in facts(text, "measurement")] == ["stated"]


@pytest.mark.parametrize("text", [
    "minimum thickness stamped on the disc is 20 mm", "the cap says 16 psi", "cast into the drum, maximum 204 mm",
])  # fmt: skip
def test_what_is_printed_on_a_part_is_quoted(text: str) -> None:
    assert [fact.assertion for fact in facts(text, "measurement")] == ["quoted"]


@pytest.mark.parametrize(("text", "standing"), [
    ("no leaks at the water pump", "negated"),
    ("there is no play in either of the ball joints", "negated"),
    ("ball joint boot isn't torn", "negated"),
    ("the brake hose is cracked", "stated"),
    ("the brake hose looks like it might be cracked", "possible"),
    ("the brake hose was cracked last year", "historical"),
])  # fmt: skip
def test_findings(text: str, standing: str) -> None:
    assert {fact.assertion for fact in facts(text, "observation")} == {standing}


@pytest.mark.parametrize(("text", "standing"), [
    ("replaced the coolant hose", "stated"),
    ("didn't replace the coolant hose", "negated"),
    ("I never replaced the coolant hose", "negated"),
    ("replaced the coolant hose last year", "historical"),
    ("replaced the coolant hose two years ago", "historical"),
    ("the coolant hose was replaced by the last owner", "historical"),
])  # fmt: skip
def test_operations(text: str, standing: str) -> None:
    assert [fact.assertion for fact in facts(text, "operation")] == [standing]


@pytest.mark.parametrize("text", [
    "didn't torque the drain plug yet", "haven't torqued the drain plug yet",
])  # fmt: skip
def test_what_is_not_done_yet_is_not_done(text: str) -> None:
    assert [fact.assertion for fact in facts(text, "operation") if fact.assertion == "stated"] == []
