"""Figures of a logged shot against closed forms of a lagging probe, and how measured and computed are compared."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from guidegen.heat import evaluation, logged
from guidegen.heat.validity import ValidityError
from tests.published.check import Check, printed

LAGGED = "a first-order probe's answer, in closed form, worked out in the test"
DEFINITION = "definition in ISO 13528, 9.7, arithmetic by hand"

LAG, CURVATURE, LOWEST, BEGINS, ENDS, TURN = 3.0, 0.02, 365.0, 20.0, 48.0, 45.0
TIME = np.arange(0.0, 200.0, 1.0)


def _fallen(time: np.ndarray) -> np.ndarray:
    """At rest until the shot begins, then a parabola that is lowest at `TURN`."""
    bottom = LOWEST + 0.5 * CURVATURE * (time - TURN) ** 2
    return np.where(time < BEGINS, LOWEST + 0.5 * CURVATURE * (BEGINS - TURN) ** 2, bottom)


def _seen(time: np.ndarray) -> np.ndarray:
    """What a probe shows of it: of ½ c s², τ late and ½ c τ² higher, once what the kink left has died out."""
    since = np.maximum(time - BEGINS, 0.0)
    late = LOWEST + 0.5 * CURVATURE * ((time - TURN - LAG) ** 2 + LAG**2)
    at_kink = LOWEST + 0.5 * CURVATURE * ((BEGINS - TURN - LAG) ** 2 + LAG**2)
    rest = _fallen(np.array([BEGINS]))[0]
    return np.where(time < BEGINS, rest, late + (rest - at_kink) * np.exp(-since / LAG))


def _dip() -> logged.LoggedDip:
    return logged.dip(TIME, _seen(TIME), BEGINS, ENDS, LAG)


CHECKS = [
    # ½ c (20 − 45)² = 6.25; what the kink left is 3.5e-3 K at the turn.
    Check("dip-corrected", "drop of a parabola, seen 3 s late, lag corrected", "K", 6.25, 0.01, LAGGED,
          "L", "derived", ("Dip of a logged shot",), lambda: _dip().drop),
    # ½ c τ² = 0.09.
    Check("dip-hidden", "what the lag hides of it", "K", 0.09, 0.01, LAGGED, "L", "derived",
          ("Dip of a logged shot",), lambda: _dip().correction),
    *(
        Check(f"ramp-{time}", f"reading of a ramp of 1 K/s through a lag of 3 s after {time} s", "K",
              time - 3.0 * (1.0 - math.exp(-time / 3.0)), 1e-12, "exact answer to a ramp, arithmetic in the test",
              "L", "derived", ("Reading through a lag",),
              lambda time=time: logged.through_lag(np.arange(0.0, 31.0), np.arange(0.0, 31.0), 3.0)[time])
        for time in (1, 5, 30)
    ),
    Check("slope", "difference of 5 K at 100 °C, tolerance 1.5 K", "K", *printed("0.150"),
          "2 · 1.5 · 5 / 100, the line from −1.5 K at 0 °C to 1.5 K at 100 °C, by hand", "L", "derived",
          ("Difference of two readings",), lambda: logged.slope_error(1.5, 373.15, 5.0)),
    Check("en", "E_n of 10.20 ± 0.30 and 9.70 ± 0.40", "", *printed("1.000"), DEFINITION, "L", "derived",
          ("Normalised error",), lambda: evaluation.normalised_error(10.20, 0.30, 9.70, 0.40)),
    Check("en-sign", "E_n of 0.38 ± 0.05 and 0.44 ± 0.12", "", *printed("-0.4615"), DEFINITION, "L", "derived",
          ("Normalised error",), lambda: evaluation.normalised_error(0.38, 0.05, 0.44, 0.12)),
    *(
        Check(f"mean-{name}", f"{name} end of the mean of 2, 4, 4, 5, 7", "", end, 1e-9,
              "Student's interval by scipy.stats", "L", "outside", ("Mean of repeated measurements",),
              lambda sign=sign: (made := evaluation.mean_of([2, 4, 4, 5, 7])).value + sign * made.half)
        for name, sign, end in zip(
            ("lower", "upper"), (-1, 1), stats.t.interval(0.95, 4, 4.4, stats.sem([2, 4, 4, 5, 7])), strict=True
        )
    ),
    Check("welch", "degrees of freedom, repetition 1 of 10 readings beside 2 that all share", "", 9 * 25.0, 1e-6,
          "Welch and Satterthwaite's formula, 9 (√5)⁴ by hand", "L", "derived", ("Mean of repeated measurements",),
          lambda: evaluation.mean_of(np.sqrt(10.0) * _unit(10), 2.0).freedom),
    Check("share", "share of 1, 2, 3, 4, 5 from 2 to 4", "", 0.6, 1e-12, "counted", "L", "derived",
          ("Share of points inside",), lambda: logged.share_within([1, 2, 3, 4, 5], 2, 4)),
]  # fmt: skip


def _unit(count: int) -> np.ndarray:
    """Numbers whose mean is zero and whose standard deviation is one."""
    numbers = np.arange(count, dtype=float)
    return (numbers - numbers.mean()) / numbers.std(ddof=1)


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The value that was worked out elsewhere comes out."""
    check.hold()


def test_a_lag_that_was_left_out_makes_the_dip_too_small() -> None:
    """Without its lag the probe's dip is short by ½ c τ², and with a lag of zero nothing is corrected."""
    plain = logged.dip(TIME, _seen(TIME), BEGINS, ENDS)
    assert plain.correction == 0.0
    assert _dip().drop - plain.drop == pytest.approx(_dip().correction, abs=1e-9)


def test_noise_does_not_deepen_a_dip() -> None:
    """The mean over many noisy logs is the true dip; the lowest single row lies deeper by more than its scatter."""
    draw = np.random.default_rng(5)
    noisy = [_fallen(TIME) + draw.normal(0.0, 0.1, len(TIME)) for _ in range(400)]
    dips = np.array([logged.dip(TIME, one, BEGINS, ENDS).drop for one in noisy])
    lowest_rows = np.array([6.25 - (one.min() - LOWEST) for one in noisy])
    assert abs(dips.mean() - 6.25) < 0.05
    assert lowest_rows.mean() - 6.25 > 2.0 * abs(dips.mean() - 6.25)


def test_a_probe_without_lag_shows_the_temperature() -> None:
    """And one with a lag that is small against the rows nearly does; a long lag shows nothing yet."""
    real = _fallen(TIME)
    assert np.array_equal(logged.through_lag(TIME, real, 0.0), real)
    assert np.allclose(logged.through_lag(TIME, real, 1e-3), real, atol=1e-2)
    assert np.allclose(logged.through_lag(TIME[:80], real[:80], 9e3), real[0], atol=0.1)


def test_several_curves_go_through_a_lag_as_each_alone() -> None:
    """Rows are independent."""
    both = logged.through_lag(TIME, np.stack([_fallen(TIME), TIME]), LAG)
    assert np.allclose(both[1], logged.through_lag(TIME, TIME, LAG))


def test_recovery_through_a_delay() -> None:
    """A ramp of 0.1 K/s from 10 K below is 0.5 K below after 95 s; a probe that is 3 s late says so too."""
    time = np.arange(0.0, 200.0, 2.0)
    real = 370.0 - np.maximum(10.0 - 0.1 * time, 0.0)
    late = 370.0 - np.maximum(10.0 - 0.1 * (time - 3.0), 0.0)
    assert logged.recovery(time, real, 0.0, 370.0, 370.0) == pytest.approx(95.0)
    assert logged.recovery(time, late, 0.0, 370.0, 370.0, 3.0) == pytest.approx(95.0)
    assert logged.recovery(time, real - 1.0, 0.0, 370.0, 370.0) == math.inf
    assert math.isnan(logged.recovery(time, real, 199.0, 370.0, 370.0))


def test_the_worst_line_within_a_tolerance() -> None:
    """No straight error within ± a between ice point and reading moves a difference by more than the bound."""
    draw = np.random.default_rng(6)
    ends = draw.uniform(-1.5, 1.5, (1000, 2))
    moved = np.abs((ends[:, 1] - ends[:, 0]) / 100.0 * 5.0)
    bound = float(logged.slope_error(1.5, 373.15, 5.0))
    assert moved.max() <= bound
    assert moved.max() > 0.9 * bound


def test_what_all_shots_share_does_not_average_out() -> None:
    """A thousand shots with one probe are no surer than the probe; two shots are less sure than Student's t of one."""
    many = evaluation.mean_of(_unit(1000), 0.5)
    assert many.uncertainty == pytest.approx(math.hypot(0.5, 1.0 / math.sqrt(1000)))
    assert many.half == pytest.approx(1.96 * many.uncertainty, rel=1e-3)


def test_an_interval_holds_the_mean_as_often_as_it_says() -> None:
    """Of 4,000 campaigns of six shots with a probe that is off by a normal error, 95 % hold the truth, within 1.5 %."""
    draw = np.random.default_rng(7)
    held = 0
    for _ in range(4000):
        made = evaluation.mean_of(draw.normal(draw.normal(5.0, 0.1), 0.3, 6), 0.1)
        held += abs(made.value - 5.0) <= made.half
    assert held / 4000 == pytest.approx(0.95, abs=0.015)


def test_one_measurement_has_no_interval() -> None:
    """Nobody knows how far it scatters."""
    with pytest.raises(ValidityError, match="repeated"):
        evaluation.mean_of([1.0])
