"""The case's air with its sheet metal: warmed by boiler and coil, losing to the room. State: CASE_AIR. Compiled.

What the skins conduct, W/K, and lose beside that, W, comes from `held`.
"""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.components.nomenclature import SYMBOLS
from guidegen.heat.formula import Formula
from guidegen.heat.layout import CASE_AIR, CASE_CAPACITY, CASE_SKIN, MORE, ROOM, Vector


@part
def case_loss(y: Vector, p: Vector, skins: Vector) -> float:
    """Heat into the room, W."""
    return float(skins[CASE_SKIN] * (y[CASE_AIR] - p[ROOM]) + skins[MORE + CASE_SKIN])


@part
def case_rate(p: Vector, taken: float, lost: float) -> float:
    """K/s; taken, lost: heat from boiler and coil, and into the room, W."""
    return float((taken - lost) / p[CASE_CAPACITY])


FORMULAS = (
    Formula("Case", "C_c Tcase′ = (1 − s) G_ba (Tb − Tcase) + G_ca (Y − Tcase) − G_cr (Tcase − Troom)", SYMBOLS,
            (), ("churchill-chu-1975-wall", "churchill-chu-1975-cylinder")),
)  # fmt: skip
