"""The greatest torque of a screwed joint: what its screw, the thread it goes into, and a hollow neck will bear.

Strengths are the least that the usual alloy of a metal has, frictions the least of their class: with little friction
the same torque pulls hardest. Metric and pipe threads, solid screws and hollow ones with a cross bore.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.threads import CLASSES, FRICTION, Thread
from guidegen.heat.validity import FloatArray, Validity

OF_YIELD, OF_STRIPPING, OF_TWISTING = 0.9, 0.75, 0.75
"""Shares of what a joint bears that a torque may use: the first from vdi-2230-1, the others common practice."""
HEAD_RATIO = 1.2
"""Mean diameter under the head over thread diameter: the low end of hexagon, cap and hollow screws."""
BORE = Validity("bore over outside diameter", 0.0, 0.95, "", "geometry")
CROSS = Validity("cross bore over outside diameter", 0.0, 0.6, "", "geometry: beyond, no strips of metal are left")

YIELD = MappingProxyType({name: one.yield_stress for name, one in CLASSES.items()} | {"brass": 150e6})
"""Yield or 0.2 % proof stress of a screw in Pa, by class or metal. Brass: CuZn40Pb2 rod, R360, of EN 12164 as
a public page reprints it."""
SHEAR = MappingProxyType({
    "brass": 0.6 * 180e6, "aluminium": 0.6 * 150e6, "copper": 0.6 * 200e6, "stainless": 0.6 * 500e6,
})  # fmt: skip
"""Shear strength of the metal round a tapped hole, Pa: 0.6 of the tensile strength, the lowest ratio of vdi-2230-1
(from memory), of the weakest usual alloy: castings of brass and aluminium as in `materials`, others from memory."""
BARE, AUSTENITIC, GREASED = 0.14, 0.20, 0.08
"""Low ends of friction classes of vdi-2230-1: C, bare metal; D, austenitic steel; B, whatever is greased or oiled."""


@dataclass(frozen=True, slots=True)
class Screw:
    """A screw in its hole.

    Thread, yield stress in Pa, friction at its low end; the hole's shear strength in Pa and the engaged length in m; of
    a hollow screw the bore and the cross bore in m.
    """

    thread: Thread
    yield_stress: float
    friction: float
    shear_strength: float
    engagement: float
    bore: float = 0.0
    cross: float = 0.0


@dataclass(frozen=True, slots=True)
class TorqueLimits:
    """What each of three ends of a joint allows, N·m; nothing is twisted off that is not hollow."""

    screw: float
    hole: float
    neck: float = math.inf

    @property
    def most(self) -> float:
        """The least of them."""
        return min(self.screw, self.hole, self.neck)


def least_friction(metal: str, dry: bool) -> float:
    """Give the least friction of a screw's thread and head.

    Parameters: metal, a class of screws or `brass`; dry, whether nothing greases it.
    Returns: coefficient of friction μ.
    Valid for: what is dry and bare, or greased with anything.
    Equation: the low end of its class, 0.20, 0.14 or 0.08.
    Source: vdi-2230-1, table A5.

    >>> least_friction("A2-70", True), least_friction("brass", True), least_friction("A2-70", False)
    (0.2, 0.14, 0.08)
    """
    if not dry:
        return GREASED
    return AUSTENITIC if metal.startswith("A") else BARE


def net_area(outside: ArrayLike, bore: ArrayLike = 0.0, cross: ArrayLike = 0.0) -> FloatArray:
    """Give the metal of a round section that a bore and one cross bore leave.

    Parameters: outside diameter D, m; bore b, m; cross bore c, m, shapes that broadcast.
    Returns: area A, m².
    Valid for: b up to 0.95 D, c up to 0.6 D: the cross bore takes two strips of its width.
    Equation: A = π/4 (D² − b²) − c (D − b).
    Source: beer-johnston, chapter 3, less two strips.

    >>> round(float(net_area(8.566e-3, 5e-3, 3e-3)) * 1e6, 1)  # = pi/4 * (8.566**2 - 25) - 3 * 3.566
    27.3
    """
    outer, inner = np.asarray(outside, dtype=np.float64), np.asarray(bore, dtype=np.float64)
    BORE.check(inner / outer)
    CROSS.check(np.asarray(cross) / outer)
    return np.asarray(math.pi / 4 * (outer**2 - inner**2) - np.asarray(cross) * (outer - inner))


def plastic_modulus(outside: ArrayLike, bore: ArrayLike = 0.0, cross: ArrayLike = 0.0) -> FloatArray:
    """Give the torque per shear stress of a round section that yields all through.

    Parameters: outside diameter D, m; bore b, m; cross bore c, m, shapes that broadcast.
    Returns: modulus W, m³.
    Valid for: b up to 0.95 D, c up to 0.6 D: the cross bore takes two strips of its width.
    Equation: W = π/12 (D³ − b³) − c (D² − b²)/4.
    Source: beer-johnston, chapter 3, plastic torque of a hollow shaft; the strips from ∫ r dA.

    >>> round(float(plastic_modulus(8.566e-3, 5e-3)) * 1e9, 1)  # = pi/12 * (8.566**3 - 125)
    131.8
    """
    outer, inner = np.asarray(outside, dtype=np.float64), np.asarray(bore, dtype=np.float64)
    BORE.check(inner / outer)
    CROSS.check(np.asarray(cross) / outer)
    return np.asarray(math.pi / 12 * (outer**3 - inner**3) - np.asarray(cross) * (outer**2 - inner**2) / 4)


def preload_at_yield(thread: Thread, section: ArrayLike, bore: ArrayLike, cross: ArrayLike, friction: ArrayLike,
                     yield_stress: ArrayLike) -> FloatArray:  # fmt: skip
    """Give the preload at which pull and twist together reach 90 % of a screw's yield.

    Parameters: thread; outside diameter of the section D, m; its bore b, m; its cross bore c, m; friction μ in it;
        yield stress R, Pa, shapes that broadcast.
    Returns: preload F, N.
    Valid for: μ 0.04 to 0.5.
    Equation: F = 0.9 R A / √(1 + 3 [A d₂/2 (P/(π d₂) + μ/cos β) / W]²); of a solid section that of vdi-2230-1.
    Source: vdi-2230-1, equation R8/4, with area and modulus of the hollow section.

    >>> from guidegen.heat.threads import named
    >>> round(float(preload_at_yield(named("M5"), 4.249e-3, 0.0, 0.0, 0.2, 450e6)) / 1e3, 2)
    ... # = 14.18e-3 * 0.9 * 450 / sqrt(1 + 3 * (1.5 * 4.48 / 4.249 * (0.8 / (pi * 4.48) + 1.155 * 0.2))**2)
    4.51
    """
    FRICTION.check(friction)
    area, modulus = net_area(section, bore, cross), plastic_modulus(section, bore, cross)
    twist = area * thread.pitch_diameter / 2 * _climb(thread, friction) / modulus
    return np.asarray(OF_YIELD * np.asarray(yield_stress) * area / np.sqrt(1 + 3 * twist**2))


def torque_of(thread: Thread, preload: ArrayLike, friction: ArrayLike) -> FloatArray:
    """Give the torque that brings a preload, at the low end of what heads are wide.

    Parameters: thread; preload F, N; friction μ of thread and head alike, shapes that broadcast.
    Returns: torque T, N·m.
    Valid for: μ 0.04 to 0.5.
    Equation: T = F [P/2π + μ d₂/(2 cos β) + μ 1.2 d/2].
    Source: vdi-2230-1, equation R13/1.

    >>> from guidegen.heat.threads import named
    >>> round(float(torque_of(named("G 1/8"), 3000.0, 0.14)), 2)
    ... # = 3 * (0.907 / (2 * pi) + 0.14 * (9.147 / 2 / cos(radians(27.5)) + 0.6 * 9.728))
    5.05
    """
    FRICTION.check(friction)
    arm = _climb(thread, friction) * thread.pitch_diameter / 2
    return np.asarray(np.asarray(preload) * (arm + np.asarray(friction) * thread.diameter * HEAD_RATIO / 2))


def stripping_load(thread: Thread, engagement: ArrayLike, shear_strength: ArrayLike) -> FloatArray:
    """Give the pull that shears the thread out of a tapped hole.

    Parameters: thread; engaged length L, m; shear strength τ of the hole's metal, Pa, shapes that broadcast.
    Returns: load F, N.
    Valid for: threads at basic size.
    Equation: F = τ π d L [1/2 + (d − d₂) tan β / P]; the bracket is 7/8 of metric and 5/6 of pipe threads.
    Source: fed-std-h28, appendix B (from memory), at basic diameters.

    >>> from guidegen.heat.threads import named
    >>> round(float(stripping_load(named("M5"), 8e-3, 120e6)))  # = 0.875 * 120 * pi * 5 * 8
    13195
    """
    share = 0.5 + (thread.diameter - thread.pitch_diameter) * math.tan(thread.half_angle) / thread.pitch
    return np.asarray(np.asarray(shear_strength) * math.pi * thread.diameter * np.asarray(engagement) * share)


def twisting_torque(modulus: ArrayLike, yield_stress: ArrayLike) -> FloatArray:
    """Give the torque that twists a round section off.

    Parameters: plastic modulus W, m³; yield stress R in pull, Pa, shapes that broadcast.
    Returns: torque T, N·m.
    Valid for: metal that yields before it breaks.
    Equation: T = W R / √3.
    Source: beer-johnston, chapter 3, with the shear yield of von Mises.

    >>> round(float(twisting_torque(131.8e-9, 150e6)), 1)  # = 0.1318 * 150 / sqrt(3)
    11.4
    """
    return np.asarray(np.asarray(modulus) * np.asarray(yield_stress) / math.sqrt(3))


def greatest_torque(screw: Screw) -> TorqueLimits:
    """Give what a screw, its hole and its hollow neck allow of a torque, the ends of its tolerance included.

    Parameters: the screw in its hole, everything at its low end.
    Returns: three torques, N·m; the neck is taken to bear the whole torque, which is more than its share.
    Valid for: one screw, its head on a flat face.
    Equation: 90 % of the screw's yield, 75 % of stripping, 75 % of what twists a hollow neck off.
    Source: vdi-2230-1 for the first; the shares of the others are common practice, no source.

    >>> from guidegen.heat.threads import named
    >>> hollow = Screw(named("G 1/8"), 150e6, 0.14, 108e6, 7e-3, bore=5e-3, cross=3e-3)
    >>> [round(one, 1) for one in (greatest_torque(hollow).screw, greatest_torque(hollow).neck)]
    [5.7, 6.2]
    """
    thread, hollow = screw.thread, screw.bore > 0
    section = thread.minor_diameter if hollow else thread.stress_diameter
    load = preload_at_yield(thread, section, screw.bore, screw.cross, screw.friction, screw.yield_stress)
    strip = OF_STRIPPING * stripping_load(thread, screw.engagement, screw.shear_strength)
    modulus = plastic_modulus(section, screw.bore, screw.cross)
    neck = OF_TWISTING * float(twisting_torque(modulus, screw.yield_stress)) if hollow else math.inf
    yields, strips = (float(torque_of(thread, pull, screw.friction)) for pull in (load, strip))
    return TorqueLimits(yields, strips, neck)


def _climb(thread: Thread, friction: ArrayLike) -> FloatArray:
    """Force round the pitch circle per force along the screw: the thread's slope and its friction."""
    slope = thread.pitch / (math.pi * thread.pitch_diameter)
    return np.asarray(slope + np.asarray(friction, dtype=np.float64) / math.cos(thread.half_angle))


_OUTSIDE, _BORE = Symbol("D", "outside diameter of the section", "m"), Symbol("b", "bore", "m")
_CROSS, _TORQUE = Symbol("c", "cross bore", "m"), Symbol("T", "torque", "N·m")

FORMULAS = (
    Formula("Metal of a hollow screw", "A = π/4 (D² − b²) − c (D − b)",
            (Symbol("A", "area", "m²"), _OUTSIDE, _BORE, _CROSS), (BORE, CROSS),
            ("beer-johnston, chapter 3, less two strips",)),
    Formula("Plastic modulus of a hollow screw", "W = π/12 (D³ − b³) − c (D² − b²)/4",
            (Symbol("W", "torque per shear stress", "m³"), _OUTSIDE, _BORE, _CROSS), (BORE, CROSS),
            ("beer-johnston, chapter 3",)),
    Formula("Preload at 90 % of yield", "F = 0.9 R A / √(1 + 3 [A d₂/2 (P/(π d₂) + μ/cos β) / W]²)",
            (Symbol("F", "pull in the screw", "N"), Symbol("R", "yield stress", "Pa"),
             Symbol("β", "half of the angle between the flanks", "")), (FRICTION,), ("vdi-2230-1, equation R8/4",)),
    Formula("Torque that twists a neck off", "T = W R / √3", (_TORQUE, Symbol("R", "yield stress", "Pa")), (),
            ("beer-johnston, chapter 3",)),
    Formula("Greatest torque of a joint", "T = least of T(0.9 R), T(0.75 F), 0.75 W R / √3",
            (_TORQUE, Symbol("F", "pull that strips the hole", "N")), (FRICTION,),
            ("vdi-2230-1", "fed-std-h28, appendix B (from memory)", "beer-johnston, chapter 3")),
)  # fmt: skip
