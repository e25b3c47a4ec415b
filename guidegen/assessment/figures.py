"""Studies become figures: row 0 is the value, the draws give the ends."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from guidegen.assessment.inputs import Values
from guidegen.catalogue.workshop import Drink as WrittenDrink
from guidegen.language import gettext, marked
from guidegen.physics.network import WATER_SPECIFIC_HEAT, Network, Rows
from guidegen.physics.statistics import interval, rank_correlations
from guidegen.physics.study import Shots, Study
from guidegen.record import Figure, rounded
from guidegen.record.computed import (
    Budget,
    BudgetPart,
    BudgetSide,
    Drink,
    DrinkSide,
    DropRatio,
    Energy,
    EnergySide,
    WarmUp,
    WarmUpSide,
)

ZERO_CELSIUS = 273.15
MISSING_SHARE = 0.5
"""Where more than this share of the draws has no value, a range would speak of the rest only; none is given."""

NO_VALUE = marked("no value")
NOT_RECOVERED = marked("not within 20 minutes")
NO_COIL = marked("no coil")
NOT_READY = marked("not within two hours")
RELAY_SHOT_READY = marked("depends on when in the thermostat's cycle you pull")
NO_DROP = marked("there is no drop without the kit")
TOO_LITTLE = marked("less than 10 ml are drawn")


def figure(rows: Rows, offset: float = 0.0, factor: float = 1.0, reason: str | None = None) -> Figure:
    """A figure of shape (n,) rows: row 0 and the central 95 % of the others, converted."""
    values = rows * factor + offset
    if not np.isfinite(values[0]):
        return Figure(value=None, reason=gettext(reason or NO_VALUE))
    value = rounded(float(values[0]))
    if len(values) < 3:
        return Figure(value=value)
    ends = interval(values[1:])
    if ends.missing > MISSING_SHARE or not np.isfinite(ends.low):
        return Figure(value=value)
    return Figure(value=value, low=rounded(ends.low), high=rounded(ends.high))


def celsius(rows: Rows) -> Figure:
    """A temperature in K as °C."""
    return figure(rows, -ZERO_CELSIUS)


# --- mass and heat -----------------------------------------------------------------------------------


def budget(before: Network, after: Network, masses: Mapping[str, Rows], added: Rows, parts: list[BudgetPart]) -> Budget:
    """Mass and heat capacity without and with the kit."""
    mass = masses["boiler"] + masses["group"] + masses["water"]
    return Budget(
        added_kg=figure(added),
        without=BudgetSide(mass_kg=figure(mass), heat_capacity_j_per_k=figure(before.heat_capacity())),
        with_=BudgetSide(mass_kg=figure(mass + added), heat_capacity_j_per_k=figure(after.heat_capacity())),
        parts=tuple(parts),
    )


# --- drinks ------------------------------------------------------------------------------------------


def drink(written: WrittenDrink, before: Shots, after: Shots, network: Network, mass: Rows, withdrawn: float) -> Drink:
    """One drink without and with the kit."""
    grams = np.full(len(mass), withdrawn)
    return Drink(
        name=written.name,
        beverage_g=rounded(written.beverage.value * 1e3),
        duration_s=rounded(written.time.value),
        withdrawn_g=Figure(value=rounded(withdrawn * 1e3)),
        mass_share=figure(grams / mass),
        heat_share=figure(grams * WATER_SPECIFIC_HEAT / network.heat_capacity()),
        drop_ratio=DropRatio(
            sensor=ratio(after.sensor_drop, before.sensor_drop),
            water=ratio(after.water_drop, before.water_drop),
            outlet=ratio(after.stability_band, before.stability_band),
        ),
        without=drink_side(before),
        with_=drink_side(after),
    )


def ratio(above: Rows, below: Rows) -> Figure:
    """One over the other, draw by draw; no value where there is nothing to divide by."""
    with np.errstate(divide="ignore", invalid="ignore"):
        quotient = np.where(np.abs(below) > 1e-3, above / below, np.nan)
    return figure(quotient, reason=NO_DROP)


def drink_side(shots: Shots) -> DrinkSide:
    """The results of one drink on one side."""
    return DrinkSide(
        sensor_drop_k=figure(shots.sensor_drop),
        sensor_drop_phases_k=_phases(shots),
        water_drop_k=figure(shots.water_drop),
        outlet_fall_k=figure(shots.outlet_fall, reason=TOO_LITTLE),
        stability_band_k=figure(shots.stability_band),
        mean_outlet_degc=celsius(shots.mean_outlet),
        sensor_recovery_s=figure(shots.sensor_recovery, reason=NOT_RECOVERED),
        coil_recovery_s=figure(
            shots.coil_recovery, reason=NO_COIL if np.all(np.isnan(shots.coil_recovery)) else NOT_RECOVERED
        ),
    )


def _phases(shots: Shots) -> Figure | None:
    """The ends of the sensor drop over a thermostat's start phases; none where there is only one."""
    low, high = (rounded(float(end)) for end in shots.drop_ends[0])
    if low == high:
        return None
    return Figure(value=rounded(float(shots.sensor_drop[0])), low=low, high=high)


# --- warm-up and energy ------------------------------------------------------------------------------


def warm_up(before: Study, after: Study) -> WarmUp:
    """Times from cold, and what the kit adds: to shot ready, or to the last of the others where a side has none."""

    by_shot = not (np.isnan(before.shot_ready[0]) or np.isnan(after.shot_ready[0]))

    def ready(study: Study) -> Rows:
        if by_shot:
            return study.shot_ready
        return np.fmax(np.fmax(study.boiler_ready, study.group_ready), study.coil_settled)

    return WarmUp(
        added_s=figure(ready(after) - ready(before), reason=NOT_READY),
        added_means=gettext("shot ready") if by_shot else gettext("the last of boiler, group and coil"),
        without=warm_up_side(before),
        with_=warm_up_side(after),
    )


def warm_up_side(study: Study) -> WarmUpSide:
    """Times from cold on one side."""
    relay = study.period[0] > 0
    coil = not np.isnan(study.parked[0])
    return WarmUpSide(
        boiler_ready_s=figure(study.boiler_ready, reason=NOT_READY),
        group_ready_s=figure(study.group_ready, reason=NOT_READY),
        coil_settled_s=figure(study.coil_settled, reason=NOT_READY if coil else NO_COIL),
        shot_ready_s=figure(study.shot_ready, reason=RELAY_SHOT_READY if relay else NOT_READY),
    )


JOULES_PER_WH = 3600.0


def energy(before: Study, after: Study, sessions: int, tariff: float, usage: str, currency: str) -> Energy:
    """Idle power, session and day, and what the kit makes of them."""

    def side(study: Study) -> EnergySide:
        return EnergySide(
            idle_w=figure(study.idle_power),
            session_wh=figure(study.session_energy, factor=1 / JOULES_PER_WH),
            day_wh=figure(study.session_energy, factor=sessions / JOULES_PER_WH),
            session_cost=figure(study.session_energy, factor=tariff / JOULES_PER_WH / 1000),
        )

    return Energy(
        usage=usage,
        currency=currency,
        without=side(before),
        with_=side(after),
        day_ratio=ratio(after.session_energy, before.session_energy),
        idle_added_w=figure(after.idle_power - before.idle_power),
        day_added_wh=figure(after.session_energy - before.session_energy, factor=sessions / JOULES_PER_WH),
    )


# --- what matters ------------------------------------------------------------------------------------

STRONG_ENOUGH = 0.05
"""A rank correlation below this is noise at a few hundred draws."""


def influence(values: Values, outputs: Mapping[str, Rows]) -> dict[str, dict[str, float]]:
    """For each output the inputs' rank correlations, strongest first; empty without draws."""
    drawn = {name: rows[1:] for name, rows in values.rows.items() if np.ptp(rows) > 0}
    if not drawn or len(values.phase) < 9:
        return {}
    drawn["model.phase"] = values.phase[1:]
    made = {}
    for place, rows in outputs.items():
        found = rank_correlations(drawn, rows[1:])
        made[place] = {name: rounded(rho) for name, rho in found.items() if abs(rho) >= STRONG_ENOUGH}
    return made
