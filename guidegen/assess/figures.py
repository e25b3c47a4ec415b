"""Studies become figures: the draws give the median and the ends, row 0 what the stated values give."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import numpy as np

from guidegen.assess.reasons import longer_than
from guidegen.heat import program, steam, warming
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Rows
from guidegen.heat.statistics import Ranked, interval
from guidegen.heat.study import Study
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.language import marked
from guidegen.record.base import Beyond, Both, Figure, Record, rounded
from guidegen.record.computed import (
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
FAR = 10.0
"""So many ranges away counts what lies beyond what was watched, where the draw nearest to the medians is looked for."""
STRONGEST, MOST = 3, 8
"""So many inputs are kept for each figure, and so many for a headline."""
MISSING_SHARE = 0.5
"""Where the quantity does not exist in more than this share of the draws, a figure would speak of the rest only."""
LONGEST = {
    "sensor_recovery": program.FOLLOW, "coil_recovery": program.FOLLOW, "boiler_ready": warming.LONGEST,
    "group_ready": warming.LONGEST, "coil_settled": warming.LONGEST, "shot_ready": warming.LONGEST,
    "wait": steam.LONGEST_WAIT,
}  # fmt: skip
"""How long each moment was watched for, s, by the result's name; a value beyond is infinite."""

NO_VALUE = marked("no value")
NO_COIL = marked("no coil")
RELAY_SHOT_READY = marked("depends on when in the thermostat's cycle you pull")
NO_DROP = marked("there is no drop without the kit")
BY_SHOT, BY_LAST = marked("shot ready"), marked("the last of boiler, group and coil")


Part = TypeVar("Part", bound=Record)


class Limit(NamedTuple):
    """What was watched for, in the figure's unit: rows beyond it are infinite."""

    value: float
    dimension: str
    unit: str


class Figures:
    """Makes figures of what rows give, and remembers of which rows each was made, to know what it depends on."""

    def __init__(self, values: Mapping[str, Rows], phase: Rows) -> None:
        self._values, self._phase = values, phase
        self._made: list[tuple[Figure, Rows]] = []

    def figure(
        self,
        rows: Rows,
        offset: float = 0.0,
        factor: float = 1.0,
        reason: str | None = None,
        limit: Limit | None = None,
    ) -> Figure:
        """A figure of shape (n,) rows: median and central 95 % of the draws, converted, and row 0 as stated."""
        converted = rows * factor + offset
        made = _figure(converted, reason, limit)
        self._made.append((made, converted))
        return made

    def typical(self, figures: Iterable[Figure]) -> int:
        """The row of the draw nearest to the medians of these figures, distances in units of their ranges; else 0."""
        distance = np.zeros(len(self._phase) - 1)
        rows_of = {id(figure): rows for figure, rows in self._made}
        for one in figures:
            rows, ends = rows_of.get(id(one)), None
            if rows is not None and len(rows) > 2:
                ends = interval(rows[1:])
            if rows is None or ends is None or not np.isfinite(ends.median) or not ends.high > ends.low:
                continue
            width = ends.high - ends.low if np.isfinite(ends.high - ends.low) else abs(ends.median) or 1.0
            apart = np.abs(rows[1:] - ends.median) / width
            distance += np.where(np.isfinite(apart), apart, FAR) ** 2
        return int(np.argmin(distance)) + 1 if len(distance) > 1 else 0

    def celsius(self, rows: Rows, reason: str | None = None) -> Figure:
        """A temperature in K as °C."""
        return self.figure(rows, -ZERO_CELSIUS, reason=reason)

    def ratio(self, above: Rows, below: Rows) -> Figure:
        """One over the other, draw by draw; no value where there is nothing to divide by."""
        with np.errstate(divide="ignore", invalid="ignore"):
            quotient = np.where(np.abs(below) > 1e-3, above / below, np.nan)
        return self.figure(quotient, reason=NO_DROP)

    def both(self, without: Rows, with_: Rows, factor: float = 1.0, limit: Limit | None = None) -> Both:
        """The same quantity on both sides."""
        return Both(
            without=self.figure(without, factor=factor, limit=limit),
            with_=self.figure(with_, factor=factor, limit=limit),
        )

    def part(self, kind: type[Part], found: object, missing: Mapping[str, str] | None = None, **given: Any) -> Part:
        """A part of the record: what is given, and every other output that names a result, read from `found`.

        missing: why there is no value, for fields of which that depends on the machine.
        """
        why = missing or {}
        for name, output, source in _read(kind, given):
            given[name] = self._in_unit(name, source, getattr(found, source), why.get(name, output.missing))
        return kind(**given)

    def part_of_both(self, kind: type[Part], without: object, with_: object, **given: Any) -> Part:
        """The same where each output stands on both sides."""
        for name, output, source in _read(kind, given):
            sides = (self._in_unit(name, source, getattr(found, source), output.missing) for found in (without, with_))
            given[name] = Both(**dict(zip(("without", "with_"), sides, strict=True)))
        return kind(**given)

    def _in_unit(self, name: str, source: str, rows: Rows, reason: str) -> Figure:
        """A result in SI as a figure in the unit at the end of its name."""
        dimension, unit = unit_of(name)
        factor, offset = UNITS[dimension][unit]
        watched = LONGEST.get(source)
        limit = None if watched is None else Limit(watched / factor, dimension, unit)
        return self.figure(rows, -offset / factor, 1.0 / factor, reason, limit)

    def influence(
        self, places: Iterable[tuple[str, Figure]], headlines: Collection[str]
    ) -> dict[str, dict[str, float]]:
        """For the place of each figure that has a range the inputs' rank correlations with it, strongest first."""
        drawn = {name: rows[1:] for name, rows in self._values.items() if np.ptp(rows) > 0}
        if not drawn or len(self._phase) < 9:
            return {}
        ranked, rows_of = Ranked(drawn), {id(figure): rows for figure, rows in self._made}
        least = max(STRONG_ENOUGH, min(NOISE / np.sqrt(len(self._phase) - 1), STRONG))
        made = {}
        for place, figure in places:
            if figure.ranged and id(figure) in rows_of:
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


def _figure(values: Rows, reason: str | None, limit: Limit | None) -> Figure:
    """A figure of converted rows; without draws, of the stated row alone."""
    stated = _finite(float(values[0]))
    found = interval(values[1:] if len(values) > 2 else values[:1])
    if found.missing > MISSING_SHARE:
        return Figure(value=None, reason=reason or NO_VALUE, stated=stated)
    ranged = len(values) > 2 and found.high > found.low
    value, past = _finite(found.median), limit if found.beyond else None
    return Figure(
        value=value,
        low=_finite(found.low) if ranged else None,
        high=_finite(found.high) if ranged else None,
        reason=None if value is not None else longer_than(*past) if past else reason or NO_VALUE,
        stated=stated,
        beyond=Beyond(limit=rounded(past.value), share=rounded(found.beyond)) if past else None,
        missing=rounded(found.missing) if found.missing else None,
    )


def _finite(number: float) -> float | None:
    return rounded(number) if np.isfinite(number) else None


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


# --- warm-up and energy ------------------------------------------------------------------------------


def warm_up(make: Figures, before: Study, after: Study) -> WarmUp:
    """Times from cold, and what the kit adds: to shot ready, or to the last of the others where a thermostat rules.

    A side of which one part never gets there is not ready: nothing is added up of the others.
    """
    by_shot = not any(is_relay(study) for study in (before, after))

    def ready(study: Study) -> Rows:
        if by_shot:
            return study.shot_ready
        last = np.maximum(study.boiler_ready, study.group_ready)
        return last if np.all(np.isnan(study.coil_settled)) else np.maximum(last, study.coil_settled)

    # Where the machine itself never gets there, nothing can be added to its time.
    began = np.where(np.isfinite(ready(before)), ready(before), np.nan)
    added = ready(after) - began
    # What takes longer than was watched adds at least what is left of that.
    left = warming.LONGEST - float(np.max(began[np.isfinite(began)], initial=0.0))
    return WarmUp(
        added_s=make.figure(added, limit=Limit(left, "time", "s")),
        added_means=BY_SHOT if by_shot else BY_LAST,
        without=warm_up_side(make, before),
        with_=warm_up_side(make, after),
    )


def warm_up_side(make: Figures, study: Study) -> WarmUpSide:
    """Times from cold on one side."""
    missing = {}
    if is_relay(study):
        missing["shot_ready_s"] = RELAY_SHOT_READY
    if np.all(np.isnan(study.parked)):
        missing["coil_settled_s"] = NO_COIL
    return make.part(WarmUpSide, study, missing)


def is_relay(study: Study) -> bool:
    """Whether a thermostat rules the machine: it has a cycle."""
    return bool(np.any(study.period > 0))


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
