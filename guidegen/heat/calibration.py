"""Least squares for calibration, and how uncertainty travels through a formula to first order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.optimize import least_squares

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray


@dataclass(frozen=True, slots=True)
class Calibrated:
    """Parameters of a least-squares fit, their covariance and how well they were pinned."""

    parameters: FloatArray
    covariance: FloatArray
    residual_sum_of_squares: float
    degrees_of_freedom: int
    converged: bool
    residuals: FloatArray
    jacobian: FloatArray

    @property
    def standard_errors(self) -> FloatArray:
        """Standard uncertainty of each parameter; infinite where the data do not pin it."""
        return np.asarray(np.sqrt(np.diag(self.covariance)))

    @property
    def correlation(self) -> FloatArray:
        """Correlation of the parameters; near ±1 the data determine only a combination of two."""
        error = self.standard_errors
        return np.asarray(self.covariance / np.outer(error, error))


def fit(
    residuals: Callable[[FloatArray], FloatArray],
    start: ArrayLike,
    bounds: tuple[ArrayLike, ArrayLike] | None = None,
    *,
    jacobian: Callable[[FloatArray], FloatArray] | None = None,
    tight: float = 1e-15,
    most: int = 2000,
) -> Calibrated:
    """Find the parameters that make a sum of squares smallest.

    Levenberg–Marquardt without bounds, a trust region of Gauss–Newton steps within them.

    Parameters: residuals, a function from parameters (k,) to weighted differences (n,); start (k,); bounds, two (k,);
        jacobian, a function from parameters (k,) to derivatives (n, k), by differences where there is none; tight, the
        relative change at which it ends; most, how often the residuals are asked for.
    Returns: a `Calibrated`; its covariance is s² (JᵀJ)⁻¹ with s² = RSS / (n − k).
    Valid for: n > k.
    Equation: min Σ r².
    Source: more-1978.

    >>> x, y = np.array([0.0, 1.0, 2.0]), np.array([1.0, 3.0, 5.0])
    >>> fit(lambda p: p[0] + p[1] * x - y, [0.0, 0.0]).parameters.round(6)
    array([1., 2.])
    """
    first = np.asarray(start, dtype=np.float64)
    count = np.asarray(residuals(first)).size
    if count <= first.size:
        raise ValueError(f"{count} observations cannot pin {first.size} parameters with an uncertainty")
    # Parameters differ by powers of ten (a conductance beside a heat capacity). In units of their start the steps of
    # the derivatives, which scipy takes no finer than a part of one, are small against each of them.
    unit = np.where(first == 0, 1.0, np.abs(first))
    limits = (-np.inf, np.inf) if bounds is None else tuple(np.asarray(end, dtype=np.float64) / unit for end in bounds)
    found = least_squares(
        lambda scaled: residuals(scaled * unit), first / unit,
        jac="3-point" if jacobian is None else lambda scaled: jacobian(scaled * unit) * unit,
        method="lm" if bounds is None else "trf", bounds=limits,
        x_scale="jac", ftol=tight, xtol=tight, gtol=tight, max_nfev=most,
    )  # fmt: skip
    freedom = count - first.size
    squares = float(2 * found.cost)
    slopes = np.asarray(found.jac / unit)
    covariance = _covariance(slopes, squares / freedom)
    return Calibrated(np.asarray(found.x * unit), covariance, squares, freedom, bool(found.status > 0),
                      np.asarray(found.fun), slopes)  # fmt: skip


def _covariance(jacobian: FloatArray, variance: float) -> FloatArray:
    """Invert JᵀJ by singular values; a direction that the data do not see gets an infinite variance."""
    scale = np.linalg.norm(jacobian, axis=0)
    if not scale.all():
        return np.full((scale.size, scale.size), np.inf)
    _, singular, directions = np.linalg.svd(jacobian / scale, full_matrices=False)
    if singular[-1] < singular[0] * 1e-12:
        return np.full((scale.size, scale.size), np.inf)
    inverse = (directions.T / singular**2) @ directions
    return np.asarray(variance * inverse / np.outer(scale, scale))


def propagate(
    function: Callable[[FloatArray], ArrayLike], values: Sequence[float], covariance: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Carry values and their covariance through a formula, to first order.

    Parameters: function from inputs (k,) to outputs (m,); values (k,); covariance (k, k).
    Returns: outputs (m,) and their covariance (m, m).
    Valid for: formulas nearly straight within the uncertainties; otherwise draw.
    Equation: U_y = C U_x Cᵀ, C the sensitivities by central differences.
    Source: jcgm-100, equations 13 and H.9.

    >>> value, variance = propagate(lambda x: [x[0] * x[1]], [2.0, 3.0], [[0.01, 0.0], [0.0, 0.01]])
    >>> float(value[0]), round(float(variance[0, 0]), 6)
    (6.0, 0.13)
    """
    centre = np.asarray(values, dtype=np.float64)
    spread = np.asarray(covariance, dtype=np.float64)
    columns = []
    for index, deviation in enumerate(np.sqrt(np.diag(spread))):
        # A thousandth of the uncertainty is small against it and large against rounding.
        step = np.zeros_like(centre)
        step[index] = 1e-3 * deviation if deviation > 0 else 1e-6 * max(1.0, abs(float(centre[index])))
        above = np.asarray(function(centre + step), dtype=np.float64)
        below = np.asarray(function(centre - step), dtype=np.float64)
        columns.append((above - below) / (2 * step[index]))
    sensitivity = np.stack(columns, axis=-1)
    return np.asarray(function(centre), dtype=np.float64), np.asarray(sensitivity @ spread @ sensitivity.T)


FORMULAS = (
    Formula(
        "Calibration", "min Σ r², covariance s² (JᵀJ)⁻¹",
        (Symbol("r", "weighted difference of model and log", ""), Symbol("J", "derivatives of r", ""),
         Symbol("s²", "RSS over the degrees of freedom", "")), (), ("more-1978",),
    ),
    Formula(
        "Propagation of uncertainty", "U_y = C U_x Cᵀ",
        (Symbol("U", "covariance", ""), Symbol("C", "sensitivities", "")), (), ("jcgm-100, equation 13",),
    ),
)  # fmt: skip
