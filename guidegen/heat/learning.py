"""What runs teach about a machine: the posterior of its parameters, and which of them it pins.

Every parameter is counted in steps from what was known before: one step is one standard deviation of its prior, on the
scale on which it is learned. So the prior of all of them is the same, and a narrower posterior is a share of one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.calibration import fit
from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.statistics import Distribution
from guidegen.heat.validity import FloatArray

Scale = Literal["logarithm", "odds", "plain"]
Residuals = Callable[[FloatArray], FloatArray]
NORMAL_95, CHI_95 = 1.959963984540054, 3.841458820694124
"""Quantiles of the normal distribution for 95 %, and its square."""
HALF, COUPLED = 0.5, 0.95
"""A parameter is learned where its interval is at most so much of the prior's, and no |r| with another is so large."""
FURTHEST = 6.0
"""Steps from the prior's centre within which the posterior is looked for."""
TIGHT = 1e-6
"""The relative change of the sum of squares at which the search ends; one step of the prior is worth about one."""
LEAST_SHARE = 0.005
"""Shares nearer to none or all than this are taken as so near: the logarithm of their odds has no end."""


@dataclass(frozen=True, slots=True)
class Prior:
    """What is known of a parameter before a run: a normal distribution of its logarithm, of that of its odds, or of it.

    >>> prior = Prior(math.log(2.0), 0.5, "logarithm")
    >>> round(float(prior.value(0.0)), 9), round(float(prior.steps(prior.value(1.5))), 9)
    (2.0, 1.5)
    """

    centre: float
    spread: float
    scale: Scale

    def value(self, steps: ArrayLike) -> FloatArray:
        """Give the parameter so many steps from the centre."""
        at = self.centre + self.spread * np.asarray(steps, dtype=np.float64)
        if self.scale == "plain":
            return at
        return np.asarray(np.exp(at) if self.scale == "logarithm" else 1.0 / (1.0 + np.exp(-at)))

    def steps(self, value: ArrayLike) -> FloatArray:
        """Give how many steps from the centre a value of the parameter is."""
        return np.asarray((_on(self.scale, value) - self.centre) / self.spread)


def _on(scale: Scale, value: ArrayLike) -> FloatArray:
    x = np.asarray(value, dtype=np.float64)
    if scale == "odds":
        share = np.clip(x, LEAST_SHARE, 1.0 - LEAST_SHARE)
        return np.asarray(np.log(share / (1.0 - share)))
    return np.asarray(np.log(x)) if scale == "logarithm" else x


def prior(distribution: Distribution, scale: Scale) -> Prior:
    """Give the prior that has the 95 % interval of a distribution.

    Parameters: distribution of the parameter; scale on which it is learned.
    Returns: a `Prior`; its centre is the middle of the interval on that scale.
    Valid for: values above zero on the scale `logarithm`, from 0 to 1 on the scale `odds`.
    Equation: centre ± 1.96 spread = s(x₂.₅), s(x₉₇.₅), s the scale.
    Source: jcgm-101, 6.4.7 (a normal distribution from an interval).

    >>> from guidegen.heat.statistics import Normal
    >>> made = prior(Normal(5.0, 1.0), "plain")
    >>> round(made.centre, 9), round(made.spread, 9)
    (5.0, 1.0)
    """
    low, high = (float(_on(scale, one)) for one in distribution.at([0.025, 0.975]))
    return Prior((low + high) / 2, (high - low) / (2 * NORMAL_95), scale)


@dataclass(frozen=True)
class Posterior:
    """The posterior of k parameters, in steps: centre (k,), covariance (k, k), how it was found.

    residuals (n,) and slopes (n, k) are those of the data at the centre; squares is the sum over data and prior.
    """

    centre: FloatArray
    covariance: FloatArray
    residuals: FloatArray
    slopes: FloatArray
    squares: float
    starts: tuple[float, ...]
    """The sum of squares that each start came to."""

    @property
    def deviations(self) -> FloatArray:
        """Standard deviations, in steps: below one by what the data teach."""
        return np.asarray(np.sqrt(np.diag(self.covariance)))

    @property
    def correlation(self) -> FloatArray:
        """Correlation of the parameters, (k, k)."""
        spread = self.deviations
        return np.asarray(self.covariance / np.outer(spread, spread))


def posterior(
    residuals: Residuals,
    slopes: Residuals,
    starts: Sequence[FloatArray],
    tight: float = TIGHT,
    most: int = 100,
) -> Posterior:
    """Find the most likely parameters after some data, and how sure they are.

    Least squares over the weighted residuals and the prior together, from several starts; the best one counts.

    Parameters: residuals, from steps (k,) to what data and model differ by over its standard deviation (n,); slopes,
        from steps to the derivatives of that (n, k); starts, each (k,); tight, the relative change of the sum of
        squares at which the search ends; most, how often a start asks for residuals.
    Returns: a `Posterior`.
    Valid for: residuals that hardly bend within the posterior; `profile` says where they do.
    Equation: min Σ r² + Σ z²; covariance (JᵀJ + I)⁻¹.
    Source: jcgm-101, 6.4.7 for the prior; more-1978 for the search.

    >>> found = posterior(lambda z: np.array([z[0] - 2.0]), lambda z: np.ones((1, 1)), [np.zeros(1)])
    >>> round(float(found.centre[0]), 6), round(float(found.covariance[0, 0]), 6)  # = 2 / (1 + 1), 1 / (1 + 1)
    (1.0, 0.5)
    """
    width = len(starts[0])
    ends = (np.full(width, -FURTHEST), np.full(width, FURTHEST))
    found = [
        fit(
            lambda z: np.concatenate((residuals(z), z)), start, ends, tight=tight, most=most,
            jacobian=lambda z: np.concatenate((slopes(z), np.eye(width))),
        )
        for start in starts
    ]  # fmt: skip
    best = min(found, key=lambda one: one.residual_sum_of_squares)
    steep = best.jacobian[:-width]
    return Posterior(
        best.parameters, np.asarray(np.linalg.inv(steep.T @ steep + np.eye(width)), dtype=np.float64),
        best.residuals[:-width], steep,
        best.residual_sum_of_squares, tuple(one.residual_sum_of_squares for one in found),
    )  # fmt: skip


def profile(residuals: Residuals, found: Posterior, which: int, turns: int = 2) -> tuple[float, float]:
    """Find the ends of a parameter's 95 % interval by the profile of the likelihood, in steps.

    At each try the parameter stands still and all others go where they fit best, with the slopes of the centre. Where
    these lead them less than all the way the profile looks too steep, so no end comes nearer than the covariance says.

    Parameters: residuals as in `posterior`; found, its result; which parameter; turns, how often an end is moved.
    Returns: the lower and the upper end, steps.
    Valid for: a profile with one valley.
    Equation: min over the others Σ r² + Σ z² = least + 3.84.
    Source: venzon-moolgavkar-1988.

    >>> line = lambda z: np.array([3.0 * (z[0] - 1.0)])
    >>> there = posterior(line, lambda z: np.full((1, 1), 3.0), [np.zeros(1)])
    >>> [round(one, 3) for one in profile(line, there, 0)]  # = 0.9 - 1.96 / sqrt(1 + 9), 0.9 + 1.96 / sqrt(1 + 9)
    [0.28, 1.52]
    """
    others = np.arange(len(found.centre)) != which
    steep = found.slopes[:, others]
    inverse = np.linalg.inv(steep.T @ steep + np.eye(int(others.sum())))
    along = found.covariance[:, which] / found.covariance[which, which]
    ends = []
    for side in (-1.0, 1.0):
        far = side * NORMAL_95 * float(found.deviations[which])
        for _ in range(turns):
            z = found.centre + along * far
            for _ in range(2):
                z[others] -= inverse @ (steep.T @ residuals(z) + z[others])
            left = residuals(z)
            rise = float(left @ left + z @ z) - found.squares
            # A parabola through the centre; where the valley is nearly flat the end is moved by four times at most.
            far *= float(np.clip(math.sqrt(CHI_95 / max(rise, 1e-9)), 0.25, 4.0))
        least = NORMAL_95 * float(found.deviations[which])
        ends.append(float(found.centre[which]) + side * max(abs(far), least))
    return ends[0], ends[1]


def without(found: Posterior, rows: FloatArray, residuals: Residuals | None = None) -> FloatArray:
    """Give where the parameters would have been without some of the data.

    Parameters: found, a posterior; rows, which residuals are left out, (n,) true or false; residuals, a function for
        the others as in `posterior`, for a second turn, or none.
    Returns: steps (k,).
    Valid for: data that are not needed to tell one valley from another.
    Equation: a Gauss–Newton step from the centre, its slopes without the rows.
    Source: none; the definition of leaving out.

    >>> both = posterior(lambda z: np.array([z[0] - 2.0, z[0] - 4.0]), lambda z: np.ones((2, 1)), [np.zeros(1)])
    >>> without(both, np.array([False, True])).round(6)  # as with the first alone: 2 / (1 + 1)
    array([1.])
    """
    kept = ~np.asarray(rows, dtype=bool)
    steep = found.slopes[kept]
    inverse = np.linalg.inv(steep.T @ steep + np.eye(len(found.centre)))
    z = found.centre - inverse @ (steep.T @ found.residuals[kept] + found.centre)
    if residuals is not None:
        z = z - inverse @ (steep.T @ residuals(z) + z)
    return np.asarray(z)


def pinned(found: Posterior, named: Sequence[bool]) -> FloatArray:
    """Say which parameters the data pin.

    Parameters: found; named, whether each is a parameter of the machine, rather than of a probe or a single drink.
    Returns: true or false, (k,).
    Valid for: any posterior.
    Equation: σ ≤ ½ and |r| < 0.95 with every other named one.
    Source: none; where two move together, the data know their combination alone.

    >>> apart = Posterior(np.zeros(2), np.diag([0.04, 0.81]), np.zeros(0), np.zeros((0, 2)), 0.0, ())
    >>> pinned(apart, [True, True])
    array([ True, False])
    """
    is_named = np.asarray(named, dtype=bool)
    coupling = np.abs(found.correlation - np.eye(len(found.centre)))[:, is_named].max(axis=1, initial=0.0)
    return np.asarray(is_named & (found.deviations <= HALF) & (coupling < COUPLED))


_STEPS = Symbol("z", "parameter, in standard deviations of its prior", "")
FORMULAS = (
    Formula("Posterior", "min Σ r² + Σ z², covariance (JᵀJ + I)⁻¹",
            (Symbol("r", "data less model, over its standard deviation", ""), _STEPS,
             Symbol("J", "derivatives of r", "")), (), ("more-1978", "jcgm-101, 6.4.7")),
    Formula("Ends by the profile", "min over the others Σ r² + Σ z² = least + 3.84",
            (Symbol("r", "data less model, over its standard deviation", ""), _STEPS), (), ("venzon-moolgavkar-1988",)),
)  # fmt: skip
