"""The equations that the methods page prints, evaluated as they stand, against the compiled code, on random states.

A printed equation is arithmetic: numbers, symbols, a blank for a product, and exp, min and max. So it is read here as
such, and both of its sides are computed from the rates that the kernel gives.
"""

from __future__ import annotations

import importlib
import math
import pkgutil
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from guidegen.heat import components
from guidegen.heat import layout as at
from guidegen.heat.components.controller import engage
from guidegen.heat.components.group import group_outlet
from guidegen.heat.fleet import Fleet
from guidegen.heat.kernels import derivative
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network, Pid
from tests.reference import machines

CELLS = 6
MODULES = sorted(one.name for one in pkgutil.iter_modules(components.__path__))
EQUATIONS = {
    formula.name: formula.equation
    for name in MODULES
    for formula in getattr(importlib.import_module(f"guidegen.heat.components.{name}"), "FORMULAS", ())
}
TOKEN = re.compile(r"\s*([\d.]+|[^\W\d][\w]*′?|[-+*/(),])")
FUNCTIONS = {"exp": np.exp, "min": min, "max": max}
Numbers = NDArray[np.float64]


def evaluated(text: str, names: dict[str, Any]) -> Any:
    """The value of one side of an equation, with a product where two factors stand beside each other."""
    tokens = TOKEN.findall(text.replace("−", "-").replace("·", "*"))
    assert "".join(tokens) == re.sub(r"\s", "", text.replace("−", "-").replace("·", "*")), text
    code, values = "", {}
    for before, token in zip([None, *tokens], tokens, strict=False):
        ends = before is not None and (before == ")" or (before[-1].isalnum() or before[-1] in "_′"))
        begins = token == "(" or token[0].isalnum()
        call = before in FUNCTIONS
        code += ("*" if ends and begins and not call else "") + token.replace("′", "_prime")
        if token in names:
            values[token.replace("′", "_prime")] = names[token]
    return eval(code, {"__builtins__": {}, **FUNCTIONS, **values})


def both_sides(equation: str, names: dict[str, Any]) -> tuple[Any, Any]:
    """Left and right."""
    left, right = equation.split(" = ")
    return evaluated(left, names), evaluated(right, names)


def case(row: int, flow: float, coil: bool) -> tuple[Network, dict[str, Any], Numbers]:
    """A plausible machine, no path of it nought, in a random state: all that the equations name, and the rates."""
    network = replace(machines.plausible(8, coil).row(row), heater_to_water=np.array([12.0]))
    if network.coil is not None:
        network = replace(network, coil=replace(network.coil, bypass=np.array([1.2e-3])))
    fleet, draw = Fleet(network.parameters(), cells=CELLS), np.random.default_rng(100 + row)
    p, m = fleet.p[0], int(fleet.p[0, at.MIXING])
    n = int(p[at.CELLS])
    y = draw.uniform(290.0, 390.0, at.LUMPS + m + 2 * n)
    y[at.INTEGRAL] = draw.uniform(0.0, 400.0)
    engage(y, p, m)
    d, face = np.zeros(len(y)), np.zeros(n + 1)
    through = flow * WATER_SPECIFIC_HEAT
    passing = math.exp(-p[at.GROUP_TO_WATER] / through) if through else 1.0
    derivative(y, d, p, m, n, through, passing, face)
    water, inside, metal = y[at.LUMPS : at.LUMPS + m], y[at.LUMPS + m : len(y) - n], y[len(y) - n :]
    wound, control = network.coil, network.control
    assert isinstance(control, Pid)
    entering = face[n] if n and flow else float(network.feed[0])
    power = d[at.HEATER_ENERGY]
    names = {
        "C_e": network.heater_capacity, "C_b": network.boiler_capacity, "C_g": network.group_capacity,
        "C_w": network.water_mass * WATER_SPECIFIC_HEAT, "M": float(m), "N": float(n), "q": power,
        "P": p[at.HEATER_POWER],
        "G_eb": network.heater_to_boiler, "G_ew": network.heater_to_water, "G_bw": network.boiler_to_water,
        "G_bg": network.boiler_to_group, "G_ba": network.boiler_to_case, "G_ga": network.group_to_room,
        "UA_g": network.group_to_water, "τ_s": network.sensor_lag, "a": network.sensor_metal_share,
        "Tcase": network.case, "Troom": network.room, "ṁ": flow, "c": 4190.0,
        "Te": y[at.ELEMENT], "Tb": y[at.BOILER], "Tg": y[at.GROUP], "Ts": y[at.SENSOR], "W": water.mean(),
        "W_i": water, "W_M": water[-1], "W_before": np.concatenate(([entering], water[:-1])), "s": 0.0,
        "Y": metal.mean() if n else 0.0, "G_bc": wound.to_boiler if wound else 0.0,
        "Te′": d[at.ELEMENT], "Tb′": d[at.BOILER], "Tg′": d[at.GROUP], "Ts′": d[at.SENSOR],
        "W_i′": d[at.LUMPS : at.LUMPS + m], "T_out": group_outlet(y, water[-1], passing),
        "Kp": control.proportional, "Ki": control.integral, "Kd": control.derivative, "I": y[at.INTEGRAL],
        "I′": d[at.INTEGRAL], "e": control.setpoint - y[at.SENSOR],
    }  # fmt: skip
    if wound is not None:
        names |= {
            "C_x": wound.water_mass * WATER_SPECIFIC_HEAT, "C_y": wound.metal_capacity, "s": wound.shields,
            "G_ca": wound.to_case, "G_i": wound.inside_in_flow if flow else wound.inside_at_rest, "G_cc": wound.along,
            "ṁ_r": wound.bypass if flow else np.zeros(1), "X_j": inside, "Y_j": metal,
            "Y_before": np.concatenate((metal[:1], metal[:-1])), "Y_after": np.concatenate((metal[1:], metal[-1:])),
            "F_before": face[:-1], "F_after": face[1:],
            "X_j′": d[at.LUMPS + m : len(y) - n], "Y_j′": d[len(y) - n :],
        }  # fmt: skip
    return network, names, d


def test_every_component_prints_its_equations() -> None:
    """One file each; what is shared has none of its own."""
    without = {name for name in MODULES
               if not hasattr(importlib.import_module(f"guidegen.heat.components.{name}"), "FORMULAS")}  # fmt: skip
    assert without == {"cells", "nomenclature"}
    assert set(EQUATIONS) == {
        "Heater element", "Boiler metal", "Boiler water", "Group", "Outlet", "Coil water", "Coil metal", "Sensor",
        "PID control", "Thermostat",
    }  # fmt: skip


NETWORK = sorted(set(EQUATIONS) - {"PID control", "Thermostat"})


@pytest.mark.parametrize(
    ("name", "flow"), [(name, 1.8e-3) for name in NETWORK] + [(name, 0.0) for name in NETWORK if name != "Outlet"]
)
def test_the_printed_equation_is_the_compiled_one(name: str, flow: float) -> None:
    """To rounding, in flow and at rest, with and without a coil; the group's water term tends to nothing at rest."""
    for coil in (True,) if name.startswith("Coil") else (False, True):
        for row in range(8):
            _, names, _ = case(row, flow or 1e-300 if name == "Group" else flow, coil)
            with np.errstate(over="ignore", under="ignore"):
                left, right = both_sides(EQUATIONS[name], names)
            scale = float(np.max(np.abs(left))) + 1.0
            assert np.allclose(left, right, rtol=0.0, atol=1e-9 * scale), (coil, row)


def test_the_printed_control_is_the_compiled_one() -> None:
    """Its power, and its integral, which rests while the output is at the limit that the error points to."""
    power, integral = EQUATIONS["PID control"].split(";")
    rests = 0
    for row in range(8):
        _, names, _ = case(row, 1.8e-3, True)
        left, right = both_sides(power, names)
        assert left == pytest.approx(float(right[0]) if np.ndim(right) else right, rel=1e-12)
        left, right = both_sides(integral.partition(", but 0")[0], names)
        at_limit = (names["q"] == names["P"] and names["e"] > 0) or (names["q"] == 0.0 and names["e"] < 0)
        rests += bool(at_limit)
        assert left == (0.0 if at_limit else pytest.approx(float(right[0]), rel=1e-12))
    assert 0 < rests < 8


def test_a_sign_that_is_turned_over_is_found() -> None:
    """The comparison can fail: any sum with one sign turned over is another equation."""
    _, names, _ = case(0, 1.8e-3, True)
    for name in ("Heater element", "Boiler metal", "Boiler water", "Group", "Coil water", "Coil metal", "Sensor"):
        left, right = both_sides(EQUATIONS[name], names)
        before, _, after = EQUATIONS[name].partition(" = ")
        head, sign, tail = after.rpartition(" − ")
        _, wrong = both_sides(f"{before} = {head} + {tail}" if sign else f"{before} = -({after})", names)
        assert np.allclose(left, right, rtol=1e-9)
        assert not np.allclose(left, wrong, rtol=1e-3), name
