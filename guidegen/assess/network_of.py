"""A machine as a thermal network, and a kit as changes to that network.

The same questions are asked of the network without and with the kit, so a new kind of kit needs no new question.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from guidegen.assess.inputs import Values
from guidegen.heat.coil import Coil as Wound
from guidegen.heat.coil import CoilDemand, bore_area, metal_area, wind
from guidegen.heat.heat_transfer import conductance_at_rest, conductance_in_flow
from guidegen.heat.materials import material
from guidegen.heat.network import Coil, Network, Pid, Rows, Thermostat
from guidegen.heat.water import density
from guidegen.trade.kit import AddMass, FeedCoil, Kit, ScaleLoss, SetControl, SetHeater
from guidegen.trade.machine import Control, Machine, PidControl

COLD_WATER = 998.0
"""kg/m³, of the water that returns to the tank."""
HALF_WARM = 273.15 + 50.0
"""K, between feed and parked: where the water's properties are taken for heat transfer in the coil."""
TYPICAL_FLOW = 1.8e-6
"""m³/s of a drink. The conductance goes with about its square root, and drinks differ by a third."""
SMALLEST_DIFFERENTIAL = 2.0
"""K; two temperatures that nobody knows are drawn apart, but a thermostat always closes below where it opens."""
UNDER_PRESSURE = 3e5
"""Pa; an idle boiler is full of water at some bar, its density hardly depends on how many."""


def without_kit(machine: Machine, values: Values) -> Network:
    """The machine as it left the factory."""
    boiler, group = material(machine.boiler.material.value), material(machine.group.material.value)
    control, lag = control_of(machine.control, values, "control")
    hot = density(float(set_to(control)[0]), UNDER_PRESSURE)
    return Network(
        heater_power=values["heater.power"],
        heater_capacity=values["heater.heat_capacity"],
        heater_to_boiler=values["heater.to_boiler"],
        heater_to_water=values["heater.to_water"],
        boiler_capacity=values["boiler.mass"] * boiler.specific_heat,
        boiler_to_water=values["boiler.to_water"],
        boiler_to_group=values["group.to_boiler"],
        boiler_to_case=values["losses.boiler_to_case"],
        water_mass=values["boiler.water"] * float(hot),
        mixing=values["mixing"],
        group_capacity=values["group.mass"] * group.specific_heat,
        group_to_water=values["group.to_water"],
        group_to_room=values["group.to_room"],
        sensor_lag=values["sensor.lag"] if lag is None else lag,
        sensor_metal_share=values["sensor.metal_share"],
        case=values["losses.case_temperature"],
        room=values["room"],
        feed=values["feed"],
        control=control,
    )


def control_of(control: Control, values: Values, where: str) -> tuple[Pid | Thermostat, Rows | None]:
    """A control and, of a thermostat, its own lag, which takes the place of the sensor's."""
    if isinstance(control, PidControl):
        names = ("setpoint", "kp", "ki", "kd")
        return Pid(*(values[f"{where}.{name}"] for name in names)), None
    opens = values[f"{where}.opens"]
    closes = np.minimum(values[f"{where}.closes"], opens - SMALLEST_DIFFERENTIAL)
    return Thermostat(opens, closes), values[f"{where}.lag"]


def set_to(control: Pid | Thermostat) -> Rows:
    """The temperature that a control holds, K, shape (n,)."""
    return control.setpoint if isinstance(control, Pid) else (control.opens + control.closes) / 2


@dataclass(frozen=True)
class Fitted:
    """A machine with a kit: its network, its coil as wound, and the mass that each row gains, kg."""

    network: Network
    wound: Wound | None
    added_mass: Rows
    coil_metal: Rows | None = None
    """kg of tube and fittings, shape (n,)."""


def with_kit(machine: Machine, kit: Kit, values: Values, before: Network) -> Fitted:
    """The machine after every effect of the kit."""
    fitted = Fitted(before, None, np.zeros(len(before)))
    for effect in kit.effects:
        match effect:
            case FeedCoil():
                fitted = _with_coil(machine, effect, values, fitted)
            case SetControl(control=control):
                made, lag = control_of(control, values, "kit.control")
                changed = replace(fitted.network, control=made, sensor_lag=values["sensor.lag"] if lag is None else lag)
                fitted = replace(fitted, network=changed)
            case AddMass(to=to):
                extra = values["kit.mass"] * material(effect.material.value).specific_heat
                field = f"{to}_capacity"
                heavier = {field: getattr(fitted.network, field) + extra}
                changed = replace(fitted.network, **heavier)
                fitted = replace(fitted, network=changed, added_mass=fitted.added_mass + values["kit.mass"])
            case ScaleLoss(loss=loss):
                field = {"group_to_room": "group_to_room", "boiler_to_group": "boiler_to_group"}.get(
                    loss, "boiler_to_case"
                )
                changed = replace(fitted.network, **{field: getattr(fitted.network, field) * values["kit.by"]})
                fitted = replace(fitted, network=changed)
            case SetHeater():
                changed = replace(
                    fitted.network,
                    heater_power=values["kit.power"],
                    heater_capacity=values["kit.heat_capacity"],
                    heater_to_boiler=values["kit.to_boiler"],
                )
                fitted = replace(fitted, network=changed)
            case _:
                pass
    return fitted


def wound_coil(machine: Machine, effect: FeedCoil) -> Wound | None:
    """The coil as it is wound on this boiler; None where the boiler's size is not known."""
    boiler = machine.boiler
    if not (boiler.diameter.known and boiler.straight_wall.known):
        return None
    return wind(coil_demand(effect, boiler.diameter.value, boiler.straight_wall.value))


def possible_coils(machine: Machine, effect: FeedCoil) -> tuple[Wound, ...]:
    """The coils that this boiler may come to carry: one where its size is known, else the ends of what is plausible.

    On a wall that nobody measured the coil may stand in one layer or in as many as the kit allows.
    """
    boiler = machine.boiler
    known = boiler.diameter.known
    diameters = (boiler.diameter.value,) if known else (boiler.diameter.low, boiler.diameter.high)
    made = []
    for diameter in diameters:
        if boiler.straight_wall.known:
            made.append(wind(coil_demand(effect, diameter, boiler.straight_wall.value)))
            continue
        lowest = wind(coil_demand(effect, diameter, 0.0)).height_missing
        made += [wind(coil_demand(effect, diameter, wall)) for wall in (math.inf, lowest)]
    return tuple(made)


def coil_demand(
    effect: FeedCoil,
    diameter: float,
    wall: float,
    outside: float | None = None,
    holds: float | None = None,
    gap: float | None = None,
) -> CoilDemand:
    """What is asked of the winding on a boiler of a size; the tube and its volume as stated, or as given."""
    return CoilDemand(
        boiler_diameter=diameter,
        straight_wall=wall,
        tube_outside=effect.tube.outside.value if outside is None else outside,
        tube_wall=effect.tube.wall.value,
        holds=effect.holds.value if holds is None else holds,
        layers_max=effect.layers_max,
        gap=effect.gap.value if gap is None else gap,
        tails=effect.tails.value,
        fittings_mass=effect.fittings_mass.value,
        tube_density=material(effect.tube.material.value).density,
    )


def _with_coil(machine: Machine, effect: FeedCoil, values: Values, before: Fitted) -> Fitted:
    """The coil's water and metal from its drawn sizes; its contact from the share of the tube that touches.

    `contact` is stated for a coil that touches the boiler all along. In an outer layer the tube does not touch, so
    the share of the inner layer counts.
    """
    metal = material(effect.tube.material.value)
    wound = wound_coil(machine, effect)
    touching = 1.0
    if wound is not None and wound.length > effect.tails.value:
        touching = wound.contact_length / (wound.length - effect.tails.value)
    area = metal_area(values["kit.tube.outside"], values["kit.tube.wall"])
    length = values["kit.holds"] / bore_area(values["kit.tube.outside"], values["kit.tube.wall"])
    tube = area * length * metal.density
    mass = tube + values["kit.fittings_mass"]
    brass = material("brass")
    contact = values["kit.contact"] * touching
    to_case = values["kit.to_case"]
    # The resting water's temperature decides its density; a kelvin more or less does not matter here.
    boiler = float(set_to(before.network.control)[0])
    parked = (contact[0] * boiler + to_case[0] * before.network.case[0]) / (contact[0] + to_case[0])
    water = values["kit.holds"] * float(density(parked, UNDER_PRESSURE))
    mean_diameter = wound.mean_diameter if wound is not None else machine.boiler.diameter.value
    in_flow = conductance_in_flow(
        np.full(len(length), TYPICAL_FLOW),
        values["kit.tube.outside"] - 2 * values["kit.tube.wall"],
        mean_diameter,
        length,
        HALF_WARM,
    )
    downstream = machine.water_path.relief_branch.value == "downstream"
    coil = Coil(
        water_mass=water,
        metal_capacity=tube * metal.specific_heat + values["kit.fittings_mass"] * brass.specific_heat,
        to_boiler=contact,
        to_case=to_case,
        inside_at_rest=values["model.inside"] * conductance_at_rest(length, HALF_WARM),
        inside_in_flow=values["model.inside"] * in_flow,
        along=metal.conductivity * area / length,
        shields=values["kit.shields"],
        bypass=values["water_path.bypass"] * COLD_WATER if downstream else np.zeros(len(water)),
    )
    return Fitted(replace(before.network, coil=coil), wound, before.added_mass + mass + water, mass)
