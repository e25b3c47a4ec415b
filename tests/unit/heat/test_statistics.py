"""Draws, intervals and rankings."""

from __future__ import annotations

import math

import numpy as np
import pytest

from guidegen.heat import statistics
from guidegen.heat.statistics import LogTriangular, Normal, Rectangular, Triangular

NAMES = {"boiler mass": 0, "coil contact": 1, "feed": 2, "room": 3}


def test_an_input_keeps_its_column_whatever_else_varies() -> None:
    """The run without the kit sees the same boilers as the run with it."""
    points = statistics.uniforms(len(NAMES), 64, seed=7)
    without = statistics.spread(NAMES, {"boiler mass": Rectangular(0.4, 0.65)}, points)
    with_kit = statistics.spread(
        NAMES, {"coil contact": Rectangular(0.3, 6.0), "boiler mass": Rectangular(0.4, 0.65)}, points
    )
    assert np.array_equal(without["boiler mass"], with_kit["boiler mass"])


def test_same_seed_same_draws_and_another_seed_others() -> None:
    """Draws repeat to the bit, and the seed is what decides them."""
    assert np.array_equal(statistics.uniforms(len(NAMES), 128, 3), statistics.uniforms(len(NAMES), 128, 3))
    assert not np.array_equal(statistics.uniforms(len(NAMES), 128, 3), statistics.uniforms(len(NAMES), 128, 4))


@pytest.mark.parametrize("count", [64, 256])
def test_every_column_has_one_draw_in_each_slice(count: int) -> None:
    """A Sobol sequence of 2ⁿ points puts exactly one into each of 2ⁿ slices of every axis."""
    points = statistics.uniforms(len(NAMES), count)
    for column in points.T:
        assert np.array_equal(np.sort((column * count).astype(int)), np.arange(count))
    assert points.min() > 0
    assert points.max() < 1


def test_ranges_of_a_smooth_output_come_close_with_256_draws() -> None:
    """The 95 % ends of a sum of a rectangular and a normal input come within 2 % of the width of a million draws."""
    names = {"wide": 0, "narrow": 1}
    inputs = {"wide": Rectangular(0.0, 1.0), "narrow": Normal(0.0, 0.1)}
    few = statistics.interval(sum(statistics.spread(names, inputs, statistics.uniforms(2, 256)).values()))
    generator = np.random.default_rng(5)
    many = generator.uniform(0, 1, 10**6) + generator.normal(0, 0.1, 10**6)
    low, high = np.quantile(many, [0.025, 0.975])
    assert abs(few.low - low) < 0.02 * (high - low)
    assert abs(few.high - high) < 0.02 * (high - low)


def test_number_of_draws_must_be_a_power_of_two() -> None:
    """Another number would lose the sequence's balance."""
    with pytest.raises(ValueError, match="not a power of two; the nearest below is 256"):
        statistics.uniforms(len(NAMES), 300)


def test_columns_must_differ_and_be_known() -> None:
    """Two inputs cannot share a column, and an input without one is a mistake."""
    with pytest.raises(ValueError, match="share a column"):
        statistics.spread({"feed": 0, "room": 0}, {}, statistics.uniforms(1, 4))
    with pytest.raises(KeyError, match="no column is kept for pump"):
        statistics.spread(NAMES, {"pump": Rectangular(0, 1)}, statistics.uniforms(len(NAMES), 4))


def test_draws_have_the_mean_and_spread_of_their_distribution() -> None:
    """A rectangle's standard deviation is its width over √12."""
    points = statistics.uniforms(2, 4096)
    drawn = statistics.spread({"a": 0, "b": 1}, {"a": Rectangular(2.0, 5.0), "b": Normal(10.0, 2.0)}, points)
    assert drawn["a"].mean() == pytest.approx(3.5, abs=1e-3)
    assert drawn["a"].std() == pytest.approx(3 / math.sqrt(12), rel=1e-3)
    assert drawn["b"].mean() == pytest.approx(10.0, abs=5e-3)
    assert drawn["b"].std() == pytest.approx(2.0, rel=5e-3)


def test_draws_without_a_value_are_counted_and_left_out() -> None:
    """A recovery that never came is no number; with none at all there is no interval."""
    some = statistics.interval([math.nan, 10.0, 20.0, 30.0, math.nan], 1.0)
    assert (some.low, some.median, some.high, some.missing) == (10.0, 20.0, 30.0, pytest.approx(0.4))
    none = statistics.interval([math.nan, math.nan])
    assert none.missing == 1.0
    assert math.isnan(none.median)


def test_what_lies_beyond_counts_as_the_longest() -> None:
    """A recovery that did not come while it was watched is longer than all that did: 3 of 100 reach over the 97.5 %."""
    times = np.concatenate((np.arange(1.0, 98.0), [math.inf] * 3))
    found = statistics.interval(times)
    assert (found.median, found.high, found.beyond, found.missing) == (50.5, math.inf, 0.03, 0.0)
    assert statistics.interval(np.append(times[:98], [5.0, 6.0])).high < 98.0
    assert statistics.interval([math.inf] * 4).low == math.inf
    assert statistics.interval([-math.inf, 1.0, 2.0], 1.0).low == -math.inf


PROBABILITIES = np.array([0.0, 0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.99, 1.0])


@pytest.mark.parametrize("mode", [0.3, 0.31, 1.1, 5.9, 6.0])
def test_a_triangle_is_scipy_s(mode: float) -> None:
    """Quantiles against scipy's triangular distribution, the mode anywhere between the ends and at them."""
    from scipy.stats import triang

    other = triang(c=(mode - 0.3) / 5.7, loc=0.3, scale=5.7)
    assert Triangular(0.3, mode, 6.0).at(PROBABILITIES) == pytest.approx(other.ppf(PROBABILITIES), abs=1e-12)


@pytest.mark.parametrize("mode", [0.3, 1.1, 6.0])
def test_a_log_triangle_is_scipy_s_of_the_logarithms(mode: float) -> None:
    """The same of the logarithms; it never leaves its ends by a rounding."""
    from scipy.stats import triang

    low, high = math.log(0.3), math.log(6.0)
    other = triang(c=(math.log(mode) - low) / (high - low), loc=low, scale=high - low)
    found = LogTriangular(0.3, mode, 6.0).at(PROBABILITIES)
    assert found == pytest.approx(np.exp(other.ppf(PROBABILITIES)), rel=1e-12)
    assert found[0] == 0.3
    assert found[-1] == 6.0


def test_a_mode_outside_its_ends_is_refused() -> None:
    """A value that cannot be likeliest where it cannot be at all; a logarithm of nothing."""
    with pytest.raises(ValueError, match="mode of a triangle"):
        Triangular(0.0, 2.0, 1.0)
    with pytest.raises(ValueError, match="log-triangle"):
        LogTriangular(0.0, 0.5, 1.0)


def test_rank_correlation_agrees_with_scipy_and_puts_the_strongest_first() -> None:
    """Against scipy's Spearman, with ties and with a missing output."""
    from scipy.stats import spearmanr

    generator = np.random.default_rng(11)
    inputs = {"weak": generator.normal(size=200), "strong": generator.normal(size=200).round(1)}
    output = inputs["strong"] ** 3 - 0.5 * inputs["weak"]
    output[17] = math.nan
    keep = ~np.isnan(output)
    ranked = statistics.Ranked(inputs).correlations(output)
    assert list(ranked) == ["strong", "weak"]
    for name, value in ranked.items():
        assert value == pytest.approx(spearmanr(inputs[name][keep], output[keep]).statistic, abs=1e-9)


def test_what_does_not_vary_correlates_with_nothing() -> None:
    """A constant input or output has no rank, and the order of equals is that of their names."""
    ranked = statistics.Ranked({"b": [1, 1, 1, 1], "a": [2, 2, 2, 2]}).correlations([1, 2, 3, 4])
    assert list(ranked.items()) == [("a", 0.0), ("b", 0.0)]
    assert statistics.Ranked({"a": [1, 2, 3]}).correlations([5, 5, 5]) == {"a": 0.0}
