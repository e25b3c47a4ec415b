"""How needs, effects and conditions of a step are written: the model and the state machine agree on mistakes too."""

from __future__ import annotations

import typing

import pytest

from guidegen.judge.safety.state import CHAINS, SUSPENDED
from guidegen.problems import Problem
from guidegen.workshop.explain import validated
from guidegen.workshop.procedures import SharedBlocks
from guidegen.workshop.reader import read
from guidegen.workshop.step_state import StateValues

STEP = """
blocks:
  b:
    name: B
    steps:
      - id: a
        do: Look.
        minutes: 1
        {line}
"""


def test_the_model_knows_the_chains_and_nothing_else() -> None:
    """Every variable with every value, in the same order; but for what a night alone brings about."""
    written = {}
    for name, info in StateValues.model_fields.items():
        literal, _ = typing.get_args(info.annotation)
        written[name] = typing.get_args(literal)
    assert written == {name: tuple(one for one in chain if one != SUSPENDED) for name, chain in CHAINS.items()}


def problem_of(line: str) -> Problem:
    """Return the one problem of a step with this line."""
    problems: list[Problem] = []
    root = read(STEP.replace("{line}", line).encode(), "shared.yml")
    assert validated(SharedBlocks, root, problems) is None
    (problem,) = problems
    return problem


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("requires: {main: off}", "S01"),
        ("sets: {mains: of}", "S04"),
        ("sets: {primed: maybe}", "S04"),
        ("when: {all: corded}", "S03"),
        ("when: {any: [corded]}", "S03"),
        ("when: {not: corded}", "S03"),
        ("when: {boiler.wall: {at_lest: 3 mm}}", "S01"),
        ("when: {boiler.wall: {at_least: {is: 3 mm}}}", "S03"),
        ("when: {boiler.wall: [[a]]}", "S03"),
    ],
)
def test_a_mistake_is_reported_with_its_place(line: str, code: str) -> None:
    """No traceback reaches an author; the line is the one that was written."""
    problem = problem_of(line)
    assert problem.code == code
    assert problem.line == 9
    assert problem.fix


def test_words_that_some_yaml_reads_as_truth_stay_words() -> None:
    """`mains: off` and `primed: yes` are states, not booleans."""
    problems: list[Problem] = []
    root = read(STEP.replace("{line}", "sets: {mains: off, primed: yes}").encode(), "shared.yml")
    shared = validated(SharedBlocks, root, problems)
    assert problems == []
    assert shared is not None
    step = shared.blocks["b"].steps[0]
    assert getattr(step, "sets", None) == {"mains": "off", "primed": "yes"}
