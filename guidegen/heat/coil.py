"""Geometry of a feed coil: tube wound on a boiler's straight wall, in as many layers as the wall demands.

The inner layer touches the boiler, so it takes all the turns that the wall has room for; what is left goes into the
next layer. Full layers have whole turns, because a layer ends where the next begins; the last ends anywhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.validity import FloatArray, Validity

TUBE_OUTSIDE = Validity("tube outside diameter", 1e-3, 50e-3, "m", "geometry: what is meant here by tube")
WALL_SHARE = Validity("tube wall over outside diameter", 1e-3, 0.499, "", "geometry: the tube has a bore")
LAYERS = Validity("layers", 1, 10, "", "geometry: what is meant here by a coil")
NOT_NEGATIVE = Validity("length, volume or mass of the coil", 0.0, 1e3, "SI", "geometry")

_WATER_DENSITY = 998.2  # kg/m³ at 20 °C, iapws-r7: the coil is weighed cold


@dataclass(frozen=True, slots=True)
class CoilDemand:
    """What is asked of a coil. Lengths in m, volume in m³, mass in kg, density in kg/m³.

    `tails` is the straight tube outside the coil, both ends together; it holds water too and counts in `holds`.
    `height_margin` is the straight wall that stays free, above and below together. `trim` is cut off after winding.
    """

    boiler_diameter: float
    straight_wall: float
    tube_outside: float
    tube_wall: float
    holds: float
    layers_max: int = 1
    gap: float = 0.0
    tails: float = 0.0
    fittings_mass: float = 0.0
    tube_density: float = 8933.0
    height_margin: float = 0.0
    trim: float = 0.0

    def check(self) -> None:
        """Raise `ValidityError` where no tube or no coil is described."""
        TUBE_OUTSIDE.check(self.tube_outside)
        WALL_SHARE.check(self.tube_wall / self.tube_outside)
        LAYERS.check(self.layers_max)
        # An unknown wall may be passed as infinite, so it is not among the values with an upper limit.
        NOT_NEGATIVE.check([self.boiler_diameter, self.holds, self.gap, self.tails, self.fittings_mass,
                            self.tube_density / 1e3, self.height_margin, self.trim])  # fmt: skip
        Validity("straight wall", 0.0, math.inf, "m", "geometry").check(self.straight_wall)


@dataclass(frozen=True, slots=True)
class Wound:
    """A coil as it comes out. Lengths in m, volumes in m³, masses in kg.

    Where it does not fit, the coil described is the largest that does, its `held` short by `volume_missing`, and
    `height_missing` is the straight wall that the whole coil would need in addition. `tightest_radius` is that of
    the inner layer's centre line, to be held against `bend.minimum_bend_radius`; `contact_length` is its tube, and
    `facing_length` the wound tube over which no other layer lies.
    """

    fits: bool
    turns: float
    turns_per_layer: tuple[float, ...]
    layers: int
    height: float
    radial_build: float
    envelope_diameter: float
    mean_diameter: float
    tightest_radius: float
    contact_length: float
    facing_length: float
    length: float
    cut_length: float
    held: float
    tube_mass: float
    dry_mass: float
    filled_mass: float
    volume_missing: float
    height_missing: float


def bore_area(outside: ArrayLike, wall: ArrayLike) -> FloatArray:
    """Give the area of a tube's bore.

    Parameters: outside diameter D, m; wall t, m, shapes that broadcast.
    Returns: area A, m².
    Valid for: t from 0.001 D to 0.499 D.
    Equation: A = π (D − 2t)² / 4.
    Source: geometry.

    >>> round(float(bore_area(8e-3, 1e-3)) * 1e6, 2)  # = pi / 4 * 6**2
    28.27
    """
    diameter, thickness = np.asarray(outside, dtype=np.float64), np.asarray(wall, dtype=np.float64)
    WALL_SHARE.check(thickness / diameter)
    return np.asarray(math.pi / 4 * (diameter - 2 * thickness) ** 2, dtype=np.float64)


def metal_area(outside: ArrayLike, wall: ArrayLike) -> FloatArray:
    """Give the area of the metal in a tube's cross-section.

    Parameters: outside diameter D, m; wall t, m, shapes that broadcast.
    Returns: area A, m².
    Valid for: t from 0.001 D to 0.499 D.
    Equation: A = π t (D − t).
    Source: geometry.

    >>> round(float(metal_area(8e-3, 1e-3)) * 1e6, 2)  # = pi / 4 * (8**2 - 6**2)
    21.99
    """
    diameter, thickness = np.asarray(outside, dtype=np.float64), np.asarray(wall, dtype=np.float64)
    WALL_SHARE.check(thickness / diameter)
    return np.asarray(math.pi * thickness * (diameter - thickness), dtype=np.float64)


def turn_length(mean_diameter: ArrayLike, pitch: ArrayLike) -> FloatArray:
    """Give the length of tube in one turn of a helix.

    Parameters: mean diameter of the turn D, m; pitch p, m, shapes that broadcast.
    Returns: length l, m.
    Valid for: any.
    Equation: l = √((π D)² + p²).
    Source: geometry.

    >>> round(float(turn_length(78e-3, 8e-3)) * 1e3, 1)  # = hypot(pi * 78, 8)
    245.2
    """
    diameter, rise = np.asarray(mean_diameter, dtype=np.float64), np.asarray(pitch, dtype=np.float64)
    return np.asarray(np.hypot(math.pi * diameter, rise), dtype=np.float64)


def layer_height(turns: ArrayLike, outside: ArrayLike, gap: ArrayLike = 0.0) -> FloatArray:
    """Give the height of one layer, from the lowest to the highest point of the tube.

    The tube climbs one pitch per turn and is one diameter thick itself: ten close turns are eleven diameters high.

    Parameters: turns n; outside diameter D, m; gap between turns g, m, shapes that broadcast.
    Returns: height h, m; no turns, no height.
    Valid for: any.
    Equation: h = n (D + g) + D.
    Source: geometry.

    >>> round(float(layer_height(10, 8e-3)) * 1e3, 1)  # = (10 + 1) * 8
    88.0
    """
    count, diameter = np.asarray(turns, dtype=np.float64), np.asarray(outside, dtype=np.float64)
    height = count * (diameter + np.asarray(gap, dtype=np.float64)) + diameter
    return np.asarray(np.where(count > 0, height, 0.0), dtype=np.float64)


def _wind(demand: CoilDemand, wound: float, wall_height: float) -> tuple[list[float], float]:
    """Wind a length of tube on a wall; give the turns of each layer and the length that found no place."""
    pitch = demand.tube_outside + demand.gap
    room = (wall_height - demand.height_margin - demand.tube_outside) / pitch
    turns: list[float] = []
    left = wound
    for layer in range(demand.layers_max):
        # Twelve digits keep a wall of exactly four turns from counting as three.
        if left <= 1e-12 or round(room, 12) <= 0:
            break
        each = float(turn_length(_mean_diameter(demand, layer), pitch))
        if left / each <= room:
            turns.append(left / each)
            return turns, 0.0
        whole = math.floor(round(room, 12))
        # The last layer needs no whole turns: it ends in a tail and not in another layer. A wall without room for
        # one whole turn carries no second layer.
        last = layer == demand.layers_max - 1 or whole == 0
        turns.append(room if last else float(whole))
        left -= turns[-1] * each
        if last:
            break
    return turns, max(0.0, left)


def _mean_diameter(demand: CoilDemand, layer: int) -> float:
    """Give the mean diameter of a layer's turns. Layers climb in turn up and down, so they cross and cannot nest."""
    return demand.boiler_diameter + (2 * layer + 1) * demand.tube_outside


def _facing(turns: list[float], lengths: list[float]) -> float:
    """Give the tube over which no other layer lies: of each layer the turns that the next one does not reach."""
    over = [*turns[1:], 0.0] if turns else []
    return sum(max(0.0, n - above) / n * one for n, above, one in zip(turns, over, lengths, strict=True) if n > 0)


def tube_of_turns(demand: CoilDemand, turns: float) -> float:
    """Give the tube that a number of turns takes, without tails.

    Parameters: demand, whose `holds` is not used; turns n.
    Returns: length, m. More turns than find room lie in the last layer all the same.
    Valid for: what `wind` is.
    Equation: that of `wind`, layer by layer.
    Source: geometry.

    >>> round(tube_of_turns(CoilDemand(70e-3, 46e-3, 8e-3, 1e-3, 0.0, layers_max=2), 4) * 1e3)  # = 4*hypot(78*pi, 8)
    981
    """
    pitch, length = demand.tube_outside + demand.gap, 0.0
    room = (demand.straight_wall - demand.height_margin - demand.tube_outside) / pitch
    for layer in range(demand.layers_max):
        last = layer == demand.layers_max - 1 or turns <= room
        here = turns if last else max(0.0, math.floor(round(room, 12)))
        length += here * float(turn_length(_mean_diameter(demand, layer), pitch))
        turns -= here
        if turns <= 0:
            break
    return length


def _wall_needed(demand: CoilDemand, wound: float) -> float:
    """Find the lowest straight wall on which the length can be wound, by halving between none and one layer's."""
    pitch = demand.tube_outside + demand.gap
    one_layer = wound / float(turn_length(_mean_diameter(demand, 0), pitch))
    high = demand.height_margin + demand.tube_outside + pitch * (one_layer + 1)
    low = 0.0
    for _ in range(60):
        middle = (low + high) / 2
        if _wind(demand, wound, middle)[1] > 1e-12:
            low = middle
        else:
            high = middle
    return high


def wind(demand: CoilDemand) -> Wound:
    """Wind the coil that is asked for, or the largest that goes on.

    Parameters: demand, see `CoilDemand`.
    Returns: the coil, see `Wound`.
    Valid for: tube 1 to 50 mm, wall below half of it, 1 to 10 layers.
    Equation: length = holds / A(bore); wound = length − tails; layer k has mean diameter D + (2k − 1) d and takes
        (wall − margin − d) / (d + gap) turns.
    Source: geometry.

    >>> coil = wind(CoilDemand(70e-3, 46e-3, 8e-3, 1e-3, 58e-6, layers_max=2, tails=0.18))
    >>> coil.fits, coil.layers, round(coil.length, 3), round(coil.height * 1e3)  # = 58e-6 / (pi / 4 * 6e-3**2)
    (True, 2, 2.051, 40)
    """
    demand.check()
    bore = float(bore_area(demand.tube_outside, demand.tube_wall))
    length_wanted = demand.holds / bore
    tails = min(demand.tails, length_wanted)
    turns, left = _wind(demand, length_wanted - tails, demand.straight_wall)
    # A length below a tenth of a micrometre is rounding, not tube.
    fits = left <= 1e-7
    pitch = demand.tube_outside + demand.gap
    lengths = [n * float(turn_length(_mean_diameter(demand, layer), pitch)) for layer, n in enumerate(turns)]
    # Summed from what was wound: taking what is missing from what was wanted would lose the digits of a short tail.
    length = length_wanted if fits else tails + sum(lengths)
    layers = len(turns)
    tube_mass = length * float(metal_area(demand.tube_outside, demand.tube_wall)) * demand.tube_density
    held = length * bore
    mean = sum(_mean_diameter(demand, layer) * one for layer, one in enumerate(lengths))
    return Wound(
        fits=fits,
        turns=sum(turns),
        turns_per_layer=tuple(turns),
        layers=layers,
        height=max((float(layer_height(n, demand.tube_outside, demand.gap)) for n in turns), default=0.0),
        radial_build=layers * demand.tube_outside,
        envelope_diameter=demand.boiler_diameter + 2 * layers * demand.tube_outside,
        mean_diameter=mean / sum(lengths) if lengths else _mean_diameter(demand, 0),
        tightest_radius=_mean_diameter(demand, 0) / 2,
        contact_length=lengths[0] if lengths else 0.0,
        facing_length=_facing(turns, lengths),
        length=length,
        cut_length=length + demand.trim,
        held=held,
        tube_mass=tube_mass,
        dry_mass=tube_mass + demand.fittings_mass,
        filled_mass=tube_mass + demand.fittings_mass + held * _WATER_DENSITY,
        volume_missing=0.0 if fits else left * bore,
        height_missing=0.0 if fits else _wall_needed(demand, length_wanted - tails) - demand.straight_wall,
    )


_OUTSIDE = Symbol("D", "tube outside diameter", "m")
_WALL = Symbol("t", "tube wall", "m")

FORMULAS = (
    Formula("Bore of a tube", "A = π (D − 2t)² / 4", (Symbol("A", "area", "m²"), _OUTSIDE, _WALL), (WALL_SHARE,)),
    Formula("Metal of a tube", "A = π t (D − t)", (Symbol("A", "area", "m²"), _OUTSIDE, _WALL), (WALL_SHARE,)),
    Formula(
        "Length of one turn", "l = √((π Dₘ)² + p²)",
        (Symbol("l", "length", "m"), Symbol("Dₘ", "mean diameter", "m"), Symbol("p", "pitch", "m")),
    ),
    Formula(
        "Height of a layer", "h = n (D + g) + D",
        (Symbol("h", "height", "m"), Symbol("n", "turns", ""), _OUTSIDE, Symbol("g", "gap between turns", "m")),
    ),
)  # fmt: skip
