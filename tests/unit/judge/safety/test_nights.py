"""What comes again when a night lies before a step: what the steps ahead ask for, and nothing that was closed since."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import pytest

from guidegen.judge.safety.flow import Run, passed
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.nights import after_nights
from guidegen.judge.safety.state import night
from tests.mutants.draft import draft
from tests.mutants.table import CLEAN

pytestmark = pytest.mark.slow

PAIR = ("tamsin-mk2", "feed-preheater")


@cache
def nights(variant: str, kit: str) -> tuple[Mapping[str, tuple[str, ...] | None], tuple[Run, ...]]:
    """What the fitting of a pair says of each of its steps, and its runs."""
    guide = draft(variant, kit).guide()
    runs = tuple(run for run in guide.runs if run.graph.course is guide.resolved.fitting)
    return after_nights(runs), runs


@pytest.mark.parametrize(
    ("step", "again"),
    [
        # Read off the instruction by hand: what lies between the step and the last time that somebody made sure.
        ("cool/still-off", ()),
        ("cool/empty-tank", ("cool/still-off", "cool/wait")),
        ("take-out/photograph", ("take-out/still-off", "take-out/measure")),
        ("take-out/boiler-out", ("take-out/still-off", "take-out/measure")),
        ("trim/scribe-drain-boss", ("trim/still-off",)),
        ("put-back/boiler-in", ("put-back/still-off", "put-back/measure")),
        ("cold-test/earth-casing", ("cold-test/still-off", "cool/wait")),
        ("cold-test/prime", None),
        ("heat/hot-look", None),
        ("connect/heater-on", ("connect/still-off",)),
        ("remake-joint/undo-joint", ("remake-joint/still-off", "remake-joint/measure")),
    ],
)
def test_it_is_what_was_made_sure_of_last(step: str, again: tuple[str, ...] | None) -> None:
    """Under the cover the probe, on a closed machine the whole wait; nobody can speak for one left under power."""
    found, _ = nights(*PAIR)
    assert found[step] == again


def test_at_a_safe_stop_the_next_phase_sees_to_it() -> None:
    """The first step of a phase behind a stop needs nothing added: the lint holds the night before it to that."""
    found, runs = nights(*PAIR)
    for run in runs:
        firsts = [edge.target for edge in run.graph.edges if edge.kind == "night"]
        assert len(firsts) > 8
        assert {first: found[first] for first in firsts if first is not None and found[first] != ()} == {}


@pytest.mark.parametrize("pair", CLEAN, ids="-".join)
def test_after_it_everything_ahead_finds_what_it_asks_for(pair: tuple[str, str]) -> None:
    """A law, tried before every step of the main way of every case: a night, then what comes again, then the rest."""
    found, runs = nights(*pair)
    tried = 0
    for run in runs:
        for place, key in enumerate(run.graph.main):
            again = found[key]
            if again is None:
                continue
            tried += 1
            repeated = [run.graph.steps[one] for one in again if one in run.graph.steps]
            assert missed(run, key, [*repeated, *(run.graph.steps[one] for one in run.graph.main[place:])]) == []
    assert tried > 40


def missed(run: Run, key: str, steps: list[ResolvedStep]) -> list[tuple[str, str]]:
    """What steps ask for after a night before one of them, and do not find, though they find it without."""
    state, found = night(run.before[key]), []
    for step in steps:
        asked = step.step.requires.items()
        found += [
            (step.key, name)
            for name, wanted in asked
            if run.before[step.key].holds(name, wanted) and not state.holds(name, wanted)
        ]
        state = passed(state, step, run.path)
    return found
