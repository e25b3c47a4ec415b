"""How surfaces lose heat, a second time, from the methods page: natural convection, radiation, and areas for both.

A loss is an area times a coefficient. The area is whatever gives the stated loss in the stated state; the coefficient
is worked out where it is wanted, nothing is fitted.
"""

from __future__ import annotations

import numba

BOILER_TALL, TUBE_WIDE, CASE_TALL = 0.08, 0.008, 0.3
"""m: walls of boiler and group, a coil's tube, a case."""
GRAY = {"brass": 0.3, "copper": 0.5, "aluminium": 0.15, "stainless": 0.25}
GRAY_CASE = 0.5
LEAST_EXCESS = 1.0
"""K by which a case is warmer than its room at least."""


@numba.njit(cache=True)
def given_off(hot: float, cold: float, size: float, pipe: bool, gray: float) -> float:
    """W/(m² K) of a wall of a height, or of a lying pipe of a width, in still air and in sight of what is as cold."""
    t = (hot + cold) / 2.0
    k = 2.64638e-3 * t**1.5 / (t + 245.4 * 10.0 ** (-12.0 / t))
    mu, rho = 1.458e-6 * t**1.5 / (t + 110.4), 101325.0 / (287.0528 * t)
    pr = mu * 1007.0 / k
    grashof = 9.80665 * abs(hot - cold) * size**3 * (rho / mu) ** 2 / t
    least, about = (0.60, 0.559) if pipe else (0.825, 0.492)
    blunt = (1.0 + (about / pr) ** 0.5625) ** (-8.0 / 27.0)
    nu = (least + 0.387 * blunt * (grashof * pr) ** (1.0 / 6.0)) ** 2
    return nu * k / size + gray * 5.670374419e-8 * (hot + cold) * (hot * hot + cold * cold)


def area(conducts: float, hot: float, cold: float, size: float, pipe: bool, gray: float) -> float:
    """The m² that lose so many W/K in a stated state."""
    return conducts / given_off(hot, cold, size, pipe, gray)


def stated_state(
    seen: float,
    share: float,
    eb: float,
    ew: float,
    bw: float,
    bg: float,
    bc: float,
    gr: float,
    case: float,
    room: float,
) -> tuple[float, float, float]:
    """Boiler and group at rest, K, and what the case loses per kelvin, W/K, from the losses as they are stated."""
    low, high = seen - 100.0, seen + 1e-9
    out = 1.0 / (1.0 / bg + 1.0 / gr)
    for _ in range(200):
        boiler = (low + high) / 2.0
        heat = out * (boiler - room) + bc * (boiler - case)
        # All heat comes from the element, straight into the metal or through the water.
        element = boiler + heat / (eb + ew * bw / (ew + bw))
        water = (ew * element + bw * boiler) / (ew + bw)
        low, high = (boiler, high) if share * boiler + (1.0 - share) * water < seen else (low, boiler)
    group = (bg * boiler + gr * room) / (bg + gr)
    return boiler, group, max(0.0, bc * (boiler - case)) / max(LEAST_EXCESS, case - room)
