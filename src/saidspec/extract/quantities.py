"""Numbers with their units: values, ranges, tolerances, torque with an angle, and what makes them approximate."""

from __future__ import annotations

from dataclasses import replace

from saidspec.extract.angles import angled
from saidspec.extract.left_over import kept_pieces
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity, and_minutes, single
from saidspec.extract.ranges import ranged
from saidspec.extract.units import UnitTable

BEFORE_A_FIGURE = ("a", "the", "like", "of", "at", "an")


def quantities(page: Passage, units: UnitTable) -> list[Quantity]:
    """Every number of the passage as a quantity, in order; ranges and torque + angle as one."""
    found: list[Quantity] = []
    end = 0
    for at, lex in enumerate(page.lexemes):
        if lex.kind != "number" or at < end:
            continue
        item = angled(page, ranged(page, and_minutes(page, single(page, at, units), units), units), units)
        found.append(replace(item, approximate=True) if _approximate(page, item) else item)
        end = item.end
    return sorted([*found, *kept_pieces(page)], key=lambda item: item.start)


def _approximate(page: Passage, item: Quantity) -> bool:
    """"A couple", "about 40", "40 psi or so"."""
    if item.form == "couple":
        return True
    for at in range(item.start, item.start - 4, -1):
        cue = page.approx_ends.get(at)
        if cue and cue.term.meant == "forward":
            return True
        if page.word(at - 1) not in BEFORE_A_FIGURE:
            break
    cues = page.at.get("approx", {})
    return any(at in cues and cues[at].term.meant == "backward" for at in (item.end, item.end + 1, item.number + 1))
