"""Curves for the charts: of one machine, on grids of time that every guide shares."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from guidegen.heat.layout import COIL_WATER, GROUP_METAL, OUTLET, SEEN, TIME
from guidegen.heat.network import Network
from guidegen.heat.points import drops_from_cold, what_if
from guidegen.heat.study import Pull, Study
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.record.base import rounded
from guidegen.record.curves import ColdSide, FromCold, Shot, Trace, WhatIf

CURVE_STEP, CURVE_END = 2.0, 180.0


Stirred = tuple[Study, Study, Study]
"""A machine, then the same with a boiler that mixes best, then least."""


def shot_curves(name: str, duration: float, before: Stirred, after: Stirred) -> Shot:
    """The main drink's curves on one grid of time, without and with."""
    return Shot(
        drink=name, flow_end_s=rounded(duration), without=_curve(before, duration), with_=_curve(after, duration)
    )


def _curve(studies: Stirred, duration: float) -> Trace:
    grid = np.arange(0.0, CURVE_END + CURVE_STEP / 2, CURVE_STEP)
    # At the very end of the flow the trace already holds the rest, where nothing leaves the group.
    flowing = (grid < duration) & (grid > 0)

    def column(study: Study, index: int) -> NDArray[np.float64]:
        trace = study.traces.shot
        return np.asarray(np.interp(grid, trace[:, 0], trace[:, index]) - ZERO_CELSIUS)

    def drawn(values: NDArray[np.float64]) -> tuple[float | None, ...]:
        return tuple(rounded(float(value)) if on else None for value, on in zip(values, flowing, strict=True))

    nominal, *stirred = (column(study, OUTLET) for study in studies)
    return Trace(
        time_s=tuple(map(float, grid)),
        sensor_degc=tuple(rounded(float(value)) for value in column(studies[0], SEEN)),
        outlet_degc=drawn(nominal),
        outlet_low_degc=drawn(np.minimum(*stirred)),
        outlet_high_degc=drawn(np.maximum(*stirred)),
    )


# --- from cold ---------------------------------------------------------------------------------------

COLD_STEP, COLD_MINUTES = 30.0, 30


def from_cold(before: tuple[Network, Study], after: tuple[Network, Study], pull: Pull) -> FromCold:
    """Half an hour from switching on: temperatures, and the drop of a first drink in each minute."""
    grid = np.arange(0.0, COLD_MINUTES * 60 + COLD_STEP / 2, COLD_STEP)
    return FromCold(
        time_s=tuple(map(float, grid)),
        drop_minutes=tuple(range(1, COLD_MINUTES + 1)),
        without=_cold_side(*before, pull, grid),
        with_=_cold_side(*after, pull, grid),
    )


def _cold_side(network: Network, study: Study, pull: Pull, grid: NDArray[np.float64]) -> ColdSide:
    trace = study.traces.cold
    room = float(network.room[0]) - ZERO_CELSIUS

    def column(index: int) -> tuple[float, ...]:
        values = np.interp(grid, trace[:, TIME], trace[:, index] - ZERO_CELSIUS, left=room)
        return tuple(rounded(float(value)) for value in values)

    return ColdSide(
        sensor_degc=column(SEEN),
        group_degc=column(GROUP_METAL),
        coil_degc=column(COIL_WATER) if network.coil is not None else (),
        drop_k=known(drops_from_cold(network, pull, COLD_MINUTES)),
    )


# --- what if -----------------------------------------------------------------------------------------

FEEDS = (5.0, 12.0, 20.0, 28.0)
"""°C: tap water in winter to a tank on a warm machine."""
POINT_WAITS = (60.0, 120.0, 300.0, 600.0)
LEAST_DROP = 1e-3
"""K; below this there is nothing to divide by."""


def drops(network: Network, pulls: Mapping[str, Pull], changes: tuple[float, ...]) -> NDArray[np.float64]:
    """The drop at every combination of drink, setpoint, feed and wait."""
    feeds = [celsius + ZERO_CELSIUS for celsius in FEEDS]
    return what_if(network, list(pulls.values()), feeds, changes, POINT_WAITS).ravel()


def points(sides: tuple[NDArray[np.float64], NDArray[np.float64]], drinks: Iterable[str],
           changes: tuple[float, ...]) -> WhatIf:  # fmt: skip
    """The drops without and with the kit, and what the kit makes of them."""
    with np.errstate(divide="ignore", invalid="ignore"):
        quotient = np.where(np.abs(sides[0]) > LEAST_DROP, sides[1] / sides[0], np.nan)
    return WhatIf(
        drinks=tuple(drinks),
        setpoint_changes_k=changes,
        feeds_degc=FEEDS,
        waits_s=(None, *POINT_WAITS),
        without_drop_k=known(sides[0]),
        with_drop_k=known(sides[1]),
        drop_ratio=known(quotient),
    )


def known(values: Sequence[float] | NDArray[np.float64]) -> tuple[float | None, ...]:
    """Rounded numbers; null where there is none."""
    return tuple(rounded(float(value)) if np.isfinite(value) else None for value in values)
