"""The controller's modes: where each ends, and which comes next. Compiled, one row.

Within a mode the network is smooth, so a step that stays in one mode keeps its order. A mode ends where its margin
falls below zero; `steps.advance` finds that moment inside its step.
"""

from __future__ import annotations

from guidegen.physics.compiled import kernel
from guidegen.physics.formula import Formula, Symbol
from guidegen.physics.kernels import mean, seen
from guidegen.physics.layout import (
    BETWEEN,
    CLOSES,
    DERIVING,
    HEATER_POWER,
    INTEGRAL,
    LUMPS,
    MODE,
    ON,
    ON_WHILE_ABOVE,
    OPENS,
    PROPORTIONAL,
    RELAY_CONTROL,
    SENSOR,
    SENSOR_LAG,
    SETPOINT,
    ZERO,
    ZERO_WHILE_BELOW,
    Vector,
)


@kernel
def wanted(y: Vector, p: Vector, mixed: int) -> float:
    """The power, W, that PID control asks for before the heater's limits."""
    rate = (seen(y, p, mean(y, LUMPS, mixed)) - y[SENSOR]) / p[SENSOR_LAG]
    return float(p[PROPORTIONAL] * (p[SETPOINT] - y[SENSOR]) + y[INTEGRAL] - p[DERIVING] * rate)


@kernel
def margin(y: Vector, p: Vector, mixed: int) -> float:
    """How far the state is inside its mode: K for a relay, the smaller of W and K for PID; below zero outside."""
    mode = y[MODE]
    if p[RELAY_CONTROL] > 0.0:
        return float(p[OPENS] - y[SENSOR] if mode >= ON else y[SENSOR] - p[CLOSES])
    asked, error = wanted(y, p, mixed), p[SETPOINT] - y[SENSOR]
    if mode == BETWEEN:
        return float(min(asked, p[HEATER_POWER] - asked))
    over = asked - p[HEATER_POWER] if mode > BETWEEN else -asked
    short = error if mode in (ON, ZERO_WHILE_BELOW) else -error
    return float(min(over, short))


@kernel
def change(y: Vector, p: Vector, mixed: int) -> None:
    """Go on to the mode behind the border that the state has reached."""
    mode = y[MODE]
    if p[RELAY_CONTROL] > 0.0:
        y[MODE] = BETWEEN if mode >= ON else ON
        return
    asked, error = wanted(y, p, mixed), p[SETPOINT] - y[SENSOR]
    if mode == BETWEEN:
        if asked > 0.5 * p[HEATER_POWER]:
            y[MODE] = ON if error > 0.0 else ON_WHILE_ABOVE
        else:
            y[MODE] = ZERO if error < 0.0 else ZERO_WHILE_BELOW
        return
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
