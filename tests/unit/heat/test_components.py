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
from guidegen.heat.losses import CASE, FORMULAS, TUBE, WALL, Skin
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network, Pid
from guidegen.heat.skins import conductance
from guidegen.heat.surface import EMISSIVITY, convection, radiation
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
    derivative(y, d, p, m, n, through, passing, face, held(p, y, m, n, flow > 0.0))
    water, inside, metal = y[at.LUMPS : at.LUMPS + m], y[at.LUMPS + m : len(y) - n], y[len(y) - n :]
    wound, control = network.coil, network.control
    assert isinstance(control, Pid)
    entering = face[n] if n and flow else float(network.feed[0])
    power, air = d[at.HEATER_ENERGY], y[at.CASE_AIR]
    stated = conducted(network, y, metal) if flow else at_rest(network)
    names = {
        "C_e": network.heater_capacity, "C_b": network.boiler_capacity, "C_g": network.group_capacity,
        "C_w": network.water_mass * WATER_SPECIFIC_HEAT, "M": float(m), "N": float(n), "q": power,
        "P": p[at.HEATER_POWER],
        "G_eb": network.heater_to_boiler, "G_ew": network.heater_to_water, "G_bw": network.boiler_to_water,
        "G_bg": network.boiler_to_group, "G_ba": stated[at.BOILER_SKIN], "G_ga": stated[at.GROUP_SKIN],
        "G_cr": stated[at.CASE_SKIN], "C_c": network.case_capacity, "Tcase′": d[at.CASE_AIR],
        "UA_g": network.group_to_water, "τ_s": network.sensor_lag, "a": network.sensor_metal_share,
        "Tcase": air, "Troom": network.room, "ṁ": flow, "c": 4190.0,
        "Te": y[at.ELEMENT], "Tb": y[at.BOILER], "Tg": y[at.GROUP], "Ts": y[at.SENSOR], "W": water.mean(),
        "W_i": water, "W_M": water[-1], "W_before": np.concatenate(([entering], water[:-1])), "s": 0.0,
        "Y": metal.mean() if n else 0.0, "G_bc": wound.to_boiler if wound else 0.0, "G_ca": 0.0,
        "Te′": d[at.ELEMENT], "Tb′": d[at.BOILER], "Tg′": d[at.GROUP], "Ts′": d[at.SENSOR],
        "W_i′": d[at.LUMPS : at.LUMPS + m], "T_out": group_outlet(y, water[-1], passing),
        "Kp": control.proportional, "Ki": control.integral, "Kd": control.derivative, "I": y[at.INTEGRAL],
        "I′": d[at.INTEGRAL], "e": control.setpoint - y[at.SENSOR],
    }  # fmt: skip
    if wound is not None:
        names |= {
            "C_x": wound.water_mass * WATER_SPECIFIC_HEAT, "C_y": wound.metal_capacity, "s": wound.shields,
            "G_ca": stated[at.COIL_SKIN], "G_i": wound.inside_in_flow if flow else wound.inside_at_rest,
            "G_cc": wound.along,
            "ṁ_r": wound.bypass if flow else np.zeros(1), "X_j": inside, "Y_j": metal,
            "Y_before": np.concatenate((metal[:1], metal[:-1])), "Y_after": np.concatenate((metal[1:], metal[-1:])),
            "F_before": face[:-1], "F_after": face[1:],
            "X_j′": d[at.LUMPS + m : len(y) - n], "Y_j′": d[len(y) - n :],
        }  # fmt: skip
    return network, names, d


def held(p: Numbers, y: Numbers, m: int, n: int, flowing: bool) -> Numbers:
    """What the skins conduct, W/K, and nothing beside."""
    air, metal = y[at.CASE_AIR], y[at.LUMPS + m + n :].mean() if n else 0.0
    pairs = ((y[at.BOILER], air), (y[at.GROUP], p[at.ROOM]), (air, p[at.ROOM]), (metal, air))
    stated = (at.BOILER_TO_CASE, at.GROUP_TO_ROOM, at.CASE_TO_ROOM, at.COIL_TO_CASE)
    skins = np.zeros(2 * at.SKINS)
    for skin, ends in enumerate(pairs[: 3 + (n > 0)]):
        skins[skin] = conductance(p, skin, *ends) if flowing else p[stated[skin]]
    return skins


def at_rest(network: Network) -> list[Any]:
    """The skins' conductances as stated, by skin: at rest a step carries what else they lose by itself."""
    coil = network.coil.to_case if network.coil else 0.0
    return [network.boiler_to_case, network.group_to_room, network.case_to_room, coil]


def conducted(network: Network, y: Numbers, metal: Numbers) -> list[Any]:
    """The same at the temperatures of a state, by the printed equation, every coefficient worked out from `surface`."""
    air, room, case, gray = y[at.CASE_AIR], network.room, network.case, EMISSIVITY["case"]
    skins = [
        (network.boiler_to_case, WALL, network.boiler_emissivity, network.boiler_at_idle, case, y[at.BOILER], air),
        (network.group_to_room, WALL, network.group_emissivity, network.group_at_idle, room, y[at.GROUP], room),
        (network.case_to_room, CASE, gray, case, room, air, room),
    ]
    if network.coil:
        coil = network.coil
        parked = (coil.to_boiler * network.boiler_at_idle + coil.to_case * case) / (coil.to_boiler + coil.to_case)
        skins.append((coil.to_case, TUBE, coil.emissivity, parked, case, metal.mean(), air))
    found = [0.0] * at.SKINS
    for number, (level, skin, emissivity, at_idle, around_idle, surface, around) in enumerate(skins):
        names = {"G0": level, "h_T_s_T_a": coefficient(skin, emissivity, surface, around),
                 "h_T_s0_T_a0": coefficient(skin, emissivity, at_idle, around_idle)}  # fmt: skip
        printed = FORMULAS[0].equation.split(";")[0].split(" = ")[1].replace("₀", "0")
        found[number] = evaluated(re.sub(r"\((\w+), (\w+)\)", r"_\1_\2", printed), names)
    return found


def coefficient(skin: Skin, emissivity: Any, surface: Any, around: Any) -> Any:
    """W/(m² K)."""
    risen = convection(surface, around, skin.size, cylinder=skin.cylinder)
    return risen + radiation(surface, around, emissivity)


def test_every_component_prints_its_equations() -> None:
    """One file each; what is shared has none of its own."""
    without = {name for name in MODULES
               if not hasattr(importlib.import_module(f"guidegen.heat.components.{name}"), "FORMULAS")}  # fmt: skip
    assert without == {"cells", "nomenclature"}
    assert set(EQUATIONS) == {
        "Heater element", "Boiler metal", "Boiler water", "Case", "Group", "Outlet", "Coil water", "Coil metal",
        "Sensor", "PID control", "Thermostat",
    }  # fmt: skip


WITH_SKIN = ("Boiler metal", "Case", "Coil metal")
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
            # In flow the skins' conductances are as good as the fits of the air's properties.
            close = 1e-4 if name == "Group" or (flow and name in WITH_SKIN) else 1e-9
            assert np.allclose(left, right, rtol=0.0, atol=close * scale), (coil, row)


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
    for name in sorted(set(NETWORK) - {"Outlet"}):
        left, right = both_sides(EQUATIONS[name], names)
        before, _, after = EQUATIONS[name].partition(" = ")
        head, sign, tail = after.rpartition(" − ")
        _, wrong = both_sides(f"{before} = {head} + {tail}" if sign else f"{before} = -({after})", names)
        assert np.allclose(left, right, rtol=1e-4)
        assert not np.allclose(left, wrong, rtol=1e-3), name
