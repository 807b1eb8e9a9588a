"""Words that look like a place and are none: "put it back", "two litres left", "Right, so"."""

from __future__ import annotations

from datetime import date

import pytest

from saidspec.pipeline import read
from saidspec.sources.read import read_text

SAID = [
    ("Put the drain plug back, torqued to 38 Nm.", "drain plug"),
    ("Put the wheel back. Wheel nuts 110 Nm.", "wheel nut"),
    ("I have two litres of brake fluid left.", "brake fluid"),
    ("Right, the drain plug is 38 Nm.", "drain plug"),
    ("Right, so the drain. The drain plug is 38 Nm.", "drain plug"),
    ("Front left pad 4 mm. Rear axle nut 98 Nm.", "rear axle nut"),
    ("Right rear caliper bolt 35 Nm.", "rear right caliper bolt"),
    ("Caliper bolt on the left, 35 Nm.", "left caliper bolt"),
    ("Drum on the right is 203 mm.", "right drum"),
    ("Spark plug gap 0.7 mm, torqued to 23 Nm.", "spark plug"),
    ("Rear wheels are chocked so wheel nuts first, nineteen millimetre socket. Wheel nuts 140 Nm.", "wheel nut"),
    ("Rear left drum is off. Front wheels are chocked. The shoes are 3 mm.", "rear left shoe"),
    ("new pads on the left and they're eleven millimetres new bracket bolts back in", "left pad"),
    ("Left, caliper bolt 35 Nm.", "left caliper bolt"),
]


@pytest.mark.parametrize(("text", "component"), SAID, ids=[text for text, _ in SAID])
def test_the_last_value_is_of_the_part_as_it_was_placed(text: str, component: str) -> None:
    facts = read(read_text(text.encode(), "said.txt"), date(2026, 5, 3)).facts
    measured = [fact for fact in facts if fact.kind in ("torque", "volume", "measurement")]
    assert measured[-1].component == component
