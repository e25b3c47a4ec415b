"""The thermal network of a machine: every lump and every path of heat, for one or many rows at a time.

Every field is an array of shape (n,): row 0 holds the stated values, the other rows draws of the uncertain inputs.
Temperatures are in kelvin, everything else in SI. The network without and with a kit are two of these.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidegen.heat import layout as k
from guidegen.heat.losses import CASE, TUBE, WALL, law
from guidegen.heat.surface import EMISSIVITY, GRAY
from guidegen.heat.validity import Validity

Rows = NDArray[np.float64]

WATER_SPECIFIC_HEAT = 4190.0
"""J/(kg K), the mean between 20 and 100 °C: (419.17 - 84.01) kJ/kg over 80 K, IAPWS R7-97 at saturation and 0.1 MPa.

One value in the whole network, so that heat carried by moving water is conserved.
"""


LEAST = 1e-9
_SOMETHING, _ANYTHING, _KELVIN = (LEAST, np.finfo(float).max, ""), (-1e9, 1e9, ""), (100.0, 1000.0, "K")
_DIVIDED_BY = (
    "heater_power", "heater_capacity", "heater_to_boiler", "boiler_capacity", "boiler_to_water", "boiler_to_group",
    "water_mass", "group_capacity", "group_to_room", "metal_capacity", "case_capacity",
)  # fmt: skip
LIMITS = {
    **dict.fromkeys(_DIVIDED_BY, _SOMETHING),
    **dict.fromkeys(
        ("case", "room", "feed", "setpoint", "opens", "closes", "boiler_at_idle", "group_at_idle"), _KELVIN
    ),
    **dict.fromkeys(("sensor_metal_share", "shields"), _ANYTHING),
    **dict.fromkeys(("boiler_emissivity", "group_emissivity", "emissivity"), (GRAY.low, GRAY.high, "")),
    "follows": (0.0, 1.0, ""),
    "mixing": (1.0, 1000.0, ""),
    "sensor_lag": (0.05, 1e4, "s"),
}
"""What the equations need, lowest and highest, in SI: something to divide by, and temperatures that are in kelvin.

Plausible ranges are the catalogue's; a draw from the far end of a distribution may lie outside them and still be run.
"""
NEEDED = "what the network's equations need"


@dataclass(frozen=True)
class Pid:
    """Continuous PID control with output between zero and the heater's power.

    The derivative acts on the measurement, and the integral rests while the output is saturated in the direction of
    the error. setpoint K, proportional W/K, integral W/(K s), derivative W s/K; all of shape (n,).
    """

    setpoint: Rows
    proportional: Rows
    integral: Rows
    derivative: Rows


@dataclass(frozen=True)
class Thermostat:
    """A relay that opens at the upper and closes at the lower temperature, K; both of shape (n,)."""

    opens: Rows
    closes: Rows


def set_to(control: Pid | Thermostat) -> Rows:
    """The temperature that a control holds, K, shape (n,)."""
    return control.setpoint if isinstance(control, Pid) else (control.opens + control.closes) / 2


@dataclass(frozen=True)
class Coil:
    """A feed coil: water, tube metal, and its paths of heat; all of shape (n,).

    water_mass kg, metal_capacity J/K, to_boiler and to_case W/K in all; inside_at_rest and inside_in_flow W/K from
    metal to water in all; along W/K times the number of cells is the conduction from cell to cell, so it is the
    metal's k A / L; shields is the share of the boiler's loss to the case that the coil takes away, 0 to 1; bypass kg/s
    is what flows through the coil in a draw beside the drawn water and returns to the tank before the boiler; to_case
    is stated of a coil in the stated machine, warm and at rest; emissivity that of its skin.
    """

    water_mass: Rows
    metal_capacity: Rows
    to_boiler: Rows
    to_case: Rows
    inside_at_rest: Rows
    inside_in_flow: Rows
    along: Rows
    shields: Rows
    bypass: Rows
    emissivity: Rows


@dataclass(frozen=True)
class Network:
    """A machine as lumps and paths of heat; every array of shape (n,).

    heater_power W; capacities J/K; paths W/K; water_mass kg; mixing the number of well mixed cells in series, 1 to
    10; sensor_lag s; sensor_metal_share 0 to 1; temperatures K.

    What boiler, group and case lose is stated of the warm machine at rest, without a kit: there boiler and group are as
    hot as `boiler_at_idle` and `group_at_idle`, and the air in the case as `case` (`losses.at_idle`). `follows` is how
    far losses follow temperature from there, 1 as the correlations say, 0 not at all.
    """

    heater_power: Rows
    heater_capacity: Rows
    heater_to_boiler: Rows
    heater_to_water: Rows
    boiler_capacity: Rows
    boiler_to_water: Rows
    boiler_to_group: Rows
    boiler_to_case: Rows
    water_mass: Rows
    mixing: Rows
    group_capacity: Rows
    group_to_water: Rows
    group_to_room: Rows
    sensor_lag: Rows
    sensor_metal_share: Rows
    case: Rows
    case_capacity: Rows
    case_to_room: Rows
    boiler_at_idle: Rows
    group_at_idle: Rows
    boiler_emissivity: Rows
    group_emissivity: Rows
    follows: Rows
    room: Rows
    feed: Rows
    control: Pid | Thermostat
    coil: Coil | None = None

    def __len__(self) -> int:
        return len(self.heater_power)

    def parameters(self) -> Rows:
        """The rows that the kernels read, shape (n, parameters); raises where one is no machine."""
        self.check()
        p = np.zeros((len(self), k.PARAMETERS))
        plain = (
            "heater_power", "heater_capacity", "heater_to_boiler", "heater_to_water", "boiler_capacity",
            "boiler_to_water", "boiler_to_group", "boiler_to_case", "water_capacity", "mixing", "group_capacity",
            "group_to_water", "group_to_room", "sensor_lag", "sensor_metal_share", "case", "room", "feed",
        )  # fmt: skip
        p[:, k.CASE_CAPACITY], p[:, k.CASE_TO_ROOM] = self.case_capacity, self.case_to_room
        for column, name in enumerate(plain):
            p[:, column] = self.water_capacity if name == "water_capacity" else getattr(self, name)
        p[:, k.MIXING] = np.rint(self.mixing)
        if isinstance(self.control, Thermostat):
            p[:, k.RELAY_CONTROL] = 1.0
            p[:, k.OPENS], p[:, k.CLOSES] = self.control.opens, self.control.closes
            p[:, k.SETPOINT] = (self.control.opens + self.control.closes) / 2
        else:
            p[:, k.SETPOINT], p[:, k.PROPORTIONAL] = self.control.setpoint, self.control.proportional
            p[:, k.INTEGRATING], p[:, k.DERIVING] = self.control.integral, self.control.derivative
        p[:, k.SHIELD] = 1.0
        if self.coil is not None:
            p[:, k.HAS_COIL] = 1.0
            p[:, k.COIL_WATER_CAPACITY] = self.coil.water_mass * WATER_SPECIFIC_HEAT
            p[:, k.COIL_METAL_CAPACITY] = self.coil.metal_capacity
            p[:, k.BOILER_TO_COIL], p[:, k.COIL_TO_CASE] = self.coil.to_boiler, self.coil.to_case
            p[:, k.COIL_INSIDE_AT_REST] = self.coil.inside_at_rest
            p[:, k.COIL_INSIDE_IN_FLOW] = self.coil.inside_in_flow
            p[:, k.COIL_ALONG] = self.coil.along
            p[:, k.SHIELD] = 1.0 - self.coil.shields
            p[:, k.BYPASS] = self.coil.bypass * WATER_SPECIFIC_HEAT
        for skin, numbers in self._laws():
            first = k.LAWS + k.LAW * skin
            p[:, first : first + k.LAW] = numbers
        return p

    def _laws(self) -> Iterator[tuple[int, Rows]]:
        """By skin, how its conductance follows temperature, shape (n, 4)."""
        walls = (
            (k.BOILER_SKIN, self.boiler_emissivity, self.boiler_to_case, self.boiler_at_idle, self.case),
            (k.GROUP_SKIN, self.group_emissivity, self.group_to_room, self.group_at_idle, self.room),
        )
        for skin, gray, path, surface, around in walls:
            yield skin, law(WALL, gray, path, surface, around, self.follows)
        gray = np.full(len(self), EMISSIVITY["case"])
        yield k.CASE_SKIN, law(CASE, gray, self.case_to_room, self.case, self.room, self.follows)
        if self.coil is not None:
            between = self.coil.to_boiler + self.coil.to_case
            share = np.divide(self.coil.to_boiler, between, out=np.zeros(len(self)), where=between > 0.0)
            parked = self.case + share * (self.boiler_at_idle - self.case)
            yield k.COIL_SKIN, law(TUBE, self.coil.emissivity, self.coil.to_case, parked, self.case, self.follows)

    def check(self) -> None:
        """Raise `ValidityError` for a value no machine can have, by name; `ValueError` for rows of another length."""
        parts = (self, self.control) if self.coil is None else (self, self.control, self.coil)
        for part in parts:
            for one in fields(part):
                value = getattr(part, one.name)
                if not isinstance(value, np.ndarray):
                    continue
                name = ("coil " if isinstance(part, Coil) else "") + one.name.replace("_", " ")
                if value.shape != (len(self),):
                    raise ValueError(f"{name}: shape {value.shape}, where all others have {(len(self),)}")
                low, high, unit = LIMITS.get(one.name, (0.0, np.finfo(float).max, ""))
                Validity(name, low, high, unit, NEEDED).check(value)

    @property
    def water_capacity(self) -> Rows:
        """Heat capacity of the boiler's water, J/K, shape (n,)."""
        return self.water_mass * WATER_SPECIFIC_HEAT

    def heat_capacity(self) -> Rows:
        """Heat capacity of element, boiler, water, group and coil together, J/K, shape (n,)."""
        total = self.heater_capacity + self.boiler_capacity + self.water_capacity + self.group_capacity
        if self.coil is not None:
            total = total + self.coil.metal_capacity + self.coil.water_mass * WATER_SPECIFIC_HEAT
        return total

    def row(self, index: int) -> Network:
        """One row as a network of its own."""
        return self.rows(slice(index, index + 1))

    def rows(self, which: slice) -> Network:
        """Some rows as a network of their own."""
        return Network(**{one.name: _rows(getattr(self, one.name), which) for one in fields(self)})


def _rows(value: Any, which: slice) -> Any:
    if isinstance(value, np.ndarray):
        return value[which]
    if isinstance(value, Pid | Thermostat | Coil):
        return type(value)(**{f.name: _rows(getattr(value, f.name), which) for f in fields(value)})
    return value
