"""Dates resolved against Saturday 9 May 2026, with the precision in which they were said; intervals and readings."""

from __future__ import annotations

import pytest

from tests.sentences import amount, facts


@pytest.mark.parametrize(("text", "code"), [
    ("fitted the battery on 3 March 2024", "2024-03-03"), ("fitted the battery on the third of march", "2026-03-03"),
    ("fitted the battery in June 2023", "2023-06"), ("fitted the battery in 2019", "2019"),
    ("battery went in on 2024-03-03", "2024-03-03"), ("fitted the battery yesterday", "2026-05-08"),
    ("fitted the battery on Monday", "2026-05-04"), ("fitted the battery last Wednesday", "2026-05-06"),
    ("fitted the battery a week ago", "2026-05-02"),
    ("fitted the battery back in twenty twenty three", "2023"), ("fitted the battery last month", "2026-04"),
])  # fmt: skip
def test_days_of_the_past(text: str, code: str) -> None:
    assert [fact.code for fact in facts(text, "date")] == [code]


@pytest.mark.parametrize(("text", "code"), [
    ("replace the battery by Friday", "2026-05-15"), ("replace the battery tomorrow", "2026-05-10"),
    ("need to replace the battery next week", "2026-05-16"), ("replace the battery in a couple of weeks", "2026-05-23"),
    ("the battery wants replacing next month", "2026-06"),
    ("replace the battery before the 20th of June", "2026-06-20"),
])  # fmt: skip
def test_the_day_of_a_follow_up(text: str, code: str) -> None:
    assert [fact.code for fact in facts(text, "follow_up")] == [code]


@pytest.mark.parametrize("text", [
    "may as well do the battery", "march it over to the bench", "the second bolt sheared",
    "sat down on the sun lounger",
    "the pads are at 3/4 worn", "an M8 bolt", "it was a long day",
])  # fmt: skip
def test_words_that_are_no_dates(text: str) -> None:
    assert facts(text, "date") == []


@pytest.mark.parametrize(("text", "told"), [
    ("change the oil every 10,000 km", ("10000 km", "every")),
    ("last changed 8,000 miles ago", ("8000 mi", "since last")),
    ("check the belt again in 5,000 miles", ("5000 mi", "until")), ("fork oil every two years", ("2 year", "every")),
    ("last bled the brakes three years ago", ("3 year", "since last")), ("retorque after 50 miles", ("50 mi", "until")),
    ("fitted the battery a couple of days ago", ("2 day", "since last")),
])  # fmt: skip
def test_intervals(text: str, told: tuple[str, str]) -> None:
    assert [(amount(fact), fact.role) for fact in facts(text, "interval")] == [told]


@pytest.mark.parametrize(("text", "told"), [
    ("odometer says 84,200 miles", ("84200 mi", "stated")), ("she's at 120 thousand km now", ("120000 km", "stated")),
    ("clock reads eighty four thousand two hundred miles", ("84200 mi", "stated")),
    ("belt was last done at 60,000 miles", ("60000 mi", "historical")),
    ("412 hours on the hour meter", ("412 hour", "stated")),
])  # fmt: skip
def test_odometer_readings(text: str, told: tuple[str, str]) -> None:
    assert [(amount(fact), fact.assertion) for fact in facts(text, "odometer")] == [told]


@pytest.mark.parametrize("text", [
    "took it for a 5 mile test drive", "do the belt at 90,000 miles", "drove 12 miles and looked at it again",
])  # fmt: skip
def test_distances_that_are_no_reading(text: str) -> None:
    assert facts(text, "odometer") == []


@pytest.mark.parametrize(("text", "told"), [
    ("let it soak for 20 minutes", "20 min"), ("the sealant has to cure for 24 hours", "24 hour"),
    ("whole job took three hours", "3 hour"),
])  # fmt: skip
def test_durations(text: str, told: str) -> None:
    assert [amount(fact) for fact in facts(text, "duration")] == [told]
