"""Telling variants apart from outside."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "fixtures"))

from fit_cases import LOOKALIKE_QUESTIONS, LOOKALIKES

from guidegen.fit.identify import compile_identification, mark_questions
from guidegen.fit.walk import walk

RULES, QUESTIONS = compile_identification(LOOKALIKES, LOOKALIKE_QUESTIONS)


def left(**answers: Any) -> str | None:
    """Follow the answers, "not sure" to whatever else is asked."""
    given = {name.replace("_", "."): answer for name, answer in answers.items()}
    while (found := walk(RULES, given))["ask"] is not None:
        given[found["ask"]] = {"unsure": True}
    return found["outcome"]


def test_a_mark_that_one_variant_alone_has_ends_it() -> None:
    """The lamp comes first: it takes a minute and tells most apart; the red one leaves one variant."""
    assert walk(RULES, {})["ask"] == "mark.lamp"
    assert left(mark_lamp={"is": "a red lamp"}) == "one"


def test_the_plate_tells_apart_what_looks_alike() -> None:
    """1150 W ± 30 W read with ± 25 W: 1205 W still agrees, 1206 W and the other variant's 1374 W do not."""
    for watts, expected in ((1150, "two"), (1205, "two"), (1206, ""), (1374, ""), (1375, "three"), (1400, "three")):
        assert left(mark_lamp={"is": "a green lamp"}, heater_power={"unit": "W", "count": watts}) == expected


def test_what_data_do_not_mention_excludes_nothing() -> None:
    """Nobody wrote down the plate of the second variant: a glued one may be its, too."""
    assert left(mark_lamp={"is": "a green lamp"}, mark_plate={"is": "glued"}) == "two three"


def test_not_sure_leaves_all_of_them() -> None:
    assert left() == "one two three"


def test_none_of_ours_is_an_outcome() -> None:
    assert left(mark_lamp={"is": "something-else"}) == ""


def test_marks_are_asked_with_what_is_seen_on_any_variant() -> None:
    lamp = next(question for question in mark_questions(LOOKALIKES) if question.fact == "mark.lamp")
    assert [choice.is_ for choice in lamp.choices] == ["a red lamp", "a green lamp"]
    assert lamp.other is not None


@pytest.mark.parametrize("node", range(len(RULES["nodes"])))
def test_each_question_tells_some_apart(node: int) -> None:
    assert len(set(RULES["nodes"][node][1:])) > 1
