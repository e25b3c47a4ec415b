"""The conductance of a skin at its temperature and that of what is around it. Compiled, one row.

What decides it stands in a row of parameters, four numbers for each skin, which `losses` works out. To be quick, a step
has the air's properties, which `surface` gives, as two cubics in the film's temperature.
"""

from __future__ import annotations

from guidegen.heat.compiled import part
from guidegen.heat.layout import LAW, LAWS, Vector

STILL_AIR = (0.0536118, 5.16891e-4, -6.31558e-7, 3.77218e-10)
"""√k of air, in W, m and K, as a cubic in the film's temperature: within 0.002 % from 275 to 400 K."""
RISING_AIR = (1.86961, -4.14863e-3, 6.94377e-6, -4.78698e-9)
"""0.387 √k (g Pr / (T ν²))^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27) of air, as a cubic: within 0.004 % there."""
OF_CYLINDER = 0.99027
"""The same with 0.559 in place of 0.492, as a share: within 0.01 % there."""


@part
def conductance(p: Vector, skin: int, surface: float, around: float) -> float:
    """The conductance of a skin, W/K, at its temperature and that of what is around it, K."""
    at = LAWS + LAW * skin
    film, apart = 0.5 * (surface + around), abs(surface - around)
    still = STILL_AIR[0] + film * (STILL_AIR[1] + film * (STILL_AIR[2] + film * STILL_AIR[3]))
    rising = RISING_AIR[0] + film * (RISING_AIR[1] + film * (RISING_AIR[2] + film * RISING_AIR[3]))
    root = p[at + 1] * still + p[at + 2] * rising * apart ** (1.0 / 6.0)
    return float(p[at] + root * root + p[at + 3] * film * (4.0 * film * film + apart * apart))
