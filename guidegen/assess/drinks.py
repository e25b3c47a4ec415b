"""The drinks of the record: what one shot does to the machine, without and with the kit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from guidegen.assess.budgeting import machine_mass
from guidegen.assess.figures import Figures
from guidegen.heat.network import WATER_SPECIFIC_HEAT
from guidegen.heat.study import Study
from guidegen.language import marked
from guidegen.record.base import Figure, rounded
from guidegen.record.drinks import Drink, DrinkSide, DropRatio

if TYPE_CHECKING:
    from guidegen.assess.question import PairQuestion

NO_COIL = marked("no coil")


def drink(make: Figures, name: str, asked: PairQuestion, studies: tuple[Study, Study]) -> Drink:
    """One drink by its id without and with the kit; its name is filled in with the words. Studies: without and with."""
    beverage, pull = asked.served.beverages[name], asked.served.pulls[name]
    before, after = (study.drinks[name] for study in studies)
    mass = machine_mass(asked)
    grams = pull.mass + pull.mass_spread * asked.habit[:, 0]
    return Drink(
        name="",
        beverage_g=rounded(beverage * 1e3),
        duration_s=rounded(pull.duration),
        withdrawn_g=make.figure(grams, factor=1e3),
        mass_share=make.figure(grams / mass),
        heat_share=make.figure(grams * WATER_SPECIFIC_HEAT / asked.plain.heat_capacity()),
        drop_ratio=DropRatio(
            sensor=make.ratio(after.sensor_drop, before.sensor_drop),
            water=make.ratio(after.water_drop, before.water_drop),
            outlet=make.ratio(after.stability_band, before.stability_band),
        ),
        without=drink_side(make, name, studies[0]),
        with_=drink_side(make, name, studies[1]),
    )


def drink_side(make: Figures, name: str, study: Study) -> DrinkSide:
    """The results of one drink on one side; what a thermostat's phase makes of it is filled in of one machine."""
    shots = study.drinks[name]
    missing = {"coil_recovery_s": NO_COIL} if np.all(np.isnan(shots.coil_recovery)) else None
    return make.part(DrinkSide, shots, missing, sensor_drop_phases_k=None)


def with_phases(drinks: Mapping[str, Drink], typical: tuple[Study, Study]) -> dict[str, Drink]:
    """The drinks with what a thermostat's phase makes of them on one machine, without and with the kit."""

    def side(one: DrinkSide, study: Study, name: str) -> DrinkSide:
        return one.model_copy(update={"sensor_drop_phases_k": phases(study, name)})

    return {
        name: one.model_copy(
            update={"without": side(one.without, typical[0], name), "with_": side(one.with_, typical[1], name)}
        )
        for name, one in drinks.items()
    }


def phases(typical: Study, name: str) -> Figure | None:
    """One machine's drop over its thermostat's cycle: expected, best and worst start; none where there is no cycle."""
    expected, (low, high) = float(typical.drinks[name].sensor_drop[0]), typical.drop_ends[name][0]
    if not low < high:
        return None
    return Figure(value=rounded(expected), low=rounded(float(low)), high=rounded(float(high)))
