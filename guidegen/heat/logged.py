"""What a logged shot says: dip and recovery from samples of a lagging probe, and how sure they are."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.lagging import through
from guidegen.heat.sensors import LAG
from guidegen.heat.shot import BAND, WATCHED_AFTER
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity

REST, NEAR, FEWEST = 6.0, 4.0, 3
"""s before a shot and around the lowest value through which lines are laid, and rows that they need at least."""
PROBED = Validity(
    "temperature of a probe whose slope is bounded", ZERO_CELSIUS + 15.0, ZERO_CELSIUS + 250.0, "K", "iec-60584-1"
)


@dataclass(frozen=True, slots=True)
class LoggedDip:
    """One dip: temperatures in K, already corrected for the lag, and what its uncertainty follows from.

    correction: what the lag's correction adds to the drop, K. by_lag: how the drop changes with the lag, K/s.
    curvature of the lowest part, K/s², step between its rows, s.
    """

    start: float
    lowest: float
    correction: float
    by_lag: float
    curvature: float
    step: float

    @property
    def drop(self) -> float:
        """From the start down to the lowest, K."""
        return self.start - self.lowest


def dip(time: ArrayLike, temperature: ArrayLike, begins: float, ends: float, lag: float = 0.0) -> LoggedDip:
    """Find how far a probe dips in a shot, as the computed sensor drop is defined.

    The start is that of a straight line through the last seconds before the shot; the lowest value until a minute after
    its end is that of a parabola through the rows around the lowest one. A first-order lag hides of a parabola the
    rest that the correction adds.

    Parameters: time t, s, (n,), rising; temperature T, K, (n,); begins, when water begins to flow, s; ends, when it
        stops, s; lag τ of the probe, s.
    Returns: a `LoggedDip`.
    Valid for: lags well below the time in which the temperature turns; three rows before the shot, and in it.
    Equation: start = line(begins) + τ line′; lowest = min parabola − ½ τ² parabola″.
    Source: incropera, section 5.1, the lumped probe's equation T = R + τ R′ put into both.

    >>> t = np.arange(0.0, 120.0)
    >>> round(dip(t, 370.0 - 5.0 * np.exp(-(((t - 60.0) / 15.0) ** 2)), 10.0, 40.0).drop, 1)
    5.0
    """
    t, seen = np.asarray(time, dtype=np.float64), np.asarray(temperature, dtype=np.float64)
    before = (t >= begins - REST) & (t <= begins)
    watched = np.flatnonzero((t >= begins) & (t <= ends + WATCHED_AFTER))
    if before.sum() < FEWEST or len(watched) < FEWEST:
        raise ValueError("a dip needs three rows before the shot and three in it")
    slope, start = np.polyfit(t[before] - begins, seen[before], 1)
    least = int(watched[np.argmin(seen[watched])])
    lowest, curvature = _lowest(t, seen, least)
    step = float(np.median(np.diff(t[max(0, least - FEWEST) : least + FEWEST + 1])))
    hidden = 0.5 * lag**2 * curvature + lag * float(slope)
    return LoggedDip(
        float(start) + lag * float(slope), lowest - 0.5 * lag**2 * curvature,
        hidden, lag * curvature + float(slope), curvature, step,
    )  # fmt: skip


def _lowest(t: FloatArray, seen: FloatArray, least: int) -> tuple[float, float]:
    """The lowest value and the curvature there; without a bend, or with the lowest at an end, the row's own value."""
    around = np.abs(t - t[least]) <= NEAR
    if around.sum() <= FEWEST:
        return float(seen[least]), 0.0
    bend, slope, middle = np.polyfit(t[around] - t[least], seen[around], 2)
    if bend <= 0.0 or abs(slope / (2.0 * bend)) > NEAR:
        return float(seen[least]), 0.0
    return float(middle - slope**2 / (4.0 * bend)), float(2.0 * bend)


def recovery(time: ArrayLike, temperature: ArrayLike, ends: float, low: float, high: float, lag: float = 0.0) -> float:
    """Find how long after a shot a probe stays within half a kelvin of its idle range, as computed.

    Parameters: time t, s, (n,), rising; temperature T, K, (n,); ends of the flow, s; low end of the idle range, K; high
        end of it, K; lag τ of the probe, s, by which it comes late.
    Returns: the time, s; infinite where it does not come while the log lasts, nan where nothing follows the shot.
    Valid for: a temperature that comes back evenly, where a lag is a delay.
    Equation: t of the last row outside, on the line to the next, less τ and less the end.
    Source: none; the definition of the computed figure.

    >>> recovery([0.0, 10.0, 20.0, 30.0], [360.0, 368.0, 370.0, 370.0], 0.0, 370.0, 370.0)  # = 10 + 10 * 1.5 / 2
    17.5
    """
    t, seen = np.asarray(time, dtype=np.float64), np.asarray(temperature, dtype=np.float64)
    after = t >= ends
    t, seen = t[after], seen[after]
    if len(t) < FEWEST:
        return math.nan
    outside = np.flatnonzero((seen < low - BAND) | (seen > high + BAND))
    if not len(outside):
        return 0.0
    last = int(outside[-1])
    if last == len(t) - 1:
        return math.inf
    edge = low - BAND if seen[last] < low - BAND else high + BAND
    share = (edge - seen[last]) / (seen[last + 1] - seen[last])
    return max(0.0, float(t[last] + share * (t[last + 1] - t[last])) - lag - ends)


def through_lag(time: ArrayLike, temperature: ArrayLike, lag: float) -> FloatArray:
    """Give what a probe with a lag shows of a temperature that goes in straight lines, settled at the start.

    Parameters: time t, s, (n,), rising; temperature T, K, (..., n); lag τ, s, with zero the temperature itself.
    Returns: reading R, K, same shape.
    Valid for: lags from a microsecond to 10 000 s, or none.
    Equation: τ R′ = T − R, exactly between the rows: R₂ = T₂ − g τ + (R₁ − T₁ + g τ) exp(−Δt/τ), g the line's slope.
    Source: incropera, equation 5.6 and superposition.

    >>> through_lag([0.0, 1.0, 2.0], [0.0, 1.0, 2.0], 1.0).round(4)  # a ramp: t - 1 + exp(-t) = 0, 0.3679, 1.1353
    array([0.    , 0.3679, 1.1353])
    """
    t, real = np.asarray(time, dtype=np.float64), np.asarray(temperature, dtype=np.float64)
    if lag == 0.0:
        return real.copy()
    LAG.check(lag)
    seen = np.empty_like(real)
    for row, shown in zip(real.reshape(-1, len(t)), seen.reshape(-1, len(t)), strict=True):
        through(t, row, lag, shown)
    return seen


def slope_error(tolerance: ArrayLike, temperature: ArrayLike, difference: ArrayLike) -> FloatArray:
    """Give how far the difference of two readings of one probe may be off, where its error runs straight.

    The worst line within the tolerance goes from one end of it at the ice point to the other at the reading.

    Parameters: tolerance, half-width, K; temperature T of the readings, K (t = T − 273.15 K); difference ΔT, K.
    Returns: half-width, K.
    Valid for: 15 to 250 °C, and probes whose error changes evenly between ice point and reading.
    Equation: 2 · tolerance · |ΔT| / t.
    Source: iec-60584-1 and iec-60751 for the tolerance; the line is derived.

    >>> float(slope_error(1.5, 373.15, 5.0))  # = 2 * 1.5 * 5 / 100
    0.15
    """
    PROBED.check(temperature)
    celsius = np.asarray(temperature, dtype=np.float64) - ZERO_CELSIUS
    return np.asarray(2.0 * np.asarray(tolerance) * np.abs(np.asarray(difference)) / celsius, dtype=np.float64)


def share_within(values: ArrayLike, low: ArrayLike, high: ArrayLike) -> float:
    """Give the share of the values that lie between two ends, which belong to it; nan of no value.

    Parameters: values, of which those that are nan are not counted; low end; high end, shapes that broadcast.
    Returns: 0 to 1.
    Valid for: any.
    Equation: #{low ≤ x ≤ high} / #x.
    Source: definition.

    >>> share_within([1.0, 2.0, 3.0, 4.0], 2.0, 3.0)
    0.5
    """
    x, below, above = np.broadcast_arrays(np.asarray(values, dtype=np.float64), low, high)
    known = np.isfinite(x)
    inside = (x >= below) & (x <= above)
    return float(inside[known].mean()) if known.any() else math.nan


FORMULAS = (
    Formula("Dip of a logged shot", "line(begins) + τ line′ − (min parabola − ½ τ² parabola″)",
            (Symbol("τ", "lag of the probe", "s"),), (), ("incropera, section 5.1",)),
    Formula("Reading through a lag", "τ R′ = T − R",
            (Symbol("R", "reading", "K"), Symbol("T", "temperature", "K"), Symbol("τ", "lag", "s")), (LAG,),
            ("incropera, equation 5.6",)),
    Formula("Difference of two readings", "2 · tolerance · |ΔT| / t",
            (Symbol("ΔT", "difference", "K"), Symbol("t", "temperature of the readings", "°C")), (PROBED,),
            ("iec-60584-1", "iec-60751")),
    Formula("Share of points inside", "#{low ≤ x ≤ high} / #x", (Symbol("x", "logged value", "K"),)),
)  # fmt: skip
