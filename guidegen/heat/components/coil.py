"""The feed coil: water and metal in cells along the flow. States: behind the boiler's water, its water, then its metal.

Compiled. At rest nothing flows from cell to cell. In flow the water moves on, second order in space.
"""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.components.cells import MOST_CELLS
from guidegen.heat.components.nomenclature import SYMBOLS
from guidegen.heat.formula import Formula
from guidegen.heat.layout import (
    BOILER,
    BOILER_TO_COIL,
    BYPASS,
    CASE_AIR,
    COIL_ALONG,
    COIL_INSIDE_AT_REST,
    COIL_INSIDE_IN_FLOW,
    COIL_METAL_CAPACITY,
    COIL_SKIN,
    COIL_WATER_CAPACITY,
    FEED,
    MORE,
    Vector,
)


@part
def slope(back: float, ahead: float) -> float:
    """Half the monotonized-central slope: the least of twice the one-sided ones and their mean; flat at an extremum."""
    steepest = min(min(abs(back), abs(ahead)), 0.25 * abs(back + ahead))
    signed = steepest if back > 0.0 else -steepest
    return signed if back * ahead > 0.0 else 0.0


@part
def outlet_of(y: Vector, p: Vector, water: int, cells: int) -> float:
    """The temperature of the water that leaves the coil in flow, K.

    Behind the last cell there is nothing to draw a line to: the line from the cell before goes on, as far as water can
    get, which is between the cell's own water and metal.
    """
    here, wall = y[water + cells - 1], y[water + 2 * cells - 1]
    before = y[water + cells - 2] if cells > 1 else p[FEED]
    onward = here + 0.5 * (here - before)
    return float(min(max(onward, min(here, wall)), max(here, wall)))


@part
def faces(y: Vector, p: Vector, water: int, cells: int, face: Vector) -> None:
    """Write the temperature of the water that passes each border between the coil's cells, from feed to outlet.

    Second order in space: a straight line in every cell. Before the first cell stands a mirrored one, so that the line
    through both meets the feed at the border.
    """
    water, cells = min(max(water, 0), 2 * MOST_CELLS), min(max(cells, 1), MOST_CELLS)
    face[0] = p[FEED]
    for j in range(1, cells - 1):
        here = y[water + j]
        face[j + 1] = here + slope(here - y[water + j - 1], y[water + j + 1] - here)
    if cells > 1:
        face[1] = y[water] + slope(2.0 * (y[water] - p[FEED]), y[water + 1] - y[water])
    face[cells] = outlet_of(y, p, water, cells)


@part
def coil_takes(y: Vector, p: Vector, metal: float) -> float:
    """Heat from the boiler, W; metal: mean, K."""
    return float(p[BOILER_TO_COIL] * (y[BOILER] - metal))


@part
def coil_loss(y: Vector, metal: float, skins: Vector) -> float:
    """Heat into the case's air, W; metal: mean, K; skins: as in `components.case`."""
    return float(skins[COIL_SKIN] * (metal - y[CASE_AIR]) + skins[MORE + COIL_SKIN])


@part
def exchange_rates(y: Vector, d: Vector, p: Vector, water: int, cells: int, inside: float, skins: Vector) -> None:
    """Write the rates of water and metal, K/s, but for what moves on with the water.

    water: where the coil's states begin; inside: conductance from metal to water, W/K in all; skins: as in
    `components.case`.
    """
    # With these limits a compiler sees that no index is negative, and runs the loops over whole vector registers.
    water, cells = min(max(water, 0), 2 * MOST_CELLS), min(max(cells, 1), MOST_CELLS)
    metal = water + cells
    per_water, per_metal = cells / p[COIL_WATER_CAPACITY], cells / p[COIL_METAL_CAPACITY]
    exchange = inside / cells
    contact, leak, along = p[BOILER_TO_COIL] / cells, skins[COIL_SKIN] / cells, p[COIL_ALONG] * cells
    warmth = contact * y[BOILER] + leak * y[CASE_AIR] - skins[MORE + COIL_SKIN] / cells
    for j in range(cells):
        swap = exchange * (y[metal + j] - y[water + j])
        d[water + j] = per_water * swap
        d[metal + j] = per_metal * (warmth - (contact + leak) * y[metal + j] - swap)
    if cells > 1:
        last = metal + cells - 1
        beside = per_metal * along
        for j in range(metal + 1, last):
            d[j] += beside * ((y[j - 1] - y[j]) + (y[j + 1] - y[j]))
        d[metal] += beside * (y[metal + 1] - y[metal])
        d[last] += beside * (y[last - 1] - y[last])


@part
def moving_rates(y: Vector, d: Vector, p: Vector, water: int, cells: int, flow: float, face: Vector) -> float:
    """Add to the rates of the water what moves on with it; returns the temperature of what leaves the coil, K.

    flow: heat capacity rate of the drawn water, W/K; face: scratch of cells + 1.
    """
    water, cells = min(max(water, 0), 2 * MOST_CELLS), min(max(cells, 1), MOST_CELLS)
    # What returns to the tank behind the coil passes the coil too, and takes its heat along.
    through, per_water = flow + p[BYPASS], cells / p[COIL_WATER_CAPACITY]
    faces(y, p, water, cells, face)
    for j in range(cells):
        d[water + j] += per_water * through * (face[j] - face[j + 1])
    return float(face[cells])


@part
def coil_inside(p: Vector, flow: float) -> float:
    """The conductance from metal to water, W/K in all."""
    return float(p[COIL_INSIDE_IN_FLOW] if flow > 0.0 else p[COIL_INSIDE_AT_REST])


FORMULAS = (
    Formula("Coil water", "C_x/N X_j′ = (ṁ + ṁ_r) c (F_before − F_after) + G_i/N (Y_j − X_j)", SYMBOLS,
            (), ("anzelius-1926", "schumann-1929", "van-leer-1977")),
    Formula(
        "Coil metal",
        "C_y/N Y_j′ = G_bc/N (Tb − Y_j) − G_i/N (Y_j − X_j) − G_ca/N (Y_j − Tcase) "
        "+ N G_cc (Y_before − Y_j) + N G_cc (Y_after − Y_j)",
        SYMBOLS, (), ("anzelius-1926", "schumann-1929"),
    ),
)  # fmt: skip
