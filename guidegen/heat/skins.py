"""The conductance of a skin at its temperature and that of what is around it. Compiled, one row.

What decides it stands in a row of parameters, four numbers for each skin, which `losses` works out. To be quick, a step
has the air's properties, which `surface` gives, as the two cubics in the film's temperature of `air`.
"""

from __future__ import annotations

from guidegen.heat.air import RISING_AIR, STILL_AIR
from guidegen.heat.compiled import part
from guidegen.heat.layout import LAW, LAWS, Vector


@part
def conductance(p: Vector, skin: int, surface: float, around: float) -> float:
    """The conductance of a skin, W/K, at its temperature and that of what is around it, K."""
    at = LAWS + LAW * skin
    film, apart = 0.5 * (surface + around), abs(surface - around)
    still = STILL_AIR[0] + film * (STILL_AIR[1] + film * (STILL_AIR[2] + film * STILL_AIR[3]))
    rising = RISING_AIR[0] + film * (RISING_AIR[1] + film * (RISING_AIR[2] + film * RISING_AIR[3]))
    root = p[at + 1] * still + p[at + 2] * rising * apart ** (1.0 / 6.0)
    return float(p[at] + root * root + p[at + 3] * film * (4.0 * film * film + apart * apart))
