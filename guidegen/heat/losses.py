"""How the skins' losses follow temperature: the stated conductance fixes the level, `surface` the rest.

A catalogue states what boiler, group and coil lose per kelvin in the warm machine at rest. Natural convection and
radiation say how that changes when skin or air are warmer or cooler. Only the change counts, so that the size and the
emissivity of a skin matter little, and typical ones do.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from guidegen.heat.air import OF_CYLINDER, RISING_AIR, STILL_AIR
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.surface import STEFAN_BOLTZMANN

Rows = NDArray[np.float64]

COOLER = 1.0
"""K: air in the case counts as at least so much warmer than the room, where a drawn case is cooler than its room."""


@dataclass(frozen=True)
class Skin:
    """A kind of surface: a vertical wall of a height, or a horizontal cylinder of a diameter, m."""

    size: float
    cylinder: bool = False

    @property
    def still(self) -> float:
        """What is there without any rising air, over √k."""
        return float((0.60 if self.cylinder else 0.825) / np.sqrt(self.size))

    @property
    def rising(self) -> float:
        """The share of `RISING_AIR`."""
        return OF_CYLINDER if self.cylinder else 1.0


WALL, TUBE, CASE = Skin(0.08), Skin(0.008, cylinder=True), Skin(0.3)
"""Boiler and group, a coil's tube, and a case: common practice for small machines with one boiler."""


def law(skin: Skin, emissivity: Rows, conductance: Rows, surface: Rows, around: Rows, follows: Rows) -> Rows:
    """Give the numbers of a skin's law, which at a state has the stated conductance.

    Parameters: skin; emissivity; conductance G₀, W/K; surface T_s, K; around T_a, K, both where it is stated; follows,
        how far it follows temperature, 1 as the correlations say, 0 not at all, each of shape (n,).
    Returns: shape (n, 4): what stays, W/K; the roots of what still and rising air take, √(W/K) over √(W/(m²·K)); and
        what radiation takes, W/K over K³.
    Valid for: what `surface` says.
    Equation: G = G₀ (h_c + h_r) / (h_c + h_r)₀.
    Source: none; the level is the stated one.

    >>> one = np.ones(1)
    >>> made = law(WALL, 0.3 * one, 0.36 * one, 370.0 * one, 311.0 * one, one)
    >>> round(float(conductance_by(made[0], 370.0, 311.0)), 6), bool(conductance_by(made[0], 320.0, 300.0) < 0.33)
    (0.36, True)
    """
    unit = np.stack([np.zeros_like(surface), skin.still + 0 * surface, skin.rising + 0 * surface,
                     STEFAN_BOLTZMANN * emissivity])  # fmt: skip
    scale = follows * conductance / conductance_by(unit, surface, around)
    root = np.sqrt(scale)
    return np.stack(((1.0 - follows) * conductance, unit[1] * root, unit[2] * root, unit[3] * scale), axis=-1)


def conductance_by(numbers: Rows, surface: Rows | float, around: Rows | float) -> Rows:
    """The conductance, W/K, that a law's numbers (first axis) give; what `skins.conductance` does, for many rows."""
    film, apart = 0.5 * (np.asarray(surface) + around), np.abs(np.asarray(surface) - around)
    still, rising = (a + film * (b + film * (c + film * d)) for a, b, c, d in (STILL_AIR, RISING_AIR))
    root = numbers[1] * still + numbers[2] * rising * apart ** (1 / 6)
    return np.asarray(numbers[0] + root * root + numbers[3] * film * (4.0 * film * film + apart * apart))


@dataclass(frozen=True)
class AtIdle:
    """The warm machine at rest as it is stated: boiler and group, K, and what the case must lose, W/K; shape (n,)."""

    boiler: Rows
    group: Rows
    case_to_room: Rows


def at_idle(
    setpoint: Rows, *, metal_share: Rows, element_to_boiler: Rows, element_to_water: Rows, boiler_to_water: Rows,
    boiler_to_group: Rows, boiler_to_case: Rows, group_to_room: Rows, case: Rows, room: Rows,
) -> AtIdle:  # fmt: skip
    """Give the state at which a machine's losses are stated, and the conductance from its case to the room.

    Parameters: setpoint S that the sensor sees, K; metal_share a; element_to_boiler G_eb, W/K; element_to_water G_ew,
        W/K; boiler_to_water G_bw, W/K; boiler_to_group G_bg, W/K; boiler_to_case G_ba, W/K; group_to_room G_ga, W/K;
        case, the stated temperature of its air at idle, K; room, K, each of shape (n,).
    Returns: `AtIdle`.
    Valid for: what `network` says. A case is taken as at least 1 K warmer than the room.
    Equation: G_cr (Tcase − Troom) = G_ba (Tb − Tcase), all rates zero.
    Source: none; a balance of energy.

    >>> one = np.ones(1)
    >>> made = at_idle(376.15 * one, metal_share=one, element_to_boiler=35 * one, element_to_water=0 * one,
    ...                boiler_to_water=18 * one, boiler_to_group=2.4 * one, boiler_to_case=0.36 * one,
    ...                group_to_room=0.65 * one, case=311.15 * one, room=295.15 * one)
    >>> round(float(made.case_to_room[0]), 4)  # = 0.36 * 65 / 16
    1.4625
    """
    share = boiler_to_group / (boiler_to_group + group_to_room)
    to_room = share * group_to_room
    into_water = element_to_water / (element_to_water + boiler_to_water)
    above = (1.0 - metal_share) * into_water / (element_to_boiler + into_water * boiler_to_water)
    boiler = (setpoint + above * (to_room * room + boiler_to_case * case)) / (1.0 + above * (to_room + boiler_to_case))
    given = np.maximum(boiler_to_case * (boiler - case), 0.0)
    return AtIdle(boiler, share * boiler + (1.0 - share) * room, given / np.maximum(case - room, COOLER))


FORMULAS = (
    Formula(
        "Losses follow temperature", "G(T_s, T_a) = G₀ h(T_s, T_a) / h(T_s₀, T_a₀);  h = h_c + h_r",
        (Symbol("G, G₀", "conductance of a skin, and the stated one", "W/K"),
         Symbol("T_s, T_a", "skin, and the air around it", "K"),
         Symbol("T_s₀, T_a₀", "the same in the warm machine at rest as it is stated", "K"),
         Symbol("h_c, h_r", "coefficients of natural convection and of radiation", "W/(m²·K)")),
    ),
    Formula(
        "Case to room", "G_cr = G_ba (Tb − Tcase) / max(Tcase − Troom, 1 K), of the warm machine as stated",
        (Symbol("G_cr", "conductance from the case to the room", "W/K"),
         Symbol("G_ba", "conductance from boiler to the case's air", "W/K"), Symbol("Tb", "boiler metal", "K"),
         Symbol("Tcase, Troom", "the air in the case and of the room", "K")),
    ),
)  # fmt: skip
