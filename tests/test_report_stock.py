"""Stock: what was bought, used and left over."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from saidspec.record.entries import Entry
from saidspec.report.stock import stock
from saidspec.report.stock_values import StockItem
from tests.report_samples import entry

TODAY = date(2026, 5, 4)


def oil(number: int, value: str, unit: str, role: str, **more: Any) -> Entry:
    return entry(number, "volume", component="engine oil", value=value, unit=unit, role=role, **more)


def items(*entries: Entry, part: str = "") -> list[StockItem]:
    return list(stock(entries, "Stock", TODAY, part).items)


def test_bought_less_used_across_units_and_vehicles() -> None:
    (item,) = items(oil(1, "5", "L", "bought"), oil(2, "2", "qt", "added", vehicle="Other", note_id=2))
    assert (item.unit, item.on_hand) == ("L", Decimal("3.107"))  # 0.946353 L a US quart: NIST SP 811, B.8
    assert [one.vehicle for one in item.movements] == ["Hallam Drover", "Other"]


def test_a_total_of_what_was_told_before_is_not_used_again() -> None:
    (item,) = items(oil(1, "8", "L", "bought"), oil(2, "6", "L", "added"), oil(3, "200", "mL", "added"),
                    oil(4, "6.2", "L", "added"))  # fmt: skip
    assert item.on_hand == Decimal("1.8")


def test_the_same_amount_twice_is_no_total() -> None:
    (item,) = items(oil(1, "8", "L", "bought"), oil(2, "2", "L", "added"), oil(3, "2", "L", "added"))
    assert item.on_hand == Decimal(4)


def test_a_fluid_is_one_thing_wherever_it_went() -> None:
    def fluid(number: int, component: str, value: str, role: str) -> Entry:
        return entry(number, "volume", component=component, value=value, unit="L", role=role)

    (item,) = items(fluid(1, "brake fluid", "1", "bought"), fluid(2, "front right brake fluid", "0.7", "added"))
    assert (item.name, item.on_hand) == ("brake fluid", Decimal("0.3"))


def test_what_is_said_to_be_left_over_counts_from_then_on() -> None:
    (item,) = items(oil(1, "5", "L", "bought", day="2026-01-01"), oil(2, "4.5", "L", "added", day="2026-01-01"),
                    oil(3, "0.4", "L", "left over", day="2026-01-01"),
                    oil(4, "1", "L", "bought", day="2026-02-01"))  # fmt: skip
    assert item.on_hand == Decimal("1.4")
    assert any("bought and used leave 0.5 L, said to be left over is 0.4 L" in sentence for sentence in item.says)


def test_bought_on_the_day_of_use_was_there_before_it() -> None:
    (item,) = items(oil(1, "4", "L", "added"), oil(2, "5", "L", "bought"))
    assert (item.on_hand, item.says) == (Decimal(1), ())


def test_nothing_bought_is_not_known_and_not_zero() -> None:
    (item,) = items(oil(1, "4", "L", "added"))
    assert item.on_hand is None
    assert item.shown(item.on_hand) == "not known"


def test_more_used_than_bought_says_a_purchase_is_missing() -> None:
    (item,) = items(oil(1, "1", "L", "bought"), oil(2, "4", "L", "added"))
    assert item.on_hand == 0
    assert "3 L more used than bought" in item.says[0]


@pytest.mark.parametrize("fields", [{"assertion": "planned"}, {"assertion": "quoted"}, {"assertion": "retracted"}])
def test_what_is_not_stated_is_not_on_the_shelf(fields: dict[str, Any]) -> None:
    assert items(oil(1, "5", "L", "bought", **fields)) == []


@pytest.mark.parametrize("role", ["drained", "capacity"])
def test_what_was_drained_or_fits_in_is_no_stock(role: str) -> None:
    assert items(oil(1, "5", "L", role)) == []


def test_grades_are_kept_apart_and_a_missing_one_is_taken_where_there_is_only_one() -> None:
    def grade(number: int, code: str, note: int) -> Entry:
        return entry(number, "fluid", component="engine oil", code=code, note_id=note)

    told = items(oil(1, "5", "L", "bought"), grade(2, "5W-30", 1), oil(3, "1", "L", "added", note_id=2))
    assert [(item.name, item.on_hand) for item in told] == [("engine oil 5W-30", Decimal(4))]
    assert "5W-30 is the only one on record" in told[0].movements[1].marks[0]
    told = items(oil(1, "5", "L", "bought"), grade(2, "5W-30", 1), oil(3, "1", "L", "bought", note_id=2),
                 grade(4, "10W-40", 2), oil(5, "1", "L", "added", note_id=3))  # fmt: skip
    assert sorted((item.name, item.on_hand) for item in told if item.on_hand is not None) == [
        ("engine oil 10W-40", Decimal(1)), ("engine oil 5W-30", Decimal(5))]  # fmt: skip


def test_containers_multiply_what_they_hold() -> None:
    context = "bought two jugs of 5 quarts"
    jugs = entry(1, "count", "two jugs", start=7, component="jug", value="2", role="bought", context=context)
    (item,) = items(jugs, oil(2, "5", "qt", "bought", quote="5 quarts", start=19, context=context))
    assert item.on_hand == Decimal(10)
    assert item.movements[0].said == "2 × 5 qt (4.73 L)"
    other = "bought two filters and 5 quarts"
    filters = entry(1, "count", "two filters", start=7, component="oil filter", value="2", role="bought", context=other)
    told = items(filters, oil(2, "5", "qt", "bought", quote="5 quarts", start=23, context=other))
    (_, item) = sorted(told, key=lambda item: item.unit)
    assert item.on_hand == Decimal(5)


def test_pieces_carry_the_number_of_their_part() -> None:
    counted = entry(1, "count", component="oil filter", value="3", role="bought")
    number = entry(2, "part_number", component="oil filter", code="ZX-1", role="bought")
    fitted = entry(3, "part_number", component="oil filter", code="ZX-1", role="installed", note_id=2)
    (item,) = items(counted, number, fitted)
    assert (item.name, item.on_hand, item.shown(item.on_hand)) == ("oil filter ZX-1", Decimal(2), "2 pieces")
    assert "one piece taken" in item.movements[1].marks[0]


def test_a_material_is_used_without_an_amount() -> None:
    (item,) = items(entry(1, "material", component="bracket bolt", code="blue thread locker"))
    assert (item.on_hand, item.sums()) == (None, "used 1 time without an amount")


def test_one_thing_is_asked_for_by_name() -> None:
    told = items(oil(1, "5", "L", "bought"), entry(2, "material", code="grease"), part="oil")
    assert [item.name for item in told] == ["engine oil"]


def test_fasteners_that_were_only_counted_are_no_stock() -> None:
    six = entry(1, "count", component="valve cover bolt", value="6", role="used")
    assert items(six) == []
    (item,) = items(entry(2, "count", component="valve cover bolt", value="10", role="bought", day="2026-01-01"), six)
    assert item.on_hand == Decimal(4)


def fluid(number: int, component: str, value: str, role: str, **more: Any) -> Entry:
    return entry(number, "volume", component=component, value=value, unit="L", role=role, **more)


def grade(number: int, component: str, code: str, note_id: int = 1) -> Entry:
    return entry(number, "fluid", component=component, code=code, note_id=note_id)


def test_oil_of_a_grade_is_engine_oil_of_that_grade() -> None:
    told = items(fluid(1, "engine oil", "5", "bought"), grade(2, "engine oil", "5W-30"),
                 fluid(3, "oil", "4.3", "added", note_id=2), grade(4, "oil", "5W-30", 2))  # fmt: skip
    assert [(item.name, item.on_hand) for item in told] == [("engine oil 5W-30", Decimal("0.7"))]


def test_a_grade_of_no_scheme_joins_words_that_say_less() -> None:
    told = items(fluid(1, "engine oil", "5", "bought"), grade(2, "engine oil", "SAE 30"),
                 fluid(3, "oil", "1", "added", note_id=2), grade(4, "oil", "SAE 30", 2))  # fmt: skip
    assert [(item.name, item.on_hand) for item in told] == [("engine oil SAE 30", Decimal(4))]


def test_oil_is_the_oil_that_its_note_speaks_of() -> None:
    (item,) = items(fluid(1, "engine oil", "5", "bought"), fluid(2, "oil", "4", "added"))
    assert (item.name, item.on_hand) == ("engine oil", Decimal(1))
    assert item.movements[1].marks == ('said as "oil"',)


def test_oil_in_a_note_on_two_oils_stays_by_itself() -> None:
    told = items(fluid(1, "engine oil", "5", "bought"), fluid(2, "gearbox oil", "2", "bought"),
                 fluid(3, "oil", "1", "added"))  # fmt: skip
    assert [item.name for item in told] == ["engine oil", "gearbox oil", "oil"]


def test_one_bottle_serves_what_takes_its_grade() -> None:
    (item,) = items(fluid(1, "brake fluid", "1", "bought"), grade(2, "brake fluid", "DOT 4"),
                    fluid(3, "clutch fluid", "0.2", "added", note_id=2),
                    grade(4, "clutch fluid", "DOT 4", 2))  # fmt: skip
    assert (item.name, item.on_hand, item.also) == ("brake fluid DOT 4", Decimal("0.8"), ("clutch fluid",))


@pytest.mark.parametrize(("one", "other"), [("10W", "10W"), ("5W-30", "10W-40"), ("75W-80", "5W-30")])
def test_other_fluids_and_other_grades_stay_apart(one: str, other: str) -> None:
    told = items(fluid(1, "fork oil", "1", "bought"), grade(2, "fork oil", one),
                 fluid(3, "engine oil", "1", "bought", note_id=2), grade(4, "engine oil", other, 2))  # fmt: skip
    assert len(told) == 2


@pytest.mark.parametrize(("material", "shown"), [
    ("wire brush", False), ("heat gun", False), ("compressed air", False), ("hot water", False),
    ("distilled water", True), ("brake cleaner", True), ("gun grease", True), ("emery cloth", True),
])  # fmt: skip
def test_tools_are_no_stock(material: str, shown: bool) -> None:
    assert bool(items(entry(1, "material", component="hub", code=material))) is shown


def test_a_part_without_a_number_is_of_its_vehicle_alone() -> None:
    told = items(entry(1, "count", component="filter", value="2", role="bought"),
                 entry(2, "count", component="filter", value="1", role="used", vehicle="Other", note_id=2))  # fmt: skip
    assert [(item.name, item.on_hand) for item in told] == [("filter of Hallam Drover", Decimal(2))]


def test_bottles_of_which_each_holds_so_much() -> None:
    text = "two bottles of fork oil, 10W, one litre each, so there"
    told = items(entry(1, "count", "two", component="fork oil", value="2", role="bought", context=text),
                 entry(2, "volume", "one litre", component="fork oil", value="1", unit="L", role="added",
                       context=text, start=text.index("one litre")))  # fmt: skip
    assert [(item.name, item.on_hand, item.sums()) for item in told] == [("fork oil", Decimal(2), "bought 2 L")]


def test_bottles_of_which_nobody_said_what_they_hold_are_containers() -> None:
    (item,) = items(entry(1, "count", "two", component="fork oil", value="2", role="bought"))
    assert item.shown(item.on_hand) == "2 containers"


def test_an_amount_to_each_may_be_more() -> None:
    text = "485 ml into each leg"
    poured = fluid(2, "fork oil", "0.485", "added", quote="485 ml", context=text)
    (item,) = items(fluid(1, "fork oil", "2", "bought"), poured)
    assert item.says == ("used without an amount since: less may be left",)
    assert item.movements[1].marks == ("said of each: it may be more",)


def test_of_what_is_called_a_total_the_difference_counts() -> None:
    text = "four litres, then a bit more, five litres in total"
    (item,) = items(fluid(1, "engine oil", "8", "bought"),
                    fluid(2, "engine oil", "4", "added", quote="four litres", context=text),
                    fluid(3, "engine oil", "5", "added", quote="five litres", context=text,
                          start=text.index("five litres")))  # fmt: skip
    assert item.total("used") == Decimal(5)
    assert [one.amount for one in item.movements] == [8, 4, 1]


@pytest.mark.parametrize(("total", "used"), [("6.3", "6.2"), ("6.5", "12.7")])
def test_a_total_may_be_rounded_as_the_balance_takes_it(total: str, used: str) -> None:
    (item,) = items(oil(1, "8", "L", "bought"), oil(2, "6", "L", "added"), oil(3, "200", "mL", "added"),
                    oil(4, total, "L", "added"))  # fmt: skip
    assert item.total("used") == Decimal(used)


@pytest.mark.parametrize(("text", "used"), [
    ("48 oz, so a quart and a half", "1.5"), ("48 oz then a quart and a half", "3.0"),
    ("48 oz of it in the front one and much later on, after the other job was done and over, so a quart and a half",
     "3.0"),
])  # fmt: skip
def test_an_amount_said_again_in_another_unit_is_used_once(text: str, used: str) -> None:
    again = "a quart and a half"
    (item,) = items(oil(1, "4", "qt", "bought"),
                    oil(2, "48", "floz", "added", quote="48 oz", context=text),
                    oil(3, "1.5", "qt", "added", quote=again, context=text, start=text.index(again)))  # fmt: skip
    assert round(item.total("used"), 1) == Decimal(used)


def test_a_grade_that_was_not_said_is_the_only_one_of_the_vehicle_and_not_of_another() -> None:
    told = items(fluid(1, "gearbox oil", "2", "bought"), grade(2, "gearbox oil", "75W-80"),
                 fluid(3, "gearbox oil", "1", "added", note_id=2),
                 fluid(4, "gearbox oil", "1", "added", note_id=3, vehicle="Other"))  # fmt: skip
    assert [(item.name, item.on_hand) for item in told] == [("gearbox oil 75W-80", Decimal(1)), ("gearbox oil", None)]


def counted(number: int, value: str, role: str, context: str, component: str | None = None, **more: Any) -> Entry:
    """A count of the first word of a sentence."""
    word = context.split(maxsplit=1)[0]
    return entry(number, "count", word, value=value, role=role, component=component, context=context, **more)


def test_used_with_none_left_is_nothing_on_hand() -> None:
    (item,) = items(counted(1, "10", "bought", "ten crush washers", "crush washer", day="2026-05-01"),
                    counted(2, "2", "used", "two crush washers, none left", "crush washer"),
                    counted(3, "0", "left over", "none left", "crush washer"))  # fmt: skip
    assert (item.on_hand, item.sums()) == (0, "bought 10 pieces, used 2 pieces")


def test_what_is_left_of_a_consumable_is_not_used() -> None:
    words = "one tin of brake cleaner left"
    tin = counted(1, "1", "left over", words, "brake cleaner")
    cleaner = entry(2, "material", "brake cleaner", code="brake cleaner", context=words, start=words.index("brake"))
    (item,) = items(tin, cleaner)
    assert (item.name, item.shown(item.on_hand), item.sums()) == ("brake cleaner", "1 tin", "nothing bought or used")
    used = entry(3, "material", "brake cleaner", code="brake cleaner", context="brake cleaner on the disc", note_id=2)
    (item,) = items(tin, cleaner, used)
    assert item.sums() == "used 1 time without an amount"


@pytest.mark.parametrize(("words", "value", "component", "shown"), [
    ("two tins of brake cleaner left", "2", "brake cleaner", "2 tins"),
    ("two boxes of split pins left", "2", "split pin", "2 boxes"),
    ("one set of front pads left over", "1", "front pad", "1 set"),
    ("two filters left", "2", "oil filter", "2 pieces"),
])  # fmt: skip
def test_packages_are_told_as_what_they_are(words: str, value: str, component: str, shown: str) -> None:
    (item,) = items(counted(1, value, "left over", words, component))
    assert item.shown(item.on_hand) == shown


def test_a_bottle_of_a_grade_is_of_that_grade() -> None:
    words = "half a bottle of DOT 4 left"
    half = entry(1, "count", "half a", value="0.5", role="left over", component=None, context=words)
    grade = entry(2, "fluid", "DOT 4", code="DOT 4", context=words, start=words.index("DOT"))
    (item,) = items(half, grade)
    assert (item.grade, item.shown(item.on_hand)) == ("DOT 4", "0.5 bottle")


def test_packages_of_two_kinds_are_containers() -> None:
    (item,) = items(counted(1, "2", "bought", "two cans of brake cleaner", "brake cleaner", day="2026-05-01"),
                    counted(2, "1", "left over", "one tin of brake cleaner left", "brake cleaner"))  # fmt: skip
    assert item.shown(item.on_hand) == "1 container"


def test_a_fluid_is_called_by_no_place() -> None:
    (item,) = items(*(entry(at, "volume", component=f"{side} fork oil", value="0.4", unit="L", role="added")
                      for at, side in enumerate(("left", "right"))))  # fmt: skip
    assert item.name == "fork oil"
