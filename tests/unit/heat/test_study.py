"""A study: shapes, what has no value, the phases of a thermostat, and the meaning of what it gives."""

from __future__ import annotations

import functools
from dataclasses import replace

import numpy as np
import pytest

from guidegen.heat import layout as at
from guidegen.heat import program
from guidegen.heat.after import after_steam, soaked_coil
from guidegen.heat.cooling import cool_down
from guidegen.heat.fleet import Fleet
from guidegen.heat.idle import PARKED, PERIOD
from guidegen.heat.layout import COIL_WATER, SEEN, TIME
from guidegen.heat.network import Network
from guidegen.heat.shot import AT
from guidegen.heat.study import WAITS, Pull, Study, Usage, setpoint_for, study
from tests.reference import machines

PULLS = {"double": Pull(0.050, 28.0), "single": Pull(0.036, 25.0)}
USAGE = Usage(("double",), (600.0,), 900.0)


@functools.cache
def made(coil: bool, relay: bool = False, rows: int = 3) -> tuple[Network, Study]:
    """A network and its study."""
    network = machines.plausible(rows, coil, relay)
    return network, study(network, PULLS, "double", USAGE, np.linspace(0.0, 0.9, rows))


@pytest.mark.parametrize("coil", [False, True])
@pytest.mark.parametrize("relay", [False, True])
def test_shapes(coil: bool, relay: bool) -> None:
    """One number per row; per row and wait for the second drink; no coil, no coil's numbers."""
    one = made(coil, relay)[1]
    assert set(one.drinks) == set(PULLS)
    assert one.drinks["double"].sensor_drop.shape == (3,)
    assert one.drop_ends["double"].shape == (3, 2)
    assert one.second.sensor_drop.shape == (3, len(WAITS))
    assert np.isfinite(one.parked).all() == coil
    assert np.isfinite(one.coil_settled).all() == coil
    assert np.isnan(one.shot_ready).all() == relay
    assert (one.period > 0).all() == relay


def test_a_heater_too_weak_has_no_idle() -> None:
    """A row that cannot hold its setpoint is nan throughout; the others are not touched."""
    network = machines.reference(True, rows=2)
    weak = replace(network, heater_power=np.array([1150.0, 40.0]))
    both, whole = (study(one, PULLS, "double", USAGE, np.zeros(2)) for one in (weak, network))
    for name in ("idle_power", "parked", "boiler_ready", "group_ready", "shot_ready", "session_energy", "preheated"):
        assert np.isnan(getattr(both, name)[1]), name
        assert getattr(both, name)[0] == getattr(whole, name)[0], name
    assert np.isnan(both.drinks["double"].sensor_drop[1])
    assert np.isnan(both.second.sensor_drop[1]).all()


def test_what_is_asked_is_checked() -> None:
    """Phases outside a cycle and drinks without a start are mistakes of the caller."""
    network = machines.reference(False)
    with pytest.raises(ValueError, match="phase"):
        study(network, PULLS, "double", USAGE, np.array([1.5]))
    with pytest.raises(ValueError, match="phase"):
        study(network, PULLS, "double", USAGE, np.zeros(2))
    with pytest.raises(ValueError, match="usage"):
        study(network, PULLS, "double", Usage(("double",), (), 600.0), np.zeros(1))


def test_traces_are_the_shot_and_the_cold_start_of_row_0() -> None:
    """Time never falls back, the draw begins at idle, half an hour from cold is shown."""
    network, one = made(True)
    shot, cold = one.traces.shot, one.traces.cold
    assert np.all(np.diff(shot[:, TIME]) >= 0)
    assert np.all(np.diff(cold[:, TIME]) >= 0)
    assert shot[0, TIME] == cold[0, TIME] == 0.0
    assert shot[-1, TIME] == pytest.approx(28.0 + program.FOLLOW)
    assert cold[-1, TIME] == pytest.approx(1800.0)
    assert cold[0, SEEN] == network.room[0]
    assert shot[0, COIL_WATER] == pytest.approx(one.parked[0])
    assert one.drinks["double"].sensor_drop[0] == pytest.approx(shot[0, SEEN] - shot[:180, SEEN].min(), abs=0.01)
    ready = np.interp(one.boiler_ready[0], cold[:, TIME], cold[:, SEEN])
    assert abs(ready - one.display_low[0]) == pytest.approx(2.0, abs=1e-6)


def test_recovery_is_when_the_trace_comes_back_for_good() -> None:
    """Read from the trace by hand."""
    one = made(True)[1]
    trace, setpoint = one.traces.shot, one.display_low[0]
    rest = trace[trace[:, TIME] >= 28.0]
    outside = np.abs(rest[:, SEEN] - setpoint) > 0.5
    last = np.flatnonzero(outside)[-1] if outside.any() else 0
    found = one.drinks["double"].sensor_recovery[0] + 28.0
    assert rest[last, TIME] <= found <= rest[last + 1, TIME] + 1e-9
    back = rest[np.abs(rest[:, COIL_WATER] - one.parked[0]) <= 5.0, TIME][0]
    assert one.drinks["double"].coil_recovery[0] + 28.0 == pytest.approx(back, abs=0.5)


def test_shot_ready_is_where_the_drop_has_come() -> None:
    """A shot at that moment misses the soaked drop by a tenth, or the boiler has just become ready."""
    network, one = made(True)
    fleet = Fleet(network.parameters())
    ready, soaked = one.shot_ready, one.drinks["double"].sensor_drop
    again = fleet.shots(program.cold_states(fleet), PULLS["double"], wait=ready, follow=60.0).results[:, AT.sensor_drop]
    for row in range(3):
        if ready[row] > one.boiler_ready[row] + 1.0:
            assert abs(again[row] - soaked[row]) == pytest.approx(0.1 * soaked[row], abs=2e-3)
        else:
            assert abs(again[row] - soaked[row]) <= 0.1 * soaked[row]


def test_a_drop_that_is_right_by_chance_is_not_yet_ready() -> None:
    """Of many machines: a minute after shot ready, when the next one is tried, the drop is within the tenth too."""
    network = machines.plausible(60, True, seed=3)
    fleet = Fleet(network.parameters())
    states, facts = fleet.idle()
    soaked = fleet.shots(states, PULLS["double"], follow=60.0).results[:, AT.sensor_drop]
    boiler = fleet.from_cold(facts, shown=False)[0][:, 0]
    ready = program.shot_ready(fleet, PULLS["double"], soaked, boiler)
    assert np.isfinite(ready).all()
    cold, quick = program.cold_states(fleet), program.QUICK
    # Tries come at whole minutes after the boiler is ready, for five minutes.
    next_try = boiler + quick * (np.floor((ready - boiler) / quick + 1e-9) + np.where(ready - boiler < 1e-6, 1, 2))
    early = next_try <= boiler + 5 * quick
    assert early.sum() > 3
    drops = fleet.shots(cold, PULLS["double"], wait=next_try, follow=60.0).results[:, AT.sensor_drop]
    off = np.abs(drops - soaked) - np.maximum(0.1 * soaked, program.LEAST)
    assert np.all(off[early] <= 1e-3)


def test_a_thermostat_s_drop_is_the_mean_over_its_phases() -> None:
    """Twelve equally spaced starts in row 0, four from a start of their own in the others; the ends are of the same."""
    network, one = made(False, True)
    fleet = Fleet(network.parameters())
    states, facts = fleet.idle()

    def drops_at(row: int, shares: np.ndarray) -> np.ndarray:
        who = np.full(len(shares), row, dtype=np.int64)
        done = fleet.shots(states[who], PULLS["double"], who=who, wait=shares * facts[row, PERIOD], follow=60.0)
        return done.results[:, AT.sensor_drop]

    drops, of_another = drops_at(0, np.arange(12) / 12), drops_at(1, (0.45 + np.arange(4) / 4) % 1)
    mean, ends = one.drinks["double"].sensor_drop, one.drop_ends["double"]
    assert mean[0] == pytest.approx(drops.mean())
    assert ends[0] == pytest.approx([drops.min(), drops.max()])
    assert mean[1] == pytest.approx(of_another.mean())
    assert ends[1] == pytest.approx([of_another.min(), of_another.max()])
    assert drops.max() - drops.min() > 0.3
    assert one.second.sensor_drop[0, -1] > 0


def test_a_settled_cycle_repeats() -> None:
    """One period after switching on, every temperature is back; in drinks conductances are held a little longer."""
    fleet = Fleet(made(True, True)[0].parameters())
    states, facts = fleet.idle()
    later = fleet.shots(states, PULLS["double"], wait=facts[:, PERIOD], keep=True).begun
    lumps, width = [at.ELEMENT, at.BOILER, at.GROUP, at.CASE_AIR, at.SENSOR], states.shape[1]
    assert later[:, lumps] == pytest.approx(states[:, lumps], abs=2e-2)
    assert later[:, at.LUMPS : width] == pytest.approx(states[:, at.LUMPS : width], abs=2e-2)
    assert np.all(facts[:, PARKED] > 320.0)


def test_a_second_drink_comes_nearer_to_the_first_the_longer_one_waits() -> None:
    """With a coil that must fill with heat again; after twenty minutes there is hardly a difference."""
    network = machines.reference(True)
    one = study(network, PULLS, "double", USAGE, np.zeros(1))
    drops, first = one.second.sensor_drop[0], one.drinks["double"].sensor_drop[0]
    assert np.all(np.diff(np.abs(drops - first))[1:] < 0)
    assert drops[-1] == pytest.approx(first, rel=0.03)
    flushed = [
        study(network, PULLS, "double", USAGE, np.zeros(1), flush=flush).after_flush.sensor_drop[0]
        for flush in (Pull(1e-6, 1.0), Pull(0.060, 15.0))
    ]
    assert flushed[0] == pytest.approx(first, rel=1e-3)
    assert flushed[1] > first


def test_the_setpoint_found_gives_the_cup_wanted() -> None:
    """Put in, the mean outlet is the wanted one to a millikelvin; out of reach there is none."""
    network = machines.plausible(4, True)
    plain = study(machines.plausible(4, False), PULLS, "double", USAGE, np.zeros(4)).drinks["double"].mean_outlet
    found = setpoint_for(network, PULLS["double"], plain)
    assert np.isfinite(found).all()
    moved = replace(network, control=replace(network.control, setpoint=found))  # type: ignore[type-var]
    again = study(moved, PULLS, "double", USAGE, np.zeros(4)).drinks["double"].mean_outlet
    assert again == pytest.approx(plain, abs=2e-3)
    assert np.isnan(setpoint_for(network, PULLS["double"], plain + 500.0)).all()
    assert np.isnan(setpoint_for(machines.plausible(4, True, True), PULLS["double"], plain)).all()


def test_cooling_of_one_lump_is_exponential() -> None:
    """Everything tied together by large conductances cools as one: t = C/G ln((T0 - Ta)/(T - Ta))."""
    one, big = np.ones(1), np.full(1, 1e3)
    network = replace(
        machines.reference(False), heater_to_boiler=big, boiler_to_water=big, boiler_to_group=big,
        case=295.15 * one, case_to_room=1e6 * one, follows=0.0 * one, room=295.15 * one, boiler_to_case=0.4 * one,
        group_to_room=0.6 * one,
    )  # fmt: skip
    made_ = cool_down(network)
    lag = float(network.heat_capacity()[0]) / 1.0
    for found, goal in ((made_.touch, 313.15), (made_.below_90, 363.15)):
        assert found[0] == pytest.approx(lag * np.log((376.15 - 295.15) / (goal - 295.15)), rel=3e-3)


def test_after_steam_waiting_takes_long_and_a_flush_is_short() -> None:
    """And a coil that has soaked at steam temperature is hotter than parked water ever is."""
    with_, without = (
        after_steam(machines.reference(coil), np.array([403.15]), Pull(0.060, 15.0)) for coil in (True, False)
    )
    assert soaked_coil(machines.reference(True), np.array([403.15])) > 355.84
    assert 60.0 < with_.wait < without.wait
    assert 0.01 < without.flush < with_.flush


def test_a_row_s_own_drink_is_the_drink_of_that_mass_and_time() -> None:
    """A habit of + 1 and − 1/2 draws the ± more, in half of it less; a session's energy follows."""
    network = machines.plausible(2, True, False)
    varied = {"double": Pull(0.050, 28.0, 0.004, 6.0)}
    habit = np.array([[0.0, 0.0], [1.0, -0.5]])
    one = study(network, varied, "double", USAGE, np.zeros(2), habit=habit)
    other = study(network, {"double": Pull(0.054, 25.0)}, "double", USAGE, np.zeros(2))
    for name in ("sensor_drop", "mean_outlet", "sensor_recovery"):
        got, wanted = (getattr(each.drinks["double"], name)[1] for each in (one, other))
        assert got == pytest.approx(wanted, rel=1e-9)
    assert one.session_energy[1] == pytest.approx(other.session_energy[1], rel=1e-9)
    assert one.drinks["double"].sensor_drop[0] == made(True, rows=2)[1].drinks["double"].sensor_drop[0]
