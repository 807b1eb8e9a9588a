"""Which specifications hold for this vehicle: `only` against the vehicle's options."""

from __future__ import annotations

import re

from saidspec.model import Specification, Vehicle


def folded(option: str) -> str:
    """An option without case and doubled spaces."""
    return re.sub(r"\s+", " ", option).strip().casefold()


def applies(specification: Specification, vehicle: Vehicle) -> bool | None:
    """True where it holds for the vehicle, False where it does not, None where the sheet does not tell.

    Without `only` a specification always holds.  A vehicle whose options are not listed at all leaves open whether
    a specification with `only` holds: it may serve as one candidate among others but decides nothing alone.
    """
    if specification.only is None:
        return True
    if not vehicle.options:
        return None
    return folded(specification.only) in {folded(option) for option in vehicle.options}


def unknown_options(specifications: tuple[Specification, ...], vehicle: Vehicle) -> tuple[str, ...]:
    """The `only` texts that name no option of the vehicle, in order of appearance: other variants, or misspelt ones."""
    options = {folded(option) for option in vehicle.options}
    named = dict.fromkeys(spec.only for spec in specifications if spec.only and folded(spec.only) not in options)
    return tuple(named)
