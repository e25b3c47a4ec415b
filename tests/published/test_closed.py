"""Water that expands in a closed coil: against libraries for water, and Lamé's cylinder solved without the formulas."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from iapws import IAPWS97
from scipy.optimize import brentq

from guidegen.heat import closed, materials
from tests.published.check import Check

COPPER = materials.COPPER.elastic
ATMOSPHERE = 101_325.0
LIBRARY = "iapws 1.5, IAPWS97; cylinder from Hooke's law and the balance of a ring and of an end, solved numerically"


@cache
def water(kelvin: float, pascal: float) -> IAPWS97:
    """Liquid water by another library, which takes megapascals."""
    return IAPWS97(T=kelvin, P=pascal / 1e6)


def strains(outside: float, wall: float, inside_pressure: float) -> tuple[float, float, float, float]:
    """Hoop and axial strain at the bore of a copper tube with closed ends, then hoop and radial stress there.

    Displacement u = A r + B/r in a tube that lengthens by e; A, B and e from: pressure at the bore, none outside, and
    the ends pull with pressure times bore area.
    """
    inner, outer, young, poisson = outside / 2 - wall, outside / 2, COPPER.young, COPPER.poisson
    scale = young / ((1 + poisson) * (1 - 2 * poisson))

    def radial(r: float) -> list[float]:
        return [scale, -scale * (1 - 2 * poisson) / r**2, scale * poisson]

    metal = np.pi * (outer**2 - inner**2)
    axial = [metal * scale * 2 * poisson, 0.0, metal * scale * (1 - poisson)]
    rows = np.array([radial(inner), radial(outer), axial])
    a, b, e = np.linalg.solve(rows, [-inside_pressure, 0.0, inside_pressure * np.pi * inner**2])
    hoop = scale * (a + b / inner**2 * (1 - 2 * poisson) + poisson * e)
    return a + b / inner**2, e, hoop, -inside_pressure


def stretched(outside: float, wall: float) -> float:
    """By how much of itself the bore's volume grows with each pascal."""
    hoop, axial, *_ = strains(outside, wall, 1e5)
    return (2 * hoop + axial) / 1e5


def by_hand(celsius: float, outside: float = 8e-3, wall: float = 1e-3) -> float:
    """(beta - alpha of the tube) / (kappa + elasticity of the tube), in bar per kelvin, at 10 bar."""
    there = water(celsius + 273.15, 1e6)
    return (there.alfav - 3 * COPPER.expansion) / (there.xkappa / 1e6 + stretched(outside, wall)) / 1e5


def locked_until(gauge: float, start: float) -> float:
    """The same from densities alone: the kelvins after which the same mass fills the bigger bore at that pressure."""
    mass = water(start, ATMOSPHERE).rho

    def missing(warming: float) -> float:
        bore = (1 + 3 * COPPER.expansion * warming) * (1 + stretched(8e-3, 1e-3) * gauge)
        return water(start + warming, ATMOSPHERE + gauge).rho * bore - mass

    return float(brentq(missing, 0.1, 100.0))


def tube(outside: float = 8e-3, wall: float = 1e-3) -> float:
    """The elasticity of the copper tube as the program computes it."""
    return float(closed.stretch(outside, wall, COPPER.young, COPPER.poisson))


def rise(celsius: float, outside: float = 8e-3, wall: float = 1e-3) -> float:
    """The program's pressure rise in bar per kelvin at 10 bar."""
    return float(closed.pressure_rise(celsius + 273.15, 1e6, tube(outside, wall), COPPER.expansion)) / 1e5


def pushed_out_by_hand(cold: float, warm: float) -> float:
    """Of 100 ml that were cold, the ml that leave."""
    return 100 * (1 - water(warm + 273.15, 3e5).rho / water(cold + 273.15, 3e5).rho)


CHECKS = [
    *(
        Check(f"pushed-out-{cold}-{warm}", f"water pushed out of 100 ml from {cold} to {warm} °C", "ml",
              pushed_out_by_hand(cold, warm), 1e-4, "iapws 1.5, IAPWS97, densities at 0.3 MPa",
              "L", "derived", ("Water pushed out",),
              lambda cold=cold, warm=warm: closed.pushed_out(1e-4, cold + 273.15, warm + 273.15) * 1e6)
        for cold, warm in ((20, 95), (22, 73), (22, 105))
    ),
    *(
        Check(f"locked-rise-{celsius}", f"pressure rise of water locked in 8 × 1 mm copper tube at {celsius} °C",
              "bar/K", by_hand(celsius), 1e-3, LIBRARY,
              "L", "derived", ("Pressure rise of locked water", "Growth of the bore"),
              lambda celsius=celsius: rise(celsius))
        for celsius in (25, 50, 75)
    ),
    *(
        Check(f"locked-until-{bar}", f"warming from 20 °C until water locked in 8 × 1 mm copper tube has {bar} bar",
              "K", locked_until(bar * 1e5, 293.15), 1e-3, LIBRARY,
              "L", "derived", ("Warming of locked water until a pressure", "Growth of the bore"),
              lambda bar=bar: closed.warming_to(bar * 1e5, 293.15, tube(), COPPER.expansion))
        for bar in (12, 130)
    ),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """Water and tube together give what two independent computations give."""
    check.hold()


@pytest.mark.parametrize(("outside", "wall"), [(8e-3, 1e-3), (6e-3, 0.8e-3), (12e-3, 0.6e-3), (8e-3, 2.5e-3)])
def test_the_bore_grows_as_the_solved_cylinder_does(outside: float, wall: float) -> None:
    """Thick and thin walls alike."""
    assert tube(outside, wall) == pytest.approx(stretched(outside, wall), rel=1e-9)


def test_a_thin_wall_gives_the_textbooks_closed_vessel() -> None:
    """Timoshenko, thin closed cylinder, from memory: volume strain p D (5/4 - nu) / (t E)."""
    thin = 1e-2 / 1e-5 * (1.25 - COPPER.poisson) / COPPER.young
    assert tube(1e-2, 1e-5) == pytest.approx(thin, rel=5e-3)


def test_locked_water_gains_of_the_order_of_eight_bar_per_kelvin() -> None:
    """Textbook constants at some 50 °C, from memory: (4.6e-4 - 5e-5) 1/K over (4.4e-10 + 0.6e-10) 1/Pa is 8 bar/K."""
    assert rise(50.0) == pytest.approx(8.2, abs=0.5)


def test_a_warm_up_pushes_about_four_percent_out() -> None:
    """Common practice, no source: about 4 % of what a boiler and its coil hold."""
    assert float(closed.pushed_out(1.0, 293.15, 371.15)) == pytest.approx(0.04, abs=0.003)


def test_a_rigid_vessel_gains_more_than_any_tube() -> None:
    """Without the metal's give what is left is beta over kappa; a thinner wall takes more of it."""
    there = water(323.15, 1e6)
    rigid = float(closed.pressure_rise(323.15, 1e6, 0.0, 0.0)) / 1e5
    assert rigid == pytest.approx(there.alfav / there.xkappa * 1e6 / 1e5, rel=1e-4)
    assert rigid > rise(50.0) > rise(50.0, wall=0.5e-3)


def test_the_small_steps_of_a_warm_up_add_up_to_the_same() -> None:
    """Pressure followed kelvin by hundredth of a kelvin, from the rise alone, reaches the pressure asked for."""
    kelvins = float(closed.warming_to(130e5, 293.15, tube(), COPPER.expansion))
    pressure, steps = ATMOSPHERE, 2000
    for middle in 293.15 + (np.arange(steps) + 0.5) * kelvins / steps:
        pressure += float(closed.pressure_rise(middle, pressure, tube(), COPPER.expansion)) * kelvins / steps
    assert pressure - ATMOSPHERE == pytest.approx(130e5, rel=2e-3)


def test_a_tube_yields_where_the_solved_stresses_differ_by_the_yield_stress() -> None:
    """Greatest shear (Tresca), at the bore, as in textbooks of strength."""
    pressure = float(closed.yield_pressure(8e-3, 1e-3, 62e6))
    _, _, hoop, radial = strains(8e-3, 1e-3, pressure)
    assert hoop - radial == pytest.approx(62e6, rel=1e-9)
    assert pressure == pytest.approx(31e6 * (1 - 9 / 16), rel=1e-12)


def test_the_yield_stress_of_copper_is_the_published_one() -> None:
    """ASTM B75, as its table of mechanical properties is reprinted: 9 ksi at least in tempers O50 and O60."""
    assert materials.COPPER.elastic.yield_stress == pytest.approx(9 * 6.894757e6, abs=0.5e6)
