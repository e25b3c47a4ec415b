"""Least squares for calibration."""

from __future__ import annotations

import math

import numpy as np
import pytest

from guidegen.heat.calibration import fit, propagate


def test_straight_line_has_the_textbook_errors() -> None:
    """Slope, intercept and their standard errors agree with the closed form, worked out with numpy alone."""
    x = np.array([1.0, 2.0, 3.0, 4.0, 5.0])
    y = np.array([2.1, 3.9, 6.2, 7.8, 10.1])
    found = fit(lambda p: p[0] + p[1] * x - y, [1.0, 1.0])
    slope, intercept = np.polyfit(x, y, 1)
    residual = y - intercept - slope * x
    variance = (residual**2).sum() / 3
    spread = ((x - x.mean()) ** 2).sum()
    assert found.parameters == pytest.approx([intercept, slope], rel=1e-9)
    assert found.standard_errors == pytest.approx(
        [math.sqrt(variance * (1 / 5 + x.mean() ** 2 / spread)), math.sqrt(variance / spread)], rel=1e-6
    )
    assert found.correlation[0, 1] == pytest.approx(-x.mean() / math.sqrt((x**2).mean()), rel=1e-6)
    assert found.degrees_of_freedom == 3
    assert found.converged


def test_bounds_hold() -> None:
    """A parameter that would go below nothing stops at its bound."""
    x = np.linspace(0, 1, 20)
    found = fit(lambda p: p[0] * x + p[1] - (1 - 0.5 * x), [1.0, 0.5], ([0.0, 0.0], [10.0, 10.0]))
    assert found.parameters[0] == pytest.approx(0.0, abs=1e-9)
    assert found.parameters[1] == pytest.approx(0.75, abs=1e-6)


def test_two_parameters_that_only_their_sum_shows_have_infinite_errors() -> None:
    """Contact and loss that the log cannot separate are reported as unknown, not known to many digits."""
    x = np.linspace(0, 3, 30)
    found = fit(lambda p: (p[0] + p[1]) * x - 3.0 * x - 0.01 * np.sin(20 * x), [1.0, 1.0])
    assert np.isinf(found.standard_errors).all()


def test_parameter_without_any_effect_has_an_infinite_error() -> None:
    """A parameter that changes nothing is not pinned."""
    x = np.linspace(0, 3, 30)
    assert np.isinf(fit(lambda p: p[0] * x + 0 * p[1] - x**2, [1.0, 1.0]).standard_errors).all()


def test_too_few_observations_are_refused() -> None:
    """Two points pin two parameters but leave nothing to estimate their uncertainty from."""
    with pytest.raises(ValueError, match="2 observations cannot pin 2 parameters"):
        fit(lambda p: p - np.array([1.0, 2.0]), [0.0, 0.0])


def test_a_lag_is_found_again_in_a_noisy_log() -> None:
    """The step response of a sensor with a lag of 3 s gives the lag back within three standard errors."""
    generator = np.random.default_rng(2)
    time = np.arange(0.0, 30.0, 0.5)
    log = 60 * (1 - np.exp(-time / 3.0)) + 20 + generator.normal(0, 0.2, time.size)
    found = fit(lambda p: p[0] * (1 - np.exp(-time / p[1])) + p[2] - log, [50.0, 8.0, 10.0])
    assert abs(found.parameters[1] - 3.0) < 3 * found.standard_errors[1]
    assert found.standard_errors[1] < 0.05


def test_propagation_of_a_linear_formula_is_exact() -> None:
    """For a straight formula the law of propagation is A U Aᵀ."""
    matrix = np.array([[1.0, 2.0], [3.0, -1.0]])
    covariance = np.array([[0.04, 0.01], [0.01, 0.09]])
    value, spread = propagate(lambda x: matrix @ x, [5.0, 7.0], covariance)
    assert value == pytest.approx(matrix @ [5.0, 7.0])
    assert spread == pytest.approx(matrix @ covariance @ matrix.T, rel=1e-9)


def test_input_that_is_exact_adds_nothing() -> None:
    """An input without uncertainty leaves the output's uncertainty to the others."""
    _, spread = propagate(lambda x: [x[0] * x[1]], [2.0, 3.0], [[0.01, 0.0], [0.0, 0.0]])
    assert float(spread[0, 0]) == pytest.approx(0.09, rel=1e-9)
