"""One figure given in two units: "64 newton metres, that's 47 foot pounds"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from saidspec.model import Fact, Kind
from saidspec.reference.units import convertible

RESTATING = re.compile(
    r"^[\s,;:–—-]*(?:so|or|that'?s|that is|which is|equals|i\.?e\.?|in other words|makes|comes to|\(|=)[\s,]*"
    r"(?:about |roughly |around )?$")
RESTATED: tuple[Kind, ...] = ("torque", "volume", "measurement")
RESTATED_WITHIN = 40  # characters between two units of one figure


def restated(text: str, facts: Sequence[Fact]) -> Iterator[tuple[Fact, Fact]]:
    """The pairs among facts of one kind, in order, that give one figure of one part in two units."""
    valued = [fact for fact in facts if fact.value is not None and fact.unit]
    for first, second in pairwise(valued):
        between = text[first.provenance.end:second.provenance.start].lower()
        if first.unit == second.unit or not convertible(first.unit, second.unit) or len(between) > RESTATED_WITHIN:
            continue
        if RESTATING.search(between) and first.role == second.role and first.component == second.component:
            yield first, second
