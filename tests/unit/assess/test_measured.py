"""What logs say of a pair: known dips come back, what may not be compared is refused, what is kept follows the runs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from guidegen.assess import Assessor
from guidegen.assess.bands import RangeQuestion
from guidegen.assess.kept import Kept
from guidegen.assess.logged_side import MeasuredSide
from guidegen.assess.logs import GRID, ReadRuns, digest_of, read_runs
from guidegen.heat.example import example
from guidegen.heat.pull import Pull
from guidegen.record.base import Figure
from guidegen.record.measured import Measured
from guidegen.runs.describing import read_back
from guidegen.runs.document import LoggedRun
from guidegen.trade import load
from tests.conftest import REPOSITORY

VARIANT, KIT, AT_REST = "tamsin-mk3", "feed-preheater", 102.0
BEGINS, ENDS, LOWEST, WIDTH = 120.0, 148.0, 160.0, 16.0
TIME = np.arange(0.0, 500.0)
PLATINUM = "kind: platinum, class: A, lag: 0 s"


def dipping(depth: float) -> np.ndarray:
    """A bell turned down: deepest at `LOWEST`, and back within half a kelvin at a time that its formula gives."""
    return AT_REST - depth * np.exp(-(((TIME - LOWEST) / WIDTH) ** 2))


def back_after(depth: float) -> float:
    """s from the end of the flow until the bell is half a kelvin deep."""
    return LOWEST + WIDTH * float(np.sqrt(np.log(depth / 0.5))) - ENDS


def logged(folder: Path, name: str, depth: float, more: str = "", probe: str = PLATINUM,
           early: str = "") -> tuple[str, LoggedRun]:  # fmt: skip
    """One described run with its file, in a folder of a workshop."""
    rows = "\n".join(f"{at:.0f},{value:.4f}" for at, value in zip(TIME, dipping(depth), strict=True))
    path = f"machines/tamsin/runs/{name}.yml"
    (folder / path).parent.mkdir(parents=True, exist_ok=True)
    (folder / path).with_suffix(".csv").write_text(f"t,sensor\n{rows}\n", encoding="utf-8")
    return path, read_back(
        f"variant: {VARIANT}\ndate: 2026-03-31\nkind: shot\ninvented: true\ndrink: double\nlogger: invented\n"
        f"file: {name}.csv\nsha256: {'0' * 64}\n{more}"
        "written: {encoding: utf-8, separator: comma, decimal: point, names_in_line: 1, values_from_line: 2}\n"
        "time: {column: t, written: s}\n"
        f"columns: [{{column: sensor, place: sensor, unit: °C, probe: {{{probe}}}}}]\n"
        f"shots: [{early}{{begins: {BEGINS:.0f} s, ends: {ENDS:.0f} s}}]\n",
        path,
    )


def side_of(folder: Path, runs: Mapping[str, LoggedRun]) -> MeasuredSide:
    """The runs of one configuration, read; nothing computed beside them."""
    return MeasuredSide("without", runs, read_runs(runs, folder), "double", None)


def test_a_shot_that_cannot_be_read_leaves_its_number_to_it(tmp_path: Path) -> None:
    """Of two drinks the first lies before the log: the other, 100 s later, is the second still, and none from rest."""
    path, run = logged(tmp_path, "one", 5.0, early="{begins: 0 s, ends: 20 s}, ")
    side = side_of(tmp_path, {path: run})
    (shot,) = side.read.runs[path].shots
    assert (shot.number, shot.wait_s) == (1, BEGINS - 20.0)
    assert side.firsts == {}
    assert [one.place for one in side.figures({})] == []


def test_only_this_drink_from_cold_says_when_a_shot_is_ready(tmp_path: Path) -> None:
    """Two warm dips of 5 K; from cold a long one of 9 K and a double of 5 K, which alone is a try."""
    warm = dict(logged(tmp_path, f"warm-{one}", 5.0) for one in range(2))
    cold = dict(logged(tmp_path, name, depth) for name, depth in (("cold-1", 9.0), ("cold-2", 5.0)))
    kinds = {path: run.model_copy(update={"kind": "cold-start", "drink": drink})
             for (path, run), drink in zip(cold.items(), ("long", "double"), strict=True)}  # fmt: skip
    found = {one.place: one for one in side_of(tmp_path, warm | kinds).figures({})}
    assert found["warm_up.without.shot_ready_s"].shots == 1


def campaign(folder: Path, before: list[float], after: list[float], probe: str = PLATINUM) -> dict[str, LoggedRun]:
    """A block for each pair of dips."""
    found = {}
    for kits, name, depths in (("", "stock", before), (f"kits: [{KIT}]\n", "coil", after)):
        for block, depth in enumerate(depths, 1):
            more = f"{kits}machine: unit 1\nblock: {block}\nfeed: 20 °C ± 0.5 K\n"
            path, run = logged(folder, f"{name}-{block}", depth, more, probe)
            found[path] = run
    return found


def assessed(folder: Path, runs: Mapping[str, LoggedRun], draws: int = 0) -> Measured | None:
    """What the record says of these runs of the demonstration's machine."""
    known = replace(load(REPOSITORY), runs=runs, root=folder)
    return Assessor(known, "next", draws).assess(known.machine(VARIANT), known.kit(KIT)).measured


def test_a_dip_and_its_recovery_come_back(tmp_path: Path) -> None:
    """Those of the formula that the file was made by; a bell is no parabola by 0.2 % of its depth over eight s."""
    path, run = logged(tmp_path, "one", 5.0)
    shot = read_runs({path: run}, tmp_path).runs[path].shots[0]
    assert shot.drop_k == pytest.approx(5.0, abs=0.015)
    assert shot.recovery_s == pytest.approx(back_after(5.0), abs=1.0)
    assert shot.start_degc == pytest.approx(AT_REST, abs=0.01)
    assert len(shot.curve_degc) == len(GRID)


def test_a_class_bounds_a_kelvin_by_its_slope(tmp_path: Path) -> None:
    """Class A of platinum at 102 °C: 0.15 K + 0.002 · 102 = 0.354 K, twice that over 102 K, over √3."""
    path, run = logged(tmp_path, "one", 5.0)
    shot = read_runs({path: run}, tmp_path).runs[path].shots[0]
    assert shot.drop_by_probe_k == pytest.approx(5.0 * 2 * 0.354 / 102.0 / 3**0.5, rel=5e-3)


def test_a_hotter_run_makes_no_other_reading_surer(tmp_path: Path) -> None:
    """What a probe leaves open of a dip from 102 °C is the same beside a run at 140 °C."""
    path, run = logged(tmp_path, "one", 5.0)
    other, hot = logged(tmp_path, "hot", -38.0)
    alone, beside = (read_runs(some, tmp_path).runs[path].shots[0] for some in ({path: run}, {path: run, other: hot}))
    assert alone.drop_by_probe_k == beside.drop_by_probe_k


def test_what_nobody_knows_of_a_probe_is_no_part(tmp_path: Path) -> None:
    """Neither a class that is not stated nor a lag that is unknown."""
    path, run = logged(tmp_path, "one", 5.0, probe="kind: other, lag: unknown")
    read = read_runs({path: run}, tmp_path)
    shot = read.runs[path].shots[0]
    assert read.lag_s is None
    assert (shot.drop_by_probe_k, shot.drop_by_lag_k, shot.recovery_by_lag_s) == (None, None, None)


@pytest.mark.parametrize(
    ("probe", "is_held"),
    [(PLATINUM, True), ("kind: other, lag: 0 s", False),
     ("kind: platinum, class: A, lag: unknown", False)],
)  # fmt: skip
def test_nothing_is_held_against_the_computed_while_probe_or_lag_is_not_stated(
    tmp_path: Path, probe: str, is_held: bool
) -> None:
    """Two dips beside a computed one of 4 to 6 K: an unknown probe cannot disagree."""
    place = "drinks.double.without.sensor_drop_k"
    runs = dict(logged(tmp_path, f"one-{depth:g}", depth, probe=probe) for depth in (7.0, 7.2))
    found = {one.place: one for one in side_of(tmp_path, runs).figures({place: Figure(value=5.0, low=4.0, high=6.0)})}
    assert (found[place].normalised_error is not None) is is_held


def test_when_the_boiler_is_ready_has_more_than_repetition(tmp_path: Path) -> None:
    """A ramp of 0.2 K/s, class A at 91 °C 0.332 K and a setpoint ± 0.1 K, a lag of 3 s ± 0.6 s, a row each second.

    20 °C to 91 °C takes 355 s, 3 s less for the lag. √(0.332² + 0.1²) / √3 / 0.2 = 1.00 s, √(1.5² + 0.6²) / √3 =
    0.93 s, 1 s / √12 = 0.29 s.
    """
    path, run = logged(tmp_path, "cold", 5.0, "setpoint: 93 °C ± 0.1 K\n", "kind: platinum, class: A, lag: 3 s ± 0.6 s")
    run = run.model_copy(update={"kind": "cold-start", "shots": ()})
    rows = "\n".join(f"{at:.0f},{20.0 + 0.2 * at:.4f}" for at in TIME)
    (tmp_path / path).with_suffix(".csv").write_text(f"t,sensor\n{rows}\n", encoding="utf-8")
    ready = read_runs({path: run}, tmp_path).runs[path].ready
    assert ready is not None
    parts = (ready.after_s, ready.by_probe_s, ready.by_lag_s, ready.by_reading_s)
    assert parts == pytest.approx((352.0, 1.0, 0.933, 0.289), rel=5e-3)


@pytest.mark.slow
def test_pairs_give_their_difference_and_their_ratio(tmp_path: Path) -> None:
    """5 K without, 2 K with, each pair moved alike: the difference is 3 K whatever the pairs share."""
    moved = [0.0, 0.3, -0.2, 0.5, 0.1]
    found = assessed(tmp_path, campaign(tmp_path, [5.0 + one for one in moved], [2.0 + one for one in moved]))
    assert found is not None
    both = found.before_after
    assert both is not None
    assert (both.pairs, found.shots, found.refused) == (5, 10, ())
    assert both.less_k.value == pytest.approx(3.0, abs=0.02)
    assert both.less_k.low is not None
    assert both.less_k.low > 2.9
    assert both.ratio.value == pytest.approx(2.14 / 5.14, abs=0.005)
    assert both.by_chance == 2 / 2**5
    assert both.normalised_error is None  # nothing was drawn
    drops = {one.place: one for one in found.figures}
    assert drops["drinks.double.without.sensor_drop_k"].value == pytest.approx(5.14, abs=0.02)
    assert drops["drinks.double.with.sensor_recovery_s"].value == pytest.approx(
        np.mean([back_after(2.0 + one) for one in moved]), abs=1.0
    )


@pytest.mark.slow
def test_before_and_after_hold_what_probe_and_lag_leave_open(tmp_path: Path) -> None:
    """Dips that never scatter, class B of platinum at 102 °C: ± 0.81 K at most, 2 · 0.81 / 102 / √3 of a kelvin.

    Of 3 K that is 0.0275 K, times 1.96. A slope moves both dips alike, so their ratio is as it was.
    """
    runs = campaign(tmp_path, [5.0] * 5, [2.0] * 5, "kind: platinum, class: B, lag: 0 s")
    found = assessed(tmp_path, runs)
    assert found is not None
    both = found.before_after
    assert both is not None
    assert both.less_k.high is not None
    assert both.ratio.high is not None
    assert both.less_k.high - both.less_k.value == pytest.approx(1.96 * 3.0 * 2 * 0.81 / 102 / 3**0.5, rel=0.02)
    assert both.ratio.high - both.ratio.value < 0.001


@pytest.mark.slow
def test_four_blocks_are_not_compared_and_said_so(tmp_path: Path) -> None:
    """Each side says what it says; nobody logged the kit: then there is nothing to say at all."""
    found = assessed(tmp_path, campaign(tmp_path, [5.0] * 4, [2.0] * 4))
    assert found is not None
    assert found.before_after is None
    assert found.refused == ("few-pairs",)
    assert len(found.figures) == 4
    assert assessed(tmp_path, campaign(tmp_path, [5.0] * 5, [])) is None


@pytest.mark.slow
def test_what_disagrees_is_found(tmp_path: Path) -> None:
    """No such machine dips by 40 K with a coil, and comes back in no time: both are far from what is computed."""
    spread = [0.0, 0.1, -0.1, 0.2, -0.2]
    runs = campaign(tmp_path, [6.0 + one for one in spread], [40.0 + one for one in spread])
    found = assessed(tmp_path, runs, draws=16)
    assert found is not None
    assert "ratio" in found.disagreeing
    assert "drinks.double.with.sensor_drop_k" in found.disagreeing
    assert found.with_ is not None
    assert found.with_.inside is not None
    assert found.with_.inside < 0.6  # before and long after the dip it is where it should be


def test_what_is_kept_follows_the_runs(tmp_path: Path) -> None:
    """Another word of a description, which has the sum of its file, is another key; the same words are the same."""
    first, again, other = (dict([logged(tmp_path, "one", 5.0, more)]) for more in ("", "", "machine: unit 2\n"))
    assert digest_of(first) == digest_of(again) != digest_of(other)
    kept, made = Kept(tmp_path), []

    def make() -> ReadRuns:
        made.append(1)
        return read_runs(first, tmp_path)

    for runs in (first, again, other):
        kept.part(ReadRuns, "guidegen.assess.logs", digest_of(runs), make)
    assert len(made) == 2


def test_a_computed_range_follows_the_lag_of_the_probe() -> None:
    """Its question has another digest, so another answer is kept."""
    asked = [RangeQuestion(example(), Pull(0.05, 28.0), np.zeros(1), np.zeros((1, 2)), lag) for lag in (0.0, 2.5, 2.5)]
    assert asked[0].digest() != asked[1].digest() == asked[2].digest()


def test_the_memory_of_a_preview_follows_the_runs(tmp_path: Path) -> None:
    """A run that is described otherwise is another record."""
    known = load(REPOSITORY)
    machine, kit = known.machine(VARIANT), known.kit(KIT)
    keys = {Assessor(replace(known, runs=dict([logged(tmp_path, "one", 5.0, more)])), "next", 0).key(machine, kit)
            for more in ("", "machine: unit 2\n")}  # fmt: skip
    assert len(keys) == 2
