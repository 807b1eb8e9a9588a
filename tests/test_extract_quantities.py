"""Numbers with their units: ranges, tolerances, torque with an angle, approximate values; and their roles."""

from __future__ import annotations

import pytest

from tests.sentences import amount, facts


@pytest.mark.parametrize(("text", "told"), [
    ("drain plug 30 newton metres", "30 N*m"), ("drain plug 30 Nm", "30 N*m"),
    ("drain plug 22 foot pounds", "22 lbf*ft"),
    ("valve cover bolts 88 inch pounds", "88 lbf*in"), ("drain plug 22 ft-lbs", "22 lbf*ft"),
    ("drain plug 3 kgm", "3 kgf*m"), ("drain plug thirty newton metres", "30 N*m"),
    ("bracket bolts one hundred and five newton metres", "105 N*m"),
    ("drain plug eighteen and a half foot pounds", "18.5 lbf*ft"),
    ("drain plug 30 to 35 newton metres", "30 to 35 N*m"),
    ("drain plug between 30 and 35 newton metres", "30 to 35 N*m"),
    ("drain plug 30 plus or minus 2 newton metres", "28 to 32 N*m"),
    ("head bolts 40 newton metres plus 90 degrees", "40 N*m + 90"),
    ("head bolts 40 newton metres plus 90 plus 90 degrees", "40 N*m + 180"),
    ("head bolts 40 newton metres then 90 and another 90 degrees", "40 N*m + 180"),
    ("crank bolt 90 and then 60 degrees", "90 + 60"),
    ("head bolts 30 newton metres plus a quarter turn", "30 N*m + 90"),
])  # fmt: skip
def test_torques(text: str, told: str) -> None:
    (fact,) = facts(text, "torque")
    assert amount(fact) == told


@pytest.mark.parametrize(("text", "told"), [
    ("pads measure 4.5 mm", "4.5 mm"), ("end float is five thou", "5 thou"),
    ("valve gap is point two five mm", "0.25 mm"),
    ("runout of the disc is point oh two millimetres", "0.02 mm"), ("disc is 0.870 inches thick", "0.87 in"),
    ("tyre pressure is 2.3 bar", "2.3 bar"), ("tyre pressure is thirty three psi", "33 psi"),
    ("battery reads 12.6 volts", "12.6 V"), ("coil measures 1.2 kilohms", "1.2 kohm"),
    ("coolant is at 92 degrees celsius", "92 degC"),
    ("tread is four thirty seconds of an inch", "0.125 in"), ("compression is 150 psi", "150 psi"),
])  # fmt: skip
def test_measurements(text: str, told: str) -> None:
    assert [amount(fact) for fact in facts(text, "measurement")] == [told]


@pytest.mark.parametrize(("text", "told"), [
    ("a nine sixteenths socket on the drain plug", "0.5625 in"), ("a 3/8 inch bolt in the bracket", "0.375 in"),
    ("drain plug takes a 17 mm socket", "17 mm"), ("the screws need a T30", "T30"), ("bolts are M8 by 1.25", "M8x1.25"),
    ("tyres are 205/55 R16", "205/55R16"), ("tyres are two oh five fifty five sixteen", "205/55R16"),
    ("14 gauge wire to the horn", "14 gauge"),
])  # fmt: skip
def test_sizes(text: str, told: str) -> None:
    assert [amount(fact) for fact in facts(text, "size")] == [told]


@pytest.mark.parametrize("text", [
    "drain plug got about 30 newton metres", "drain plug got roughly 30 newton metres",
    "drain plug got 30 newton metres or so",
    "drain plug got 30 newton metres give or take", "drain plug got 30ish newton metres",
    "drain plug got somewhere around 30 newton metres",
])  # fmt: skip
def test_approximate_values(text: str) -> None:
    (fact,) = facts(text, "torque")
    assert (amount(fact), fact.approximate) == ("30 N*m", True)


@pytest.mark.parametrize("text", [
    "drain plug got exactly 30 newton metres", "went around the back, drain plug got 30 newton metres",
    "what it's all about, drain plug got 30 newton metres",
])  # fmt: skip
def test_values_that_are_not_approximate(text: str) -> None:
    (fact,) = facts(text, "torque")
    assert not fact.approximate


@pytest.mark.parametrize(("text", "told"), [
    ("drain plugs, one at 30 and one at 35 newton metres", ["30", "35"]),
    ("went from 30 to 35 psi in the left front tyre", ["30", "35"]),
    ("drain plug 30 newton metres, that's 22 foot pounds", ["30", "22"]),
    ("drain plug 30, fill plug 35 newton metres", ["30", "35"]),
])  # fmt: skip
def test_what_is_no_range(text: str, told: list[str]) -> None:
    found = facts(text, "torque", "measurement")
    assert [amount(fact).split()[0] for fact in found] == told
    assert all(fact.value_high is None for fact in found)


@pytest.mark.parametrize(("text", "role"), [
    ("drained 4.2 litres of oil", "drained"), ("put in 4.5 litres of oil", "added"),
    ("engine oil capacity is 4.5 litres", "capacity"),
    ("the gearbox takes 2.1 litres of oil", "capacity"), ("bought a 5 litre jug of oil", "bought"),
    ("half a litre of oil left over", "left over"), ("topped it up with 300 ml of coolant", "added"),
])  # fmt: skip
def test_roles_of_volumes(text: str, role: str) -> None:
    assert [fact.role for fact in facts(text, "volume")] == [role]


@pytest.mark.parametrize(("text", "role"), [
    ("spark plug gap is 0.8 mm", "gap"), ("pad thickness is 4 mm", "thickness"), ("disc runout is 0.05 mm", "runout"),
    ("tyre tread depth is 4 mm", "depth"), ("chain slack is 30 mm", "slack"),
    ("intake valve clearance is 0.15 mm", "clearance"),
    ("tyre is at 33 psi", "pressure"), ("battery sits at 12.4 volts", "voltage"), ("coil is 0.8 ohms", "resistance"),
    ("starter draws 140 amps", "current"), ("compression on one is 150 psi", "compression"),
    ("fuel pressure is 3 bar", "pressure"),
    ("coolant is at 92 degrees celsius", "temperature"),
])  # fmt: skip
def test_roles_of_measurements(text: str, role: str) -> None:
    assert [fact.role for fact in facts(text, "measurement")] == [role]


@pytest.mark.parametrize(("text", "role"), [
    ("drain plug takes a 17 mm socket", "tool"), ("bolts are M8 by 1.25", "thread"), ("tyres are 205/55 R16", "tyre"),
])  # fmt: skip
def test_roles_of_sizes(text: str, role: str) -> None:
    assert [fact.role for fact in facts(text, "size")] == [role]


@pytest.mark.parametrize(("text", "told"), [
    ("drain plug is 30 newton metres. Fill plug, did it at 35.", "35 N*m"),
    ("left tyre is at 33 psi and the right one is at 31", "31 psi"),
    ("front pads are 4 mm, rear pads are 6", "6 mm"),
])  # fmt: skip
def test_a_unit_left_out_is_that_of_the_context_with_less_confidence(text: str, told: str) -> None:
    first, second = facts(text, "torque", "measurement")
    assert amount(second) == told
    assert second.provenance.confidence < first.provenance.confidence
