"""What it takes to trim a protrusion off a boiler's wall: metal, time per tool, and whether the coil minds it at all.

How fast a tool takes metal away is an input; nobody publishes it for a person with a file.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

NOT_NEGATIVE = Validity("length of the protrusion", 0.0, 1.0, "m", "geometry")
RATE = Validity("rate of the tool", 1e-12, 1.0, "m²/s or m³/s", "an input; the tool takes something away")


@dataclass(frozen=True, slots=True)
class Cut:
    """What is cut off: face in m² that the saw goes through, volume in m³ and mass in kg of metal that comes off."""

    face: float
    volume: float
    mass: float


def overlap(first: tuple[float, float], second: tuple[float, float]) -> float:
    """Give the length that two bands on the wall share.

    Parameters: first band, (from, to) in m above an edge, from not above to; second band, above the same edge.
    Returns: shared length, m, zero where they only touch.
    Valid for: any.
    Equation: max(0, min(to₁, to₂) − max(from₁, from₂)).
    Source: geometry.

    >>> round(overlap((0.000, 0.040), (0.030, 0.045)), 6)  # = 0.040 - 0.030
    0.01
    """
    for low, high in (first, second):
        Validity("upper end of the band", low, np.inf, "m", "geometry").check(high)
    return max(0.0, min(first[1], second[1]) - max(first[0], second[0]))


def cut(height: float, width: float, stands_out: float, keeps: float, density: float) -> Cut:
    """Give the metal that trimming a protrusion to a rest takes off.

    The protrusion is taken as a block; a rounded one has less.

    Parameters: height h along the wall, m; width w, m; stands out s, m; what may keep standing k, m; density ρ, kg/m³.
    Returns: face, volume and mass, see `Cut`; nothing where it already stands out no further than k.
    Valid for: up to 1 m.
    Equation: face = h w, volume = h w (s − k), mass = ρ volume.
    Source: geometry.

    >>> one = cut(0.012, 0.014, 0.006, 0.0, 8530.0)
    >>> round(one.volume * 1e9), round(one.mass * 1e3, 2)  # = 12 * 14 * 6, 8.53 * 1.008
    (1008, 8.6)
    """
    NOT_NEGATIVE.check([height, width, stands_out, keeps])
    off = max(0.0, stands_out - keeps)
    face = height * width if off > 0 else 0.0
    return Cut(face, face * off, face * off * density)


def saw_time(face: ArrayLike, rate: ArrayLike) -> FloatArray:
    """Give the time to saw through a face.

    Parameters: face A, m²; rate r of the saw in this metal, m² of face per second, that broadcast.
    Returns: time, s.
    Valid for: rates above zero.
    Equation: A / r.
    Source: definition; the rate is an input.

    >>> float(saw_time(168e-6, 0.5e-6))  # = 168 / 0.5
    336.0
    """
    RATE.check(rate)
    return np.asarray(np.asarray(face, dtype=np.float64) / np.asarray(rate, dtype=np.float64))


def file_time(volume: ArrayLike, rate: ArrayLike) -> FloatArray:
    """Give the time to file a volume away.

    Parameters: volume V, m³; rate q of the file in this metal, m³ per second, that broadcast.
    Returns: time, s.
    Valid for: rates above zero.
    Equation: V / q.
    Source: definition; the rate is an input.

    >>> round(float(file_time(100e-9, 0.5e-9)))  # = 100 / 0.5
    200
    """
    RATE.check(rate)
    return np.asarray(np.asarray(volume, dtype=np.float64) / np.asarray(rate, dtype=np.float64))


FORMULAS = (
    Formula("Metal taken off", "V = h w (s − k)",
            (Symbol("h", "height", "m"), Symbol("w", "width", "m"), Symbol("s", "stands out", "m"),
             Symbol("k", "may keep standing", "m")), (NOT_NEGATIVE,)),
    Formula("Time to saw and to file", "A / r, V / q",
            (Symbol("r", "rate of the saw", "m²/s"), Symbol("q", "rate of the file", "m³/s")), (RATE,)),
)  # fmt: skip
