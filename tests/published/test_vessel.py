"""A cylinder under pressure: against the differential equation solved without the formula, and against copper tube."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from guidegen.heat import materials, pressure, vessel
from tests.published.check import Check

SOLVED = "equilibrium of a ring and Hooke's law, u'' + u'/r − u/r² = 0, solved numerically"
POISSON, YOUNG = 0.34, 1e11
CASES = {(70.0, 1.5): 13e5, (70.0, 4.0): 13e5, (40.0, 15.0): 100e5}
"""Outside diameter and wall in mm, and the pressure in Pa; the last is as thick as a bush."""


def solved_hoop_stress(inside_pressure: float, outside: float, wall: float) -> float:
    """Hoop stress at the inner surface from the displacement u(r): plane stress, pressure inside, nothing outside."""
    inner, outer = outside / 2 - wall, outside / 2
    scale = YOUNG / (1 - POISSON**2)

    def radial(r: float, u: float, slope: float) -> float:
        return scale * (slope + POISSON * u / r)

    def ends(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        return np.array([(radial(inner, *a) + inside_pressure) / 1e5, radial(outer, *b) / 1e5])

    mesh = np.linspace(inner, outer, 41)
    guess = np.vstack((np.full_like(mesh, 1e-7), np.zeros_like(mesh)))
    done = solve_bvp(lambda r, y: np.vstack((y[1], y[0] / r**2 - y[1] / r)), ends, mesh, guess, tol=1e-9)
    assert done.success
    u, slope = done.sol(inner)
    return float(scale * (u / inner + POISSON * slope))


CHECKS = [
    Check(
        f"hoop-stress-{outside:g}x{wall:g}",
        f"hoop stress of a cylinder of {outside:g} × {wall:g} mm at {load / 1e5:g} bar",
        "MPa", solved_hoop_stress(load, outside * 1e-3, wall * 1e-3) / 1e6, 1e-4, SOLVED,
        "L", "derived", ("Hoop stress in a cylinder",),
        lambda outside=outside, wall=wall, load=load: vessel.hoop_stress(load, outside * 1e-3, wall * 1e-3) / 1e6,
    )
    for (outside, wall), load in CASES.items()
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The formula gives the stress of the solved equation."""
    check.hold()


@pytest.mark.parametrize(("outside", "wall"), [(6.0, 0.8), (8.0, 0.8), (8.0, 1.0)])
def test_the_published_pressure_of_a_tube_stresses_it_as_published(outside: float, wall: float) -> None:
    """The copper board divides by the mean diameter m = D − t; by hand, Lamé's stress is 1 + (t/m)² times that."""
    published = float(pressure.allowable_pressure(outside * 1e-3, wall * 1e-3, 423.15))
    ours = float(vessel.hoop_stress(published, outside * 1e-3, wall * 1e-3))
    assert ours == pytest.approx(34e6 * (1 + (wall / (outside - wall)) ** 2), rel=1e-12)


def test_the_needed_wall_carries_exactly_the_allowed_stress() -> None:
    """The two formulas are one, solved for the one or the other."""
    wall = vessel.wall_needed(13e5, 70e-3, 37e6, 400.0)
    assert float(vessel.hoop_stress(13e5, 70e-3, wall)) == pytest.approx(37e6, rel=1e-12)


def test_castings_are_allowed_what_their_docstring_says() -> None:
    """Two thirds of the proof stress or tensile over 3.5, times 0.8; the brass figures are the published ones."""
    assert min(70 / 1.5, 180 / 3.5) * 0.8 == pytest.approx(materials.BRASS.allowable_stress / 1e6, abs=0.5)
    assert min(70 / 1.5, 150 / 3.5) * 0.8 * 0.75 == pytest.approx(materials.ALUMINIUM.allowable_stress / 1e6, abs=1.0)
    assert pytest.approx(materials.STAINLESS.allowable_stress / 1e6, abs=1.0) == 142 / 1.5
    assert float(pressure.allowable_stress(423.15)) == materials.COPPER.allowable_stress


def test_a_wall_bears_the_pressure_that_needs_it() -> None:
    """The same equation, solved for the pressure."""
    wall = vessel.wall_needed(13e5, 70e-3, 37e6, 400.0)
    assert float(vessel.pressure_borne(70e-3, wall, 37e6)) == pytest.approx(13e5, rel=1e-12)


@pytest.mark.parametrize(("ratio", "factor"), [(1.0, 1.43), (1.144, 1.43), (1.2, 1.5), (1.5, 1.875)])
def test_a_proof_is_the_larger_of_two_pressures(ratio: float, factor: float) -> None:
    """Directive 2014/68/EU, Annex I, 7.4, from memory: 1.43 times the pressure, 1.25 times it with the strength."""
    assert float(vessel.proof_pressure(12e5, ratio)) == pytest.approx(factor * 12e5, rel=1e-9)


@pytest.mark.parametrize("metal", materials.MATERIALS.values(), ids=lambda one: one.name)
def test_what_is_designed_for_a_pressure_bears_its_proof(metal: materials.Material) -> None:
    """1.5 over 1.05 is 1.43 to three digits, so a wall with a tenth of a millimetre over what it needs is not hurt."""
    wall = vessel.wall_needed(13e5, 70e-3, metal.allowable_stress, 400.0) + 1e-4
    cold = metal.allowable_stress * metal.stronger_cold * vessel.AT_PROOF
    assert vessel.pressure_borne(70e-3, wall, cold) > vessel.proof_pressure(13e5, metal.stronger_cold)
