"""Studies become figures: the draws give the median and the ends, row 0 what the stated values give."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any, NamedTuple, TypeVar

import numpy as np

from guidegen.assess.reasons import longer_than
from guidegen.heat import program, steam, warming
from guidegen.heat.network import Rows
from guidegen.heat.statistics import Ranked, interval
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.language import marked
from guidegen.record.base import Beyond, Both, Figure, Record, rounded
from guidegen.record.outputs import Output, unit_of
from guidegen.units import UNITS

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
NO_DROP = marked("there is no drop without the kit")


Part = TypeVar("Part", bound=Record)


class Limit(NamedTuple):
    """What was watched for, in the figure's unit: rows beyond it are infinite."""

    value: float
    dimension: str
    unit: str


class Figures:
    """Makes figures of what rows give, and remembers of which rows each was made, to know what it depends on."""

    def __init__(self, values: Mapping[str, Rows], draws: int) -> None:
        self._values, self._draws = values, draws
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
        if self._draws < 2:
            return 0
        distance = np.zeros(self._draws)
        rows_of = {id(figure): rows[1:] for figure, rows in self._made}
        for rows in (rows_of[id(one)] for one in figures if one.ranged and one.value is not None):
            ends = interval(rows)
            width = ends.high - ends.low if np.isfinite(ends.high - ends.low) else abs(ends.median) or 1.0
            apart = np.abs(rows - ends.median) / width
            distance += np.where(np.isfinite(apart), apart, FAR) ** 2
        return int(np.argmin(distance)) + 1

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
        if not drawn or self._draws < 8:
            return {}
        ranked, rows_of = Ranked(drawn), {id(figure): rows for figure, rows in self._made}
        least = max(STRONG_ENOUGH, min(NOISE / np.sqrt(self._draws), STRONG))
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
