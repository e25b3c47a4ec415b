"""Least squares, repeated values and groups against NIST's reference data, and a calibration line of JCGM 100."""

from __future__ import annotations

import functools
import math

import numpy as np
import pytest

from guidegen.heat import calibration, repeats
from tests.published.check import Check, printed
from tests.published.reference_data import ATMWTAG, MICHELSO, NUMACC4, REGRESSIONS, SIRSTV, Regression

STRD = "NIST StRD, {}, certified values"
GUM_H3 = "JCGM 100:2008, H.3, table H.6 and H.3.3; readings as public code quotes them, results from memory"

STUCK = ("boxbod", 0)
"""The start from which the solver without bounds runs off along a plateau, where b2 no longer matters; with bounds, as
the machine's own parameters have them, it comes down."""
DIGITS = {"boxbod": 8, "danwood": 8, "thurber": 8, "mgh09": 6, "lanczos3": 8}
ERROR_DIGITS = {"boxbod": 8, "danwood": 8, "thurber": 7, "mgh09": 5, "lanczos3": 8}
"""Digits that are had of the parameters and of their errors: derivatives are taken by differences."""

# JCGM 100, table H.6: readings of a thermometer, °C, and corrections.
READINGS = np.array([21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511])
CORRECTIONS = np.array([-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160])


@functools.cache
def _found(case: Regression, start: int) -> calibration.Calibrated:
    bounds = (np.full(2, 0.01), np.full(2, 1000.0)) if (case.name, start) == STUCK else None
    return calibration.fit(lambda b: case.y - case.model(b, case.x), case.starts[start], bounds)


@functools.cache
def _line() -> calibration.Calibrated:
    return calibration.fit(lambda y: y[0] + y[1] * (READINGS - 20.0) - CORRECTIONS, [0.1, 0.1])


def _at_30() -> tuple[float, float]:
    value, variance = calibration.propagate(lambda y: [y[0] + 10.0 * y[1]], _line().parameters, _line().covariance)
    return float(value[0]), math.sqrt(float(variance[0, 0]))


def _regression(case: Regression, start: int) -> list[Check]:
    source, name = STRD.format(case.name), f"{case.name}-from-start-{start + 1}"
    far = " (with bounds)" if (case.name, start) == STUCK else ""
    made = [
        Check(f"{name}-b{number + 1}", f"b{number + 1} of {case.name}, start {start + 1}{far}", "", value,
              abs(value) * 10.0 ** -DIGITS[case.name], source, "P", "outside", ("Calibration",),
              lambda number=number: _found(case, start).parameters[number])
        for number, value in enumerate(case.certified)
    ]  # fmt: skip
    made += [
        Check(f"{name}-error-b{number + 1}", f"standard error of b{number + 1}{far}", "", value,
              value * 10.0 ** -ERROR_DIGITS[case.name], source, "P", "outside", ("Calibration",),
              lambda number=number: _found(case, start).standard_errors[number])
        for number, value in enumerate(case.errors)
    ]  # fmt: skip
    rss = Check(f"{name}-rss", f"residual sum of squares of {case.name}{far}", "", case.squares, case.squares * 1e-10,
                source, "P", "outside", ("Calibration",),
                lambda: _found(case, start).residual_sum_of_squares)  # fmt: skip
    return [*made, rss]


SCATTER, GROUPS = ("Scatter of repeated values",), ("Groups of repeated values",)
CHECKS = [
    *(check for case in REGRESSIONS for start in (0, 1) for check in _regression(case, start)),
    *(
        Check(f"gum-h3-{name}", quantity, unit, *printed(text), GUM_H3, "M", "outside", (formula,), compute)
        for name, quantity, unit, text, formula, compute in (
            ("intercept", "correction at 20 °C", "K", "-0.1712", "Calibration", lambda: _line().parameters[0]),
            ("u-intercept", "its standard uncertainty", "K", "0.0029", "Calibration",
             lambda: _line().standard_errors[0]),
            ("slope", "slope of the correction", "", "0.00218", "Calibration", lambda: _line().parameters[1]),
            ("u-slope", "its standard uncertainty", "", "0.00067", "Calibration", lambda: _line().standard_errors[1]),
            ("r", "correlation of the two", "", "-0.930", "Calibration", lambda: _line().correlation[0, 1]),
            ("at-30", "correction at 30 °C", "K", "-0.1494", "Propagation of uncertainty", lambda: _at_30()[0]),
            ("u-at-30", "its standard uncertainty", "K", "0.0041", "Propagation of uncertainty", lambda: _at_30()[1]),
        )
    ),
    # The certified digits of the data; of NumAcc4 a tenth around ten million leaves eight of them in a double.
    *(
        Check(f"{name}-{what}", f"{what} of {name}", "", value, abs(value) * off, STRD.format(name), "P", "outside",
              SCATTER, lambda data=data, field=field: getattr(repeats.repeats(data), field))
        for name, data, off, values in (
            ("michelso", MICHELSO, 1e-12, (299.8524, 0.0790105478190518, 0.535199668621283)),
            ("numacc4", NUMACC4, 1e-8, (10000000.2, 0.1, -0.999)),
        )
        for what, field, value in zip(("mean", "deviation", "autocorrelation"), ("mean", "deviation", "following"),
                                      values, strict=True)
    ),
    *(
        Check(f"{name}-{what}", f"{what} of {name}", "", value, value * off, STRD.format(name), "P", "outside",
              GROUPS, lambda data=data, field=field: getattr(repeats.between(data), field))
        for name, data, off, values in (
            ("sirstv", SIRSTV, 1e-11, (5.11462616e-2, 2.1663656e-1, 1.18046237440255, 1.90999039051129e-1)),
            ("atmwtag", ATMWTAG, 1e-8,
             (3.638341875e-9, 1.04951729166667e-8, 1.5946733567793e1, 2.57426544538321e-1)),
        )
        for what, field, value in zip(("between", "within", "F", "R²"),
                                      ("between", "within", "statistic", "explained"), values, strict=True)
    ),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The certified or the guide's value comes out."""
    check.hold()


def test_the_start_that_fails_is_said() -> None:
    """From its first start BoxBOD runs off without bounds: the sum of squares stays far above the certified one."""
    case = REGRESSIONS[0]
    found = calibration.fit(lambda b: case.y - case.model(b, case.x), case.starts[0])
    assert (case.name, 0) == STUCK
    assert found.residual_sum_of_squares > 5 * case.squares


def test_probability_of_groups_agrees_with_another_library() -> None:
    """The probability that goes with F is that of scipy's own test, which adds the squares up otherwise."""
    from scipy.stats import f_oneway

    assert repeats.between(SIRSTV).probability == pytest.approx(float(f_oneway(*SIRSTV).pvalue), rel=1e-9)
