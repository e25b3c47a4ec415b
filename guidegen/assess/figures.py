"""Studies become figures: row 0 is the value, the draws give the ends."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from guidegen.heat.network import WATER_SPECIFIC_HEAT, Rows
from guidegen.heat.statistics import Ranked, interval
from guidegen.heat.study import Shots, Study
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.language import marked
from guidegen.record.base import Both, Figure, Record, rounded
from guidegen.record.computed import (
    NOT_READY,
    Budget,
    BudgetPart,
    BudgetSide,
    Energy,
    EnergySide,
    WarmUp,
    WarmUpSide,
)
from guidegen.record.drinks import Drink, DrinkSide, DropRatio
from guidegen.record.outputs import Output, unit_of
from guidegen.units import UNITS

if TYPE_CHECKING:
    from guidegen.assess.question import PairQuestion

STRONG_ENOUGH, NOISE, STRONG = 0.05, 3.0, 0.5
"""A rank correlation counts from the first on, and only where it is as many times the standard error of one that is
none, 1/√n; a strong one counts in any case."""
STRONGEST, MOST = 3, 8
"""So many inputs are kept for each figure, and so many for a headline."""
MISSING_SHARE = 0.5
"""Where more than this share of the draws has no value, a range would speak of the rest only; none is given."""

NO_VALUE = marked("no value")
NO_COIL = marked("no coil")
RELAY_SHOT_READY = marked("depends on when in the thermostat's cycle you pull")
NO_DROP = marked("there is no drop without the kit")
BY_SHOT, BY_LAST = marked("shot ready"), marked("the last of boiler, group and coil")


Part = TypeVar("Part", bound=Record)


class Figures:
    """Makes figures of what rows give, and remembers of which rows each was made, to know what it depends on."""

    def __init__(self, values: Mapping[str, Rows], phase: Rows) -> None:
        self._values, self._phase = values, phase
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

    def part(self, kind: type[Part], found: object, missing: Mapping[str, str] | None = None, **given: Any) -> Part:
        """A part of the record: what is given, and every other output that names a result, read from `found`.

        missing: why there is no value, for fields of which that depends on the machine.
        """
        why = missing or {}
        for name, output, source in _read(kind, given):
            given[name] = self._in_unit(name, getattr(found, source), why.get(name, output.missing))
        return kind(**given)

    def part_of_both(self, kind: type[Part], without: object, with_: object, **given: Any) -> Part:
        """The same where each output stands on both sides."""
        for name, output, source in _read(kind, given):
            sides = (self._in_unit(name, getattr(found, source), output.missing) for found in (without, with_))
            given[name] = Both(**dict(zip(("without", "with_"), sides, strict=True)))
        return kind(**given)

    def _in_unit(self, name: str, rows: Rows, reason: str) -> Figure:
        """A result in SI as a figure in the unit at the end of its name."""
        dimension, unit = unit_of(name)
        factor, offset = UNITS[dimension][unit]
        return self.figure(rows, -offset / factor, 1.0 / factor, reason)

    def influence(
        self, places: Iterable[tuple[str, Figure]], headlines: Collection[str]
    ) -> dict[str, dict[str, float]]:
        """For the place of each figure that has a range the inputs' rank correlations with it, strongest first."""
        drawn = {name: rows[1:] for name, rows in self._values.items() if np.ptp(rows) > 0}
        if not drawn or len(self._phase) < 9:
            return {}
        drawn["model.phase"] = self._phase[1:]
        ranked, rows_of = Ranked(drawn), {id(figure): rows for figure, rows in self._made}
        least = max(STRONG_ENOUGH, min(NOISE / np.sqrt(len(self._phase) - 1), STRONG))
        made = {}
        for place, figure in places:
            if figure.low is not None and id(figure) in rows_of:
                found = ranked.correlations(rows_of[id(figure)][1:])
                strong = [(name, rounded(rho)) for name, rho in found.items() if abs(rho) >= least]
                made[place] = dict(strong[: MOST if place in headlines else STRONGEST])
        return made


def _read(kind: type[Record], given: Collection[str]) -> Iterator[tuple[str, Output, str]]:
    """The outputs of a part that name a result to be read and are not given, each with its field and that name."""
    for name, field in kind.model_fields.items():
        output = next((one for one in field.metadata if isinstance(one, Output)), None)
        if output is not None and output.source is not None and name not in given:
            yield name, output, output.source


def _figure(values: Rows, reason: str | None) -> Figure:
    if not np.isfinite(values[0]):
        return Figure(value=None, reason=reason or NO_VALUE)
    value = rounded(float(values[0]))
    if len(values) < 3:
        return Figure(value=value)
    ends = interval(values[1:])
    if ends.missing > MISSING_SHARE or not np.isfinite(ends.low):
        return Figure(value=value)
    return Figure(value=value, low=rounded(ends.low), high=rounded(ends.high))


# --- mass and heat -----------------------------------------------------------------------------------


def budget(make: Figures, asked: PairQuestion, parts: tuple[BudgetPart, ...]) -> Budget:
    """Mass and heat capacity without and with the kit."""
    mass, added = machine_mass(asked), asked.added_mass()
    before, after = asked.plain.heat_capacity(), asked.fitted.heat_capacity()
    return Budget(
        added_kg=make.figure(added),
        without=BudgetSide(mass_kg=make.figure(mass), heat_capacity_j_per_k=make.figure(before)),
        with_=BudgetSide(mass_kg=make.figure(mass + added), heat_capacity_j_per_k=make.figure(after)),
        parts=parts,
    )


def machine_mass(asked: PairQuestion) -> Rows:
    """Boiler, group and water of a machine without a kit, kg, shape (n,)."""
    return asked.values["boiler.mass"] + asked.values["group.mass"] + asked.plain.water_mass


# --- drinks ------------------------------------------------------------------------------------------


def drink(make: Figures, name: str, asked: PairQuestion, studies: tuple[Study, Study]) -> Drink:
    """One drink by its id without and with the kit; its name is filled in with the words. Studies: without and with."""
    beverage, pull = asked.served.beverages[name], asked.served.pulls[name]
    before, after = (study.drinks[name] for study in studies)
    mass = machine_mass(asked)
    grams = np.full(len(mass), pull.mass)
    return Drink(
        name="",
        beverage_g=rounded(beverage * 1e3),
        duration_s=rounded(pull.duration),
        withdrawn_g=Figure(value=rounded(pull.mass * 1e3)),
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
    """The results of one drink on one side."""
    shots = study.drinks[name]
    missing = {"coil_recovery_s": NO_COIL} if np.all(np.isnan(shots.coil_recovery)) else None
    return make.part(DrinkSide, shots, missing, sensor_drop_phases_k=_phases(shots, study.drop_ends[name]))


def _phases(shots: Shots[Rows], drop_ends: NDArray[np.float64]) -> Figure | None:
    """The ends of the sensor drop over a thermostat's start phases; none where there is only one."""
    low, high = (rounded(float(end)) for end in drop_ends[0])
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
        added_means=BY_SHOT if by_shot else BY_LAST,
        without=warm_up_side(make, before),
        with_=warm_up_side(make, after),
    )


def warm_up_side(make: Figures, study: Study) -> WarmUpSide:
    """Times from cold on one side."""
    missing = {}
    if study.period[0] > 0:
        missing["shot_ready_s"] = RELAY_SHOT_READY
    if np.isnan(study.parked[0]):
        missing["coil_settled_s"] = NO_COIL
    return make.part(WarmUpSide, study, missing)


JOULES_PER_WH = 3600.0


def energy(make: Figures, before: Study, after: Study, sessions: int, per_kwh: float) -> Energy:
    """Idle power, session and day, and what the kit makes of them; usage and currency are filled in with the words."""

    def side(study: Study) -> EnergySide:
        return make.part(
            EnergySide,
            study,
            day_wh=make.figure(study.session_energy, factor=sessions / JOULES_PER_WH),
            session_cost=make.figure(study.session_energy, factor=per_kwh / JOULES_PER_WH / 1000),
        )

    return Energy(
        usage="",
        currency="",
        without=side(before),
        with_=side(after),
        day_ratio=make.ratio(after.session_energy, before.session_energy),
        idle_added_w=make.figure(after.idle_power - before.idle_power),
        day_added_wh=make.figure(after.session_energy - before.session_energy, factor=sessions / JOULES_PER_WH),
    )
