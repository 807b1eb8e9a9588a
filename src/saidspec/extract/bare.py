"""Values said without a unit: what they are by the words around them, by their neighbours, and by their part.

Each reader looks at one way of leaving the unit out and answers a sort with the unit of the context, or None.
"""

from __future__ import annotations

from collections.abc import Callable

from saidspec.extract.bare_counts import count, counted, other_things, pointed_at
from saidspec.extract.bare_distances import duration, listed_distance, odometer
from saidspec.extract.bare_lists import (
    bolt_class,
    corrected,
    cylinder_label,
    of_two_numbers,
    parallel,
    same_there,
    specified,
)
from saidspec.extract.bare_measures import brake_size, charged, measured, tyre_pressure, usual_of_part, valve_clearance
from saidspec.extract.bare_pieces import counted_sized, measured_along
from saidspec.extract.bare_sizes import plural, size
from saidspec.extract.bare_spans import spanned
from saidspec.extract.bare_torques import torque, torque_with_angle, turned_on
from saidspec.extract.bare_volumes import volume
from saidspec.extract.place import Place
from saidspec.extract.sorts import Sort

READERS: tuple[Callable[[Place], Sort | None], ...] = (
    bolt_class, of_two_numbers, cylinder_label, same_there, torque_with_angle, turned_on, pointed_at, listed_distance,
    counted, counted_sized, measured_along, corrected, plural, count, odometer, duration, spanned, volume, specified,
    charged, parallel, measured, valve_clearance, tyre_pressure, brake_size, torque, size, usual_of_part,
    other_things,
)  # fmt: skip


def bare_sort(place: Place) -> Sort | None:
    """The sort of a value without a unit; None where no reader claims it.

    "One" and "half a" are numbers only where they count what is left (`left_over.kept_pieces`).
    """
    if place.page.lexemes[place.item.number].kind == "word":
        return count(place)
    for reader in READERS:
        sort = reader(place)
        if sort is not None:
            return sort
    return None
