"""Checks beside the sheet's values: contradictions, strength, balance, time and distance, what is missing."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from saidspec.model import Sheet
from saidspec.reconcile.case import History, PastJob, PastReading
from saidspec.reconcile.jobs import cautions_of, jobs
from saidspec.reconcile.run import open_case
from tests.reconcile_notes import Spoken, checks_of, done, flags_of, measured, sheet, torque, volume

OTHER = sheet(("radiator cap pressure", "measurement", "1.1 bar"))
FAR = "and then a good while went by with other things that had to be looked at, none of which matters here. " * 2


def note(day: str | None = "2026-05-03") -> Spoken:
    return Spoken(day)


def cases(rows: list[Any]) -> list[Any]:
    """The rows of a table without their names."""
    return [row[1:] for row in rows]


def names(rows: list[Any]) -> list[str]:
    """The names of a table's rows."""
    return [row[0] for row in rows]


def size(component: str, code: str) -> dict[str, object]:
    return {"kind": "size", "component": component, "code": code, "role": "thread"}


def odometer(value: object, assertion: str = "stated", unit: str | None = "km", **more: object) -> dict[str, object]:
    return {"kind": "odometer", "component": None, "value": value, "unit": unit, "assertion": assertion, **more}


CONTRADICTIONS = [
    ("two units that do not come to the same", note().say("10 newton metres, so 108 inch pounds",
     torque("cover bolt", 10, quote="10 newton metres"), torque("cover bolt", 108, "lbf*in", quote="108 inch pounds")),
     [("contradiction", None)]),
    ("two units that come to the same", note().say("10 newton metres, so 88 inch pounds",
     torque("cover bolt", 10, quote="10 newton metres"), torque("cover bolt", 88, "lbf*in", quote="88 inch pounds")),
     []),
    ("two torques of two things in a row", note().say("10 newton metres, and 40 inch pounds on the small ones",
     torque("cover bolt", 10, quote="10 newton metres"), torque("cover bolt", 40, "lbf*in", quote="40 inch pounds")),
     []),
    ("done otherwise than the note's own book says", note().say("book says 34 for the sump plug",
     torque("sump plug", 34, assertion="quoted")).say("did it at 43", torque("sump plug", 43)),
     [("contradiction", "transposed")]),
    ("done as the book says", note().say("book says 34 for the sump plug", torque("sump plug", 34, assertion="quoted"))
     .say("did it at 34", torque("sump plug", 34)), []),
    ("one fastener, two values, far apart", note().say("lug nuts 103", torque("lug nut", 103)).say(FAR)
     .say("lug nuts at 117 like I said", torque("lug nut", 117)), [("contradiction", None)]),
    ("one fastener in steps", note().say("lug nuts first 50", torque("lug nut", 50)).say(FAR)
     .say("lug nuts then 103", torque("lug nut", 103)), []),
    ("the two sides", note().say("left lug nuts 103", torque("left lug nut", 103)).say(FAR)
     .say("right lug nuts 117", torque("right lug nut", 117)), []),
    ("two bolts of a list", note().say("mount bolts 55 and 80", torque("engine mount bolt", 55, quote="55"),
     torque("engine mount bolt", 80, quote="80")), []),
    ("bolts of no part", note().say("bolts 20", torque("bolt", 20)).say(FAR).say("bolts 40", torque("bolt", 40)), []),
]  # fmt: skip


@pytest.mark.parametrize(("spoken", "wanted"), cases(CONTRADICTIONS), ids=names(CONTRADICTIONS))
def test_contradictions(spoken: Spoken, wanted: list[tuple[str, str | None]]) -> None:
    assert checks_of(spoken, OTHER) == wanted, [flag.message for flag in flags_of(spoken, OTHER)]


STRENGTH = [
    ("an M6 screw at 28", note().say("two M6 screws on the shield", size("heat shield screw", "M6"))
     .say("28 on those", torque("heat shield screw", 28)), True),
    ("an M6 screw at 9", note().say("two M6 screws on the shield", size("heat shield screw", "M6"))
     .say("9 on those", torque("heat shield screw", 9)), False),
    ("an M6 of class 8.8 at 18", note().say("M6 8.8 screws", size("shield screw", "M6"))
     .say("18 on those", torque("shield screw", 18)), True),
    ("an M6 of no class at 18", note().say("M6 screws", size("shield screw", "M6"))
     .say("18 on those", torque("shield screw", 18)), False),
    ("anti-seize lowers what it can take", note().say("M6 screws", size("shield screw", "M6"))
     .say("anti-seize on the shield screws", {"kind": "material", "component": "shield screw", "code": "anti-seize"})
     .say("18 on those", torque("shield screw", 18)), True),
    ("another fastener's thread says nothing", note().say("M6 screws on the shield", size("shield screw", "M6"))
     .say("28 on the clamp", torque("exhaust clamp bolt", 28)), False),
    ("an inch thread at 60 lbf*ft", note().say("3/8-16 bolts", size("bracket bolt", "3/8-16"))
     .say("bracket bolts", torque("bracket bolt", 70, "lbf*ft")), True),
    ("an inch thread at 30 lbf*ft", note().say("3/8-16 bolts", size("bracket bolt", "3/8-16"))
     .say("bracket bolts", torque("bracket bolt", 30, "lbf*ft")), False),
    ("only planned", note().say("M6 screws", size("shield screw", "M6"))
     .say("28 next time", torque("shield screw", 28, assertion="planned")), False),
]  # fmt: skip


@pytest.mark.parametrize(("spoken", "over"), cases(STRENGTH), ids=names(STRENGTH))
def test_a_torque_beyond_what_the_thread_can_take(spoken: Spoken, over: bool) -> None:
    flags = flags_of(spoken, OTHER)
    assert [(flag.check, flag.severity) for flag in flags] == ([("over-limit", "danger")] if over else [])
    assert all("no specification" in flag.message and "K 0." in flag.message for flag in flags)


def test_the_thread_may_come_from_the_sheet_and_the_torque_may_agree_with_it() -> None:
    specs = sheet(("water pump bolt", "size", "M6"), ("water pump bolt", "torque", "30 N*m"))
    spoken = note().say("water pump bolts 30", torque("water pump bolt", 30))
    assert checks_of(spoken, specs) == [("over-limit", None)]


def balanced(bought: object, poured: object, left: object, **more: object) -> Spoken:
    spoken = note().say(f"bought {bought}", volume("engine oil", bought, role="bought", **more))
    spoken.say(f"put in {poured}", volume("engine oil", poured))
    return spoken.say(f"{left} is left", volume("engine oil", left, role="left over"))


TWO_JUGS = note().say("two jugs of 5 litres", volume("engine oil", 5, role="bought", quote="5 litres"),
                      {"kind": "count", "component": "jug", "value": 2, "role": "bought", "quote": "two"})
OUNCES = note().say("2 quarts", volume("engine oil", 2, "qt", role="bought"))
BALANCES = [
    ("adds up", balanced(5, "4.3", "0.7"), False),
    ("does not", balanced(5, "4.3", "1.7"), True),
    ("within the uncertainty", balanced(5, "4.3", "0.9"), False),
    ("more poured than bought", balanced(4, "4.3", "0.7"), True),
    ("nothing bought", note().say("4.3 in", volume("engine oil", "4.3"))
     .say("0.7 left", volume("engine oil", "0.7", role="left over")), False),
    ("some was there before", balanced(5, "4.3", "1.7").say("but I had some from last time"), False),
    ("mixed with water", balanced(4, "7.5", "0.3").say("of distilled water half of it"), False),
    ("two jugs", TWO_JUGS.say("8 in", volume("engine oil", 8)).say("2 left", volume("engine oil", 2, role="left over")),
     False),
    ("US ounces", OUNCES.say("42 ounces in", volume("engine oil", 42, "floz"))
     .say("22 ounces left", volume("engine oil", 22, "floz", role="left over")), False),
]  # fmt: skip


@pytest.mark.parametrize(("spoken", "wrong"), cases(BALANCES), ids=names(BALANCES))
def test_balance_of_a_note(spoken: Spoken, wrong: bool) -> None:
    assert checks_of(spoken, OTHER) == ([("balance", None)] if wrong else [])


def test_balance_says_what_should_be_left() -> None:
    assert "0.7 L should be left" in flags_of(balanced(5, "4.3", "1.7"), OTHER)[0].message


def test_balance_with_the_stock() -> None:
    spoken = note().say("bought one more", volume("engine oil", 1, role="bought"))
    spoken.say("4.3 in", volume("engine oil", "4.3"))
    assert checks_of(spoken, OTHER, History(stock=(("engine oil", Decimal(1)),))) == [("balance", None)]
    assert checks_of(spoken, OTHER, History(stock=(("engine oil", Decimal(4)),))) == []
    silent = note().say("4.3 in", volume("engine oil", "4.3"))
    assert checks_of(silent, OTHER, History(stock=(("engine oil", Decimal(1)),))) == []


KM = sheet(("engine oil", "interval", "15000 km or 24 month"), vehicle='odometer_unit = "km"')
PAST = History(readings=(PastReading(Decimal(61000), "km", date(2026, 4, 1), "note of April"),))

LATER = History(readings=(PastReading(Decimal(61000), "km", date(2026, 4, 1), "x"),
                          PastReading(Decimal(61300), "km", date(2026, 5, 1), "x")))
ODOMETER = [
    ("goes on", note().say("61877", odometer(61877)), PAST, []),
    ("goes back", note().say("60000", odometer(60000)), PAST, [("odometer", None)]),
    ("goes back, digits swapped", note().say("16877", odometer(16877)),
     History(readings=(PastReading(Decimal(61000), "km", date(2026, 4, 1), "x"),)), [("odometer", "transposed")]),
    ("goes back, read in miles", note().say("39000 miles", odometer(39000, unit="mi")),
     History(readings=(PastReading(Decimal(62000), "km", date(2025, 4, 1), "x"),)), []),
    ("jumps beyond reason", note().say("161877", odometer(161877)), PAST, [("odometer", None)]),
    ("below an earlier one of the note", note().say("61000 now", odometer(61000)).say("last time 64000",
     odometer(64000, "historical")), None, [("odometer", None)]),
    ("above an earlier one of the note", note().say("61877 now", odometer(61877)).say("last time 49200",
     odometer(49200, "historical")), None, []),
    ("below when it is due next", note().say("61877 now", odometer(61877)).say("sticker: next due at 71900",
     odometer(71900, "quoted", quote="71900")), None, []),
    ("rounded figures are not held to the digit", note().say("139800", odometer(139800)).say("say 140 thousand",
     odometer(140000, "historical")), None, []),
    ("a later note has less: that one is wrong", note("2026-03-01").say("61877", odometer(61877)), PAST, []),
    ("two later notes have less", note("2026-03-01").say("61877", odometer(61877)), LATER, [("odometer", None)]),
    ("the next note bears out that the one before was too high", note("2026-04-20").say("61100", odometer(61100)),
     History(readings=(PastReading(Decimal(64000), "km", date(2026, 4, 1), "x"),
                       PastReading(Decimal(61300), "km", date(2026, 5, 1), "x"))), []),
    ("goes back in the miles of both", note().say("61,200 miles", odometer(61200, unit="mi"))
     .say("last at 64,100", odometer(64100, "historical", unit="mi")), None, [("odometer", None)]),
    ("goes back, for it is miles where kilometres were read", note().say("61,200 miles", odometer(61200, unit="mi")),
     History(readings=(PastReading(Decimal(96000), "mi", date(2026, 4, 1), "x"),)), [("odometer", "unit")]),
]  # fmt: skip


@pytest.mark.parametrize(("spoken", "history", "wanted"), cases(ODOMETER), ids=names(ODOMETER))
def test_odometer(spoken: Spoken, history: History | None, wanted: list[tuple[str, str | None]]) -> None:
    assert checks_of(spoken, OTHER if history is None else KM, history) == wanted


def test_an_odometer_that_goes_backwards_is_told_by_how_much() -> None:
    (flag,) = flags_of(note().say("61,200 miles", odometer(61200, unit="mi"))
                       .say("last at 64,100", odometer(64100, "historical", unit="mi")), OTHER)
    assert "goes backwards by 2900 mi (4667 km)" in flag.message


def test_an_interval_that_was_exceeded_is_told_in_both_units() -> None:
    (flag,) = flags_of(changed(61877, 41000), KM)
    assert "20877 km (12972 mi) since it was last done" in flag.message
    assert "5877 km (3652 mi) over" in flag.message


def changed(now: int, before: int | None, since: str | None = None) -> Spoken:
    spoken = note().say(f"oil service at {now}", odometer(now))
    spoken.say("changed the engine oil", done("replace", "engine oil")).say("4.3 in", volume("engine oil", "4.3"))
    spoken.say("of 5W-30", {"kind": "fluid", "component": "engine oil", "code": "5W-30"})
    if before is not None:
        spoken.say(f"last one at {before}", odometer(before, "historical"))
    if since:
        spoken.say(f"last one {since}", {"kind": "date", "component": None, "code": since, "assertion": "historical"})
    return spoken


def known(distance: int) -> History:
    return History(jobs=(PastJob("engine oil", date(2025, 9, 1), Decimal(distance), "km", "note of 2025"),))


OVERDUE = [
    ("in distance", changed(61877, 49200), None, False),
    ("over in distance", changed(61877, 41000), None, True),
    ("in time", changed(61877, None, "2025-03-12"), None, False),
    ("over in time", changed(61877, None, "2023-03-12"), None, True),
    ("nothing known", changed(61877, None), None, False),
    ("over by the record", changed(61877, None), known(40000), True),
    ("in by the record", changed(61877, None), known(50000), False),
    ("another job", note().say("at 61877", odometer(61877)).say("air filter", done("replace", "air filter"))
     .say("last one at 30000", odometer(30000, "historical")), None, False),
]  # fmt: skip


@pytest.mark.parametrize(("spoken", "history", "over"), cases(OVERDUE), ids=names(OVERDUE))
def test_overdue(spoken: Spoken, history: History | None, over: bool) -> None:
    assert checks_of(spoken, KM, history) == ([("overdue", None)] if over else [])


PLUG = sheet(("engine oil drain plug", "torque", "34 N*m"))
BRACKET = sheet(("caliper bracket bolt", "torque", "107 N*m"))
WHEEL = sheet(("wheel nut", "torque", "110 N*m"))


def oil_change(*more: dict[str, object]) -> Spoken:
    spoken = note().say("drained the engine oil", done("drain", "engine oil"))
    spoken.say("4 litres in", volume("engine oil", 4))
    for fact in more:
        spoken.say("and then", fact)
    return spoken


GRADE = sheet(("engine oil", "fluid", "5W-30"))
MISSING = [
    ("a grade never said", oil_change(), GRADE, True),
    ("a grade that no fact came of", oil_change().say("four litres of 5w-30 that was"), GRADE, False),
    ("a drain plug never tightened", oil_change(), PLUG, True),
    ("a drain plug tightened to a torque", oil_change(torque("drain plug", 34)), PLUG, False),
    ("a torque of no part might be its", oil_change(torque(None, 34)), PLUG, False),
    ("said to be tightened", oil_change(done("tighten", "drain plug")), PLUG, False),
    ("still to be tightened", oil_change(torque("drain plug", 34, assertion="planned")), PLUG, False),
    ("quoted as it was done", oil_change(torque("drain plug", 34, assertion="quoted")), PLUG, False),
    ("another plug's torque is not its", oil_change(torque("spark plug", 18)), PLUG, True),
    ("only drained", note().say("drained the oil", done("drain", "engine oil")), PLUG, False),
    ("not drained", note().say("didn't drain the oil", done("drain", "engine oil", assertion="negated"))
     .say("4 in", volume("engine oil", 4)), PLUG, False),
    ("topped up", note().say("topped up the engine oil with 1 litre", volume("engine oil", 1)), PLUG, False),
    ("sucked out", note().say("sucked it out with the extractor", done("drain", "engine oil"))
     .say("4 in", volume("engine oil", 4)), PLUG, False),
    ("nothing of the plug in sheet or note", oil_change(), OTHER, False),
    ("the plug undone in the note, nothing in the sheet",
     oil_change({"kind": "size", "component": "engine oil drain plug", "value": 14, "unit": "mm", "role": "tool"}),
     OTHER, True),
    ("wheels off and on", note().say("wheels off", done("remove", "wheel")).say("wheels on", done("install", "wheel")),
     WHEEL, True),
    ("wheels off and on and tightened", note().say("wheels off", done("remove", "wheel"))
     .say("wheels on", done("install", "wheel")).say("lugs 110", torque("lug nut", 110)), WHEEL, False),
    ("wheels never off", note().say("wheels never came off", done("remove", "wheel", assertion="negated")), WHEEL,
     False),
    ("a bolt that nothing was done to", note().say("new pads", done("replace", "brake pad")),
     BRACKET, False),
    ("a bolt that was taken out", note().say("new pads", done("replace", "brake pad"))
     .say("bracket bolts out", done("remove", "caliper bracket bolt")), BRACKET, True),
]  # fmt: skip


@pytest.mark.parametrize(("spoken", "specs", "missing"), cases(MISSING), ids=names(MISSING))
def test_missing(spoken: Spoken, specs: Sheet, missing: bool) -> None:
    found = [check for check, _ in checks_of(spoken, specs) if check != "contradiction"]
    assert found == (["missing"] if missing else [])


def test_missing_says_why_it_matters_and_what_the_sheet_has() -> None:
    (flag,) = flags_of(oil_change(), PLUG)
    assert "a loose drain plug empties the engine on the road" in flag.message
    assert "34 N·m (25.1 lbf·ft)" in flag.message
    assert flag.component == "engine oil drain plug"


def test_an_oil_change_asks_for_what_the_sheet_can_tell() -> None:
    specs = sheet(("engine oil", "volume", "4.3 L"), ("engine oil", "fluid", "5W-30"),
                  ("engine oil", "interval", "15000 km"))
    spoken = note().say("changed the engine oil", done("replace", "engine oil"))
    assert sorted(flag.kind for flag in flags_of(spoken, specs)) == ["fluid", "odometer", "volume"]
    assert {flag.check for flag in flags_of(spoken, specs)} == {"missing"}


def test_a_gearbox_drained_before_its_filler_plug_was_opened_is_told() -> None:
    spoken = note().say("drained the gearbox oil", done("drain", "gearbox oil")).say("filler plug was stuck",
                   done("loosen", "gearbox filler plug")).say("2 litres in", volume("gearbox oil", 2))
    told = cautions_of(open_case(spoken.reading(), OTHER))
    assert any("prove that the filler plug opens before draining" in caution for caution in told)
    right = note().say("filler plug opened", done("loosen", "gearbox oil filler plug")).say("drained the gearbox oil",
                  done("drain", "gearbox oil")).say("2 litres in", volume("gearbox oil", 2))
    assert not any("(the note does not say" in caution for caution in cautions_of(open_case(right.reading(), OTHER)))


def test_a_note_without_a_job_has_no_cautions() -> None:
    spoken = note().say("tyres at 2.3", measured("front tyre", "2.3", "bar", "pressure"))
    assert cautions_of(open_case(spoken.reading(), OTHER)) == []


def test_every_job_has_a_reason_for_what_it_needs_and_ids_are_single() -> None:
    assert len({job.id for job in jobs()}) == len(jobs()) >= 15
    assert all(need.why for job in jobs() for need in job.needs)
    assert all(job.done and job.cautions for job in jobs())
