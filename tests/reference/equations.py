"""The network's equations written a second time, from their published statement, for a general solver.

Nothing here is shared with the package: own names, own order of states, every cell kept also at rest, the controller
as it is defined and not in modes. What must be shared is the discrete form of the coil, since both sides solve the
same one: N cells, straight lines within them with the monotonized-central slope, before the first cell a mirrored one
about the feed, behind the last one the line goes on, held between that cell's water and its metal.
"""

from __future__ import annotations

from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray

from guidegen.heat.network import Network, Pid
from tests.reference.skins import BOILER_TALL, CASE_TALL, GRAY_CASE, TUBE_WIDE, area, given_off

Numbers = NDArray[np.float64]

HEAT_OF_WATER = 4190.0
"""J/(kg K), 419.17 - 84.01 kJ/kg over 80 K."""

# States: element, boiler, group, sensor, integral, heat in, heat lost, heat drawn; then W (M), X (N), Y (N), case air.
FIRST_WATER = 8


def packed(network: Network, row: int = 0) -> Numbers:
    """One row of a network as the numbers that `rates` takes."""
    control, coil = network.control, network.coil
    pid = isinstance(control, Pid)
    tuning = (
        (control.setpoint, control.proportional, control.integral, control.derivative)
        if isinstance(control, Pid)
        else (control.opens, control.closes)
    )
    numbers = [
        network.heater_power, network.heater_capacity, network.heater_to_boiler, network.heater_to_water,
        network.boiler_capacity, network.boiler_to_water, network.boiler_to_group, network.boiler_to_case,
        network.water_mass * HEAT_OF_WATER, network.group_capacity, network.group_to_water, network.group_to_room,
        network.sensor_lag, network.sensor_metal_share, network.case, network.room, network.feed,
    ]  # fmt: skip
    values = [float(one[row]) for one in numbers]
    values += [float(pid), *(float(one[row]) for one in tuning), *([] if pid else [0.0, 0.0])]
    if coil is not None:
        values += [
            float(one[row])
            for one in (
                coil.water_mass * HEAT_OF_WATER, coil.metal_capacity, coil.to_boiler, coil.to_case,
                coil.inside_at_rest, coil.inside_in_flow, coil.along, coil.shields, coil.bypass * HEAT_OF_WATER,
            )
        ]  # fmt: skip
    else:
        values += [0.0] * 9
    return np.array([*values, *skins(network, row)])


def skins(network: Network, row: int) -> list[float]:
    """Areas and emissivities of boiler, group, case and coil; how far they follow temperature; the case's J/K, W/K."""
    stated, coil = {name: one[row] for name, one in vars(network).items() if isinstance(one, np.ndarray)}, network.coil
    boiler, group, case, room = (stated[name] for name in ("boiler_at_idle", "group_at_idle", "case", "room"))
    areas = [
        area(stated["boiler_to_case"], boiler, case, BOILER_TALL, False, stated["boiler_emissivity"]),
        area(stated["group_to_room"], group, room, BOILER_TALL, False, stated["group_emissivity"]),
        area(stated["case_to_room"], case, room, CASE_TALL, False, GRAY_CASE), 0.0,
    ]  # fmt: skip
    gray = 0.0
    if coil is not None:
        touch, leak, gray = coil.to_boiler[row], coil.to_case[row], coil.emissivity[row]
        parked = (touch * boiler + leak * case) / (touch + leak) if touch + leak > 0.0 else case
        areas[3] = area(leak, parked, case, TUBE_WIDE, True, gray)
    return [*areas, stated["boiler_emissivity"], stated["group_emissivity"], gray, stated["follows"],
            stated["case_capacity"], stated["case_to_room"]]  # fmt: skip


@numba.njit(cache=True)
def loses(a: Any, which: int, stated: float, hot: float, cold: float) -> float:
    """W/K of boiler, group, case or coil, by number."""
    size = CASE_TALL if which == 2 else TUBE_WIDE if which == 3 else BOILER_TALL
    gray = GRAY_CASE if which == 2 else a[37] if which == 3 else a[35 + which]
    full = a[31 + which] * given_off(hot, cold, size, which == 3, gray)
    return a[38] * full + (1.0 - a[38]) * stated


@numba.njit(cache=True)
def slope_of(back: float, ahead: float) -> float:
    """The monotonized-central slope."""
    if back * ahead <= 0.0:
        return 0.0
    size = min(2.0 * abs(back), 2.0 * abs(ahead), 0.5 * abs(back + ahead))
    return size if back > 0.0 else -size


@numba.njit(cache=True)
def heating(y: Any, a: Any, m: int, relay: float) -> tuple[float, float]:
    """The heater's power, and the rate of the controller's integral. relay: 0 or 1 of a thermostat."""
    if a[17] == 0.0:
        return a[0] * relay, 0.0
    water = 0.0
    for i in range(m):
        water += y[8 + i] / m
    sensed = a[13] * y[1] + (1.0 - a[13]) * water
    error = a[18] - y[3]
    asked = a[19] * error + y[4] - a[21] * (sensed - y[3]) / a[12]
    moving = a[20] * error
    if asked >= a[0] and error > 0.0:
        moving = 0.0
    if asked <= 0.0 and error < 0.0:
        moving = 0.0
    return min(max(asked, 0.0), a[0]), moving


@numba.njit(cache=True)
def coil_rates(y: Any, a: Any, m: int, n: int, flow: float, d: Any) -> tuple[float, float, float, float, float]:
    """Rates of change of the coil's water and metal into d.

    Returns the temperature of what leaves the coil, the heat from the boiler's metal, the heat lost, the heat that goes
    back with what passes the boiler by, and the share of the boiler's skin that no coil covers.
    """
    if n == 0:
        return a[16], 0.0, 0.0, 0.0, 1.0
    lost = 0.0
    to_coil = 0.0
    cap_x, cap_y, touch, leak, still, moved, along, shields, bypass = a[22:31]
    inside = moved if flow > 0.0 else still
    through = flow + bypass if flow > 0.0 else 0.0
    x, z = 8 + m, 8 + m + n
    leak = loses(a, 3, leak, y[z : z + n].mean(), y[-1])
    entering = a[16]
    for j in range(n):
        here = y[x + j]
        if j < n - 1:
            before = y[x + j - 1] if j > 0 else 2.0 * a[16] - here
            leaving = here + 0.5 * slope_of(here - before, y[x + j + 1] - here)
        else:
            before = y[x + j - 1] if j > 0 else a[16]
            leaving = here + 0.5 * (here - before)
            leaving = max(min(leaving, max(here, y[z + j])), min(here, y[z + j]))
        gain = inside / n * (y[z + j] - here)
        d[x + j] = (gain + through * (entering - leaving)) * n / cap_x
        entering = leaving
        side = 0.0
        if j > 0:
            side += along * n * (y[z + j - 1] - y[z + j])
        if j < n - 1:
            side += along * n * (y[z + j + 1] - y[z + j])
        from_boiler = touch / n * (y[1] - y[z + j])
        out = leak / n * (y[z + j] - y[-1])
        d[z + j] = (from_boiler - gain - out + side) * n / cap_y
        to_coil += from_boiler
        lost += out
    return entering, to_coil, lost, (through - flow) * (entering - a[16]), 1.0 - shields


@numba.njit(cache=True)
def rates(y: Any, a: Any, m: int, n: int, flow: float, relay: float, d: Any) -> None:
    """Rates of change into d. a: `packed`; m, n: cells of boiler water and coil; flow: W/K."""
    power, moving = heating(y, a, m, relay)
    before, to_coil, lost, returned, uncovered = coil_rates(y, a, m, n, flow, d)
    to_water_from_metal = 0.0
    to_water_from_element = 0.0
    for i in range(m):
        w = y[8 + i]
        metal, element = a[5] / m * (y[1] - w), a[3] / m * (y[0] - w)
        d[8 + i] = (flow * (before - w) + metal + element) * m / a[8]
        before = w
        to_water_from_metal += metal
        to_water_from_element += element
    exchanged = 0.0
    if flow > 0.0:
        exchanged = flow * (before - y[2]) * (1.0 - np.exp(-a[10] / flow))
    skin = uncovered * loses(a, 0, a[7], y[1], y[-1]) * (y[1] - y[-1])
    room = loses(a, 1, a[11], y[2], a[15]) * (y[2] - a[15])
    outside = loses(a, 2, a[40], y[-1], a[15]) * (y[-1] - a[15])
    group = a[6] * (y[1] - y[2])
    d[0] = (power - a[2] * (y[0] - y[1]) - to_water_from_element) / a[1]
    d[1] = (a[2] * (y[0] - y[1]) - to_water_from_metal - group - skin - to_coil) / a[4]
    d[2] = (group + exchanged - room) / a[9]
    sensed = 0.0
    for i in range(m):
        sensed += y[8 + i] / m
    d[3] = (a[13] * y[1] + (1.0 - a[13]) * sensed - y[3]) / a[12]
    d[4] = moving
    d[5] = power
    d[6] = room + outside
    d[7] = flow * (before - a[16]) - exchanged + returned
    d[-1] = (skin + lost - outside) / a[39]


def stored(y: Numbers, a: Numbers, m: int, n: int) -> float:
    """Heat in all lumps above 0 K, J."""
    total = a[1] * y[0] + a[4] * y[1] + a[9] * y[2] + a[8] * y[8 : 8 + m].mean() + a[39] * y[-1]
    if n > 0:
        total += a[22] * y[8 + m : 8 + m + n].mean() + a[23] * y[8 + m + n : 8 + m + 2 * n].mean()
    return float(total)
