"""The table of checks and causes: for each a note that raises it, and a note near it that does not.

Every row is (what is shown, note, sheet, flags as (check, likely)).  Facts are made by hand, so that the rows test the
reconciler and not the reading of the words.
"""

from __future__ import annotations

import pytest

from saidspec.model import Sheet
from tests.reconcile_notes import Spoken, checks_of, done, flags_of, measured, sheet, torque, volume

Row = tuple[str, Spoken, Sheet, list[tuple[str, str | None]]]

BRAKES = sheet(
    ("front caliper bracket bolt", "torque", "107 N*m"), ("front caliper slide pin bolt", "torque", "35 N*m"),
    ("front brake disc", "measurement", "min 24 mm"), ("front brake disc runout", "measurement", "max 0.05 mm"),
    ("brake fluid", "fluid", "DOT 4"), ("wheel nut", "torque", "90 lbf*ft"), ("wheel nut", "size", "19 mm"),
)
OIL = sheet(
    ("engine oil drain plug", "torque", "34 N*m"), ("oil filter housing cap", "torque", "15 N*m"),
    ("engine oil", "volume", "4.3 L"), ("engine oil", "fluid", "5W-30"), ("gearbox oil", "fluid", "75W-80 GL-4"),
    ("engine oil filter", "part_number", "OF-3318-F"), ("engine oil", "interval", "15000 km or 24 month"),
    vehicle='odometer_unit = "km"',
)
FILL = sheet(("engine oil", "volume", "4.3 L"))
CYLINDER_HEAD = sheet(("cylinder head bolt", "torque", "30 N*m + 90 deg"))
RANGE = sheet(("relief valve pressure", "measurement", "170 to 180 bar"),
              ("exhaust valve clearance", "measurement", "0.25 to 0.30 mm"),
              ("thermostat opening temperature", "measurement", "180 degF"))
BELT = sheet({"component": "timing belt kit", "kind": "part_number", "value": "NX-5518-L", "replaces": '["NX-5518-K"]'},
             ("spark plug", "part_number", "JX742C"))
HYDRAULIC = sheet(("hydraulic drain plug", "torque", "70 N*m"), ("hydraulic oil", "volume", "32 L"),
                  ("hydraulic pump mounting bolt", "torque", "45 N*m"),
                  ("hydraulic strainer cover bolt", "torque", "25 N*m"))
IMPERIAL = sheet(("engine oil", "volume", "4.5 L"), vehicle='volume_system = "us"')


def note() -> Spoken:
    return Spoken()


def bolt(value: object, unit: str = "N*m", **more: object) -> Spoken:
    """A front slide pin bolt at a torque."""
    return note().say("front slide pin bolts at that", torque("front slide pin bolt", value, unit, **more))


def drain_plug(value: object, unit: str = "N*m", **more: object) -> Spoken:
    """The drain plug at a torque, in an oil service."""
    return note().say("oil service, drain plug at that", torque("drain plug", value, unit, **more))


def part(component: str, code: str, **more: object) -> Spoken:
    """A part number."""
    return note().say(f"{component} is {code}", {"kind": "part_number", "component": component, "code": code, **more})


def fluid(component: str | None, code: str, **more: object) -> Spoken:
    """A fluid's grade."""
    return note().say(f"it is {code}", {"kind": "fluid", "component": component, "code": code, **more})


TABLE: list[Row] = [
    # differs, and its tolerance
    ("a torque beyond 4 % differs", drain_plug(36), OIL, [("differs", None)]),
    ("a torque within 4 % agrees", drain_plug(35), OIL, []),
    ("the same torque in other units agrees", drain_plug(25, "lbf*ft"), OIL, []),
    ("a small torque within 6 % agrees", note().say("cap at 88", torque("bleed screw", 88, "lbf*in")),
     sheet(("bleed screw", "torque", "10 N*m")), []),
    ("a range that is left differs", note().say("180 to 185", measured("relief valve", 185, "bar", "pressure")), RANGE,
     [("differs", None)]),
    ("a range that is kept agrees", note().say("at 2600 psi", measured("relief valve", 2600, "psi", "pressure")), RANGE,
     []),
    ("about is granted a tenth", drain_plug(37, approximate=True), OIL, []),
    ("about is not granted more", drain_plug(39, approximate=True), OIL, [("differs", None)]),
    ("a sheet's own tolerance counts", drain_plug(39),
     sheet({"component": "engine oil drain plug", "kind": "torque", "value": "34 N*m", "tolerance": "6 N*m"}), []),
    ("a sheet's own tolerance ends", drain_plug(41),
     sheet({"component": "engine oil drain plug", "kind": "torque", "value": "34 N*m", "tolerance": "6 N*m"}),
     [("differs", None)]),
    # standing: only what is stated can be wrong; a quoted figure is a claim about the reference
    ("a planned torque is never wrong", drain_plug(60, assertion="planned"), OIL, []),
    ("a guessed torque is never wrong", drain_plug(60, assertion="possible"), OIL, []),
    ("a torque of the past is never wrong", drain_plug(60, assertion="historical"), OIL, []),
    ("a negated torque is never wrong", drain_plug(60, assertion="negated"), OIL, []),
    ("a torque taken back is never wrong", drain_plug(60, assertion="retracted"), OIL, []),
    ("a quoted torque is a claim", drain_plug(60, assertion="quoted"), OIL, [("differs", None)]),
    ("a quoted torque for undoing is no claim",
     note().say("oil service, never go over 60 on the drain plug", torque("drain plug", 60, assertion="quoted")), OIL,
     []),
    ("a torque at which it came undone is none",
     note().say("oil service, drain plug let go at 60", torque("drain plug", 60, quote="60")), OIL, []),
    ("a claim and the same done are flagged once",
     drain_plug(60, assertion="quoted").say("did it at 60", torque("drain plug", 60)), OIL, [("differs", None)]),
    ("an earlier step is no difference",
     note().say("slide pin bolts, 15 first", torque("front slide pin bolt", 15, quote="15"))
     .say("then 35", torque("front slide pin bolt", 35, quote="35")), BRAKES, []),
    # angle
    ("another angle differs", note().say("30 and 60", torque("cylinder head bolt", 30, angle=60)), CYLINDER_HEAD,
     [("differs", None)]),
    ("the angle agrees", note().say("30 and 90", torque("cylinder head bolt", 30, angle=90)), CYLINDER_HEAD, []),
    ("an angle never said is missing", note().say("30", torque("cylinder head bolt", 30)), CYLINDER_HEAD,
     [("missing", None)]),
    ("an angle said apart counts", note().say("30", torque("cylinder head bolt", 30))
     .say("and 90 degrees", {"kind": "torque", "component": "cylinder head bolt", "angle": 90}), CYLINDER_HEAD, []),
    # sizes
    ("a wrong spanner size is looked at", note().say("wheel nuts are 22", {"kind": "size", "component": "wheel nut",
     "value": 22, "unit": "mm", "role": "tool"}), BRAKES, [("differs", None)]),
    ("sizes that take the same nut agree", note().say("wheel nuts are 3/4", {"kind": "size", "component": "wheel nut",
     "value": "0.75", "unit": "in", "role": "tool"}), BRAKES, []),
    ("a second tool on the same part is none", note().say("wheel nuts 19", {"kind": "size", "component": "wheel nut",
     "value": 19, "unit": "mm", "role": "tool"}).say("and a 22", {"kind": "size", "component": "wheel nut", "value": 22,
     "unit": "mm", "role": "tool"}), BRAKES, []),
    # limits
    ("a disc below its limit", note().say("disc is 23.9", measured("front disc", "23.9", "mm", "thickness")), BRAKES,
     [("outside-limit", None)]),
    ("a disc at its limit", note().say("disc is 24", measured("front disc", 24, "mm", "thickness")), BRAKES, []),
    ("a runout above its limit", note().say("0.06 of runout", measured("front disc", "0.06", "mm", "runout")), BRAKES,
     [("outside-limit", None)]),
    ("a runout below its limit", note().say("a thou of runout", measured("front disc", 1, "thou", "runout")), BRAKES,
     []),
    ("a quoted limit that is not the sheet's", note().say("minimum on the hat is 22",
     measured("front disc", 22, "mm", "thickness", assertion="quoted", quote="22")), BRAKES, [("differs", None)]),
    ("a quoted limit that is the sheet's", note().say("minimum on the hat is 24",
     measured("front disc", 24, "mm", "thickness", assertion="quoted", quote="24")), BRAKES, []),
    ("a new part's quoted measure is no limit", note().say("new it would be 26",
     measured("front disc", 26, "mm", "thickness", assertion="quoted", quote="26")), BRAKES, []),
    ("a worn part that was replaced is no fault",
     note().say("disc was 22", measured("front disc", 22, "mm", "thickness"))
     .say("new discs on", done("replace", "front disc")), BRAKES, []),
    # causes
    ("cause: another unit", bolt(35, "lbf*ft"), BRAKES, [("differs", "unit")]),
    ("cause: another unit the other way", note().say("wheel nuts 90", torque("wheel nut", 90)), BRAKES,
     [("differs", "unit")]),
    ("cause: inch pounds for foot pounds", note().say("wheel nuts", torque("wheel nut", 90, "lbf*in")), BRAKES,
     [("differs", "unit")]),
    ("cause: Celsius for Fahrenheit", note().say("opened at", measured("thermostat", 180, "degC", "temperature")),
     RANGE, [("differs", "unit")]),
    ("cause: a neighbour's value", note().say("hydraulic strainer cover", torque("hydraulic strainer cover bolt", 45)),
     HYDRAULIC, [("differs", "neighbour")]),
    ("cause: misheard teen", note().say("cap at fifty", torque("oil filter housing cap", 50)), OIL,
     [("differs", "misheard")]),
    ("cause: swapped digits", drain_plug(43), OIL, [("differs", "transposed")]),
    ("cause: decimal point", note().say("17.5", measured("relief valve", "17.5", "bar", "pressure")), RANGE,
     [("differs", "decimal")]),
    ("cause: decimal point, hundredfold", note().say("28", measured("exhaust valve", 28, "mm", "clearance")), RANGE,
     [("differs", "decimal")]),
    ("cause: none that is known", drain_plug(71), OIL, [("differs", None)]),
    ("cause: superseded number", part("timing belt kit", "NX-5518-K"), BELT, [("differs", "old-part")]),
    ("cause: swapped characters", part("spark plug", "JX724C"), BELT, [("differs", "transposed")]),
    ("cause: a letter that sounds alike", part("timing belt kit", "NX-5518-O"), BELT, [("differs", "misheard")]),
    ("cause: imperial quart", note().say("drained the oil", done("drain", "engine oil"))
     .say("put 1 gallon in", volume("engine oil", 1, "gal")), IMPERIAL, [("differs", "imperial-quart")]),
    # part numbers
    ("separators do not count", part("timing belt kit", "NX5518 L"), BELT, []),
    ("another number of the same part differs", part("spark plug", "QQ-1234"), BELT, [("differs", None)]),
    ("another number of something near decides nothing", part("belt tensioner", "QQ-1234"), BELT, []),
    ("the number of what came off is none", part("timing belt kit", "NX-5518-K", role="removed"), BELT, []),
    ("a number guessed is none", part("timing belt kit", "NX-5518-M", assertion="possible"), BELT, []),
    # volumes
    ("pours are summed", note().say("drained it, 4 litres of oil in", done("drain", "engine oil"), volume("oil", 4))
     .say("then another 300 ml", volume("oil", 300, "mL", quote="300 ml")), FILL, []),
    ("too little after a drain differs", note().say("drained it, 3.3 litres of oil in", done("drain", "engine oil"),
     volume("oil", "3.3")), FILL, [("differs", None)]),
    ("far too little is no slip but another figure", note().say("drained it, 1 litre of oil in", done("drain",
     "engine oil"),
     volume("oil", 1)), FILL, []),
    ("quarts for litres need no drain to be told", note().say("4.3 quarts of engine oil in", volume("engine oil",
     "4.3", "qt")),
     sheet(("engine oil", "volume", "4.3 L"), vehicle='volume_system = "us"'), [("differs", "unit")]),
    ("a fluid that is bled is not measured by its pour", note().say("half a litre of brake fluid",
     volume("brake fluid", "0.5")), sheet(("brake fluid", "volume", "0.3 L")), []),
    ("coolant stays in the block", note().say("drained the coolant", done("drain", "coolant")).say("6 in",
     volume("coolant", 6)),
     sheet(("coolant", "volume", "8 L")), []),
    ("too much differs without a drain", note().say("5 litres of engine oil in", volume("engine oil", 5)), FILL,
     [("differs", None)]),
    ("what came out was not poured in, whatever role it was given", note().say("drained it", done("drain",
     "engine oil"))
     .say("5 litres out", volume("engine oil", 5, quote="5 litres")).say("4.3 in", volume("engine oil", "4.3")), FILL,
     []),
    ("a total said is not poured again", note().say("drained, 4 litres of oil", done("drain", "engine oil"),
     volume("oil", 4, quote="4 litres")).say("and 0.3", volume("oil", "0.3", quote="0.3"))
     .say("so 4.3 in total", volume("oil", "4.3", quote="4.3")), FILL, []),
    ("a pour said again in another unit is one pour", note().say("drained, 4.3 litres, that's 4.5 quarts of oil",
     done("drain", "engine oil", quote="drained"), volume("engine oil", "4.3", quote="4.3 litres"),
     volume("engine oil", "4.5", "qt", quote="4.5 quarts")), FILL, []),
    ("too little without a drain is a top-up", note().say("one litre of oil in", volume("engine oil", 1)), OIL, []),
    ("said to be a topping up", note().say("drained it", done("drain", "engine oil"))
     .say("topped up with 1 litre", volume("engine oil", 1, quote="1 litre")), OIL, []),
    ("what was drained is no capacity", note().say("5 litres came out", volume("engine oil", 5, role="drained")), OIL,
     []),
    ("what was bought is no capacity", note().say("bought 5 litres", volume("engine oil", 5, role="bought")), OIL, []),
    ("a gallon may be either where the sheet is silent",
     note().say("7 gallons", volume("hydraulic oil", 7, "gal")), HYDRAULIC, []),
    ("a quoted capacity is a claim", note().say("book says 5.2", volume("engine oil", "5.2", role="capacity",
     assertion="quoted")), OIL, [("differs", None)]),
    # fluids
    ("another grade differs", fluid("engine oil", "5W-40"), OIL, [("differs", None)]),
    ("the same grade agrees", fluid("engine oil", "5w30"), OIL, []),
    ("a grade without its class agrees", fluid("gearbox oil", "75W-80"), OIL, []),
    ("another class differs", fluid("gearbox oil", "75W-80 GL-5"), OIL, [("differs", None)]),
    ("a scheme that only one side has decides nothing", fluid("engine oil", "fully synthetic"), OIL, []),
    ("gear oil in the engine is the neighbour's", fluid("engine oil", "75W-80"), OIL, [("differs", "neighbour")]),
    ("silicone in a glycol system", fluid("brake fluid", "DOT 5"), BRAKES, [("differs", None)]),
    ("a fluid without a part is held against the only one of its kind", fluid(None, "DOT 5.1"), BRAKES,
     [("differs", None)]),
]


@pytest.mark.parametrize(("spoken", "specs", "wanted"), [row[1:] for row in TABLE], ids=[row[0] for row in TABLE])
def test_raises(spoken: Spoken, specs: Sheet, wanted: list[tuple[str, str | None]]) -> None:
    found = checks_of(spoken, specs)
    assert sorted(found, key=str) == sorted(wanted, key=str), [flag.message for flag in flags_of(spoken, specs)]


def test_a_message_has_both_numbers_in_both_units_the_deviation_the_tolerance_and_the_source() -> None:
    (flag,) = flags_of(bolt(35, "lbf*ft"), BRAKES)
    assert flag.message == (
        "front caliper slide pin bolt: said 35 lbf·ft (47.5 N·m), the sheet has 35 N·m (25.8 lbf·ft) "
        "(workshop manual): +36 %, tolerance 4 % (torque tools, ISO 6789-1). "
        "Likely the number is right in another unit (N·m).")
    assert (flag.severity, flag.fact, flag.tolerance) == ("danger", 1, "4 % (torque tools, ISO 6789-1)")


@pytest.mark.parametrize(("spoken", "specs", "grave"), [
    (bolt(50), BRAKES, "danger"), (drain_plug(50), OIL, "wrong"),
    (note().say("disc 20", measured("front disc", 20, "mm", "thickness")), BRAKES, "danger"),
    (part("timing belt kit", "NX-5518-K"), BELT, "look"), (fluid("brake fluid", "DOT 3"), BRAKES, "danger"),
])  # fmt: skip
def test_severity_is_danger_where_a_failure_hurts_people(spoken: Spoken, specs: Sheet, grave: str) -> None:
    assert [flag.severity for flag in flags_of(spoken, specs)] == [grave]


def test_the_side_that_only_the_note_has_is_in_the_flags_component() -> None:
    spoken = note().say("right slide pin bolts", torque("front right slide pin bolt", 47))
    assert flags_of(spoken, BRAKES)[0].component == "right front caliper slide pin bolt"
