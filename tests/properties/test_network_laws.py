"""Laws that hold for every machine: energy, the range of temperatures, no kit no change, and what must rise or fall."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import brentq

from guidegen.heat import layout as at
from guidegen.heat.network import Network, Pid
from guidegen.heat.study import Pull, Usage, study
from tests.properties.test_network_convergence import outputs
from tests.reference import machines, ours
from tests.reference.equations import loses, packed
from tests.reference.solver import Leg, imbalance

pytestmark = pytest.mark.slow

CELLS = 20
PULLS = {"double": Pull(0.050, 28.0)}
USAGE = Usage(("double",), (600.0,), 900.0)
SEEDS = st.integers(0, 10_000)
FLOWS = st.sampled_from([0.0, 0.0, 5e-4, 2e-3, 4e-3, 1e-2])
LEGS = st.lists(st.builds(Leg, st.floats(0.3, 90.0), FLOWS), min_size=1, max_size=6)


@settings(max_examples=40, deadline=None)
@given(SEEDS, LEGS, st.booleans(), st.booleans(), st.booleans(), st.sampled_from([0.0, 2e-3, 8e-3]))
def test_energy_is_conserved(seed: int, legs: list[Leg], coil: bool, relay: bool, cold: bool, bypass: float) -> None:
    """What goes in comes out or is stored, to a millionth of the heater's energy, past a tank too."""
    network = machines.plausible(1, coil, relay, seed)
    if network.coil is not None:
        network = replace(network, coil=replace(network.coil, bypass=np.array([bypass])))
    start = ours.start_of(network, 0, CELLS, cold)
    run = ours.run(network, 0, start, [Leg(20.0), *legs, Leg(30.0)], CELLS)
    for state in run.states:
        gap = imbalance(network, 0, ours.in_their_terms(start), state, CELLS)
        assert gap <= 1e-6 * max(float(state[5]), 1.0)


@settings(max_examples=40, deadline=None)
@given(SEEDS, LEGS, st.booleans(), SEEDS)
def test_without_heat_nothing_leaves_the_range_of_what_is_around(
    seed: int, legs: list[Leg], coil: bool, mess: int
) -> None:
    """Parts at any temperatures, heater off: none gets hotter than the hottest or colder than the coldest around."""
    network = replace(machines.plausible(1, coil, False, seed), heater_power=np.array([1e-9]))
    start = ours.start_of(network, 0, CELLS)
    draw = np.random.default_rng(mess)
    parts = [at.ELEMENT, at.BOILER, at.GROUP, at.CASE_AIR, at.SENSOR, *range(at.LUMPS, len(start))]
    start[parts] = draw.uniform(280.0, 400.0, len(parts))
    start[at.LUMPS :] = np.sort(start[at.LUMPS :]) if mess % 2 else start[at.LUMPS :]
    around = [float(one[0]) for one in (network.room, network.feed)]
    low, high = min(*around, start[parts].min()), max(*around, start[parts].max())
    run = ours.run(network, 0, start, legs, CELLS)
    for state in run.states:
        everything = np.concatenate((state[:4], state[8:]))
        assert everything.min() >= low - 1e-6
        assert everything.max() <= high + 1e-6
    seen = run.trace[:, [at.SEEN, at.MEAN_WATER, at.OUTLET, at.GROUP_METAL, at.BOILER_METAL, at.COIL_OUTLET]]
    assert low - 1e-6 <= seen.min()
    assert seen.max() <= high + 1e-6


@pytest.mark.parametrize("flow", [1e-3, 4e-3, 1e-2])
def test_no_water_leaves_the_coil_hotter_than_it_was(flow: float) -> None:
    """Hot water, hot metal, a cold front: the line that is drawn on past the last cell never overshoots."""
    network = machines.reference(True)
    start = ours.start_of(network, 0, CELLS)
    start[at.LUMPS + 1 :] = 355.0
    coil = replace(network.coil, to_boiler=np.zeros(1), to_case=np.zeros(1))  # type: ignore[type-var]
    trace = ours.run(replace(network, coil=coil), 0, start, [Leg(0.1 / flow, flow)], CELLS).trace
    assert trace[:, at.COIL_OUTLET].max() <= 355.0 + 1e-9
    assert trace[:, at.COIL_OUTLET].min() >= float(network.feed[0]) - 1e-9


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_a_coil_at_feed_temperature_is_no_coil(seed: int) -> None:
    """Nothing warms it, nothing is shielded: what comes out is feed, and every number is that of the machine alone."""
    plain = machines.plausible(1, False, False, seed)
    plain = replace(plain, case=plain.feed, room=plain.feed, case_to_room=np.array([1e6]))
    coil = machines.plausible(1, True, False, seed).coil
    assert coil is not None
    nothing = replace(coil, to_boiler=np.zeros(1), shields=np.zeros(1))
    start = ours.start_of(plain, 0, CELLS)
    legs = [Leg(28.0, 1.8e-3), Leg(60.0)]
    alone = ours.run(plain, 0, start, legs, CELLS).states[-1]
    fitted = replace(plain, coil=nothing)
    beside = ours.run(fitted, 0, ours.start_of(fitted, 0, CELLS), legs, CELLS).states[-1]
    assert beside[:4] == pytest.approx(alone[:4], abs=2e-3)


def test_no_kit_changes_nothing() -> None:
    """The same network asked twice gives the same bytes, and so does a row of it alone."""
    network = machines.plausible(5, True)
    one, other = (made(network) for _ in range(2))
    alone = made(network.row(0))
    for name, value in one.items():
        assert value.tobytes() == other[name].tobytes(), name
        assert value[0].tobytes() == alone[name][0].tobytes(), name


def test_threads_change_no_byte() -> None:
    """One thread, two or three: the same bytes."""
    network = machines.plausible(70, True)
    phase = np.linspace(0.0, 0.99, 70)
    made_by = [outputs(study(network, PULLS, "double", USAGE, phase, threads=threads)) for threads in (1, 2, 3)]
    for name, value in made_by[0].items():
        assert all(value.tobytes() == other[name].tobytes() for other in made_by[1:]), name


def made(network: Network) -> dict[str, NDArray[np.float64]]:
    """Outputs by name."""
    return outputs(study(network, PULLS, "double", USAGE, np.zeros(len(network))))


def rising(field: str, values: list[float], coil: bool = True, of_coil: bool = False) -> Network:
    """The reference case, one row per value of a field."""
    network = machines.reference(coil, rows=len(values))
    if of_coil:
        assert network.coil is not None
        return replace(network, coil=replace(network.coil, **{field: np.array(values)}))
    return replace(network, **{field: np.array(values)})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("field", "of_coil", "values", "output", "sign"),
    [
        ("feed", False, [278.0, 288.0, 298.0], "double sensor_drop", -1),
        ("feed", False, [278.0, 288.0, 298.0], "double mean_outlet", 1),
        ("boiler_to_case", False, [0.2, 0.4, 0.6], "idle_power", 1),
        ("group_to_room", False, [0.3, 0.6, 0.9], "idle_power", 1),
        ("case", False, [300.0, 310.0, 320.0], "idle_power", -1),
        ("heater_power", False, [900.0, 1200.0, 1500.0], "boiler_ready", -1),
        ("boiler_capacity", False, [180.0, 220.0, 260.0], "boiler_ready", 1),
        ("group_capacity", False, [400.0, 500.0, 600.0], "group_ready", 1),
        ("to_boiler", True, [0.5, 1.0, 2.0], "parked", 1),
        ("to_case", True, [0.3, 0.6, 0.9], "parked", -1),
        ("to_case", True, [0.3, 0.6, 0.9], "idle_power", 1),
        ("shields", True, [0.2, 0.5, 0.8], "idle_power", -1),
        ("water_mass", True, [0.04, 0.06, 0.08], "double sensor_drop", -1),
        ("water_mass", True, [0.04, 0.06, 0.08], "preheated", 1),
        ("water_mass", True, [0.04, 0.06, 0.08], "coil_settled", 1),
        ("bypass", True, [0.0, 2e-3, 4e-3], "double sensor_drop", 1),
    ],
)
def test_what_must_rise_rises(field: str, of_coil: bool, values: list[float], output: str, sign: int) -> None:
    """One input rises, all else the same: the output goes the way that physics leaves it."""
    found = made(rising(field, values, of_coil=of_coil))[output]
    assert np.all(sign * np.diff(found) > 0)


def test_a_larger_drink_drops_more() -> None:
    """And a coil makes every drop smaller."""
    pulls = {name: Pull(mass, 30.0) for name, mass in (("small", 0.03), ("middle", 0.05), ("large", 0.08))}
    drops = [
        [float(one.sensor_drop[0]) for one in study(machines.reference(coil), pulls, "small", USAGE_SMALL,
                                                    np.zeros(1)).drinks.values()]
        for coil in (False, True)
    ]  # fmt: skip
    assert drops[0] == sorted(drops[0])
    assert drops[1] == sorted(drops[1])
    assert np.all(np.array(drops[1]) < np.array(drops[0]))


USAGE_SMALL = Usage(("small",), (600.0,), 900.0)


def test_setpoint_higher_by_some_kelvin_warms_all_by_as_many_or_less() -> None:
    """With losses in proportion idle temperatures are linear in the setpoint, between it and what is around."""
    network = replace(machines.reference(True, rows=3), follows=np.zeros(3))
    setpoints = np.array([366.15, 371.15, 376.15])
    assert isinstance(network.control, Pid)
    found = made(replace(network, control=replace(network.control, setpoint=setpoints)))
    assert np.diff(found["parked"]) == pytest.approx(np.diff(found["parked"])[::-1], abs=1e-9)
    assert np.all((np.diff(found["group_idle"]) > 0) & (np.diff(found["group_idle"]) < 5.0))


def test_idle_power_is_what_is_lost() -> None:
    """A rest from idle: the heater gives what leaves, and nothing is stored; of a thermostat over a whole cycle."""
    for relay in (False, True):
        network = machines.plausible(6, True, relay)
        found = made(network)
        for row in range(6):
            wanted = losses(network, row, found)
            assert found["idle_power"][row] == pytest.approx(wanted, rel=1e-5 if not relay else 5e-3)


def losses(network: Network, row: int, found: dict[str, NDArray[np.float64]]) -> float:
    """Losses by the mean group and coil temperatures: through group, coil and the bare skin of the boiler."""
    coil, a = network.coil, packed(network, row)
    assert coil is not None
    group, parked, room = found["group_idle"][row], found["parked"][row], network.room[row]
    of_group = loses(a, 1, network.group_to_room[row], group, room) * (group - room)
    boiler = group + of_group / network.boiler_to_group[row]

    def into_case(air: float) -> float:
        skin = (1 - coil.shields[row]) * loses(a, 0, network.boiler_to_case[row], boiler, air) * (boiler - air)
        return float(skin + loses(a, 3, coil.to_case[row], parked, air) * (parked - air))

    # The air in the case is as warm as its room takes away what boiler and coil give.
    air = brentq(lambda t: into_case(t) - loses(a, 2, network.case_to_room[row], t, room) * (t - room), room, boiler)
    return float(of_group + into_case(air))
