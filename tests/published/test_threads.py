"""Screws against ISO 898-1 and two published tightening tables for A2-70 that differ by an eighth."""

from __future__ import annotations

import pytest

from guidegen.heat import threads
from tests.published.check import Check, printed

ISO_898 = "ISO 898-1, table 4/5, as reprinted on a public page"
FIRST_TABLE = "stainless tightening table, 90 % of 450 MPa, μ 0.2, first publication"
SECOND_TABLE = "stainless tightening table, 90 % of yield, μ 0.2, second publication"

AREAS = {"M3": "5.03", "M4": "8.78", "M5": "14.2", "M6": "20.1", "M8": "36.6", "M10": "58.0"}
# The standard rounds its proof loads down from the rounded area: one unit of the last digit that it gives.
PROOF_LOADS = {"M5": (8230.0, 10.0), "M6": (11_600.0, 100.0), "M8": (21_200.0, 100.0)}
# thread: preload kN and torque N·m of the first table, torque of the second
TORQUES = {
    "M4": ("2.76", "2.9", 2.6), "M5": ("4.51", "5.7", 5.1), "M6": ("6.4", "10", 8.8), "M8": ("11.6", "24.1", 21.4)
}  # fmt: skip


def _size(thread: str) -> tuple[float, float]:
    return threads.nominal_diameter(thread), threads.COARSE_PITCH[thread]


def _preload(thread: str) -> float:
    return float(threads.preload_at_yield(*_size(thread), 0.2, threads.CLASSES["A2-70"].yield_stress, 0.9))


def _torque(thread: str) -> float:
    return float(threads.torque(_preload(thread), *_size(thread), 0.2))


CHECKS = [
    *(
        Check(f"area-{thread}", f"stress area of {thread}", "mm²", *printed(text), ISO_898,
              "P", "outside", ("Stress area",),
              lambda thread=thread: threads.stress_area(*_size(thread)) * 1e6)
        for thread, text in AREAS.items()
    ),
    *(
        Check(f"proof-{thread}", f"proof load of {thread}, class 8.8", "N", load, tolerance, ISO_898,
              "P", "outside", ("Proof load",),
              lambda thread=thread: threads.proof_load(*_size(thread), threads.CLASSES["8.8"].proof_stress))
        for thread, (load, tolerance) in PROOF_LOADS.items()
    ),
    # One unit of the last digit: the table was made with thread sizes of its own.
    *(
        Check(f"preload-{thread}", f"preload of {thread}, A2-70, μ 0.2", "kN", *printed(preload, 1.0), FIRST_TABLE,
              "P", "outside", ("Preload at a share of yield",),
              lambda thread=thread: _preload(thread) / 1e3)
        for thread, (preload, _, _) in TORQUES.items()
    ),
    # The table does not say how wide the head bears; 1.3 diameters meets it within 3 %.
    *(
        Check(f"torque-{thread}", f"torque of {thread}, A2-70, μ 0.2", "N·m", float(torque), 0.03 * float(torque),
              FIRST_TABLE, "P", "outside", ("Tightening torque",), lambda thread=thread: _torque(thread))
        for thread, (_, torque, _) in TORQUES.items()
    ),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The published value of the screw comes out."""
    check.hold()


@pytest.mark.parametrize("thread", TORQUES)
def test_second_table_is_lower_by_an_eighth(thread: str) -> None:
    """The second publication asks for 9 to 14 % less than computed: a torque is known no better than that."""
    assert 0.86 <= TORQUES[thread][2] / _torque(thread) <= 0.91


@pytest.mark.parametrize("thread", ["M4", "M5", "M6", "M8"])
def test_torque_brings_its_preload_back(thread: str) -> None:
    """The nut factor that belongs to μ 0.2 is about 0.26, so the workshop's 0.2 means a friction near 0.15."""
    nut_factor = _torque(thread) / (_preload(thread) * threads.nominal_diameter(thread))
    assert 0.25 <= nut_factor <= 0.27
    assert float(threads.torque_by_factor(_preload(thread), _size(thread)[0], nut_factor)) == pytest.approx(
        _torque(thread)
    )
    at_lower_friction = float(threads.torque(_preload(thread), *_size(thread), 0.15))
    assert at_lower_friction == pytest.approx(
        float(threads.torque_by_factor(_preload(thread), _size(thread)[0], 0.2)), rel=0.02
    )
