"""Component phrases to specifications: synonyms, places, fasteners, short phrases, options; and never a guess."""

from __future__ import annotations

import pytest

from saidspec.model import Sheet
from saidspec.reconcile.matching import Match, explain
from saidspec.reconcile.run import open_case
from tests.reconcile_notes import Spoken, agreed_of, checks_of, measured, sheet, torque

BRAKES = sheet(
    ("front caliper bracket bolt", "torque", "107 N*m"),
    ("front caliper slide pin bolt", "torque", "35 N*m"),
    ("wheel nut", "torque", "160 N*m"),
    ("front brake disc", "measurement", "min 24 mm"),
    ("front brake pad", "measurement", "min 2 mm"),
    ("rear axle hub nut", "torque", "280 N*m"),
)
ENGINE = sheet(
    ("engine oil drain plug", "torque", "34 N*m"),
    ("gearbox drain plug", "torque", "22 N*m"),
    ("oil filter housing cap", "torque", "15 N*m"),
    ("spark plug", "torque", "18 N*m"),
    ("timing belt tensioner nut", "torque", "25 N*m"),
    ("auxiliary belt tensioner bolt", "torque", "21 N*m"),
    ("timing belt idler bolt", "torque", "45 N*m"),
    ("water pump bolt", "torque", "9 N*m"),
    ("water pump pulley bolt", "torque", "12 N*m"),
    ("valve cover bolt", "torque", "10 N*m"),
    ("crankshaft pulley bolt", "torque", "120 N*m"),
    ("exhaust valve clearance", "measurement", "0.25 to 0.30 mm"),
    ("intake valve clearance", "measurement", "0.10 to 0.20 mm"),
    ("spark plug gap", "measurement", "0.7 to 0.8 mm"),
    ("engine mount 16 mm bolt", "torque", "55 N*m"),
    ("engine mount 18 mm bolt", "torque", "80 N*m"),
)
TYRES = sheet(("front tyre pressure", "measurement", "2.3 bar"), ("rear tyre pressure", "measurement", "2.8 bar"))


def matched(specs: Sheet, component: str | None, sentence: str = "did it", before: str = "", kind: str = "torque"
            ) -> Match:
    """What a stated value of a component is matched with."""
    spoken = Spoken()
    if before:
        spoken.say(before)
    fact = torque(component, 1) if kind == "torque" else measured(component, 1, *kind.split())
    reading = spoken.say(sentence, fact).reading()
    return open_case(reading, specs).matches[1]


SURE = [
    (BRAKES, "caliper bracket bolt", "front brakes today", "front caliper bracket bolt"),
    (BRAKES, "front left caliper carrier bolt", "", "front caliper bracket bolt"),
    (BRAKES, "bracket bolt", "front brakes, caliper is hung up on a wire", "front caliper bracket bolt"),
    (BRAKES, "front guide pin bolt", "front brakes", "front caliper slide pin bolt"),
    (BRAKES, "left slide pin bolt", "front brakes", "front caliper slide pin bolt"),
    (BRAKES, "lug nut", "", "wheel nut"),
    (BRAKES, "rear left lug nut", "", "wheel nut"),
    (BRAKES, "wheel bolt", "", "wheel nut"),
    (ENGINE, "drain plug", "oil service on the car", "engine oil drain plug"),
    (ENGINE, "sump plug", "", "engine oil drain plug"),
    (ENGINE, "oil filter housing cap", "", "oil filter housing cap"),
    (ENGINE, "filter housing cap", "oil filter next", "oil filter housing cap"),
    (ENGINE, "spark plug", "", "spark plug"),
    (ENGINE, "tensioner nut", "new cambelt is on", "timing belt tensioner nut"),
    (ENGINE, "idler", "new cambelt is on", "timing belt idler bolt"),
    (ENGINE, "pump bolt", "water pump next", "water pump bolt"),
    (ENGINE, "crank pulley bolt", "", "crankshaft pulley bolt"),
    (ENGINE, "rocker cover bolt", "", "valve cover bolt"),
    (ENGINE, "cover bolt", "valve cover is off", "valve cover bolt"),
]


@pytest.mark.parametrize(("specs", "said", "before", "wanted"), SURE, ids=[said for _, said, _, _ in SURE])
def test_is_sure(specs: Sheet, said: str, before: str, wanted: str) -> None:
    found = matched(specs, said, before=before)
    assert found.spec is not None, explain(found)
    assert (found.certainty, found.spec.component) == ("sure", wanted), explain(found)


NOT_SURE = [
    (BRAKES, None, ""),
    (BRAKES, "bolt", "front brakes"),
    (BRAKES, "rear caliper bracket bolt", ""),  # the sheet has only the front one
    (BRAKES, "bracket bolt", "the exhaust bracket bolts were next"),
    (BRAKES, "hose bracket bolt", "front brakes"),
    (BRAKES, "front hub nut", ""),  # the sheet has only the rear one
    (BRAKES, "wheel speed sensor bolt", ""),
    (BRAKES, "caliper bracket bolt", "rear brakes today"),
    (ENGINE, "drain plug", "hydraulic oil change on the lift"),
    (ENGINE, "drain plug", "drained the engine oil and the coolant. brakes bled. coolant hose next"),
    (ENGINE, "coolant drain plug", ""),
    (ENGINE, "cover bolt", "timing cover is off"),
    (ENGINE, "pump bolt", "the power steering pump came off"),
    (ENGINE, "fuel pump bolt", ""),
    (ENGINE, "oil cooler bolt", ""),
    (ENGINE, "camshaft pulley bolt", ""),
    (ENGINE, "engine mount bolt", ""),
]


@pytest.mark.parametrize(("specs", "said", "before"), NOT_SURE, ids=[f"{case[1]} / {case[2]}" for case in NOT_SURE])
def test_is_not_sure(specs: Sheet, said: str | None, before: str) -> None:
    found = matched(specs, said, before=before)
    assert found.certainty != "sure", explain(found)


def test_a_plug_is_the_one_that_was_last_called_by_its_name() -> None:
    drain = matched(ENGINE, "plug", before="drain plug was tight, it is the engine oil one")
    spark = matched(ENGINE, "plug", before="spark plugs are out")
    assert drain.spec is not None
    assert drain.spec.component == "engine oil drain plug"
    assert spark.spec is not None
    assert spark.spec.component == "spark plug"


@pytest.mark.parametrize(("said", "before", "wanted"), [
    ("left exhaust", "valve check", "exhaust valve clearance"),
    ("exhaust valve 2", "", "exhaust valve clearance"),
    ("number 3 intake valve", "", "intake valve clearance"),
    ("inlet valve", "", "intake valve clearance"),
])  # fmt: skip
def test_measurements_are_matched_by_what_is_measured(said: str, before: str, wanted: str) -> None:
    found = matched(ENGINE, said, before=before, kind="mm clearance")
    assert found.spec is not None
    assert found.spec.component == wanted


def test_a_gap_is_no_torque_and_a_runout_no_thickness() -> None:
    runout = Spoken().say("front disc runout is 0.05 mm", measured("front disc", "0.05", "mm", "runout"))
    assert checks_of(runout, BRAKES) == []
    thickness = Spoken().say("front disc is 23.1 mm", measured("front disc", "23.1", "mm", "thickness"))
    assert checks_of(thickness, BRAKES) == [("outside-limit", None)]


def test_a_value_of_another_dimension_is_not_compared() -> None:
    spoken = Spoken().say("front disc at 80 degrees", measured("front disc", 80, "degC", "temperature"))
    assert checks_of(spoken, BRAKES) == []


def test_a_tyre_without_its_place_is_taken_for_the_place_last_said() -> None:
    found = matched(TYRES, "tyre", before="rear wheels now", kind="bar pressure")
    assert found.spec is not None
    assert found.spec.component == "rear tyre pressure"


def test_a_tyre_whose_place_was_never_said_is_contested_and_not_called_wrong() -> None:
    spoken = Spoken().say("tyres are at 2.1", measured("tyre", "2.1", "bar", "pressure"))
    assert checks_of(spoken, TYRES) == [("ambiguous", None)]
    agreeing = Spoken().say("tyres are at 2.3", measured("tyre", "2.3", "bar", "pressure"))
    assert checks_of(agreeing, TYRES) == []
    assert len(agreed_of(agreeing, TYRES)) == 1


def test_the_size_said_beside_a_torque_tells_two_bolts_apart() -> None:
    sixteens = Spoken().say("Mount bolts, the sixteens are fifty newton metres",
                            torque("engine mount bolt", 50, quote="fifty newton metres"))
    flags = checks_of(sixteens, ENGINE)
    assert flags == [("differs", None)]
    unsaid = Spoken().say("mount bolts are fifty newton metres",
                          torque("engine mount bolt", 50, quote="fifty newton metres"))
    assert checks_of(unsaid, ENGINE) == [("ambiguous", None)]


def test_entries_of_one_part_that_disagree_are_ambiguous_even_where_one_agrees() -> None:
    specs = sheet(("drain plug", "torque", "34 N*m"), {"component": "drain plug", "kind": "torque", "value": "40 N*m",
                                                       "source": "another book"})
    spoken = Spoken().say("drain plug at 34", torque("drain plug", 34))
    assert checks_of(spoken, specs) == [("ambiguous", None)]


def test_only_what_holds_for_the_vehicle_is_compared() -> None:
    entries = ({"component": "glow plug", "kind": "torque", "value": "15 N*m", "only": "aluminium head"},
               {"component": "glow plug", "kind": "torque", "value": "18 N*m", "only": "iron head"})
    spoken = Spoken().say("glow plugs at 18", torque("glow plug", 18))
    assert checks_of(spoken, sheet(*entries, vehicle='options = ["aluminium head"]')) == [("differs", None)]
    assert checks_of(spoken, sheet(*entries, vehicle='options = ["iron head"]')) == []
    assert checks_of(spoken, sheet(*entries, vehicle='options = ["rotary"]')) == []
    assert checks_of(spoken, sheet(*entries)) == [("ambiguous", None)]


def test_a_nut_is_no_bolt_of_the_same_part() -> None:
    specs = sheet(("front axle nut", "torque", "88 N*m"))
    spoken = Spoken().say("front axle pinch bolt at 19", torque("front axle bolt", 19))
    assert checks_of(spoken, specs) == []


def test_an_explanation_names_the_candidates_and_why() -> None:
    told = explain(matched(ENGINE, "drain plug", before="oil service"))
    assert "drain plug: sure" in told
    assert "engine oil drain plug [entry 1" in told
    assert "no other oil than the engine's" in told or "the rest before it" in told
