"""What the record holds of the computation beside the drinks: every figure with its range and with what it is."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from guidegen.record.base import Both, Figure, Record
from guidegen.record.outputs import Output


class BudgetSide(Record):
    """Mass and heat capacity of boiler, group, water and coil together."""

    mass_kg: Annotated[
        Figure, Output("Mass", "Boiler, group and boiler water; with the kit also the filled coil.", "budget")
    ]
    heat_capacity_j_per_k: Annotated[
        Figure, Output("Heat capacity", "Heat that warms all of it by one kelvin.", "budget")
    ]


class BudgetPart(Record):
    """One part of the machine in the budget."""

    id: str
    name: str
    kit: bool
    mass_kg: float
    heat_capacity_j_per_k: float


class Budget(Record):
    """Mass and heat capacity without and with the kit, and the mass that it adds."""

    added_kg: Annotated[
        Figure, Output("Mass added", "Mass of all parts of the kit that change the budget, water included.", "budget")
    ]
    without: BudgetSide
    with_: BudgetSide = Field(alias="with")
    parts: tuple[BudgetPart, ...]


class WarmUpSide(Record):
    """Times from a cold start."""

    boiler_ready_s: Annotated[
        Figure,
        Output(
            "Boiler ready",
            "From cold until the sensor is first within 2 K of the setpoint.",
            "warm-up",
            "boiler_ready",
        ),
    ]
    group_ready_s: Annotated[
        Figure,
        Output(
            "Group ready",
            "From cold until the group is first within 1 K of its own idle value.",
            "warm-up",
            "group_ready",
        ),
    ]
    coil_settled_s: Annotated[
        Figure,
        Output(
            "Coil settled",
            "From cold until the mean coil water is first within 5 K of its own idle value.",
            "warm-up",
            "coil_settled",
        ),
    ]
    shot_ready_s: Annotated[
        Figure,
        Output(
            "Shot ready",
            "Earliest start of a shot whose sensor drop is within 10 % of that of a fully soaked machine.",
            "warm-up",
            "shot_ready",
        ),
    ]


class WarmUp(Record):
    """Warm-up without and with the kit, and what the kit adds to shot ready."""

    added_s: Annotated[
        Figure,
        Output("Warm-up added", "Shot ready with the kit minus shot ready without it.", "warm-up"),
    ]
    added_means: str
    without: WarmUpSide
    with_: WarmUpSide = Field(alias="with")


class EnergySide(Record):
    """Mean heater power at idle, and the energy of the stated usage."""

    idle_w: Annotated[
        Figure, Output("Idle power", "Mean heater power of the warm machine at rest.", "energy", "idle_power")
    ]
    session_wh: Annotated[
        Figure,
        Output(
            "Session energy", "Heater energy of one session of the stated usage, from cold.", "energy", "session_energy"
        ),
    ]
    day_wh: Annotated[Figure, Output("Day energy", "Heater energy of one day of the stated usage.", "energy")]
    session_cost: Annotated[Figure, Output("Session cost", "Session energy at the stated tariff.", "energy")]


class Energy(Record):
    """Energy without and with the kit, for the usage the workshop states."""

    usage: str
    currency: str
    without: EnergySide
    with_: EnergySide = Field(alias="with")
    day_ratio: Annotated[
        Figure, Output("Energy ratio", "Day energy with the kit, divided by day energy without it.", "energy")
    ]
    idle_added_w: Annotated[
        Figure, Output("Idle power added", "Idle power with the kit minus idle power without it.", "energy")
    ]
    day_added_wh: Annotated[
        Figure, Output("Day energy added", "Day energy with the kit minus day energy without it.", "energy")
    ]


NOT_THEN = Figure(value=None, reason="not computed then")
"""For records from before there was the figure."""


class CoilPart(Record):
    """The feed coil as it is wound for this boiler."""

    parked_degc: Annotated[
        Figure,
        Output(
            "Parked water", "Temperature of the water that rests in the coil of a warm, idle machine.", "coil", "parked"
        ),
    ]
    held_ml: Annotated[Figure, Output("Held volume", "Water that the coil holds.", "coil")]
    preheated_ml: Annotated[
        Figure,
        Output(
            "Preheated volume",
            "Volume drawn at constant flow until the coil's outlet has fallen halfway from parked to feed.",
            "coil",
        ),
    ]
    length_m: Annotated[Figure, Output("Coil length", "Tube on the boiler, tails included.", "coil")]
    turns: Annotated[Figure, Output("Turns", "Turns round the boiler, all layers together.", "coil")]
    layers: int
    height_mm: Annotated[Figure, Output("Coil height", "Height of the highest layer on the straight wall.", "coil")]
    dry_kg: Annotated[Figure, Output("Dry coil", "Mass of the coil with its fittings, empty.", "coil")]
    filled_kg: Annotated[Figure, Output("Filled coil", "The same, full of water.", "coil")]
    pressure_loss_pa: Annotated[
        Figure,
        Output(
            "Pressure loss",
            "Friction in the coil at the flow of the main drink, with water at feed temperature.",
            "hydraulics",
        ),
    ]
    scaled_loss_pa: Annotated[
        Figure,
        Output(
            "Pressure loss with scale", "The same with half a millimetre of scale all round the bore.", "hydraulics"
        ),
    ] = NOT_THEN
    allowable_pressure_bar: Annotated[
        Figure,
        Output(
            "Allowable pressure",
            "For straight new tube at the highest temperature the coil reaches. Derate for bends; test the joints.",
            "pressure",
        ),
    ]


class CoolDownSide(Record):
    """Upper bounds from switching off: for planning only; a measurement decides."""

    touch_s: Annotated[
        Figure,
        Output(
            "Cool to touch",
            "Upper bound from switching off until every touched part is below 40 °C: for planning; a contact "
            "thermometer decides. It says nothing about pressure.",
            "cool-down",
        ),
    ]
    below_90_s: Annotated[
        Figure,
        Output(
            "Water below 90 °C",
            "Upper bound from switching off until the boiler water is below 90 °C. It does not say that pressure is "
            "gone.",
            "cool-down",
        ),
    ]


class CoolDown(Record):
    """Cool-down without and with the kit."""

    without: CoolDownSide
    with_: CoolDownSide = Field(alias="with")


class AfterSteam(Record):
    """The way back from steam to brewing: waiting, or flushing; and the hottest the coil gets."""

    wait_s: Annotated[
        Both,
        Output(
            "Waiting after steam",
            "From a steady steam setpoint, steam switched off, until the sensor is within 2 K of the brew setpoint.",
            "steam",
            "wait",
        ),
    ]
    flush_ml: Annotated[
        Both,
        Output(
            "Flush after steam",
            "Water to flush for the same, at 4 ml/s; an upper bound, as the boiler is taken as full of water.",
            "steam",
        ),
    ]
    coil_highest_degc: Annotated[
        Figure | None,
        Output(
            "Coil at its hottest",
            "The coil round a boiler that is at the steam setpoint and its overshoot.",
            "steam",
        ),
    ]
    pressure_bar: Annotated[
        Figure,
        Output(
            "Steam pressure",
            "Gauge pressure of steam over water at the steam setpoint; what is said of steam holds there.",
            "steam",
        ),
    ] = NOT_THEN
