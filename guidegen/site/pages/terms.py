"""What each number of the record is called and what it means: the site's one nomenclature.

A figure is found by the last part of its place in the record; `sensor` under `drop_ratio` by the last two. A test
fails when the record holds a figure that has no entry here.
"""

from __future__ import annotations

from dataclasses import dataclass

from guidegen.language import gettext


@dataclass(frozen=True)
class Term:
    """A quantity's name, its definition in words, and the entry of the methods page that explains it."""

    name: str
    meaning: str
    method: str


TERMS: dict[str, Term] = {
    "withdrawn_g": Term("Withdrawn water", "Beverage, water kept by the puck, and water vented at the end.", "shot"),
    "mass_share": Term(
        "Mass share",
        "Withdrawn mass over the mass of boiler, group and water. It misleads: a gram of water holds ten times "
        "the heat of a gram of brass.",
        "budget",
    ),
    "heat_share": Term("Heat share", "Heat capacity of the withdrawn water over the whole heat capacity.", "budget"),
    "drop_ratio.sensor": Term(
        "Sensor drop ratio", "Sensor drop with the kit over the drop without it; smaller is better.", "shot"
    ),
    "drop_ratio.water": Term(
        "Water drop ratio", "Drop of the mean boiler water with the kit over the drop without it.", "shot"
    ),
    "drop_ratio.outlet": Term(
        "Outlet ratio",
        "Fall of the water leaving the group with the kit over the fall without it. Needs an outlet run.",
        "shot",
    ),
    "sensor_drop_k": Term(
        "Sensor drop",
        "Sensor temperature at the start of the shot minus its lowest value until 60 s after the end.",
        "shot",
    ),
    "sensor_drop_phases_k": Term(
        "Sensor drop by phase",
        "With a thermostat the drop depends on when in its cycle you pull: mean, smallest and largest.",
        "thermostat",
    ),
    "water_drop_k": Term("Water drop", "The same for the mean boiler water.", "shot"),
    "outlet_fall_k": Term(
        "Outlet fall",
        "Mean temperature leaving the group between 5 and 10 ml, minus its later lowest value. Needs an outlet run.",
        "shot",
    ),
    "stability_band_k": Term(
        "Stability band",
        "Highest minus lowest temperature leaving the group after the first 5 ml. Needs an outlet run.",
        "shot",
    ),
    "mean_outlet_degc": Term(
        "Mean outlet", "Mean temperature leaving the group over the shot, by mass. Needs an outlet run.", "shot"
    ),
    "sensor_recovery_s": Term(
        "Sensor recovery",
        "From the end of the shot until the sensor stays within ± 0.5 K of the setpoint.",
        "shot",
    ),
    "coil_recovery_s": Term(
        "Coil recovery",
        "From the end of the shot until the mean coil water is within 5 K of its idle value. The next drink feels it.",
        "shot",
    ),
    "boiler_ready_s": Term(
        "Boiler ready", "From cold until the sensor is first within 2 K of the setpoint.", "warm-up"
    ),
    "group_ready_s": Term(
        "Group ready", "From cold until the group is first within 1 K of its own idle value.", "warm-up"
    ),
    "coil_settled_s": Term(
        "Coil settled", "From cold until the mean coil water is first within 5 K of its own idle value.", "warm-up"
    ),
    "shot_ready_s": Term(
        "Shot ready",
        "Earliest start of a shot whose sensor drop is within 10 % of that of a fully soaked machine.",
        "warm-up",
    ),
    "added_s": Term("Warm-up added", "Shot ready with the kit minus shot ready without it.", "warm-up"),
    "idle_w": Term("Idle power", "Mean heater power of the warm machine at rest.", "energy"),
    "session_wh": Term("Session energy", "Heater energy of one session of the stated usage, from cold.", "energy"),
    "day_wh": Term("Day energy", "Heater energy of one day of the stated usage.", "energy"),
    "session_cost": Term("Session cost", "Session energy at the stated tariff.", "energy"),
    "day_ratio": Term("Energy ratio", "Day energy with the kit over day energy without it.", "energy"),
    "idle_added_w": Term("Idle power added", "Idle power with the kit minus idle power without it.", "energy"),
    "day_added_wh": Term("Day energy added", "Day energy with the kit minus day energy without it.", "energy"),
    "added_kg": Term("Mass added", "Mass of all parts of the kit that change the budget, water included.", "budget"),
    "mass_kg": Term("Mass", "Boiler, group and boiler water; with the kit also the filled coil.", "budget"),
    "heat_capacity_j_per_k": Term("Heat capacity", "Heat that warms all of it by one kelvin.", "budget"),
    "parked_degc": Term(
        "Parked water", "Temperature of the water that rests in the coil of a warm, idle machine.", "coil"
    ),
    "held_ml": Term("Held volume", "Water that the coil holds.", "coil"),
    "preheated_ml": Term(
        "Preheated volume",
        "Volume drawn at constant flow until the coil's outlet has fallen halfway from parked to feed.",
        "coil",
    ),
    "length_m": Term("Coil length", "Tube on the boiler, tails included.", "coil"),
    "turns": Term("Turns", "Turns round the boiler, all layers together.", "coil"),
    "height_mm": Term("Coil height", "Height of the highest layer on the straight wall.", "coil"),
    "dry_kg": Term("Dry coil", "Mass of the coil with its fittings, empty.", "coil"),
    "filled_kg": Term("Filled coil", "The same, full of water.", "coil"),
    "pressure_loss_pa": Term(
        "Pressure loss",
        "Friction in the coil at the flow of the main drink, with water at feed temperature.",
        "hydraulics",
    ),
    "allowable_pressure_bar": Term(
        "Allowable pressure",
        "For straight new tube at the highest temperature the coil reaches. Derate for bends; test the joints.",
        "pressure",
    ),
    "same_cup_degc": Term(
        "Setpoint for the same cup",
        "Setpoint at which the mean outlet with the kit equals the one without it at the present setpoint.",
        "shot",
    ),
    "before_degc": Term("Display before a test shot", "What the display shows at idle with the kit.", "shot"),
    "lowest_degc": Term(
        "Display at its lowest",
        "Lowest displayed temperature in a test shot with the kit, until 60 s after it.",
        "shot",
    ),
    "wait_s": Term(
        "Waiting after steam",
        "From a steady steam setpoint, steam switched off, until the sensor is within 2 K of the brew setpoint.",
        "steam",
    ),
    "flush_ml": Term(
        "Flush after steam",
        "Water to flush for the same, at 4 ml/s; an upper bound, as the boiler is taken as full of water.",
        "steam",
    ),
    "coil_highest_degc": Term(
        "Coil at its hottest", "The coil round a boiler that stands at the steam setpoint and its overshoot.", "steam"
    ),
    "touch_s": Term(
        "Cool to touch",
        "Upper bound from switching off until every touched part is below 40 °C: for planning; a contact "
        "thermometer decides. It says nothing about pressure.",
        "cool-down",
    ),
    "below_90_s": Term(
        "Water below 90 °C",
        "Upper bound from switching off until the boiler water is below 90 °C. It does not say that pressure is gone.",
        "cool-down",
    ),
}


SIDES = ("without", "with")


def key(place: str) -> str:
    """The part of a figure's place that says what it is: the last one that is not a side.

    >>> key("waiting.30.sensor_drop_k.without"), key("drinks.double.drop_ratio.sensor")
    ('sensor_drop_k', 'drop_ratio.sensor')
    """
    parts = [part for part in place.split(".") if part not in SIDES]
    return ".".join(parts[-2:]) if "drop_ratio" in parts else parts[-1]


def term(place: str) -> Term:
    """The entry for a figure's place in the record, as `drinks.double.with.sensor_drop_k`."""
    return in_words(TERMS[key(place)])


def in_words(one: Term) -> Term:
    """An entry in the language that is spoken."""
    return Term(gettext(one.name), gettext(one.meaning), one.method)
