"""One configuration of a measured pair: the figures and the curve that its runs give, with what they leave open."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from guidegen.assess import logs
from guidegen.assess.bands import CurveRange
from guidegen.assess.logs import ReadRuns, ReadShot
from guidegen.heat.evaluation import mean_of, normalised_error
from guidegen.heat.logged import share_within
from guidegen.heat.program import LEAST, SOAKED
from guidegen.heat.study import WAITS
from guidegen.language import gettext, marked
from guidegen.record.base import Figure, rounded
from guidegen.record.measured import MeasuredCurve, MeasuredFigure
from guidegen.trade.blocks import Named, shots_of

AS_LONG = 0.1
"""A wait that differs by no more than this share of a computed one counts as that."""
NO_SHOT = marked("not every log lasts until then")
NOT_READY = marked("no shot from cold was within a tenth of those of the warm machine")
Known = Sequence[float | None]
"""A standard uncertainty of each shot, None where nobody knows it."""


@dataclass(frozen=True)
class MeasuredSide:
    """One configuration: its name in places, its runs, what was read of them, and the computed range of its curve."""

    name: str
    runs: Named
    read: ReadRuns
    drink: str
    range_of: CurveRange | None

    @cached_property
    def firsts(self) -> dict[str, ReadShot]:
        """By run, the first shot of each in which the drink was made on the machine at rest."""
        return dict(self._numbered(shots_of(self.runs, self.drink), 0))

    def _numbered(self, paths: Iterable[str], number: int) -> Iterator[tuple[str, ReadShot]]:
        """By run, its shot of a number, where that could be read."""
        found = ((path, self.read.runs[path].shot(number)) for path in paths)
        return ((path, one) for path, one in found if one is not None)

    def figures(self, computed: Mapping[str, Figure]) -> Iterator[MeasuredFigure]:
        """Every figure that these runs say something of, beside the computed one of its place."""
        firsts = [*self.firsts.values()]
        if firsts:
            yield _dips(f"drinks.{self.drink}.{self.name}.sensor_drop_k", firsts, computed)
            yield self._recoveries(firsts, computed)
        yield from self._seconds(computed)
        yield from self._from_cold(computed)

    def _recoveries(self, shots: Sequence[ReadShot], computed: Mapping[str, Figure]) -> MeasuredFigure:
        place = f"drinks.{self.drink}.{self.name}.sensor_recovery_s"
        back = [one.recovery_s for one in shots if one.recovery_s is not None]
        # A mean over those alone that came back in time would be too short.
        if len(back) < len(shots):
            return MeasuredFigure(place=place, value=None, reason=gettext(NO_SHOT), shots=len(shots))
        return _figure(place, back, computed, lag=[one.recovery_by_lag_s for one in shots],
                       reading=[one.recovery_by_reading_s for one in shots])  # fmt: skip

    def _seconds(self, computed: Mapping[str, Figure]) -> Iterator[MeasuredFigure]:
        """Second drinks, by the computed wait that theirs was."""
        again = [one for _, one in self._numbered(shots_of(self.runs, self.drink), 1)]
        for wait in WAITS:
            found = [one for one in again if one.wait_s and abs(one.wait_s - wait) <= AS_LONG * wait]
            if found:
                yield _dips(f"waiting.{wait:g}.sensor_drop_k.{self.name}", found, computed)

    def _from_cold(self, computed: Mapping[str, Figure]) -> Iterator[MeasuredFigure]:
        cold = [path for path, run in self.runs.items() if run.kind == "cold-start"]
        ready = [one for path in cold if (one := self.read.runs[path].ready) is not None]
        if ready:
            yield _figure(
                f"warm_up.{self.name}.boiler_ready_s", [one.after_s for one in ready], computed,
                probe=[one.by_probe_s for one in ready], lag=[one.by_lag_s for one in ready],
                reading=[one.by_reading_s for one in ready],
            )  # fmt: skip
        drawn = self._numbered((path for path in cold if self.runs[path].drink == self.drink), 0)
        tries = sorted((one.begins_s, one.drop_k) for _, one in drawn)
        if tries and len(self.firsts) > 1:
            yield self._shot_ready(tries)

    def _shot_ready(self, tries: Sequence[tuple[float, float]]) -> MeasuredFigure:
        """Between the last start from cold whose dip was not that of the warm machine, and the first after it."""
        place = f"warm_up.{self.name}.shot_ready_s"
        soaked = float(np.mean([one.drop_k for one in self.firsts.values()]))
        inside = [abs(drop - soaked) <= max(SOAKED * soaked, LEAST) for _, drop in tries]
        missed = [at for at, fits in enumerate(inside) if not fits]
        first = missed[-1] + 1 if missed else 0
        if first == len(tries):
            return MeasuredFigure(place=place, value=None, reason=gettext(NOT_READY), shots=len(tries))
        low, high = (tries[first - 1][0] if first else 0.0), tries[first][0]
        return MeasuredFigure(
            place=place, value=rounded((low + high) / 2), low=rounded(low), high=rounded(high), shots=len(tries)
        )

    def curve(self) -> MeasuredCurve | None:
        """The mean curve of the first shots as far as all of them go, in the computed range."""
        every = [[math.nan if one is None else one for one in shot.curve_degc] for shot in self.firsts.values()]
        if not every:
            return None
        curves = np.array(every)
        whole = np.isfinite(curves).all(axis=0)
        length = len(whole) if whole.all() else int(np.argmin(whole))
        curves = curves[:, :length]
        if length < 2:
            return None
        mean = curves.mean(axis=0)
        computed: dict[str, tuple[float, ...] | float] = {}
        if self.range_of is not None:
            low, high = np.array(self.range_of.low_k)[:length], np.array(self.range_of.high_k)[:length]
            computed = {
                "computed_low_degc": _rounded(mean[0] + low), "computed_high_degc": _rounded(mean[0] + high),
                "inside": rounded(share_within(curves[:, 1:] - curves[:, :1], low[1:], high[1:])),
            }  # fmt: skip
        return MeasuredCurve(
            time_s=logs.GRID[:length], mean_degc=_rounded(mean), low_degc=_rounded(curves.min(axis=0)),
            high_degc=_rounded(curves.max(axis=0)), **computed,
        )  # fmt: skip


def _dips(place: str, shots: Sequence[ReadShot], computed: Mapping[str, Figure]) -> MeasuredFigure:
    return _figure(
        place, [one.drop_k for one in shots], computed, probe=[one.drop_by_probe_k for one in shots],
        lag=[one.drop_by_lag_k for one in shots], reading=[one.drop_by_reading_k for one in shots],
    )  # fmt: skip


def mean_known(values: Known) -> float | None:
    """The mean of what is known of every shot; None where it is not."""
    known = [one for one in values if one is not None]
    return float(np.mean(known)) if len(known) == len(values) else None


def _figure(place: str, values: Sequence[float], computed: Mapping[str, Figure], **open_of: Known) -> MeasuredFigure:
    """The mean of some shots; of one alone without an interval, since nobody knows how far it scatters.

    open_of: what probe, lag and reading leave open of each. While one of them is not known of every shot, the mean is
    held against nothing.
    """
    every = {name: mean_known(some) for name, some in open_of.items()}
    parts = {name: rounded(one) for name, one in every.items() if one is not None}
    if len(values) < 2:
        return MeasuredFigure(place=place, value=rounded(values[0]), shots=1, **parts)
    made = mean_of(values, [*parts.values()])
    value, low, high = (rounded(one) for one in (made.value, made.value - made.half, made.value + made.half))
    return MeasuredFigure(
        place=place, value=value, low=low, high=high, shots=made.count, repetition=rounded(made.repetition), **parts,
        normalised_error=error_of(value, low, high, computed.get(place)) if len(parts) == len(every) else None,
    )  # fmt: skip


def error_of(value: float, low: float | None, high: float | None, computed: Figure | None) -> float | None:
    """E_n, each range counted by the half that faces the other value; None where a half has no end."""
    if computed is None or computed.value is None:
        return None
    mine = low if computed.value < value else high
    other = computed.high if computed.value < value else computed.low
    if mine is None or other is None:
        return None
    halves = abs(mine - value), abs(other - computed.value)
    return rounded(normalised_error(value, halves[0], computed.value, halves[1])) if any(halves) else None


def _rounded(values: np.ndarray) -> tuple[float, ...]:
    return tuple(rounded(float(one)) for one in values)
