"""Posterior, profile and residuals against closed forms that are worked out here."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from guidegen.heat.learning import Posterior, pinned, posterior, prior, profile, without
from guidegen.heat.residuals import correlated, scatter, whitened
from guidegen.heat.statistics import LogTriangular, Normal

RNG = np.random.default_rng(5)
DESIGN = RNG.normal(size=(40, 3))
SEEN = DESIGN @ np.array([1.0, -0.5, 0.2]) + RNG.normal(0.0, 1.0, 40)


def found() -> Posterior:
    """A straight model from three starts."""
    starts = [np.zeros(3), np.full(3, 2.0), np.full(3, -2.0)]
    return posterior(lambda z: DESIGN @ z - SEEN, lambda z: DESIGN, starts)


def test_a_straight_model_has_the_posterior_of_a_joint_normal_distribution() -> None:
    """Parameters and data are jointly normal; conditioning on the data by their covariance gives the same."""
    both = DESIGN @ DESIGN.T + np.eye(40)
    mean = DESIGN.T @ np.linalg.solve(both, SEEN)
    covariance = np.eye(3) - DESIGN.T @ np.linalg.solve(both, DESIGN)
    assert found().centre == pytest.approx(mean, abs=1e-6)
    assert found().covariance == pytest.approx(covariance, abs=1e-9)
    assert max(found().starts) - min(found().starts) < 1e-6


def test_leaving_data_out_is_fitting_the_others() -> None:
    """Of a straight model one step is exact."""
    out = np.arange(40) < 10
    kept = ~out
    again = posterior(lambda z: DESIGN[kept] @ z - SEEN[kept], lambda z: DESIGN[kept], [np.zeros(3)])
    assert without(found(), out) == pytest.approx(again.centre, abs=1e-6)


def test_the_profile_of_a_bent_model_is_where_the_likelihood_says() -> None:
    """One parameter, r = 2 (exp z − 1.5): the ends are found by bisection of Σ r² + z²."""

    def misfit(z: float) -> float:
        return (2.0 * (np.exp(z) - 1.5)) ** 2 + z**2

    there = posterior(
        lambda z: np.array([2.0 * (np.exp(z[0]) - 1.5)]), lambda z: np.array([[2.0 * np.exp(z[0])]]), [np.zeros(1)]
    )
    best = float(there.centre[0])
    low, high = profile(lambda z: np.array([2.0 * (np.exp(z[0]) - 1.5)]), there, 0, turns=8)
    rise = misfit(best) + 3.841458820694124
    straight = 1.959964 * float(there.deviations[0])
    lower, upper = (brentq(lambda z: misfit(z) - rise, *ends) for ends in ((best - 6.0, best), (best, best + 6.0)))
    assert best - lower > straight > upper - best  # the exponential is flat below and steep above
    assert low == pytest.approx(lower, abs=0.02)
    assert high == pytest.approx(best + straight, abs=1e-6)


def test_two_that_the_data_see_together_are_not_pinned() -> None:
    """A thousand looks at a sum narrow the sum, and neither of its parts."""
    sums = np.ones((1000, 2))
    there = posterior(lambda z: sums @ z, lambda z: sums, [np.zeros(2)])
    assert abs(there.correlation[0, 1]) > 0.99
    assert not pinned(there, [True, True]).any()


def test_a_parameter_that_is_tied_to_a_probe_alone_is_pinned_where_its_interval_halves() -> None:
    """What belongs to a probe widens the interval, and that is all."""
    tied = np.linalg.inv(np.array([[400.0, 385.0], [385.0, 400.0]]))
    there = Posterior(np.zeros(2), tied, np.zeros(0), np.zeros((0, 2)), 0.0, ())
    assert abs(there.correlation[0, 1]) > 0.95
    assert pinned(there, [True, False])[0]
    assert not pinned(there, [True, True]).any()


def test_a_prior_has_the_interval_of_its_distribution() -> None:
    """The ends of 95 % are those of the distribution, whatever its form."""
    for scale, of in (("logarithm", LogTriangular(0.7, 2.4, 5.0)), ("plain", Normal(5.0, 2.0))):
        made = prior(of, scale)
        assert made.value([-1.959964, 1.959964]) == pytest.approx(of.at([0.025, 0.975]), rel=1e-6)


def test_whitening_is_the_root_of_the_inverse_covariance() -> None:
    """The sum of squares is that of the full covariance σ² exp(−|Δt|/τ), between unequal steps too."""
    time = np.cumsum(RNG.uniform(0.5, 4.0, 30))
    r = RNG.normal(size=30)
    covariance = 0.49 * np.exp(-np.abs(time[:, None] - time) / 5.0)
    white = whitened(r, time, 0.7, 5.0)
    assert float(white @ white) == pytest.approx(float(r @ np.linalg.solve(covariance, r)), rel=1e-9)


def test_scatter_finds_how_long_residuals_last() -> None:
    """Of a process with σ 0.5 K and τ 20 s both are found within a quarter and the neighbours of the list."""
    values = [0.0]
    for _ in range(3000):
        values.append(values[-1] * np.exp(-1 / 20) + 0.5 * np.sqrt(1 - np.exp(-2 / 20)) * RNG.normal())
    deviation, fades = scatter(values, np.arange(3001.0), 0.01)
    assert deviation == pytest.approx(0.5, rel=0.25)
    assert fades in (10.0, 20.0, 40.0)


def test_chance_is_told_from_what_goes_on() -> None:
    """White noise is called so in about 95 % of cases, a slow swing below it never."""
    white = [correlated(np.random.default_rng(seed).normal(size=200)) for seed in range(200)]
    assert 0.01 <= np.mean(np.array(white) < 0.05) <= 0.11
    swing = np.sin(np.arange(200) / 15.0)
    assert correlated(swing + RNG.normal(size=200)) < 0.01
