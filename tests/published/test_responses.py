"""Two lumps that cool and a controller's way to its setpoint against closed forms, and the balance of a drink.

The closed forms are derived here: linear equations with constant coefficients, their roots, and the initial values. A
machine has them once all paths of heat but those that are meant are next to nothing.
"""

from __future__ import annotations

import functools
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from guidegen.heat import layout as at
from guidegen.heat.network import LEAST, Network, Pid, Thermostat
from guidegen.heat.study import CELLS
from tests.published.check import Check
from tests.reference import machines, ours
from tests.reference.solver import Leg, imbalance

Numbers = NDArray[np.float64]
ROOM = 295.15
KELVIN, JOULE = 1e-3, 1.0
ONE = np.ones(1)


def exponentials(rates: Numbers, derivatives: tuple[float, ...], time: float) -> float:
    """The sum of exponentials of some rates, 1/s, that has these value and derivatives at the start."""
    powers = np.vander(rates, increasing=True).T
    return float(np.real(np.linalg.solve(powers, derivatives) @ np.exp(rates * time)))


# --- two lumps ---------------------------------------------------------------------------------------

BOILER, GROUP, BETWEEN, TO_ROOM = 220.0, 494.0, 2.4, 0.65
"""J/K and W/K."""
HOT, WARM = 80.0, 20.0
"""K above the room at the start: boiler and group."""


def lumps(time: float) -> tuple[float, float]:
    """Boiler and group above the room, K.

    C b' = G (g - b), D g' = G (b - g) - L g. Both obey z'' + (G/C + (G + L)/D) z' + G L/(C D) z = 0, with the values at
    the start and the first derivatives from the equations themselves.
    """
    rates = np.roots([1.0, BETWEEN / BOILER + (BETWEEN + TO_ROOM) / GROUP, BETWEEN * TO_ROOM / (BOILER * GROUP)])
    flow = BETWEEN * (HOT - WARM)
    boiler = exponentials(rates, (HOT, -flow / BOILER), time)
    return boiler, exponentials(rates, (WARM, (flow - TO_ROOM * WARM) / GROUP), time)


def alone(control: Pid | Thermostat, **fields: float) -> Network:
    """A machine of which only the paths of heat that are named are there."""
    nothing = ("heater_to_boiler", "heater_to_water", "boiler_to_water", "boiler_to_group", "boiler_to_case",
               "group_to_room", "group_to_water")  # fmt: skip
    # A case that is the room, and losses in proportion: the closed forms know no others.
    case = {"case": ROOM, "case_to_room": 1e6, "follows": 0.0}
    values = {**dict.fromkeys(nothing, LEAST), "room": ROOM, **case, **fields}
    return replace(machines.reference(False), control=control, **{name: value * ONE for name, value in values.items()})


@functools.cache
def cooled(time: float) -> tuple[float, float]:
    """The same by the program, its thermostat open all the while."""
    network = alone(Thermostat(200.0 * ONE, 150.0 * ONE), boiler_capacity=BOILER, group_capacity=GROUP,
                    boiler_to_group=BETWEEN, group_to_room=TO_ROOM)  # fmt: skip
    start = ours.start_of(network, 0, CELLS, from_cold=True)
    start[[at.BOILER, at.GROUP]] = ROOM + HOT, ROOM + WARM
    end = ours.run(network, 0, start, [Leg(time)], CELLS).states[0]
    return float(end[1]) - ROOM, float(end[2]) - ROOM


# --- a controller ------------------------------------------------------------------------------------

MASS, LOSS, LAG = 620.0, 0.9, 3.0
"""J/K, W/K and s of a boiler that heats through and through, in a room that it loses heat to."""
PROPORTIONAL, INTEGRAL = 12.0, 0.35
"""W/K and W/(K s); slow enough that the heater is never at a limit."""
SETPOINT, BELOW = 373.15, 5.0
"""K; where it is set to, and how far below it all is at the start."""


def approached(time: float) -> float:
    """The sensor below its setpoint, K, with the integral at the start where idle needs it.

    x, y: metal and sensor above the setpoint; i: the integral above its idle value. C x' = -Kp y + i - L x,
    tau y' = x - y, i' = -Ki y. So y has the rates of tau C s³ + (C + tau L) s² + (L + Kp) s + Ki, and starts with
    y = -b, y' = 0, y'' = x'/tau = (Kp + L) b / (C tau).
    """
    rates = np.roots([LAG * MASS, MASS + LAG * LOSS, LOSS + PROPORTIONAL, INTEGRAL])
    bend = (PROPORTIONAL + LOSS) * BELOW / (MASS * LAG)
    return -exponentials(rates, (-BELOW, 0.0, bend), time)


@functools.cache
def controlled(time: float) -> float:
    """The same by the program: an element with next to no heat capacity of its own, a sensor that sees the metal."""
    pid = Pid(SETPOINT * ONE, PROPORTIONAL * ONE, INTEGRAL * ONE, 0.0 * ONE)
    network = alone(pid, boiler_capacity=MASS, boiler_to_case=LOSS, heater_capacity=1e-3, heater_to_boiler=1e3,
                    sensor_lag=LAG, sensor_metal_share=1.0)  # fmt: skip
    start = ours.start_of(network, 0, CELLS)
    start[[at.BOILER, at.ELEMENT, at.SENSOR]] -= BELOW
    return SETPOINT - float(ours.run(network, 0, start, [Leg(time)], CELLS).states[0][3])


# --- a law -------------------------------------------------------------------------------------------


@functools.cache
def missing(coil: bool) -> float:
    """What is missing in the balance of a double and ten minutes after it, J: in - out - stored."""
    network = machines.reference(coil)
    start = ours.start_of(network, 0, CELLS)
    end = ours.run(network, 0, start, [Leg(28.0, 50e-3 / 28.0), Leg(600.0)], CELLS).states[-1]
    return imbalance(network, 0, ours.in_their_terms(start), end, CELLS)


LINEAR, CONTROL = "exact: two linear equations", "exact: three linear equations"
LAW = "heat in less heat out is heat stored"

CHECKS = [
    *(
        Check(f"two-lumps-{which}-{time:g}", f"{which} above the room {time:g} s after switching off", "K",
              lumps(time)[i], KELVIN, LINEAR, "L", "derived", ("Boiler metal", "Group"),
              lambda time=time, i=i: cooled(time)[i])
        for i, which in enumerate(("boiler", "group"))
        for time in (60.0, 300.0, 1200.0)
    ),
    *(
        Check(f"controlled-{time:g}", f"sensor below the setpoint {time:g} s after a start 5 K below it", "K",
              approached(time), KELVIN, CONTROL, "L", "derived", ("PID control", "Sensor", "Heater element"),
              lambda time=time: controlled(time))
        for time in (10.0, 30.0, 60.0, 120.0, 300.0)
    ),
    *(
        Check(f"balance-{name}", f"heat that a drink and ten minutes after it leave unaccounted for, {name} a coil",
              "J", 0.0, JOULE, LAW, "L", "law", ("Heater element", "Boiler metal", "Boiler water", "Group"),
              lambda coil=coil: missing(coil))
        for name, coil in (("without", False), ("with", True))
    ),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The closed form's value comes out, and nothing is missing."""
    check.hold()


def test_the_controller_swings() -> None:
    """The case is worth its name: the sensor passes its setpoint and comes back."""
    assert min(approached(time) for time in np.linspace(0.0, 300.0, 301)) < -0.1
