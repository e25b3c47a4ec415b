"""Distinguishing variants from outside."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

sys.path.insert(0, str(Path(__file__).parents[3] / "fixtures"))

from fit_cases import LOOKALIKE_QUESTIONS, LOOKALIKES, measured, outside

from guidegen.judge.fit.identify import compile_identification, which_of
from guidegen.judge.fit.marks import mark_questions
from guidegen.judge.fit.walk import walk
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.units import parse
from guidegen.workshop.fields import Fact
from guidegen.workshop.questions import Questions

RULES, QUESTIONS = compile_identification(LOOKALIKES, LOOKALIKE_QUESTIONS, known_facts())


def left(**answers: Any) -> str | None:
    """Follow the answers, "not sure" to whatever else is asked."""
    given = {name.replace("_", "."): answer for name, answer in answers.items()}
    while (found := walk(RULES, given))["ask"] is not None:
        given[found["ask"]] = {"unsure": True}
    return found["outcome"]


def test_a_mark_that_one_variant_alone_has_ends_it() -> None:
    """The plate comes first, of whatever it separates; then the lamp, whose red one leaves one variant."""
    assert walk(RULES, {})["ask"] == "mark.plate"
    assert walk(RULES, {"mark.plate": {"unsure": True}, "heater.power": {"unsure": True}})["ask"] == "mark.lamp"
    assert left(mark_lamp={"is": "a red lamp"}) == "one"


def test_the_plate_distinguishes_what_looks_alike() -> None:
    """1150 W ± 30 W read with ± 25 W: 1205 W still agrees, 1206 W and the other variant's 1374 W do not."""
    for watts, expected in ((1150, "two"), (1205, "two"), (1206, ""), (1374, ""), (1375, "three"), (1400, "three")):
        assert left(mark_lamp={"is": "a green lamp"}, heater_power={"unit": "W", "count": watts}) == expected


def test_what_nobody_looked_at_excludes_nothing() -> None:
    """Nobody looked at the plate of the second variant: a glued one may be its, too."""
    assert left(mark_lamp={"is": "a green lamp"}, mark_plate={"is": "glued"}) == "two three"


def test_anothers_mark_speaks_against_whoever_does_not_mention_it() -> None:
    """Of the second variant no plate is written, not even that nobody looked: who sees a glued one has the third."""
    bare = [LOOKALIKES[0], outside("two", "1150 W ± 30 W", lamp="a green lamp"), LOOKALIKES[2]]
    rules, _ = compile_identification(bare, LOOKALIKE_QUESTIONS, known_facts())
    given: dict[str, Any] = {"mark.lamp": {"is": "a green lamp"}, "mark.plate": {"is": "glued"}}
    while (found := walk(rules, given))["ask"] is not None:
        given[found["ask"]] = {"unsure": True}
    assert found["outcome"] == "three"


def test_not_sure_leaves_all_of_them() -> None:
    assert left() == "one two three"


def test_none_of_ours_is_an_outcome() -> None:
    assert left(mark_lamp={"is": "something-else"}) == ""


def test_marks_are_asked_with_what_is_seen_on_any_variant() -> None:
    lamp = next(question for question in mark_questions(LOOKALIKES) if question.fact == "mark.lamp")
    assert [choice.is_ for choice in lamp.choices] == ["a red lamp", "a green lamp", "something-else"]


@pytest.mark.parametrize("node", range(len(RULES["nodes"])))
def test_each_question_separates_some(node: int) -> None:
    assert len(set(RULES["nodes"][node][1:])) > 1


def relatives() -> list[Machine]:
    """Two families; what distinguishes the two of the first lies under the lid, or is what an owner may exchange."""

    def made(name: str, family: str, **facts: str) -> Machine:
        known = {key.replace("__", "."): Fact(text=text, dimension="length", quantity=parse(text, "length"))
                 for key, text in facts.items()}  # fmt: skip
        return cast(Machine, SimpleNamespace(id=name, name=name, family=family, family_name=family.title(),
                                             marks=(), fact=known.get))  # fmt: skip

    return [
        made("a-low", "a", boiler__straight_wall="40 mm ± 0.5 mm", water_path__inlet__projection="12 mm"),
        made("a-tall", "a", boiler__straight_wall="60 mm ± 0.5 mm", water_path__inlet__projection="31 mm"),
        made("b", "b", boiler__straight_wall="60 mm ± 0.5 mm"),
    ]


SIZES = Questions(questions=(
    measured("water_path.inlet.projection", minutes=1, may_differ=True),
    measured("boiler.straight_wall", look="under-lid", minutes=20),
))  # fmt: skip


def test_the_name_is_asked_first_and_sizes_under_the_lid_last() -> None:
    """What an earlier owner may have exchanged is not used; 60 mm of wall leaves the taller of the family."""
    rules, questions = compile_identification(relatives(), SIZES, known_facts())
    assert [one.fact for one in questions] == ["family", "boiler.straight_wall"]
    assert walk(rules, {})["ask"] == "family"
    assert walk(rules, {"family": {"is": "b"}})["outcome"] == "b"
    assert walk(rules, {"family": {"is": "a"}})["ask"] == "boiler.straight_wall"
    tall = {"family": {"is": "a"}, "boiler.straight_wall": {"unit": "mm", "count": 600}}
    assert walk(rules, tall)["outcome"] == "a-tall"
    assert walk(rules, {"family": {"is": "something-else"}})["outcome"] == ""


def test_too_many_to_ask_leaves_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where even the questions from outside would take too many steps nothing is asked, and all variants are shown."""
    monkeypatch.setattr("guidegen.judge.fit.identify.MOST_STEPS", 0)
    which = which_of(LOOKALIKES, LOOKALIKE_QUESTIONS, known_facts(), edition="next", contact="bench")
    assert which["questions"] == []
    assert [one["id"] for one in which["variants"]] == ["one", "two", "three"]
