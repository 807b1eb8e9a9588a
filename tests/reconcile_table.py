"""The table of checks and causes as text: `python -m tests.reconcile_table`.

First each note made by hand with the flags that it raises, then each situation in words, then the published tables
that the figures were held against and how far off they are at most.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from saidspec.model import Flag
from saidspec.reconcile.fasteners import metric_area, proof_stress, read_thread, unified_area
from saidspec.reference.units import convert
from tests.reconcile_notes import Spoken, flags_of
from tests.reconcile_situations import situations
from tests.test_reconcile_checks import TABLE
from tests.test_reconcile_fasteners import CLASSES, METRIC, PROOF_LOADS, UNIFIED
from tests.test_reference_units import NIST_SP_811


def told(flags: tuple[Flag, ...]) -> str:
    """The checks of some flags, each with its likely cause."""
    return ", ".join(f"{flag.check}{f' ({flag.likely})' if flag.likely else ''}" for flag in flags) or "nothing"


def line(raised: str, what: str, words: str) -> str:
    """One line of the table."""
    return f"{raised:<28} {what:<64} {words}"


def words_of(spoken: Spoken) -> str:
    """A note's words in one line."""
    return " ".join(spoken.text.split())


def off(worked_out: Decimal, published: Decimal | int | str) -> Decimal:
    """How far a figure is from a published one, in per cent."""
    return abs(worked_out / Decimal(published) - 1) * 100


def inches(name: str) -> Decimal:
    """A diameter such as 3/8 in inches."""
    above, _, below = name.partition("/")
    return Decimal(above) / Decimal(below or 1)


def proof_load(name: str, strength: str) -> Decimal:
    """The proof load of a coarse metric thread of a property class, in N."""
    thread = read_thread(name)
    assert thread is not None
    return proof_stress(strength, thread.diameter) * thread.area


def published() -> Iterator[tuple[str, Decimal]]:
    """Each published table and the largest deviation from it, in per cent."""
    yield "ISO 898-1, nominal stress areas of metric threads (by ISO 724 geometry)", max(
        off(metric_area(Decimal(name.removeprefix("M")), Decimal(pitch)), area) for name, pitch, area in METRIC)
    yield "ASME B1.1, tensile stress areas of unified threads", max(
        off(unified_area(inches(name), Decimal(count)), area) for name, count, area in UNIFIED)
    yield "EN ISO 898-1, proof loads of property classes 4.6 to 12.9, M3 to M16", max(
        off(proof_load(name, strength), load) for name, loads in PROOF_LOADS.items()
        for strength, load in zip(CLASSES, loads, strict=True))
    yield "NIST SP 811 (2008), B.8, conversion factors to their printed digits", max(
        off(convert(Decimal(1), unit, to), factor) for unit, to, factor in NIST_SP_811)


def main() -> None:
    """Print the tables."""
    print(line("raises", "case", "note"))
    for what, spoken, specs, _ in TABLE:
        print(line(told(flags_of(spoken, specs)), what, words_of(spoken)))
    for one in situations():
        print(line(told(one.outcome()[0]), f"{one.trade}: {one.name}{' (not as it must be yet)' if one.known else ''}",
                   " ".join(one.note.split())))
    print()
    for name, deviation in published():
        print(f"{name}: {deviation:.5f} % at most")


if __name__ == "__main__":
    main()
