"""Scales, classes of answers, what is asked and in which order."""

from __future__ import annotations

import sys
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[3] / "fixtures"))

from fit_cases import RICH, RICH_QUESTIONS, Case, at_least, at_most, cases, chosen, measured, millimetres, one_of

from guidegen.judge.comparison import RequirementError, Within
from guidegen.judge.fit.answers import read_answer, write_answer
from guidegen.judge.fit.questions import MOST_QUESTIONS, known_from, plan
from guidegen.judge.fit.requirements import Requirements
from guidegen.judge.fit.rules import sizes
from guidegen.judge.fit.scale import NotRead, scales_of
from guidegen.judge.fit.store import Store, TooLarge
from guidegen.judge.fit.tree import Condition, Remedy
from guidegen.trade.paths import known_facts
from guidegen.workshop.questions import Questions

WALL = measured("boiler.straight_wall")
TABLE = known_facts()
CASES = {case.name: case for case in cases()}


def test_scales_are_read_just_finer_than_the_tolerance() -> None:
    """± 0.5 mm: tenths of a millimetre; in inches (25.4 mm, exactly) hundredths, the tolerance rounded up to 0.02."""
    metric, inches = scales_of(WALL, TABLE)
    assert (metric.unit, metric.decimals, metric.plus_minus) == ("mm", 1, 5)
    assert (inches.unit, inches.decimals, inches.plus_minus) == ("in", 2, 2)
    assert inches.interval(100).middle == Fraction(254, 10000)
    assert metric.plausible == (200, 1400)


def test_limits_become_counts_on_the_strict_side() -> None:
    """At least 40.27 mm is at least 40.3 on a scale of tenths, 1.59 in on one of hundredths (40.27 / 25.4 = 1.585)."""
    test = Within("length", lowest=millimetres(40.27))
    metric, inches = scales_of(WALL, TABLE)
    assert metric.limits(test) == (403, None)
    assert inches.limits(test) == (159, None)


@given(st.integers(0, 2000), st.integers(1, 120_000), st.booleans(), st.integers(0, 1))
def test_answers_between_two_cuts_are_judged_alike(count: int, hundredths: int, lower: bool, place: int) -> None:
    """Whatever the limit and the unit: the judgement changes at a cut and nowhere else."""
    scale = scales_of(WALL, TABLE)[place]
    limit = millimetres(hundredths / 1000, hundredths / 1000 + 0.33)
    test = Within("length", lowest=limit) if lower else Within("length", highest=limit)
    here, next_one = test.judge(scale.interval(count)), test.judge(scale.interval(count + 1))
    assert (here is next_one) or (count + 1 in scale.cuts(test))


@pytest.mark.parametrize("text", ["46.5", "46,5", " 46.5 ", "46.50"])
def test_numbers_are_read_as_people_write_them(text: str) -> None:
    assert scales_of(WALL, TABLE)[0].read(text) == 465


@pytest.mark.parametrize("text", ["", "about 46", "46.55", "-3", "4 6", "1e3", "46.", "٤٦", "999999999"])
def test_other_text_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        scales_of(WALL, TABLE)[0].read(text)


def test_every_answer_survives_writing_and_reading() -> None:
    """In each unit, at zero and at the ends; the longest unit is taken, though "mm" also ends in "m"."""
    metres = Case(
        "metres", RICH, Questions(questions=(measured("boiler.straight_wall", units=("m", "mm")),)), {}, frozenset()
    )
    facts = [fact for case in (*CASES.values(), metres) for fact in case.rules["facts"]]
    for fact in facts:
        answers = [{"unsure": True, "photo": False}, {"unsure": True, "photo": True}]
        answers += [{"is": word} for word in fact["choices"]]
        answers += [{"unit": unit["unit"], "count": n} for unit in fact["units"] for n in (0, 7, unit["plausible"][1])]
        for answer in answers:
            assert read_answer(fact, write_answer(fact, answer)) == answer


def test_what_the_data_settle_is_not_asked() -> None:
    """A wall of 46 mm on every unit needs no question; what an earlier owner may have changed is asked all the same."""
    much = CASES["much known"].plan
    asked = {one.fact for one in much.asked}
    assert "boiler.straight_wall" not in asked
    assert "water_path.inlet.projection" in asked
    assert much.settled["boiler.straight_wall"] == millimetres(45.5, 46.5)


def test_a_spread_fact_is_never_taken_from_the_data() -> None:
    asked = {one.fact for one in CASES["spread"].plan.asked}
    assert {"control.kind", "boiler.clearance"} <= asked


def test_data_that_straddle_a_limit_are_asked() -> None:
    data = {"boiler.straight_wall": millimetres(40, 42)}
    found = plan(RICH, data, frozenset(), RICH_QUESTIONS, TABLE)
    assert "boiler.straight_wall" in {one.fact for one in found.asked}


def test_a_fact_without_data_and_question_is_named() -> None:
    assert CASES["nobody asked"].plan.open == ("boiler.straight_wall", "boiler.clearance")


def test_outside_comes_first_then_what_can_end_the_matter() -> None:
    """Nobody opens a machine for what can be read off its plate."""
    for case in CASES.values():
        by_fact = {one.fact: one for one in case.plan.asked}
        order = [by_fact[fact["fact"]] for fact in case.rules["facts"]]
        under = [one.question.look == "under-lid" for one in order]
        assert under == sorted(under)
        inside = [one for one in order if one.question.look == "under-lid"]
        assert [one.disqualifies for one in inside] == sorted((one.disqualifies for one in inside), reverse=True)


def test_the_same_place_and_weight_goes_by_decision_per_minute() -> None:
    """Two questions that decide alike: the one that takes a minute comes before the one that takes twenty."""
    both = Requirements((
        Condition("slow", "A.", one_of("control.kind", "pid")),
        Condition("quick", "B.", one_of("mains.connection", "corded")),
    ))  # fmt: skip
    asks = Questions(questions=(
        chosen("control.kind", "pid", "thermostat", minutes=20),
        chosen("mains.connection", "corded", "hard-wired", minutes=1),
    ))  # fmt: skip
    case = Case("order", both, asks, {}, frozenset())
    assert [fact["fact"] for fact in case.rules["facts"]] == ["mains.connection", "control.kind"]


def test_something_else_is_not_known_and_hides_its_place() -> None:
    fitting = RICH_QUESTIONS.about("water_path.inlet.fitting")
    voltage = RICH_QUESTIONS.about("mains.voltage")
    assert fitting is not None
    assert voltage is not None
    for question, word in ((fitting, "something-else"), (voltage, "something-else"), (fitting, "photo")):
        assert known_from(question, word, TABLE) is None
    assert fitting.hidden == ("water_path.inlet",)


def test_too_many_questions_are_refused_with_the_fix() -> None:
    count = MOST_QUESTIONS + 1
    many = Requirements(tuple(Condition(f"c{n}", "Good.", one_of(f"fact{n}", "good")) for n in range(count)))
    asks = Questions(questions=tuple(chosen(f"fact{n}", "good", "bad") for n in range(count)))
    with pytest.raises(
        RequirementError, match=f"{count} facts would be asked, {MOST_QUESTIONS} at most: settle some in the data"
    ):
        plan(many, {}, frozenset(), asks, TABLE)


def test_seven_conditions_with_remedies_are_refused_with_the_fix() -> None:
    many = Requirements(tuple(
        Condition(f"c{n}", "Good.", one_of(f"fact{n}", "good"), remedies=(Remedy(f"part:{n}", "part", "P", 1),))
        for n in range(7)
    ))  # fmt: skip
    asks = Questions(questions=tuple(chosen(f"fact{n}", "good", "bad") for n in range(7)))
    with pytest.raises(TooLarge, match="7 conditions with remedies are asked, 6 at most"):
        Case("many", many, asks, {}, frozenset())


def test_a_store_that_outgrows_its_limit_says_so() -> None:
    store = Store(limit=2)
    ends = [store.end("a"), store.end("b")]
    with pytest.raises(TooLarge, match="more than 2 steps"):
        store.node(0, ends)


def test_sizes_stay_small() -> None:
    """Eleven questions with every kind of condition: a diagram that a phone loads without noticing."""
    size = sizes(CASES["nothing known"].rules)
    assert size.questions == 11
    assert size.nodes < 150
    assert size.bytes < 20_000
    assert str(size).startswith("11 questions, ")


def test_contradictory_limits_and_equal_limits_are_just_classes() -> None:
    """At least 40 and at most 30 cannot both hold; the check ends in "does not fit" for every number."""
    none = Requirements((
        Condition("a", "A.", at_least("boiler.straight_wall", millimetres(40))),
        Condition("b", "B.", at_most("boiler.straight_wall", millimetres(30))),
    ))  # fmt: skip
    case = Case("never", none, Questions(questions=(WALL,)), {}, frozenset())
    node = case.rules["nodes"][0]
    definite = {node[1 + way] for way in case.rules["facts"][0]["definite"]}
    assert definite == {-1 - case.rules["outcomes"].index("does-not-fit")}
