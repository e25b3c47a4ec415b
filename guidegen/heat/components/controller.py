"""The controller: what it feeds the heater, its integral, where each of its modes ends and which comes next.

States: INTEGRAL and MODE. Compiled, one row.

Within a mode the network is smooth, so a step that stays in one mode keeps its order. A mode ends where its margin
falls below zero; `steps.advance` finds that moment inside its step.
"""

from __future__ import annotations

from guidegen.heat.compiled import kernel, part
from guidegen.heat.components.cells import mean
from guidegen.heat.components.sensor import sensor_rate
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.layout import (
    BETWEEN,
    CLOSES,
    DERIVING,
    HEATER_POWER,
    INTEGRAL,
    INTEGRATING,
    LUMPS,
    MODE,
    ON,
    ON_SLIDING,
    ON_WHILE_ABOVE,
    OPENS,
    PROPORTIONAL,
    RELAY_CONTROL,
    SENSOR,
    SENSOR_LAG,
    SENSOR_METAL_SHARE,
    SETPOINT,
    ZERO,
    ZERO_SLIDING,
    ZERO_WHILE_BELOW,
    Vector,
)

EITHER, FIRST, SECOND = range(3)
"""The borders of a mode."""


@part
def demand(y: Vector, p: Vector, sensor: float) -> float:
    """The power, W, that PID control asks for before the heater's limits; sensor: its rate, K/s."""
    return float(p[PROPORTIONAL] * (p[SETPOINT] - y[SENSOR]) + y[INTEGRAL] - p[DERIVING] * sensor)


@part
def power_of(y: Vector, p: Vector, sensor: float) -> float:
    """The heater's power in the mode as it stands, W; sensor: its rate, K/s."""
    mode = y[MODE]
    if p[RELAY_CONTROL] == 0.0 and mode > ZERO and mode < ON:
        return float(demand(y, p, sensor))
    return float(p[HEATER_POWER] if mode >= ON else 0.0)


@part
def integral_rate(y: Vector, p: Vector, sensor: float, boiler: float, water: float) -> float:
    """The rate of the integral, W/s, in the mode as it stands; sensor, boiler, water: their rates, K/s."""
    mode = y[MODE]
    if mode in (ON_SLIDING, ZERO_SLIDING):
        # Just so much that what is asked for stays at the limit.
        turning = p[SENSOR_METAL_SHARE] * boiler + (1.0 - p[SENSOR_METAL_SHARE]) * water - sensor
        return float(p[PROPORTIONAL] * sensor + p[DERIVING] * turning / p[SENSOR_LAG])
    # The integral rests while the output is saturated in the direction of the error: no wind-up from cold.
    if p[RELAY_CONTROL] > 0.0 or mode in (ON, ZERO):
        return 0.0
    return float(p[INTEGRATING] * (p[SETPOINT] - y[SENSOR]))


@kernel
def wanted(y: Vector, p: Vector, mixed: int) -> float:
    """The power, W, that PID control asks for before the heater's limits."""
    return float(demand(y, p, sensor_rate(y, p, mean(y, LUMPS, mixed))))


@kernel
def over(p: Vector, mode: float, asked: float) -> float:
    """How far what is asked for lies beyond the limit of a saturated mode, W."""
    return float(asked - p[HEATER_POWER] if mode > BETWEEN else -asked)


@kernel
def short(mode: float, error: float) -> float:
    """How far the error lies on the side that a saturated mode belongs to, K."""
    return float(error if mode in (ON, ZERO_WHILE_BELOW) else -error)


@kernel
def margins(y: Vector, p: Vector, mixed: int, slip: float) -> tuple[float, float]:
    """How far the state is inside each of its mode's two borders: K, W or W/s; below zero outside.

    slip: the rate of the integral, W/s, which counts while sliding.
    """
    mode = y[MODE]
    if p[RELAY_CONTROL] > 0.0:
        only = p[OPENS] - y[SENSOR] if mode >= ON else y[SENSOR] - p[CLOSES]
        return only, only
    error = p[SETPOINT] - y[SENSOR]
    if mode == ON_SLIDING:
        return slip, p[INTEGRATING] * error - slip
    if mode == ZERO_SLIDING:
        return -slip, slip - p[INTEGRATING] * error
    asked = wanted(y, p, mixed)
    if mode == BETWEEN:
        return asked, p[HEATER_POWER] - asked
    return over(p, mode, asked), short(mode, error)


@kernel
def margin(y: Vector, p: Vector, mixed: int, slip: float, border: int) -> float:
    """How far the state is inside a border of its mode, or of `EITHER` inside the nearer; as in `margins`."""
    one, other = margins(y, p, mixed, slip)
    if border == EITHER:
        return float(min(one, other))
    return float(one if border == FIRST else other)


@kernel
def crossed(begin: tuple[float, float], end: tuple[float, float], inside: float) -> int:
    """The border that is crossed between two looks at the margins: one from inside, where there is one.

    A mode that was just entered starts at the border that it was entered by. Beyond that one it ends where it began;
    so where the other one is crossed as well, that is the one to look for.
    """
    first, second = end[0] < -inside, end[1] < -inside
    if first and second:
        if begin[0] <= inside < begin[1]:
            return SECOND
        return FIRST if begin[1] <= inside < begin[0] else EITHER
    return FIRST if first else SECOND


@kernel
def change(y: Vector, p: Vector, mixed: int, slip: float, at_once: bool) -> None:
    """Go on to the mode behind the border that the state has reached.

    slip: as in `margin`. at_once: whether the mode ends where it began; between the limits that means sliding.
    """
    mode = y[MODE]
    if p[RELAY_CONTROL] > 0.0:
        y[MODE] = BETWEEN if mode >= ON else ON
        return
    asked, error = wanted(y, p, mixed), p[SETPOINT] - y[SENSOR]
    if mode in (ON_SLIDING, ZERO_SLIDING):
        y[INTEGRAL] += (p[HEATER_POWER] if mode == ON_SLIDING else 0.0) - asked
        y[MODE] = after_sliding(mode, slip, error)
    elif mode == BETWEEN:
        y[MODE] = after_between(asked > 0.5 * p[HEATER_POWER], error, at_once)
    elif over(p, mode, asked) <= short(mode, error):
        y[MODE] = BETWEEN
    elif mode > BETWEEN:
        y[MODE] = ON_WHILE_ABOVE if mode == ON else ON
    else:
        y[MODE] = ZERO_WHILE_BELOW if mode == ZERO else ZERO


@kernel
def after_sliding(mode: float, slip: float, error: float) -> int:
    """The mode behind a limit along which the integral slid: saturated where it turned back, else between."""
    if mode == ON_SLIDING and slip < 0.0 and error > 0.0:
        return ON
    return ZERO if mode == ZERO_SLIDING and slip > 0.0 and error < 0.0 else BETWEEN


@kernel
def after_between(high: bool, error: float, at_once: bool) -> int:
    """The mode behind the upper or the lower limit, by the side that the error is on."""
    if high:
        return (ON_SLIDING if at_once else ON) if error > 0.0 else ON_WHILE_ABOVE
    return (ZERO_SLIDING if at_once else ZERO) if error < 0.0 else ZERO_WHILE_BELOW


@kernel
def engage(y: Vector, p: Vector, mixed: int) -> None:
    """Put the controller into the mode that belongs to the state; a relay between its thresholds stays as it is."""
    if p[RELAY_CONTROL] > 0.0:
        if y[SENSOR] > p[OPENS]:
            y[MODE] = BETWEEN
        elif y[SENSOR] < p[CLOSES]:
            y[MODE] = ON
        return
    asked, error = wanted(y, p, mixed), p[SETPOINT] - y[SENSOR]
    if asked >= p[HEATER_POWER]:
        y[MODE] = ON if error > 0.0 else ON_WHILE_ABOVE
    elif asked <= 0.0:
        y[MODE] = ZERO if error < 0.0 else ZERO_WHILE_BELOW
    else:
        y[MODE] = BETWEEN


FORMULAS = (
    Formula(
        "PID control", "q = min(max(Kp e + I − Kd Ts′, 0), P);  I′ = Ki e, but 0 while q is at the limit e points to",
        (Symbol("q", "heater power", "W"), Symbol("e", "setpoint − Ts", "K"), Symbol("I", "integral", "W"),
         Symbol("Ts", "sensor temperature", "K"), Symbol("P", "heater's full power", "W"),
         Symbol("Kp", "proportional gain", "W/K"), Symbol("Ki", "integral gain", "W/(K·s)"),
         Symbol("Kd", "derivative gain, on the measurement", "W·s/K")),
    ),
    Formula(
        "Thermostat", "q = P from Ts ≤ T_closes until Ts ≥ T_opens, then 0 until Ts ≤ T_closes",
        (Symbol("q", "heater power", "W"), Symbol("P", "heater's full power", "W"),
         Symbol("Ts", "temperature of the thermostat, behind its lag", "K"),
         Symbol("T_opens", "temperature at which it opens", "K"),
         Symbol("T_closes", "temperature at which it closes again", "K")),
    ),
)  # fmt: skip
