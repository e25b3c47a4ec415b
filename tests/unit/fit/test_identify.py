"""Telling variants apart from outside."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from guidegen.catalogue.fields import Choice, Fact
from guidegen.catalogue.machine import Machine, Mark
from guidegen.catalogue.questions import Question, Questions
from guidegen.fit.identify import compile_identification, mark_questions
from guidegen.fit.walk import walk
from guidegen.units import parse

WATTS = Question(fact="heater.power", ask="Watts?", why="It tells.", tool="eyes", where="plate", look="outside",
                 minutes=2, photos=("plate",), units=("W",), tolerance="25 W", plausible=("500 W", "2 kW"))  # fmt: skip


def machine(name: str, watts: str, **marks: str) -> Machine:
    """What identification looks at, and nothing else of a machine."""
    quantity = parse(watts, "power")
    power = Fact(text=watts, dimension="power", quantity=quantity)

    def fact(path: str) -> Fact | Choice | None:
        return power if path == "heater.power" else None

    seen = tuple(Mark(id=key, look=f"the {key}", see=see) for key, see in marks.items())
    return cast(Machine, SimpleNamespace(id=name, marks=seen, fact=fact))


ONE = machine("one", "1150 W ± 30 W", lamp="a red lamp", plate="riveted")
TWO = machine("two", "1150 W ± 30 W", lamp="a green lamp")
THREE = machine("three", "1400 W", lamp="a green lamp", plate="glued")
RULES, QUESTIONS = compile_identification([ONE, TWO, THREE], Questions(questions=(WATTS,)))


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
    lamp = next(question for question in mark_questions([ONE, TWO, THREE]) if question.fact == "mark.lamp")
    assert [choice.is_ for choice in lamp.choices] == ["a red lamp", "a green lamp"]
    assert lamp.other is not None


@pytest.mark.parametrize("node", range(len(RULES["nodes"])))
def test_each_question_tells_some_apart(node: int) -> None:
    assert len(set(RULES["nodes"][node][1:])) > 1
