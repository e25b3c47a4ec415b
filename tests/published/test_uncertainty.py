"""Draws, propagation and least squares against JCGM 100, JCGM 101 and NIST's reference data."""

from __future__ import annotations

import functools
import math
from statistics import NormalDist

import numpy as np
import pytest

from guidegen.heat import calibration, statistics
from tests.published.check import Check, printed

JCGM_101 = "JCGM 101:2008, 9.2.3 (rectangular) and 9.2.2 (normal), from memory; the rows beside it are exact"
GUM_H2 = "JCGM 100:2008, H.2, tables H.2 to H.4, from memory; recomputed from its printed observations"
MISRA = "NIST StRD, Misra1a, certified values"

# JCGM 100 table H.2: amplitude in V, current in mA, phase in rad, five observations.
VOLTAGE = (5.007, 4.994, 5.005, 4.990, 4.999)
CURRENT = (19.663, 19.639, 19.640, 19.685, 19.678)
PHASE = (1.0456, 1.0438, 1.0468, 1.0428, 1.0433)

# NIST Misra1a: monomolecular adsorption.
VOLUME = np.array([10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78])
GAS_PRESSURE = np.array(
    [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0]
)


@functools.cache
def _sum_of_four(distribution: statistics.Distribution) -> statistics.Interval:
    names = {"first": 0, "second": 1, "third": 2, "fourth": 3}
    points = statistics.uniforms(4, 2**18)
    values = statistics.spread(names, dict.fromkeys(names, distribution), points)
    return statistics.interval(sum(values.values()), 0.95)


RECTANGULAR = statistics.Rectangular(-math.sqrt(3), math.sqrt(3))
NORMAL = statistics.Normal(0.0, 1.0)


@functools.cache
def _impedance() -> tuple[tuple[float, ...], tuple[float, ...], np.ndarray]:
    """Give value, standard uncertainty and correlation of resistance, reactance and impedance."""
    observed = np.array([VOLTAGE, np.array(CURRENT) * 1e-3, PHASE])
    covariance = np.cov(observed) / observed.shape[1]
    values, spread = calibration.propagate(
        lambda x: [x[0] / x[1] * np.cos(x[2]), x[0] / x[1] * np.sin(x[2]), x[0] / x[1]],
        list(observed.mean(axis=1)), covariance,
    )  # fmt: skip
    error = np.sqrt(np.diag(spread))
    return tuple(values), tuple(error), spread / np.outer(error, error)


@functools.cache
def _misra(start: tuple[float, float]) -> calibration.Fit:
    return calibration.fit(lambda b: VOLUME - b[0] * (1 - np.exp(-b[1] * GAS_PRESSURE)), start)


QUANTITIES = ("resistance", "reactance", "impedance")

CHECKS = [
    Check("rectangular-low", "2.5 % point of the sum of four rectangular inputs", "", -3.88, 0.005, JCGM_101,
          "M", "outside", ("Draws of the inputs",),
          lambda: _sum_of_four(RECTANGULAR).low),
    Check("rectangular-high", "97.5 % point of the sum of four rectangular inputs", "", 3.88, 0.005, JCGM_101,
          "M", "outside", ("Draws of the inputs",),
          lambda: _sum_of_four(RECTANGULAR).high),
    Check("normal-high", "97.5 % point of the sum of four normal inputs", "", 3.92, 0.005, JCGM_101,
          "M", "outside", ("Draws of the inputs",),
          lambda: _sum_of_four(NORMAL).high),
    # Irwin and Hall: the tail of a sum of four uniform inputs is (4 − s)⁴ / 24.
    Check("rectangular-exact", "the same, by the sum's own distribution", "",
          2 * math.sqrt(3) * (4 - (24 * 0.025) ** 0.25 - 2), 0.005, "exact: Irwin and Hall",
          "L", "derived", ("Draws of the inputs",),
          lambda: _sum_of_four(RECTANGULAR).high),
    Check("normal-exact", "the same of four normal inputs: twice the normal distribution's point", "",
          2 * NormalDist().inv_cdf(0.975), 0.005, "exact: Python's statistics.NormalDist",
          "L", "derived", ("Draws of the inputs",),
          lambda: _sum_of_four(NORMAL).high),
    *(
        Check(f"gum-h2-{name}", name, "Ω", *printed(text), GUM_H2,
              "M", "outside", ("Propagation of uncertainty",), lambda i=i: _impedance()[0][i])
        for i, (name, text) in enumerate(zip(QUANTITIES, ("127.732", "219.847", "254.260"), strict=True))
    ),
    # A whole unit: of the reactance 0.295 is printed, and the printed observations give 0.2956.
    *(
        Check(f"gum-h2-u-{name}", f"standard uncertainty of the {name}", "Ω", *printed(text, 1.0), GUM_H2,
              "M", "outside", ("Propagation of uncertainty",),
              lambda i=i: _impedance()[1][i])
        for i, (name, text) in enumerate(zip(QUANTITIES, ("0.071", "0.295", "0.236"), strict=True))
    ),
    *(
        Check(f"gum-h2-r-{i}{j}", f"correlation of {QUANTITIES[i]} and {QUANTITIES[j]}", "", *printed(text), GUM_H2,
              "M", "outside", ("Propagation of uncertainty",), lambda i=i, j=j: _impedance()[2][i, j])
        for i, j, text in ((0, 1, "-0.588"), (0, 2, "-0.485"), (1, 2, "0.993"))
    ),
    # At least eight digits are asked for; nine are had.
    *(
        Check(f"misra1a-{name}-from-start-{number}", name, "", expected, abs(expected) * 1e-9, MISRA,
              "P", "outside", ("Calibration",),
              lambda start=start, pick=pick: pick(_misra(start)))
        for number, start in ((1, (500.0, 1e-4)), (2, (250.0, 5e-4)))
        for name, expected, pick in (
            ("b1", 2.3894212918e2, lambda found: found.parameters[0]),
            ("b2", 5.5015643181e-4, lambda found: found.parameters[1]),
            ("rss", 1.2455138894e-1, lambda found: found.residual_sum_of_squares),
        )
    ),
    # Their derivatives are taken by differences, so the errors have fewer digits than the parameters.
    Check("misra1a-error-b1", "standard error of b1", "", 2.7070075241, 1e-6, MISRA, "P", "outside", ("Calibration",),
          lambda: _misra((250.0, 5e-4)).standard_errors[0]),
    Check("misra1a-error-b2", "standard error of b2", "", 7.2668688436e-6, 1e-12, MISRA,
          "P", "outside", ("Calibration",),
          lambda: _misra((250.0, 5e-4)).standard_errors[1]),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The guide's or the reference data's value comes out."""
    check.hold()


def test_propagation_agrees_with_an_independent_library() -> None:
    """The uncertainty of the impedance agrees with `uncertainties`, which derives symbolically."""
    from uncertainties import correlated_values, covariance_matrix
    from uncertainties.umath import cos, sin

    observed = np.array([VOLTAGE, np.array(CURRENT) * 1e-3, PHASE])
    voltage, current, phase = correlated_values(list(observed.mean(axis=1)), np.cov(observed) / 5)
    outputs = [voltage / current * cos(phase), voltage / current * sin(phase), voltage / current]
    expected = np.sqrt(np.diag(covariance_matrix(outputs)))
    assert _impedance()[1] == pytest.approx(expected, rel=1e-6)
    assert _impedance()[0] == pytest.approx([one.nominal_value for one in outputs], rel=1e-12)
