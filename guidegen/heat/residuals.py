"""Residuals in the order of time: how they scatter, how they follow each other, and what that makes them worth."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import chdtrc

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

CORRELATED = Validity("residuals in a row", 20, 1e9, "", "ljung-box-1978")


def whitened(
    residuals: ArrayLike, time: ArrayLike, deviation: float, fades: float = 0.0, white: float = 0.0
) -> FloatArray:
    """Take from residuals what the one before already says, and count them in standard deviations.

    Parameters: residuals r, (n,) or (n, k), in the order of time; time t, s, (n,), which goes back where another
        stretch begins; deviation σ; fades, the time τ in which their correlation falls to 1/e, s, or none; white, a
        standard deviation s that each has for itself.
    Returns: w, same shape, independent and of unit variance where r is a process of that kind.
    Valid for: an exponential correlation, also between unequal steps.
    Equation: w_i = (r_i − a r_{i−1}) / √(σ² (1 − a²) + s²), a = exp(−Δt/τ).
    Source: uhlenbeck-ornstein-1930.

    >>> whitened([1.0, 1.0], [0.0, 1.0], 0.5)
    array([2., 2.])
    """
    r, t = np.asarray(residuals, dtype=np.float64), np.asarray(time, dtype=np.float64)
    carried = _carried(t, fades).reshape(-1, *(1,) * (r.ndim - 1))
    return np.asarray((r - carried * np.roll(r, 1, axis=0)) / np.sqrt(deviation**2 * (1.0 - carried**2) + white**2))


def _carried(t: FloatArray, fades: float) -> FloatArray:
    step = np.diff(t, prepend=np.inf)
    return np.where(step > 0, np.exp(-np.abs(step) / fades), 0.0) if fades > 0 else np.zeros(len(t))


FADES = (0.0, 2.0, 5.0, 10.0, 20.0, 40.0, 80.0, 160.0, 320.0)
"""s: times in which the correlation of residuals may fall to 1/e."""
DEVIATIONS = 30
"""Standard deviations that are tried, evenly by their logarithm."""


def scatter(residuals: ArrayLike, time: ArrayLike, white: float) -> tuple[float, float]:
    """Give the standard deviation of residuals and the time in which their correlation fades.

    Parameters: residuals r, (n,), in the order of time; time t, s, as in `whitened`; white, a standard deviation that
        each has for itself, above zero.
    Returns: σ and τ, s.
    Valid for: some twenty residuals or more; fewer are taken as white.
    Equation: the most likely of a list of τ and of σ.
    Source: uhlenbeck-ornstein-1930.

    >>> scatter(0.5 * (-1.0) ** np.arange(100), np.arange(100.0), 0.1)[1]
    0.0
    """
    r, t = np.asarray(residuals, dtype=np.float64), np.asarray(time, dtype=np.float64)
    highest = max(2.0 * float(np.sqrt(np.mean(r**2))), 2.0 * white)
    best = (np.inf, white, 0.0)
    for fades in FADES if len(r) >= CORRELATED.low else FADES[:1]:
        carried = _carried(t, fades)
        squares = (r - carried * np.roll(r, 1)) ** 2
        for deviation in np.geomspace(0.1 * white, highest, DEVIATIONS):
            variance = deviation**2 * (1.0 - carried**2) + white**2
            best = min(best, (float((squares / variance + np.log(variance)).sum()), float(deviation), fades))
    return best[1], best[2]


def correlated(residuals: ArrayLike, lags: int = 10) -> float:
    """Give how often chance alone would correlate residuals in a row as much.

    Parameters: residuals, (n,), in the order of time; lags, how many are counted.
    Returns: the probability; a small one says that the model leaves out something that goes on for a while.
    Valid for: twenty residuals or more.
    Equation: Q = n (n + 2) Σ r_k² / (n − k), χ² with as many degrees of freedom as lags.
    Source: ljung-box-1978.

    >>> correlated(np.sin(np.arange(200) / 20.0)) < 1e-6
    True
    """
    r = np.asarray(residuals, dtype=np.float64)
    CORRELATED.check(len(r))
    centred = r - r.mean()
    whole = float(centred @ centred)
    if whole == 0.0:
        return 1.0
    parts = [float(centred[:-k] @ centred[k:]) / whole for k in range(1, lags + 1)]
    q = len(r) * (len(r) + 2) * sum(one**2 / (len(r) - k) for k, one in enumerate(parts, 1))
    return float(chdtrc(lags, q))


FORMULAS = (
    Formula("Residuals that follow each other", "w = (r − a r₋₁) / √(σ² (1 − a²) + s²), a = exp(−Δt/τ)",
            (Symbol("r", "data less model", "K"), Symbol("σ", "its standard deviation", "K"),
             Symbol("s", "the part of it that each row has for itself", "K"),
             Symbol("τ", "time in which the correlation fades", "s")), (), ("uhlenbeck-ornstein-1930",)),
    Formula("Correlation of residuals", "Q = n (n + 2) Σ r_k² / (n − k)",
            (Symbol("r_k", "correlation over k rows", ""), Symbol("n", "rows", "")), (CORRELATED,),
            ("ljung-box-1978",)),
)  # fmt: skip
