"""Heat that a surface in still air gives off: by the air that rises along it, and by radiation.

Both are coefficients in W/(m²·K), because a path of heat is a conductance; both follow the temperatures of the surface
and of what is around it. Air is dry, at the pressure of the standard atmosphere, its properties taken at the mean of
both temperatures (the film).
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import Validity, check_all

Numbers = NDArray[np.float64]

STEFAN_BOLTZMANN = 5.670374419e-8
"""W/(m² K⁴), exact in the SI of 2019."""
GRAVITY, PRESSURE = 9.80665, 101325.0
"""m/s² and Pa, standard."""
GAS, HEAT = 287.0528, 1007.0
"""J/(kg K) of dry air: its gas constant, and its specific heat, which changes by half a per cent between 250 and 400 K
(incropera, table A.4)."""

EMISSIVITY = MappingProxyType({"brass": 0.3, "copper": 0.5, "aluminium": 0.15, "stainless": 0.25, "case": 0.5})
"""Of metals as they are in a machine, tarnished, neither polished nor burnt: common practice, between incropera, table
A.11, polished (0.03 to 0.2) and oxidized (0.3 to 0.8), from memory. A case may be lacquered (0.9) or polished (0.2)."""

FILM = Validity("film temperature", 250.0, 450.0, "K", "us-standard-atmosphere-1976, dry air")
RAYLEIGH_WALL = Validity("Rayleigh number of a wall", 0.0, 1e12, "", "churchill-chu-1975-wall")
RAYLEIGH_CYLINDER = Validity("Rayleigh number of a cylinder", 0.0, 1e12, "", "churchill-chu-1975-cylinder")
PRANDTL = Validity("Prandtl number", 0.6, 1e4, "", "incropera, equations 9.26 and 9.34, all but liquid metals")
GRAY = Validity("emissivity", 1e-6, 1.0, "", "a gray surface")
TEMPERATURE = Validity("temperature", 100.0, 1500.0, "K", "the network's limits")


def conductivity_of_air(film: ArrayLike) -> Numbers:
    """Give how well dry air conducts heat.

    Parameters: film temperature T, K, any shape.
    Returns: conductivity k, W/(m·K), same shape.
    Valid for: 250 to 450 K.
    Equation: k = 2.64638e-3 T^1.5 / (T + 245.4 10^(−12/T)).
    Source: us-standard-atmosphere-1976, equation 53.

    >>> round(float(conductivity_of_air(300.0)), 4)  # incropera, table A.4
    0.0263
    """
    t = np.asarray(film, dtype=float)
    FILM.check(t)
    return np.asarray(2.64638e-3 * t**1.5 / (t + 245.4 * 10.0 ** (-12.0 / t)))


def viscosity_of_air(film: ArrayLike) -> Numbers:
    """Give the kinematic viscosity of dry air.

    Parameters: film temperature T, K, any shape.
    Returns: kinematic viscosity ν, m²/s, same shape.
    Valid for: 250 to 450 K, 101,325 Pa.
    Equation: ν = 1.458e-6 T^1.5 / (T + 110.4) R T / p.
    Source: us-standard-atmosphere-1976, equation 51 (Sutherland's), over the density of an ideal gas.

    >>> round(float(viscosity_of_air(300.0)) * 1e6, 1)  # incropera, table A.4: 15.89
    15.7
    """
    t = np.asarray(film, dtype=float)
    FILM.check(t)
    return np.asarray(1.458e-6 * t**1.5 / (t + 110.4) * GAS * t / PRESSURE)


def prandtl_of_air(film: ArrayLike) -> Numbers:
    """Give the Prandtl number of dry air.

    Parameters: film temperature T, K, any shape.
    Returns: Prandtl number Pr, same shape.
    Valid for: 250 to 450 K.
    Equation: Pr = ν ρ c_p / k.
    Source: its definition.

    >>> round(float(prandtl_of_air(300.0)), 2)  # incropera, table A.4: 0.707
    0.71
    """
    t = np.asarray(film, dtype=float)
    return np.asarray(viscosity_of_air(t) * PRESSURE / (GAS * t) * HEAT / conductivity_of_air(t))


def rayleigh_of_air(surface: ArrayLike, air: ArrayLike, size: float) -> Numbers:
    """Give the Rayleigh number of a surface in still air.

    Parameters: surface T_s, K; air T_a, K, shapes that go together; size L, m, a wall's height, a cylinder's diameter.
    Returns: Rayleigh number Ra, same shape.
    Valid for: mean temperatures of 250 to 450 K.
    Equation: Ra = g (1/T) |T_s − T_a| L³ Pr / ν², at T = (T_s + T_a)/2.
    Source: its definition, with the expansion of an ideal gas.

    >>> bool(1e6 < rayleigh_of_air(370.0, 310.0, 0.08) < 3e6)  # a small boiler in its case
    True
    """
    hot, cold = np.asarray(surface, dtype=float), np.asarray(air, dtype=float)
    film = 0.5 * (hot + cold)
    return np.asarray(
        GRAVITY / film * np.abs(hot - cold) * size**3 * prandtl_of_air(film) / viscosity_of_air(film) ** 2
    )


def nusselt_of_wall(rayleigh: ArrayLike, prandtl: ArrayLike) -> Numbers:
    """Give the Nusselt number of a vertical wall along which a fluid rises.

    Parameters: Rayleigh number Ra by the wall's height; Prandtl number Pr, shapes that go together.
    Returns: Nusselt number Nu, mean over the height, same shape.
    Valid for: Ra up to 1e12; any Pr but of liquid metals.
    Equation: Nu = (0.825 + 0.387 Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27))².
    Source: churchill-chu-1975-wall; incropera, equation 9.26.

    >>> round(float(nusselt_of_wall(1.813e9, 0.690)))  # incropera, example 9.2
    147
    """
    RAYLEIGH_WALL.check(rayleigh)
    PRANDTL.check(prandtl)
    ra, pr = np.asarray(rayleigh, dtype=float), np.asarray(prandtl, dtype=float)
    return np.asarray((0.825 + 0.387 * ra ** (1 / 6) / (1.0 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)) ** 2)


def nusselt_of_cylinder(rayleigh: ArrayLike, prandtl: ArrayLike) -> Numbers:
    """Give the Nusselt number of a horizontal cylinder round which a fluid rises.

    Parameters: Rayleigh number Ra by the diameter; Prandtl number Pr, shapes that go together.
    Returns: Nusselt number Nu, mean round the cylinder, same shape.
    Valid for: Ra up to 1e12; any Pr but of liquid metals.
    Equation: Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))².
    Source: churchill-chu-1975-cylinder; incropera, equation 9.34.

    >>> round(float(nusselt_of_cylinder(5.073e6, 0.697)), 1)  # incropera, example 9.4: 23.3, from rounder numbers
    23.1
    """
    RAYLEIGH_CYLINDER.check(rayleigh)
    PRANDTL.check(prandtl)
    ra, pr = np.asarray(rayleigh, dtype=float), np.asarray(prandtl, dtype=float)
    return np.asarray((0.60 + 0.387 * ra ** (1 / 6) / (1.0 + (0.559 / pr) ** (9 / 16)) ** (8 / 27)) ** 2)


def convection(surface: ArrayLike, air: ArrayLike, size: float, *, cylinder: bool = False) -> Numbers:
    """Give the coefficient of natural convection of a vertical wall or of a horizontal cylinder in still air.

    Parameters: surface T_s, K; air T_a, K, shapes that go together; size L, a wall's height or a cylinder's diameter,
        m; cylinder, whether it is one.
    Returns: coefficient h_c, W/(m²·K), same shape.
    Valid for: what `nusselt_of_wall`, `nusselt_of_cylinder` and the air's properties say.
    Equation: h_c = Nu k / L.
    Source: the definition of Nu.

    >>> bool(5.0 < convection(370.0, 310.0, 0.08) < 8.0)  # common practice: a few W/(m²·K)
    True
    """
    film = 0.5 * (np.asarray(surface, dtype=float) + np.asarray(air, dtype=float))
    nusselt = nusselt_of_cylinder if cylinder else nusselt_of_wall
    found = nusselt(rayleigh_of_air(surface, air, size), prandtl_of_air(film)) * conductivity_of_air(film) / size
    return np.asarray(found)


def radiation(
    surface: ArrayLike, around: ArrayLike, emissivity: ArrayLike, of_around: float = 1.0, share: float = 0.0
) -> Numbers:
    """Give the coefficient of radiation between a gray surface and a gray one that encloses it.

    Parameters: surface T_s, K; around T_a, what encloses it, K; emissivity ε of the surface; that of what is around,
        ε_a; share A/A_a of the surface in what is around it, 0 for a small one, shapes that go together.
    Returns: coefficient h_r, W/(m²·K), same shape.
    Valid for: diffuse gray surfaces; 100 to 1500 K.
    Equation: h_r = σ (T_s² + T_a²)(T_s + T_a) / (1/ε + A/A_a (1/ε_a − 1)).
    Source: incropera, equations 1.9 and 13.20.

    >>> round(float(radiation(438.0, 296.0, 0.85)) * 142.0 * 0.1 * np.pi)  # incropera, example 9.4, W/m
    441
    """
    hot, cold, gray = (np.asarray(one, dtype=float) for one in (surface, around, emissivity))
    check_all({"one": TEMPERATURE, "other": TEMPERATURE, "gray": GRAY}, {"one": hot, "other": cold, "gray": gray})
    GRAY.check(of_around)
    resists = 1.0 / gray + share * (1.0 / of_around - 1.0)
    return np.asarray(STEFAN_BOLTZMANN * (hot**2 + cold**2) * (hot + cold) / resists)


_RAYLEIGH, _PRANDTL = Symbol("Ra", "Rayleigh number", ""), Symbol("Pr", "Prandtl number", "")
_FILM = Symbol("T", "film: the mean of surface and air", "K")
FORMULAS = (
    Formula("Air", "k = 2.64638e-3 T^1.5 / (T + 245.4 10^(−12/T));  ν = 1.458e-6 T^1.5 / (T + 110.4) R T / p",
            (Symbol("k", "conductivity of air", "W/(m·K)"), Symbol("ν", "kinematic viscosity of air", "m²/s"), _FILM,
             Symbol("R", "gas constant of air", "J/(kg·K)"), Symbol("p", "pressure", "Pa")),
            (FILM,), ("us-standard-atmosphere-1976, equations 51 and 53",)),
    Formula("Rayleigh number", "Ra = g |T_s − T_a| L³ Pr / (T ν²)",
            (_RAYLEIGH, Symbol("g", "gravity", "m/s²"), Symbol("T_s, T_a", "surface and air", "K"), _FILM,
             Symbol("L", "a wall's height, a cylinder's diameter", "m"), _PRANDTL,
             Symbol("ν", "kinematic viscosity of air", "m²/s"))),
    Formula("Natural convection, vertical wall", "Nu = (0.825 + 0.387 Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27))²",
            (Symbol("Nu", "Nusselt number, h_c L / k", ""), _RAYLEIGH, _PRANDTL), (RAYLEIGH_WALL, PRANDTL),
            ("churchill-chu-1975-wall", "incropera, equation 9.26")),
    Formula("Natural convection, horizontal cylinder",
            "Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))²",
            (Symbol("Nu", "Nusselt number, h_c L / k", ""), _RAYLEIGH, _PRANDTL), (RAYLEIGH_CYLINDER, PRANDTL),
            ("churchill-chu-1975-cylinder", "incropera, equation 9.34")),
    Formula("Radiation", "h_r = σ (T_s² + T_a²) (T_s + T_a) / (1/ε + A/A_a (1/ε_a − 1))",
            (Symbol("h_r", "coefficient of radiation", "W/(m²·K)"),
             Symbol("σ", "Stefan and Boltzmann's constant", "W/(m²·K⁴)"),
             Symbol("T_s, T_a", "surface, and around", "K"),
             Symbol("ε, ε_a", "emissivities", ""), Symbol("A, A_a", "their areas", "m²")),
            (GRAY,), ("incropera, equations 1.9 and 13.20",)),
)  # fmt: skip
