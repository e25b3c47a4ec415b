"""A cold front in a tube with metal: the coil's outlet against the solution of Anzelius and Schumann."""

from __future__ import annotations

import functools
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from guidegen.heat.layout import LUMPS
from guidegen.heat.network import WATER_SPECIFIC_HEAT
from guidegen.heat.study import CELLS
from tests.published.check import Check
from tests.reference import machines, ours, parcels
from tests.reference.front import share_by_chi_square, share_of_cold
from tests.reference.outputs import CELLS as PARCELS
from tests.reference.plain import Plant
from tests.reference.solver import Leg

pytestmark = pytest.mark.slow

SCHUMANN = "Anzelius 1926 and Schumann 1929: J(x, y), the Bessel form evaluated with scipy"
HOT, COLD = 82.7 + 273.15, 293.15
HELD, METAL, INSIDE = 58e-6 * 998.0, 0.44 * 385.0, 55.0
"""kg of water, J/K of metal, W/K between them."""
FLOWS = (1e-3, 2e-3, 3e-3, 4e-3)
"""kg/s."""
DRINKS = (36e-3 / 25.0, 50e-3 / 28.0, 94e-3 / 38.0)
"""kg/s of the demonstration's drinks."""
CHUNK = 0.25
"""s between looks."""
SLOWEST, KELVIN, ANYWHERE = 1.4e-3, 0.15, 0.5
"""kg/s of the slowest drink; K for the coil of the demonstration from that flow on; K for any coil in any flow."""
Numbers = NDArray[np.float64]


@functools.cache
def computed(flow: float, cells: int = CELLS, inside: float = INSIDE) -> tuple[Numbers, Numbers]:
    """Drawn mass, kg, and the outlet of the coil alone, K: no boiler, no case, no conduction along it."""
    from guidegen.heat.components.coil import faces

    network = machines.reference(True)
    assert network.coil is not None
    one = np.ones(1)
    coil = replace(
        network.coil, water_mass=HELD * one, metal_capacity=METAL * one, to_boiler=0 * one, to_case=0 * one,
        along=0 * one, inside_in_flow=inside * one, shields=0 * one,
    )  # fmt: skip
    network = replace(network, coil=coil, feed=COLD * one)
    start = ours.start_of(network, 0, cells)
    start[LUMPS + 1 :] = HOT
    full, times, found = start, [], []
    for i in range(int(130e-3 / flow / CHUNK)):
        made = ours.run(network, 0, full, [Leg(CHUNK, flow)], cells)
        full = ours.in_our_terms(full, made.states[0])
        face = np.empty(cells + 1)
        faces(full, network.parameters()[0], LUMPS + 1, cells, face)
        times.append((i + 1) * CHUNK)
        found.append(face[-1])
    return np.array(times) * flow, np.array(found)


def exact(flow: float, drawn: Numbers, inside: float = INSIDE) -> Numbers:
    """The outlet of the same coil by the closed form, K."""
    waited = inside / METAL * (drawn - HELD) / flow
    return HOT + (COLD - HOT) * share_by_chi_square(inside / (flow * WATER_SPECIFIC_HEAT), waited)


def outlet_at(flow: float, drawn: float) -> float:
    """Ours, K, on the line between looks."""
    masses, outlets = computed(flow)
    return float(np.interp(drawn, masses, outlets))


CHECKS = [
    Check(
        f"front-{flow * 1e3:.0f}-{grams}", f"coil outlet at {flow * 1e3:.0f} g/s after {grams} g", "K",
        HOT + (COLD - HOT) * share_of_cold(
            INSIDE / (flow * WATER_SPECIFIC_HEAT), INSIDE / METAL * (grams * 1e-3 - HELD) / flow
        ),
        KELVIN if flow >= SLOWEST else ANYWHERE, SCHUMANN,
        "L", "derived", ("Coil water", "Coil metal"), lambda flow=flow, grams=grams: outlet_at(flow, grams * 1e-3),
    )
    for flow in FLOWS
    for grams in (40, 65, 80, 110)
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The row of the table comes out."""
    check.hold()


def apart(drawn: Numbers, found: Numbers, flow: float, inside: float) -> float:
    """The largest difference to the exact outlet, K, at all volumes but two cells' around the front."""
    far = np.abs(drawn - HELD) > 2.0 * HELD / CELLS
    return float(np.abs(found - exact(flow, drawn, inside))[far].max())


@pytest.mark.parametrize("drink", DRINKS, ids=lambda flow: f"{flow * 1e3:.2f} g/s")
def test_in_a_drink_the_outlet_follows_the_front_closely(drink: float) -> None:
    """Within 0.15 K at the flow of each of the demonstration's drinks, in a coil such as its own."""
    assert apart(*computed(drink), drink, INSIDE) < KELVIN


@pytest.mark.parametrize("drink", DRINKS, ids=lambda flow: f"{flow * 1e3:.2f} g/s")
def test_parcels_carry_the_front_exactly(drink: float) -> None:
    """The second implementation, whose water moves in whole parcels, is within a fiftieth of a kelvin."""
    still = Plant(
        **dict.fromkeys(("heater_power", "element", "boiler", "water", "group", "lag", "mixed"), 1),
        **dict.fromkeys(("element_boiler", "element_water", "boiler_water", "boiler_group", "boiler_area"), 0.0),
        **dict.fromkeys(("group_water", "group_area", "metal_share", "kp", "ki", "kd", "case_area"), 0.0),
        case=1.0, boiler_gray=0.0, group_gray=0.0, room=HOT, feed=COLD, relay=True,
        setpoint=0.0, closes=0.0, coil_water=HELD * WATER_SPECIFIC_HEAT,
        coil_metal=METAL, inside_flow=INSIDE,
    )  # fmt: skip
    state, record = parcels.uniform(still, PARCELS, (HOT, HOT, HOT, HOT, 0.0, HOT), HOT, HOT), np.empty((9999, 7))
    flow = drink * WATER_SPECIFIC_HEAT
    rows = parcels.advance(state, still, PARCELS, flow, 0.13 / drink, False, 0.0, record)[1]
    found = record[1:rows]
    assert apart(found[:, parcels.TIME] * drink, found[:, parcels.LEAVING], drink, INSIDE) < 0.02


@pytest.mark.parametrize("flow", FLOWS)
@pytest.mark.parametrize("inside", [INSIDE, 90.0])
def test_outlet_follows_the_front_everywhere(flow: float, inside: float) -> None:
    """The outlet is within 0.5 K at all volumes but two cells' around the front, and any 5-g mean is everywhere."""
    drawn, ours_ = computed(flow, inside=inside)
    assert apart(drawn, ours_, flow, inside) < ANYWHERE
    fine = np.linspace(0.0, drawn[-1], 20_001)
    gap = np.interp(fine, np.append(0.0, drawn), np.append(HOT, ours_)) - exact(flow, fine, inside)
    total = np.append(0.0, np.cumsum((gap[1:] + gap[:-1]) / 2 * np.diff(fine)))
    window = round(5e-3 / (fine[1] - fine[0]))
    means = (total[window:] - total[:-window]) / (fine[window] - fine[0])
    assert np.abs(means).max() < ANYWHERE


@pytest.mark.parametrize("transfer_units", [0.1, 0.7, 2.0, 8.0])
def test_two_forms_of_the_solution_agree(transfer_units: float) -> None:
    """The Bessel form and the noncentral chi-square tail are one function, and the front jumps by exp(-NTU)."""
    waited = np.array([1e-9, 0.1, 0.5, 2.0, 10.0])
    bessel = [share_of_cold(transfer_units, float(one)) for one in waited]
    assert share_by_chi_square(transfer_units, waited) == pytest.approx(bessel, rel=1e-9)
    assert bessel[0] == pytest.approx(np.exp(-transfer_units), rel=1e-6)


def test_metal_delays_the_cold() -> None:
    """The mean volume at which the cold arrives is the held one times one plus the ratio of heat capacities."""
    drawn, outlets = computed(1e-3)
    share = (outlets - COLD) / (HOT - COLD)
    carried = float(np.sum((share[1:] + share[:-1]) / 2 * np.diff(drawn)) + drawn[0])
    # What is left in the metal when the draw ends is missing; the closed form says how much.
    fine = np.linspace(0.0, drawn[-1], 20_001)
    expected = float(np.trapezoid((exact(1e-3, fine) - COLD) / (HOT - COLD), fine))
    assert carried == pytest.approx(expected, rel=0.005)
    assert HELD * 1.2 < carried < HELD * (1 + METAL / (HELD * WATER_SPECIFIC_HEAT))
