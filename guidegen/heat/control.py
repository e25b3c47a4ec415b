"""The controller's modes: where each ends, and which comes next. Compiled, one row.

Within a mode the network is smooth, so a step that stays in one mode keeps its order. A mode ends where its margin
falls below zero; `steps.advance` finds that moment inside its step.
"""

from __future__ import annotations

from guidegen.heat.compiled import kernel
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.kernels import mean, seen
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
    SETPOINT,
    ZERO,
    ZERO_SLIDING,
    ZERO_WHILE_BELOW,
    Vector,
)


@kernel
def wanted(y: Vector, p: Vector, mixed: int) -> float:
    """The power, W, that PID control asks for before the heater's limits."""
    rate = (seen(y, p, mean(y, LUMPS, mixed)) - y[SENSOR]) / p[SENSOR_LAG]
    return float(p[PROPORTIONAL] * (p[SETPOINT] - y[SENSOR]) + y[INTEGRAL] - p[DERIVING] * rate)


@kernel
def margin(y: Vector, p: Vector, mixed: int, slip: float) -> float:
    """How far the state is inside its mode: K, W or W/s, the smallest; below zero outside.

    slip: the rate of the integral, W/s, which counts while sliding.
    """
    mode = y[MODE]
    if p[RELAY_CONTROL] > 0.0:
        return float(p[OPENS] - y[SENSOR] if mode >= ON else y[SENSOR] - p[CLOSES])
    error = p[SETPOINT] - y[SENSOR]
    if mode == ON_SLIDING:
        return float(min(slip, p[INTEGRATING] * error - slip))
    if mode == ZERO_SLIDING:
        return float(min(-slip, slip - p[INTEGRATING] * error))
    asked = wanted(y, p, mixed)
    if mode == BETWEEN:
        return float(min(asked, p[HEATER_POWER] - asked))
    over = asked - p[HEATER_POWER] if mode > BETWEEN else -asked
    short = error if mode in (ON, ZERO_WHILE_BELOW) else -error
    return float(min(over, short))


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
        y[MODE] = BETWEEN
        if mode == ON_SLIDING and slip < 0.0 and error > 0.0:
            y[MODE] = ON
        if mode == ZERO_SLIDING and slip > 0.0 and error < 0.0:
            y[MODE] = ZERO
    elif mode == BETWEEN:
        if asked > 0.5 * p[HEATER_POWER]:
            y[MODE] = (ON_SLIDING if at_once else ON) if error > 0.0 else ON_WHILE_ABOVE
        else:
            y[MODE] = (ZERO_SLIDING if at_once else ZERO) if error < 0.0 else ZERO_WHILE_BELOW
    else:
        over = asked - p[HEATER_POWER] if mode > BETWEEN else -asked
        short = error if mode in (ON, ZERO_WHILE_BELOW) else -error
        if over <= short:
            y[MODE] = BETWEEN
        elif mode > BETWEEN:
            y[MODE] = ON_WHILE_ABOVE if mode == ON else ON
        else:
            y[MODE] = ZERO_WHILE_BELOW if mode == ZERO else ZERO


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
