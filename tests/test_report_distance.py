"""Distance driven, estimated from the odometer readings of the record."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from saidspec.report.distance import OdometerReading, driving, in_order, reading_on, readings
from tests.report_samples import entry


def at(day: str, value: int) -> OdometerReading:
    return OdometerReading(date.fromisoformat(day), Decimal(value))


STEADY = [at("2025-01-01", 10_000), at("2025-04-11", 11_000), at("2025-07-20", 12_000), at("2025-10-28", 13_000)]


def test_readings_are_of_the_vehicle_s_unit_and_one_a_day() -> None:
    said = [
        entry(1, "odometer", value="100", unit="mi", day="2026-01-01"),
        entry(2, "odometer", value="200", unit="km", day="2026-01-01"),
        entry(3, "odometer", value="300", unit="km", day="2026-01-02"),
        entry(4, "odometer", value="999", unit="km", day="2026-01-03", assertion="historical"),
        entry(5, "odometer", value="120", unit="hour", day="2026-01-04"),
        entry(6, "odometer", value="400", unit="km", day=None),
    ]
    assert [(one.day.day, round(one.value)) for one in readings(said, "km")] == [(1, 200), (2, 300)]
    assert readings(said[:1], "km")[0].value == Decimal("160.9344")  # 1.609344 km a mile: NIST SP 811, B.8


def test_a_steady_rate_is_found_and_carried_on() -> None:
    drive = driving(STEADY, "km")
    assert drive is not None
    assert drive.rate == Decimal("10.0")
    assert drive.on(date(2025, 11, 7)) == (Decimal("13100"), Decimal("13100"), Decimal("13100"))
    assert drive.when(Decimal(13_500))[0] == date(2025, 12, 17)
    assert "all 4 readings" in drive.method
    assert "92% coverage" in drive.method


def test_a_misheard_reading_is_left_out_and_said_so() -> None:
    history = [*STEADY[:2], at("2025-05-01", 110_000), *STEADY[2:]]
    assert in_order(history) == STEADY
    drive = driving(history, "km")
    assert drive is not None
    assert drive.last.value == 13_000
    assert "1 of the readings go backwards" in drive.method


def test_two_readings_make_a_guess_that_says_so() -> None:
    drive = driving([STEADY[0], STEADY[3]], "km")
    assert drive is not None
    assert (drive.low, drive.rate, drive.high) == (Decimal(5), Decimal(10), Decimal(20))
    assert "guess" in drive.method


def test_one_reading_gives_no_rate() -> None:
    drive = driving(STEADY[:1], "km")
    assert drive is not None
    assert drive.rate is None
    assert drive.on(date(2026, 1, 1)) is None
    assert drive.when(Decimal(20_000)) == (None, None, None)
    assert drive.when(Decimal(9_000))[0] == STEADY[0].day


def test_no_reading_is_no_estimate() -> None:
    assert driving([], "km") is None


def test_a_vehicle_that_stands_never_gets_there() -> None:
    drive = driving([at("2025-01-01", 10), at("2025-02-01", 10), at("2025-03-01", 10)], "km")
    assert drive is not None
    assert drive.when(Decimal(11))[0] is None


def test_a_past_day_between_readings_is_an_estimate() -> None:
    assert reading_on(STEADY, date(2025, 4, 11)) == (Decimal(11_000), False)
    assert reading_on(STEADY, date(2025, 5, 31)) == (Decimal(11_500), True)
    assert reading_on(STEADY, date(2024, 12, 31)) is None
    assert reading_on(STEADY, date(2025, 12, 31)) is None
