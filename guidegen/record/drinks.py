"""What the record holds of drinks: one from a machine at rest, again after a wait or a flush, on the display."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from guidegen.record.base import Both, Figure, Record
from guidegen.record.outputs import Output

SENSOR_DROP = Output(
    "Sensor drop",
    "Sensor temperature at the start of the shot minus its lowest value up to 60 s after the end.",
    "shot",
    "sensor_drop",
)
STABILITY_BAND = Output(
    "Stability band",
    "Highest minus lowest temperature leaving the group after the first 5 ml. Needs an outlet run.",
    "shot",
    "stability_band",
)


class DropRatio(Record):
    """The drop with the kit over the drop without it, by where it is looked at."""

    sensor: Annotated[
        Figure,
        Output(
            "Sensor drop ratio", "Sensor drop with the kit, divided by the drop without it; smaller is better.", "shot"
        ),
    ]
    water: Annotated[
        Figure,
        Output(
            "Water drop ratio", "Drop of the mean boiler water with the kit, divided by the drop without it.", "shot"
        ),
    ]
    outlet: Annotated[
        Figure,
        Output(
            "Outlet ratio",
            "Fall of the water leaving the group with the kit, divided by the fall without it. Needs an outlet run.",
            "shot",
        ),
    ]


class DrinkSide(Record):
    """What one shot does to the machine.

    With a thermostat the sensor drop is the mean over start phases of its cycle, and `sensor_drop_phases_k` holds the
    smallest and the largest of them; else it is null.
    """

    sensor_drop_k: Annotated[Figure, SENSOR_DROP]
    sensor_drop_phases_k: Annotated[
        Figure | None,
        Output(
            "Sensor drop by phase",
            "With a thermostat the drop depends on when in its cycle you pull: mean, smallest and largest.",
            "thermostat",
        ),
    ]
    water_drop_k: Annotated[Figure, Output("Water drop", "The same for the mean boiler water.", "shot", "water_drop")]
    outlet_fall_k: Annotated[
        Figure,
        Output(
            "Outlet fall",
            "Mean temperature leaving the group between 5 and 10 ml, minus its later lowest value. Needs an outlet "
            "run.",
            "shot",
            "outlet_fall",
            "less than 10 ml are drawn",
        ),
    ]
    stability_band_k: Annotated[Figure, STABILITY_BAND]
    mean_outlet_degc: Annotated[
        Figure,
        Output(
            "Mean outlet",
            "Mean temperature leaving the group over the shot, by mass. Needs an outlet run.",
            "shot",
            "mean_outlet",
        ),
    ]
    sensor_recovery_s: Annotated[
        Figure,
        Output(
            "Sensor recovery",
            "From the end of the shot until the sensor stays within ± 0.5 K of the setpoint.",
            "shot",
            "sensor_recovery",
        ),
    ]
    coil_recovery_s: Annotated[
        Figure,
        Output(
            "Coil recovery",
            "From the end of the shot until the mean coil water is within 5 K of its idle value. The next drink feels "
            "it.",
            "shot",
            "coil_recovery",
        ),
    ]


class Drink(Record):
    """One drink, without and with the kit."""

    name: str
    beverage_g: float
    duration_s: float
    withdrawn_g: Annotated[
        Figure, Output("Withdrawn water", "Beverage, water kept by the puck, and water vented at the end.", "shot")
    ]
    mass_share: Annotated[
        Figure,
        Output(
            "Mass share",
            "Mass of the water drawn, divided by the mass of boiler, group and water. It misleads: a gram of water "
            "holds ten times the heat of a gram of brass.",
            "budget",
        ),
    ]
    heat_share: Annotated[
        Figure, Output("Heat share", "Heat capacity of the water drawn, divided by the whole heat capacity.", "budget")
    ]
    drop_ratio: DropRatio
    without: DrinkSide
    with_: DrinkSide = Field(alias="with")


class Waiting(Record):
    """The main drink again so many seconds after the first."""

    wait_s: float
    sensor_drop_k: Annotated[Both, SENSOR_DROP]
    stability_band_k: Annotated[Both, STABILITY_BAND]


class AfterFlush(Record):
    """The main drink so many seconds after a flush of so many grams."""

    flush_g: float
    pause_s: float
    sensor_drop_k: Annotated[Both, SENSOR_DROP]
    stability_band_k: Annotated[Both, STABILITY_BAND]


class Display(Record):
    """What the display shows in a test shot of the main drink with the kit: is mine right?"""

    before_degc: Annotated[
        Figure, Output("Display before a test shot", "What the display shows at idle with the kit.", "shot")
    ]
    lowest_degc: Annotated[
        Figure,
        Output(
            "Lowest display reading",
            "Lowest displayed temperature in a test shot with the kit, up to 60 s after it.",
            "shot",
        ),
    ]
