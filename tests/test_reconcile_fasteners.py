"""Thread geometry and strength against published tables.

Sources: ISO 898-1 (nominal stress areas; proof loads as a distributor tabulates them by EN ISO 898-1), SAE J429 (proof
stress as two makers' extracts give it), ASME B1.1 stress areas (recalled from memory).
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from saidspec.patterns import listed
from saidspec.reconcile.fasteners import (
    metric_area,
    most,
    proof_stress,
    read_thread,
    tables,
    unified_area,
)

METRIC = [entry.split() for series in ("coarse", "fine") for entry in listed(tables()["metric"][series])]
UNIFIED = [entry.split() for series in ("coarse", "fine") for entry in listed(tables()["unified"][series])]


@pytest.mark.parametrize(("name", "pitch", "area"), METRIC, ids=[f"{name}x{pitch}" for name, pitch, _ in METRIC])
def test_metric_stress_area_is_within_half_a_per_cent_of_iso_898_1(name: str, pitch: str, area: str) -> None:
    worked_out = metric_area(Decimal(name.removeprefix("M")), Decimal(pitch))
    assert abs(worked_out / Decimal(area) - 1) < Decimal("0.005")


@pytest.mark.parametrize(("name", "per_inch", "area"), UNIFIED, ids=[f"{name}-{count}" for name, count, _ in UNIFIED])
def test_unified_stress_area_is_within_half_a_per_cent_of_the_table(name: str, per_inch: str, area: str) -> None:
    above, _, below = name.partition("/")
    worked_out = unified_area(Decimal(above) / Decimal(below or 1), Decimal(per_inch))
    assert abs(worked_out / Decimal(area) - 1) < Decimal("0.005")


# Proof loads in N by EN ISO 898-1, coarse threads: 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9
CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")
PROOF_LOADS = {
    "M3": (1130, 1560, 1410, 1910, 2210, 2920, 3270, 4180, 4880),
    "M5": (3200, 4400, 3980, 5400, 6250, 8230, 9230, 11800, 13800),
    "M6": (4520, 6230, 5630, 7640, 8840, 11600, 13100, 16700, 19500),
    "M8": (8240, 11400, 10200, 13900, 16100, 21200, 23800, 30400, 35500),
    "M10": (13000, 18000, 16200, 22000, 25500, 33700, 37700, 48100, 56300),
    "M12": (19000, 26100, 23600, 32000, 37100, 48900, 54800, 70000, 81800),
    "M16": (35300, 48700, 44000, 59700, 69100, 91000, 102000, 130000, 152000),
}


@pytest.mark.parametrize("name", PROOF_LOADS)
def test_proof_load_is_within_one_per_cent_of_en_iso_898_1(name: str) -> None:
    thread = read_thread(name)
    assert thread is not None
    for strength, load in zip(CLASSES, PROOF_LOADS[name], strict=True):
        assert abs(proof_stress(strength, thread.diameter) * thread.area / load - 1) < Decimal("0.01"), strength


def test_class_8_8_is_stronger_above_16_mm() -> None:
    assert (proof_stress("8.8", Decimal(16)), proof_stress("8.8", Decimal(20))) == (580, 600)
    thread = read_thread("M20")
    assert thread is not None
    assert abs(proof_stress("8.8", thread.diameter) * thread.area / 147000 - 1) < Decimal("0.01")


@pytest.mark.parametrize(("grade", "inches", "psi"), [
    ("grade 2", "0.5", 55000), ("grade 2", "1", 33000), ("grade 5", "0.5", 85000), ("grade 5", "1.25", 74000),
    ("grade 8", "0.5", 120000),
])  # fmt: skip
def test_proof_stress_of_sae_j429(grade: str, inches: str, psi: int) -> None:
    stress = proof_stress(grade, Decimal(inches) * Decimal("25.4"))
    assert abs(stress / (Decimal(psi) * Decimal("0.006894757")) - 1) < Decimal("1e-6")


def test_an_unknown_class_is_no_strength() -> None:
    with pytest.raises(ValueError, match=r"no property class or grade '7\.7'"):
        proof_stress("7.7", Decimal(10))


@pytest.mark.parametrize(("code", "diameter", "pitch"), [
    ("M8", "8", "1.25"), ("M8x1", "8", "1"), ("M8 x 1.25", "8", "1.25"), ("M12×1.5", "12", "1.5"), ("m6", "6", "1"),
    ("M10 by 1.25", "10", "1.25"),
])  # fmt: skip
def test_reads_metric_threads(code: str, diameter: str, pitch: str) -> None:
    thread = read_thread(code)
    assert thread is not None
    assert (thread.diameter, thread.pitch) == (Decimal(diameter), Decimal(pitch))


def test_reads_unified_threads() -> None:
    thread = read_thread("3/8-16 UNC")
    assert thread is not None
    assert thread.unified
    assert thread.diameter == Decimal("9.525")


@pytest.mark.parametrize("code", ["T45", "E14", "225/60R17", "M11", "M6x9", "19", "half inch", "5W-30"])
def test_what_is_no_thread_is_none(code: str) -> None:
    assert read_thread(code) is None


def test_torque_at_proof_load_is_k_d_f() -> None:
    # a worked example: 3/8-16 of grade 5, K = 0.20: F = 0.0775 in2 x 85000 psi = 6588 lbf, T = 494 lbf*in = 55.8 N*m
    thread = read_thread("3/8-16")
    assert thread is not None
    assert abs(most(thread, "grade 5", Decimal("0.2")) - Decimal("55.8")) < Decimal("0.2")
    assert most(thread, "grade 5", Decimal("0.12")) < most(thread, "grade 5", Decimal("0.2"))
