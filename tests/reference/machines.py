"""Machines for tests: the reference case, machines all over the plausible ranges, and one for common practice.

The numbers are engineering judgement, from memory of how such boilers are built, and belong to no product.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from guidegen.heat.network import Coil, Network, Pid, Thermostat, set_to

Numbers = NDArray[np.float64]
ZERO = 273.15


def machine(draws: dict[str, Numbers], control: Pid | Thermostat, coil: bool, mixing: Numbers | None = None) -> Network:
    """A network from named rows; what is not named has the reference case's value."""

    def rows(name: str, value: float) -> Numbers:
        return draws.get(name, np.full(len(next(iter(draws.values()))), value))

    brass = 380.0
    stated = (("Tcase", 38.0), ("room", 22.0), ("G_ba", 0.36), ("G_bg", 2.4), ("G_ga", 0.65))
    case, room, skin, between, out = (rows(name, value) for name, value in stated)
    boiler = set_to(control)  # and exact where the sensor sees the metal alone
    return Network(
        heater_power=rows("P", 1150.0),
        heater_capacity=rows("C_e", 60.0),
        heater_to_boiler=rows("G_eb", 35.0),
        heater_to_water=rows("G_ew", 0.0),
        boiler_capacity=rows("boiler", 0.58) * brass,
        boiler_to_water=rows("G_bw", 18.0),
        boiler_to_group=between,
        boiler_to_case=skin,
        water_mass=rows("water", 105e-6) * 957.0,
        mixing=rows("M", 1.0) if mixing is None else mixing,
        group_capacity=rows("group", 1.30) * brass,
        group_to_water=rows("UA_g", 6.0),
        group_to_room=out,
        sensor_lag=rows("tau", 3.0),
        sensor_metal_share=rows("a", 0.7),
        case=case + ZERO,
        case_capacity=rows("C_c", 1000.0),
        case_to_room=skin * (boiler - case - ZERO) / np.maximum(case - room, 1.0),
        boiler_at_idle=boiler,
        group_at_idle=(between * boiler + out * (room + ZERO)) / (between + out),
        boiler_emissivity=rows("gray", 0.3),
        group_emissivity=rows("gray", 0.3),
        follows=rows("follows", 1.0),
        room=room + ZERO,
        feed=rows("feed", 20.0) + ZERO,
        control=control,
        coil=_coil(rows) if coil else None,
    )


def _coil(rows: Callable[[str, float], Numbers]) -> Coil:
    copper, water = 385.0, 970.0
    return Coil(
        water_mass=rows("held", 58e-6) * water,
        metal_capacity=rows("copper", 0.44) * copper,
        to_boiler=rows("G_bc", 1.10),
        to_case=rows("G_ca", 0.50),
        inside_at_rest=rows("G_rest", 22.0),
        inside_in_flow=rows("G_flow", 55.0),
        along=rows("along", 401.0 * 16e-6 / 3.0),
        shields=rows("s", 0.50),
        bypass=rows("bypass", 0.0),
        emissivity=rows("dull", 0.5),
    )


def reference(coil: bool, mixing: float = 1.0, rows: int = 1, setpoint: float = 103.0) -> Network:
    """The reference case, the same in every row."""
    pid = Pid(*(np.full(rows, value) for value in (setpoint + ZERO, 60.0, 0.7, 180.0)))
    return machine({"M": np.full(rows, mixing)}, pid, coil)


def with_held_case(coil: bool, mixing: float = 1.0, capacity: float = 1e9) -> Network:
    """The reference case as it was first written down: losses in proportion, and a case that is always at 38 °C idle.

    What the case gives its room is what boiler and coil give it there; the coil's water is then parked at 82.7 °C. Its
    heat capacity, J/K, says how much of a drink it notices; from cold it has to be small.
    """
    network, one = reference(coil, mixing), np.ones(1)
    given = 0.36 * 65.0 if network.coil is None else 0.18 * 65.0 + 0.50 * (82.7 - 38.0)
    return replace(network, follows=0.0 * one, case_to_room=given / 16.0 * one, case_capacity=capacity * one)


RANGES = {
    "boiler": (0.40, 0.65), "water": (80e-6, 110e-6), "group": (0.95, 1.35), "C_e": (30.0, 120.0),
    "G_eb": (15.0, 80.0), "G_bw": (8.0, 40.0), "G_bg": (0.7, 5.0), "G_ba": (0.15, 0.5), "G_ga": (0.25, 0.8),
    "G_bc": (0.3, 6.0), "G_ca": (0.15, 1.0), "s": (0.3, 0.9), "tau": (1.0, 8.0), "a": (0.0, 1.0),
    "Tcase": (28.0, 50.0), "G_rest": (15.0, 30.0), "G_flow": (40.0, 90.0), "feed": (15.0, 25.0),
    "room": (19.0, 25.0), "P": (800.0, 1400.0), "UA_g": (3.0, 10.0), "held": (40e-6, 75e-6), "copper": (0.3, 0.6),
}  # fmt: skip
"""Plausible ranges in SI, temperatures in °C: engineering judgement."""
CASES = (400.0, 2500.0)
"""J/K of a case."""
TUNING = {"kp": (25.0, 100.0), "ki": (0.2, 1.2), "kd": (0.0, 300.0), "setpoint": (95.0, 108.0)}
"""A controller of a careful builder, not one that oscillates: judgement too."""


def plausible(rows: int, coil: bool, relay: bool = False, seed: int = 7) -> Network:
    """Machines all over the plausible ranges; the same seed gives the same machines with and without a coil."""
    draw = np.random.default_rng(seed)
    draws = {name: draw.uniform(*ends, rows) for name, ends in RANGES.items()}
    draws["M"] = draw.integers(1, 11, rows).astype(float)
    draws["C_c"] = np.random.default_rng([seed, 1]).uniform(*CASES, rows)
    tuning = {name: draw.uniform(*ends, rows) for name, ends in TUNING.items()}
    opens = draw.uniform(98.0, 108.0, rows) + ZERO
    closes = opens - draw.uniform(4.0, 12.0, rows)
    control: Pid | Thermostat = (
        Thermostat(opens, closes) if relay else Pid(tuning["setpoint"] + ZERO, tuning["kp"], tuning["ki"], tuning["kd"])
    )
    return machine(draws, control, coil)


def common(coil: bool) -> Network:
    """A machine for common practice: its numbers were selected, inside the ranges, with the trade's figures in view."""
    numbers = {
        "boiler": 0.50, "water": 80e-6, "group": 1.2, "held": 72e-6, "copper": 0.53, "M": 6.0, "G_ba": 0.5, "s": 0.9,
        "G_bc": 1.5, "G_ca": 0.9, "Tcase": 32.0, "C_c": 400.0, "a": 0.9, "tau": 2.0, "G_flow": 60.0, "G_rest": 24.0,
    }  # fmt: skip
    pid = Pid(*(np.array([value]) for value in (101.0 + ZERO, 120.0, 1.0, 360.0)))
    return machine({name: np.array([value]) for name, value in numbers.items()}, pid, coil)
