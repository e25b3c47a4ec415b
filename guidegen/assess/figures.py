"""Studies become figures: row 0 is the value, the draws give the ends."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from guidegen.assess.inputs import Values
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Network, Rows
from guidegen.heat.statistics import Ranked, interval
from guidegen.heat.study import Shots, Study
from guidegen.language import gettext, marked
from guidegen.record import Figure, rounded
from guidegen.record.base import Both
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
from guidegen.record.places import HEADLINES
from guidegen.trade.shop import WrittenDrink

ZERO_CELSIUS = 273.15
STRONG_ENOUGH, NOISE, STRONG = 0.05, 3.0, 0.5
"""A rank correlation counts from the first on, and only where it is as many times the standard error of one that is
none, 1/√n; a strong one counts in any case."""
STRONGEST, MOST = 3, 8
"""So many inputs are kept for each figure, and so many for a headline."""
MISSING_SHARE = 0.5
"""Where more than this share of the draws has no value, a range would speak of the rest only; none is given."""

NO_VALUE = marked("no value")
NOT_RECOVERED = marked("not within 20 minutes")
NO_COIL = marked("no coil")
NOT_READY = marked("not within two hours")
RELAY_SHOT_READY = marked("depends on when in the thermostat's cycle you pull")
NO_DROP = marked("there is no drop without the kit")
TOO_LITTLE = marked("less than 10 ml are drawn")


class Figures:
    """Makes figures of what rows give, and remembers of which rows each was made, to tell what it depends on."""

    def __init__(self, values: Values) -> None:
        self._values = values
        self._made: list[tuple[Figure, Rows]] = []

    def figure(self, rows: Rows, offset: float = 0.0, factor: float = 1.0, reason: str | None = None) -> Figure:
        """A figure of shape (n,) rows: row 0 and the central 95 % of the others, converted."""
        made = _figure(rows * factor + offset, reason)
        self._made.append((made, rows))
        return made

    def celsius(self, rows: Rows, reason: str | None = None) -> Figure:
        """A temperature in K as °C."""
        return self.figure(rows, -ZERO_CELSIUS, reason=reason)

    def ratio(self, above: Rows, below: Rows) -> Figure:
        """One over the other, draw by draw; no value where there is nothing to divide by."""
        with np.errstate(divide="ignore", invalid="ignore"):
            quotient = np.where(np.abs(below) > 1e-3, above / below, np.nan)
        return self.figure(quotient, reason=NO_DROP)

    def both(self, without: Rows, with_: Rows, factor: float = 1.0, reason: str | None = None) -> Both:
        """The same quantity on both sides."""
        return Both(
            without=self.figure(without, factor=factor, reason=reason),
            with_=self.figure(with_, factor=factor, reason=reason),
        )

    def influence(self, places: Iterable[tuple[str, Figure]]) -> dict[str, dict[str, float]]:
        """For the place of each figure that has a range the inputs' rank correlations with it, strongest first."""
        drawn = {name: rows[1:] for name, rows in self._values.rows.items() if np.ptp(rows) > 0}
        if not drawn or len(self._values.phase) < 9:
            return {}
        drawn["model.phase"] = self._values.phase[1:]
        ranked, rows_of = Ranked(drawn), {id(figure): rows for figure, rows in self._made}
        least = max(STRONG_ENOUGH, min(NOISE / np.sqrt(len(self._values.phase) - 1), STRONG))
        made = {}
        for place, figure in places:
            if figure.low is not None and id(figure) in rows_of:
                found = ranked.correlations(rows_of[id(figure)][1:])
                strong = [(name, rounded(rho)) for name, rho in found.items() if abs(rho) >= least]
                made[place] = dict(strong[: MOST if place in HEADLINES else STRONGEST])
        return made


def _figure(values: Rows, reason: str | None) -> Figure:
    if not np.isfinite(values[0]):
        return Figure(value=None, reason=gettext(reason or NO_VALUE))
    value = rounded(float(values[0]))
    if len(values) < 3:
        return Figure(value=value)
    ends = interval(values[1:])
    if ends.missing > MISSING_SHARE or not np.isfinite(ends.low):
        return Figure(value=value)
    return Figure(value=value, low=rounded(ends.low), high=rounded(ends.high))


# --- mass and heat -----------------------------------------------------------------------------------


def budget(
    make: Figures, before: Network, after: Network, masses: Mapping[str, Rows], added: Rows, parts: list[BudgetPart]
) -> Budget:
    """Mass and heat capacity without and with the kit."""
    mass = masses["boiler"] + masses["group"] + masses["water"]
    return Budget(
        added_kg=make.figure(added),
        without=BudgetSide(mass_kg=make.figure(mass), heat_capacity_j_per_k=make.figure(before.heat_capacity())),
        with_=BudgetSide(mass_kg=make.figure(mass + added), heat_capacity_j_per_k=make.figure(after.heat_capacity())),
        parts=tuple(parts),
    )


# --- drinks ------------------------------------------------------------------------------------------


def drink(
    make: Figures, written: WrittenDrink, before: Shots, after: Shots, network: Network, mass: Rows, withdrawn: float
) -> Drink:
    """One drink without and with the kit."""
    grams = np.full(len(mass), withdrawn)
    return Drink(
        name=written.name,
        beverage_g=rounded(written.beverage.value * 1e3),
        duration_s=rounded(written.time.value),
        withdrawn_g=Figure(value=rounded(withdrawn * 1e3)),
        mass_share=make.figure(grams / mass),
        heat_share=make.figure(grams * WATER_SPECIFIC_HEAT / network.heat_capacity()),
        drop_ratio=DropRatio(
            sensor=make.ratio(after.sensor_drop, before.sensor_drop),
            water=make.ratio(after.water_drop, before.water_drop),
            outlet=make.ratio(after.stability_band, before.stability_band),
        ),
        without=drink_side(make, before),
        with_=drink_side(make, after),
    )


def drink_side(make: Figures, shots: Shots) -> DrinkSide:
    """The results of one drink on one side."""
    return DrinkSide(
        sensor_drop_k=make.figure(shots.sensor_drop),
        sensor_drop_phases_k=_phases(shots),
        water_drop_k=make.figure(shots.water_drop),
        outlet_fall_k=make.figure(shots.outlet_fall, reason=TOO_LITTLE),
        stability_band_k=make.figure(shots.stability_band),
        mean_outlet_degc=make.celsius(shots.mean_outlet),
        sensor_recovery_s=make.figure(shots.sensor_recovery, reason=NOT_RECOVERED),
        coil_recovery_s=make.figure(
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


def warm_up(make: Figures, before: Study, after: Study) -> WarmUp:
    """Times from cold, and what the kit adds: to shot ready, or to the last of the others where a side has none."""

    by_shot = not (np.isnan(before.shot_ready[0]) or np.isnan(after.shot_ready[0]))

    def ready(study: Study) -> Rows:
        if by_shot:
            return study.shot_ready
        return np.fmax(np.fmax(study.boiler_ready, study.group_ready), study.coil_settled)

    return WarmUp(
        added_s=make.figure(ready(after) - ready(before), reason=NOT_READY),
        added_means=gettext("shot ready") if by_shot else gettext("the last of boiler, group and coil"),
        without=warm_up_side(make, before),
        with_=warm_up_side(make, after),
    )


def warm_up_side(make: Figures, study: Study) -> WarmUpSide:
    """Times from cold on one side."""
    relay = study.period[0] > 0
    coil = not np.isnan(study.parked[0])
    return WarmUpSide(
        boiler_ready_s=make.figure(study.boiler_ready, reason=NOT_READY),
        group_ready_s=make.figure(study.group_ready, reason=NOT_READY),
        coil_settled_s=make.figure(study.coil_settled, reason=NOT_READY if coil else NO_COIL),
        shot_ready_s=make.figure(study.shot_ready, reason=RELAY_SHOT_READY if relay else NOT_READY),
    )


JOULES_PER_WH = 3600.0


def energy(
    make: Figures, before: Study, after: Study, sessions: int, tariff: float, usage: str, currency: str
) -> Energy:
    """Idle power, session and day, and what the kit makes of them."""

    def side(study: Study) -> EnergySide:
        return EnergySide(
            idle_w=make.figure(study.idle_power),
            session_wh=make.figure(study.session_energy, factor=1 / JOULES_PER_WH),
            day_wh=make.figure(study.session_energy, factor=sessions / JOULES_PER_WH),
            session_cost=make.figure(study.session_energy, factor=tariff / JOULES_PER_WH / 1000),
        )

    return Energy(
        usage=usage,
        currency=currency,
        without=side(before),
        with_=side(after),
        day_ratio=make.ratio(after.session_energy, before.session_energy),
        idle_added_w=make.figure(after.idle_power - before.idle_power),
        day_added_wh=make.figure(after.session_energy - before.session_energy, factor=sessions / JOULES_PER_WH),
    )
