"""Anzelius and Schumann: hot water and hot metal in a tube, cold water follows, no losses."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import quad
from scipy.special import ive
from scipy.stats import ncx2

Numbers = NDArray[np.float64]


def share_of_cold(transfer_units: float, waited: float) -> float:
    """J(x, y): how far the outlet has gone from the old to the new temperature, 0 to 1.

    x: conductance over heat capacity rate of the flow; y: conductance times the time since the front arrived, over
    the metal's heat capacity. J = 1 - exp(-y) times the integral of exp(-s) I0(2 sqrt(y s)) from 0 to x.
    (Schumann 1929; the integrand is evaluated with the scaled Bessel function, so that nothing overflows.)
    """
    if waited < 0.0:
        return 0.0

    def integrand(s: float) -> float:
        return float(ive(0, 2.0 * np.sqrt(waited * s)) * np.exp(-((np.sqrt(waited) - np.sqrt(s)) ** 2)))

    return 1.0 - quad(integrand, 0.0, transfer_units, epsabs=1e-12, epsrel=1e-12, limit=400)[0]


def share_by_chi_square(transfer_units: float, waited: Numbers) -> Numbers:
    """The same, since J is Marcum's Q: the tail of the noncentral chi-square distribution with two degrees."""
    arrived = waited >= 0.0
    tail = ncx2.sf(2.0 * transfer_units, 2, 2.0 * np.where(arrived, np.maximum(waited, 1e-300), 1.0))
    return np.where(arrived, tail, 0.0)
