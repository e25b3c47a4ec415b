"""Heat that surfaces give to still air against a library, a textbook's examples, and tables of air."""

from __future__ import annotations

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from ht import Nu_horizontal_cylinder_Churchill_Chu, Nu_vertical_plate_Churchill
from ht.radiation import q_rad

from guidegen.heat import air, losses, surface
from tests.published.check import Check, printed

AIR = 101325.0
"""Pa."""
LIBRARY = "ht 1.2"
EXAMPLE = "Incropera, example 9.4, from memory: a steam pipe of 0.1 m at 165 °C in air at 23 °C"
WALL_EXAMPLE = "Incropera, example 9.2, from memory: a glass door of 0.71 m at 232 °C in air at 23 °C"
SHARE = 0.015
"""Of a property: what the formulas of a standard atmosphere are off by up to 450 K."""


def _air() -> list[Check]:
    rows = []
    for kelvin in (280.0, 320.0, 360.0, 400.0):
        density, viscous = PropsSI("D", "T", kelvin, "P", AIR, "Air"), PropsSI("V", "T", kelvin, "P", AIR, "Air")
        for name, unit, value, of in (
            ("conductivity", "W/(m·K)", PropsSI("L", "T", kelvin, "P", AIR, "Air"), surface.conductivity_of_air),
            ("kinematic viscosity", "m²/s", viscous / density, surface.viscosity_of_air),
        ):
            rows.append(
                Check(f"air-{name}-{kelvin:g}", f"{name} of dry air at {kelvin:g} K", unit, value, SHARE * value,
                      "CoolProp, Air", "L", "outside", ("Air",), lambda of=of, kelvin=kelvin: of(kelvin))
            )  # fmt: skip
    return rows


def _pipe() -> float:
    """Give the loss of the example's pipe, W/m: by the air and by radiation, emissivity 0.85."""
    hot, cold, wide = 438.0, 296.0, 0.1
    each = surface.convection(hot, cold, wide, cylinder=True) + surface.radiation(hot, cold, 0.85)
    return float(each * np.pi * wide * (hot - cold))


CHECKS = [
    *_air(),
    *(
        Check(f"wall-{rayleigh:.0e}", f"Nusselt number of a wall at Ra {rayleigh:.0e}, Pr 0.7", "",
              Nu_vertical_plate_Churchill(0.7, rayleigh / 0.7), 1e-9 * rayleigh**0.34, f"{LIBRARY}, vertical plate",
              "L", "outside", ("Natural convection, vertical wall",),
              lambda rayleigh=rayleigh: surface.nusselt_of_wall(rayleigh, 0.7))
        for rayleigh in (1e4, 1e6, 1e8)
    ),
    *(
        Check(f"cylinder-{rayleigh:.0e}", f"Nusselt number of a lying cylinder at Ra {rayleigh:.0e}, Pr 0.7", "",
              Nu_horizontal_cylinder_Churchill_Chu(0.7, rayleigh / 0.7), 1e-9 * rayleigh**0.34,
              f"{LIBRARY}, horizontal cylinder", "L", "outside", ("Natural convection, horizontal cylinder",),
              lambda rayleigh=rayleigh: surface.nusselt_of_cylinder(rayleigh, 0.7))
        for rayleigh in (1e2, 1e4, 1e6)
    ),
    *(
        Check(f"radiation-{hot:g}", f"radiation of a small surface of ε 0.3 at {hot:g} K in 310 K", "W/(m²·K)",
              q_rad(0.3, T=hot, T2=310) / (hot - 310.0), 1e-4, f"{LIBRARY}, q_rad", "L", "outside", ("Radiation",),
              lambda hot=hot: surface.radiation(hot, 310.0, 0.3))
        for hot in (340, 380, 410)
    ),
    Check("glass-door", "Nusselt number of a wall at Ra 1.813e9, Pr 0.690", "", *printed("147"), WALL_EXAMPLE, "M",
          "outside", ("Natural convection, vertical wall",), lambda: surface.nusselt_of_wall(1.813e9, 0.690)),
    Check("steam-pipe", "heat lost by a metre of the pipe, emissivity 0.85", "W/m", 766.0, 10.0, EXAMPLE, "M",
          "outside", ("Natural convection, horizontal cylinder", "Radiation", "Rayleigh number"), _pipe),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The row of the table comes out."""
    check.hold()


@pytest.mark.parametrize("skin", [losses.WALL, losses.TUBE, losses.CASE])
def test_the_cubics_of_a_step_are_the_correlations(skin: losses.Skin) -> None:
    """From 275 to 400 K of film and up to 120 K apart, within 0.02 % of what `surface` says."""
    film, apart = (one.ravel() for one in np.meshgrid(np.linspace(275, 400, 26), np.linspace(0.0, 120.0, 25)))
    inside = (film - apart / 2 > 255.0) & (film + apart / 2 < 445.0)
    film, apart = film[inside], apart[inside]
    unit = np.stack([0 * film, skin.still + 0 * film, skin.rising + 0 * film, 0 * film])
    exact = surface.convection(film + apart / 2, film - apart / 2, skin.size, cylinder=skin.cylinder)
    assert losses.conductance_by(unit, film + apart / 2, film - apart / 2) == pytest.approx(exact, rel=2e-4)
    assert air.OF_CYLINDER < 1.0


def test_a_stated_loss_is_that_of_the_stated_state_and_less_of_a_cooler_one() -> None:
    """The level is the stated one; half as warm gives less than half of the heat."""
    one = np.ones(1)
    for skin in (losses.WALL, losses.TUBE, losses.CASE):
        made = losses.law(skin, 0.3 * one, 0.4 * one, 375.0 * one, 311.0 * one, one)[0]
        assert losses.conductance_by(made, 375.0, 311.0) == pytest.approx(0.4, rel=1e-12)
        assert losses.conductance_by(made, 343.0, 311.0) < 0.38
        still = losses.law(skin, 0.3 * one, 0.4 * one, 375.0 * one, 311.0 * one, 0 * one)[0]
        assert losses.conductance_by(still, 343.0, 311.0) == pytest.approx(0.4, rel=1e-12)
