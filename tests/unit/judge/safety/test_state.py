"""The lattice of states: what a join and a step may and may not do."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidegen.judge.safety.state import CHAINS, KINDS, State, apply, at_most, join, night

NAMES = st.tuples(st.sampled_from(KINDS), st.sampled_from(["a", "b", "c"]))


@st.composite
def states(draw: st.DrawFn) -> State:
    """Any state: a value per chain, and each name in, out or unsure."""
    values = {name: draw(st.sampled_from(chain)) for name, chain in CHAINS.items()}
    out = draw(st.frozensets(NAMES))
    return State(**values, out=out, unsure=draw(st.frozensets(NAMES)) - out)


SETS = st.fixed_dictionaries({}, optional={name: st.sampled_from(chain) for name, chain in CHAINS.items()})


def no_better(first: State, second: State) -> bool:
    """Whether the first state promises nothing that the second does not."""
    chains = all(chain.index(first.get(name)) <= chain.index(second.get(name)) for name, chain in CHAINS.items())
    surely_in = second.out | second.unsure <= first.out | first.unsure
    return chains and surely_in and first.out <= second.out | first.unsure


@given(states(), states())
def test_a_join_does_not_care_about_order(first: State, second: State) -> None:
    """Commutative."""
    assert join(first, second) == join(second, first)


@given(states(), states(), states())
def test_a_join_does_not_care_about_grouping(first: State, second: State, third: State) -> None:
    """Associative, so the order of a walk cannot matter."""
    assert join(join(first, second), third) == join(first, join(second, third))


@given(states())
def test_a_join_with_itself_changes_nothing(state: State) -> None:
    """Idempotent."""
    assert join(state, state) == state


@given(states(), states())
def test_a_join_is_no_better_than_either_side(first: State, second: State) -> None:
    """The worst path counts."""
    joined = join(first, second)
    assert no_better(joined, first)
    assert no_better(joined, second)


@given(states(), states(), SETS, st.frozensets(NAMES), st.frozensets(NAMES))
def test_a_step_from_a_worse_state_leads_to_a_worse_state(
    first: State, second: State, sets: dict[str, str], removes: frozenset[tuple[str, str]],
    refits: frozenset[tuple[str, str]],
) -> None:  # fmt: skip
    """Monotone, so that the walk has a fixpoint."""
    worse = join(first, second)
    assert no_better(apply(worse, sets, removes, refits), apply(first, sets, removes, refits))


@given(states())
def test_a_night_makes_mains_and_temperature_unknown_and_nothing_better(state: State) -> None:
    """Somebody may have plugged the machine in and heated it up."""
    after = night(state)
    assert (after.mains, after.temperature) == ("unknown", "unknown")
    assert no_better(after, state)


@pytest.mark.parametrize("variable", ["mains", "temperature", "pressure", "water"])
def test_unknown_is_the_worst_value(variable: str) -> None:
    """What nobody made sure of never satisfies a need."""
    assert CHAINS[variable][0] == "unknown"
    assert not any(State().holds(variable, wanted) for wanted in CHAINS[variable][1:])


def test_what_is_out_on_one_path_only_is_neither_in_nor_out() -> None:
    """Neither "all refitted" nor "leads surely off" may rest on it."""
    lead = ("leads", "heater-live")
    joined = join(State(out=frozenset({lead})), State())
    assert lead not in joined.out
    assert not joined.is_in(lead)
    assert joined.missing("leads") == ("heater-live",)


@pytest.mark.parametrize(
    ("sets", "removes", "variable", "value"),
    [
        ({"mains": "live"}, (), "pressure", "unknown"),
        ({"mains": "live"}, (), "temperature", "unknown"),
        ({"mains": "live"}, (), "water", "full"),
        ({"mains": "pump_only"}, (), "pressure", "unknown"),
        ({"mains": "pump_only"}, (), "temperature", "cool"),
        ({"enclosure": "open"}, (), "earth", "disturbed"),
        ({}, (("leads", "x"),), "earth", "disturbed"),
        ({}, (("joints", "x"),), "leak", "bench_ok"),
        ({}, (("joints", "x"),), "primed", "no"),
        ({"water": "drained"}, (), "primed", "no"),
    ],
)
def test_what_a_step_brings_about_without_saying_so(
    sets: dict[str, str], removes: tuple[tuple[str, str], ...], variable: str, value: str
) -> None:
    """From the best state of all: heat and pump undo the release, an opening the earth test, a joint the leak test."""
    best = State(**{name: chain[-1] for name, chain in CHAINS.items()})
    assert apply(best, sets, removes).get(variable) == value


def test_what_goes_for_good_is_not_missed() -> None:
    """A permanent removal still undoes the leak test."""
    state = apply(State(leak="hot_ok"), {}, [("joints", "old")], permanent=True)
    assert state.is_in(("joints", "old"))
    assert state.leak == "bench_ok"


def test_a_better_value_serves_but_power_is_power() -> None:
    """Proved dead is off as well; off is not live, and pump alone is not full power."""
    assert State(mains="proved_dead").holds("mains", "off")
    assert not State(mains="off").holds("mains", "live")
    assert not State(mains="off").holds("mains", "pump_only")
    assert State(leak="hot_ok").holds("leak", "cold_ok")
    assert at_most(State(leak="hot_ok"), "leak", "cold_ok").leak == "cold_ok"
    assert at_most(State(leak="untested"), "leak", "cold_ok").leak == "untested"
