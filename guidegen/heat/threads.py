"""Screw threads by name; of metric ones stress area, proof load, torque, and what strips a tapped hole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

FRICTION = Validity("coefficient of friction", 0.04, 0.5, "", "vdi-2230-1, table A5")
PITCH_SHARE = Validity("pitch over thread diameter", 0.03, 0.3, "", "iso-261")
UTILISATION = Validity("share of the yield stress", 0.0, 1.0, "", "vdi-2230-1")
HEAD = Validity("mean diameter under the head over thread diameter", 1.0, 3.0, "", "vdi-2230-1")

COARSE_PITCH = MappingProxyType({"M3": 0.5e-3, "M4": 0.7e-3, "M5": 0.8e-3, "M6": 1.0e-3, "M8": 1.25e-3, "M10": 1.5e-3})
"""Pitch of the coarse thread in m by designation (iso-261)."""


@dataclass(frozen=True, slots=True)
class PropertyClass:
    """Proof stress and yield (or 0.2 % proof) stress of a screw's class, Pa, and the source."""

    name: str
    proof_stress: float
    yield_stress: float
    source: str


CLASSES = MappingProxyType(
    {
        "8.8": PropertyClass("8.8", 580e6, 640e6, "iso-898-1, tables 3 and 5, up to M16"),
        "A2-70": PropertyClass("A2-70", 450e6, 450e6, "iso-3506-1, table 2"),
        "A2-50": PropertyClass("A2-50", 210e6, 210e6, "iso-3506-1, table 2"),
        "A4-80": PropertyClass("A4-80", 600e6, 600e6, "iso-3506-1, table 2"),
    }
)
"""Screw classes by name. Stainless screws have no proof stress of their own; their 0.2 % stress stands for it."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A parallel thread: diameters and pitch in m, half of the angle between its flanks in rad, and its source.

    `stress_diameter` is that of the section on which a solid screw's stress is reckoned.
    """

    name: str
    diameter: float
    pitch: float
    pitch_diameter: float
    minor_diameter: float
    stress_diameter: float
    half_angle: float
    source: str


# name: major, pitch and minor diameter in mm, threads on an inch
_PIPE = {
    "G 1/8": (9.728, 9.147, 8.566, 28), "G 1/4": (13.157, 12.301, 11.445, 19),
    "G 3/8": (16.662, 15.806, 14.950, 19), "G 1/2": (20.955, 19.793, 18.631, 14),
}  # fmt: skip
"""Pipe threads whose joints do not seal on the thread (iso-228-1, table 1)."""
INCH, HALF_WHITWORTH, HALF_METRIC = 25.4e-3, math.radians(27.5), math.radians(30)


def named(name: str) -> Thread:
    """Give a thread by name: coarse metric, or parallel pipe thread.

    >>> round(named("G 1/8").pitch * 1e3, 3)  # = 25.4 / 28
    0.907
    >>> round(named("M5").stress_diameter * 1e3, 3)  # = sqrt(4 * 14.18 / pi)
    4.249
    """
    if name in _PIPE:
        outside, middle, minor, on_an_inch = _PIPE[name]
        mean, pitch = round((middle + minor) / 2e3, 9), INCH / on_an_inch
        return Thread(name, round(outside / 1e3, 9), pitch, round(middle / 1e3, 9), round(minor / 1e3, 9), mean,
                      HALF_WHITWORTH, "iso-228-1, table 1")  # fmt: skip
    if name not in COARSE_PITCH:
        raise KeyError(f"no thread is called {name!r}; there are {', '.join((*COARSE_PITCH, *_PIPE))}")
    outside, pitch = nominal_diameter(name), COARSE_PITCH[name]
    middle = float(pitch_diameter(outside, pitch))
    root = middle - 2 / 3 * pitch * math.sqrt(3) / 2
    return Thread(name, outside, pitch, middle, root, (middle + root) / 2, HALF_METRIC, "iso-724")


def nominal_diameter(thread: str) -> float:
    """Give the nominal diameter in m of a thread in `COARSE_PITCH`.

    >>> nominal_diameter("M5")
    0.005
    """
    if thread not in COARSE_PITCH:
        raise KeyError(f"no coarse thread is called {thread!r}; there are {', '.join(COARSE_PITCH)}")
    return round(int(thread[1:]) * 1e-3, 6)


def pitch_diameter(diameter: ArrayLike, pitch: ArrayLike) -> FloatArray:
    """Give the pitch diameter of a metric thread.

    Parameters: nominal diameter d, m; pitch P, m, shapes that broadcast.
    Returns: pitch diameter d₂, m.
    Valid for: P from 0.03 d to 0.3 d.
    Equation: d₂ = d − 0.75 H, H = P √3 / 2.
    Source: iso-724.

    >>> round(float(pitch_diameter(5e-3, 0.8e-3)) * 1e3, 3)  # = 5 - 3 / 8 * sqrt(3) * 0.8
    4.48
    """
    nominal, rise = np.asarray(diameter, dtype=np.float64), np.asarray(pitch, dtype=np.float64)
    PITCH_SHARE.check(rise / nominal)
    return np.asarray(nominal - 0.75 * rise * math.sqrt(3) / 2, dtype=np.float64)


def stress_area(diameter: ArrayLike, pitch: ArrayLike) -> FloatArray:
    """Give the area on which a metric screw's stress is reckoned.

    Parameters: nominal diameter d, m; pitch P, m, shapes that broadcast.
    Returns: area A, m².
    Valid for: P from 0.03 d to 0.3 d.
    Equation: A = π/4 [(d₂ + d₃)/2]², d₃ = d₂ − 2H/3 (= d₁ − H/6), H = P √3 / 2.
    Source: iso-898-1, section 9.1.6.1.

    >>> round(float(stress_area(5e-3, 0.8e-3)) * 1e6, 1)  # iso-898-1, table 4
    14.2
    """
    at_pitch = pitch_diameter(diameter, pitch)
    height = np.asarray(pitch, dtype=np.float64) * math.sqrt(3) / 2
    root = at_pitch - height / 2 - height / 6
    return np.asarray(math.pi / 4 * ((at_pitch + root) / 2) ** 2, dtype=np.float64)


def proof_load(diameter: ArrayLike, pitch: ArrayLike, proof_stress: ArrayLike) -> FloatArray:
    """Give the load that a screw carries without lasting stretch.

    Parameters: nominal diameter d, m; pitch P, m; proof stress S, Pa, shapes that broadcast.
    Returns: load F, N.
    Valid for: P from 0.03 d to 0.3 d.
    Equation: F = S A.
    Source: iso-898-1, table 5.

    >>> round(float(proof_load(6e-3, 1e-3, 580e6)), -2)  # iso-898-1, table 5
    11700.0
    """
    return np.asarray(np.asarray(proof_stress) * stress_area(diameter, pitch), dtype=np.float64)


def torque_by_factor(preload: ArrayLike, diameter: ArrayLike, nut_factor: ArrayLike = 0.2) -> FloatArray:
    """Give the torque for a preload by the workshop's rule.

    Parameters: preload F, N; nominal diameter d, m; nut factor K, shapes that broadcast.
    Returns: torque T, N·m.
    Valid for: any; the factor hides all friction.
    Equation: T = K F d.
    Source: shigley, equation 8-27.

    >>> round(float(torque_by_factor(4500.0, 5e-3)), 2)
    4.5
    """
    return np.asarray(np.asarray(nut_factor) * np.asarray(preload) * np.asarray(diameter), dtype=np.float64)


def torque(
    preload: ArrayLike, diameter: ArrayLike, pitch: ArrayLike, friction: ArrayLike, head_ratio: ArrayLike = 1.3
) -> FloatArray:
    """Give the torque for a preload from the friction in the thread and under the head.

    Parameters: preload F, N; nominal diameter d, m; pitch P, m; friction μ, of thread and head alike; mean diameter
        under the head over nominal diameter D/d, shapes that broadcast.
    Returns: torque T, N·m.
    Valid for: μ 0.04 to 0.5, D/d 1 to 3.
    Equation: T = F [0.159 P + 0.577 μ d₂ + μ D / 2] (0.159 is 1/2π; 0.577 is 1/(2 cos 30°)).
    Source: vdi-2230-1, equation R13/1.

    >>> round(float(torque(4510.0, 5e-3, 0.8e-3, 0.2)), 1)
    5.8
    """
    FRICTION.check(friction)
    HEAD.check(head_ratio)
    return np.asarray(np.asarray(preload) * _arm(diameter, pitch, friction, head_ratio), dtype=np.float64)


def _arm(diameter: ArrayLike, pitch: ArrayLike, friction: ArrayLike, head_ratio: ArrayLike) -> FloatArray:
    """Give torque per preload, m."""
    mu, nominal = np.asarray(friction, dtype=np.float64), np.asarray(diameter, dtype=np.float64)
    thread = np.asarray(pitch) / (2 * math.pi) + mu * pitch_diameter(diameter, pitch) / math.sqrt(3)
    return np.asarray(thread + mu * nominal * np.asarray(head_ratio) / 2, dtype=np.float64)


def preload_at_yield(
    diameter: ArrayLike, pitch: ArrayLike, friction: ArrayLike, yield_stress: ArrayLike, utilisation: ArrayLike = 0.9
) -> FloatArray:
    """Give the preload at which pull and twist together reach a share of the yield stress.

    Parameters: nominal diameter d, m; pitch P, m; thread friction μ; yield stress R, Pa; share ν, that broadcast.
    Returns: preload F, N.
    Valid for: μ 0.04 to 0.5, ν 0 to 1.
    Equation: F = A ν R / √(1 + 3 [1.5 d₂/d₀ (P/(π d₂) + 1.155 μ)]²), d₀ = √(4A/π).
    Source: vdi-2230-1, equation R8/4.

    >>> round(float(preload_at_yield(5e-3, 0.8e-3, 0.2, 450e6)) / 1e3, 2)
    ... # = 14.18e-3 * 0.9 * 450 / sqrt(1 + 3 * (1.5 * 4.48 / 4.249 * (0.8 / (pi * 4.48) + 1.155 * 0.2))**2)
    4.51
    """
    FRICTION.check(friction)
    UTILISATION.check(utilisation)
    area, at_pitch = stress_area(diameter, pitch), pitch_diameter(diameter, pitch)
    waist = np.sqrt(4 * area / math.pi)
    lead = np.asarray(pitch) / (math.pi * at_pitch) + 2 / math.sqrt(3) * np.asarray(friction)
    twist = 1.5 * at_pitch / waist * lead
    return np.asarray(area * np.asarray(utilisation) * np.asarray(yield_stress) / np.sqrt(1 + 3 * twist**2))


def stripping_load(
    diameter: ArrayLike, pitch: ArrayLike, engagement: ArrayLike, shear_strength: ArrayLike
) -> FloatArray:
    """Give the pull that shears the thread out of a tapped hole.

    Parameters: nominal diameter d, m; pitch P, m; engaged length L, m; shear strength of the hole's metal τ, Pa.
    Returns: load F, N.
    Valid for: P from 0.03 d to 0.3 d; threads at basic size, so a worn or wide hole strips sooner.
    Equation: F = τ π d L (P/2 + (d − d₂)/√3) / P = 0.875 τ π d L.
    Source: fed-std-h28, appendix B (from memory), at basic diameters.

    >>> round(float(stripping_load(5e-3, 0.8e-3, 8e-3, 120e6)))  # = 0.875 * 120 * pi * 5 * 8
    13195
    """
    nominal, rise = np.asarray(diameter, dtype=np.float64), np.asarray(pitch, dtype=np.float64)
    sheared_share = 0.5 + (nominal - pitch_diameter(diameter, pitch)) / (math.sqrt(3) * rise)
    return np.asarray(np.asarray(shear_strength) * math.pi * nominal * np.asarray(engagement) * sheared_share)


_LOAD = Symbol("F", "pull in the screw", "N")
_NOMINAL = Symbol("d", "nominal diameter", "m")
_PITCH = Symbol("P", "pitch", "m")

FORMULAS = (
    Formula("Stress area", "A = π/4 [(d₂ + d₃)/2]²", (Symbol("A", "stress area", "m²"), _NOMINAL, _PITCH),
            (PITCH_SHARE,), ("iso-898-1, section 9.1.6.1",)),
    Formula("Proof load", "F = S A", (_LOAD, Symbol("S", "proof stress", "Pa")), (PITCH_SHARE,), ("iso-898-1",)),
    Formula("Tightening torque", "T = F [P/2π + μ d₂/√3 + μ D/2]",
            (Symbol("T", "torque", "N·m"), _LOAD, _PITCH, Symbol("μ", "friction", "")), (FRICTION, HEAD),
            ("vdi-2230-1, equation R13/1", "shigley, equation 8-27")),
    Formula("Preload at a share of yield", "F = A ν R / √(1 + 3 [1.5 d₂/d₀ (P/(π d₂) + 1.155 μ)]²)",
            (_LOAD, Symbol("ν", "share of yield", ""), Symbol("R", "yield stress", "Pa")), (FRICTION, UTILISATION),
            ("vdi-2230-1, equation R8/4",)),
    Formula("Stripping of a tapped hole", "F = 0.875 τ π d L",
            (_LOAD, Symbol("τ", "shear strength of the hole's metal", "Pa"), _NOMINAL,
             Symbol("L", "engaged length", "m")), (PITCH_SHARE,), ("fed-std-h28, appendix B (from memory)",)),
)  # fmt: skip
