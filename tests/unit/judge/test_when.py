"""Conditions on a machine: strong Kleene logic, where unknown never counts as true."""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError

from guidegen.judge.comparison import Known, RequirementError
from guidegen.judge.logic import Interval, Truth
from guidegen.judge.when import holds, tree_of
from guidegen.workshop.when import Condition, names_in
from tests.unit.judge.test_logic import AND, NOT, OR

T, F, U = Truth.TRUE, Truth.FALSE, Truth.UNKNOWN
LINES = {T: {"t": "1"}, F: {"f": "1"}, U: {"u": "1"}}
FACTS: dict[str, Known] = {
    "t": frozenset({"1"}),
    "f": frozenset({"0"}),
    "wall": Interval.around(0.046),
    "rough": Interval.between(0.045, 0.047),
    "volts": Interval.around(230),
    "count": Interval.around(4),
    "inlet": frozenset({"straight", "banjo"}),
}
DIMENSIONS = {"wall": "length", "rough": "length", "volts": "voltage", "count": "count"}


def judged(condition: Mapping[str, Any] | None, facts: Mapping[str, Known] = FACTS) -> Truth:
    return holds(condition, facts, DIMENSIONS.get)


@pytest.mark.parametrize(("pair", "truth"), AND.items())
def test_all_is_and(pair: tuple[Truth, Truth], truth: Truth) -> None:
    """`all`, and lines below each other, by the strong table."""
    first, second = (LINES[one] for one in pair)
    assert judged({"all": [first, second]}) is truth
    assert judged({**first, "not": {"not": second}}) is truth


@pytest.mark.parametrize(("pair", "truth"), OR.items())
def test_any_is_or(pair: tuple[Truth, Truth], truth: Truth) -> None:
    assert judged({"any": [LINES[one] for one in pair]}) is truth


@pytest.mark.parametrize(("one", "truth"), NOT.items())
def test_not_of_unknown_is_unknown(one: Truth, truth: Truth) -> None:
    assert judged({"not": LINES[one]}) is truth


@pytest.mark.parametrize(
    ("condition", "truth"),
    [
        (None, T),
        ({}, T),
        ({"any": []}, F),
        ({"t": ["0", "1"]}, T),
        ({"t": {"not": "1"}}, F),
        ({"t": {"not": ["0", "2"]}}, T),
        ({"inlet": "banjo"}, U),
        ({"inlet": ["banjo", "straight"]}, U),
        ({"wall": {"at_least": "40 mm"}}, T),
        ({"wall": {"at_most": "4 cm"}}, F),
        ({"wall": {"at_least": "1.8 in", "at_most": "1.9 in"}}, T),
        ({"rough": {"at_least": "46 mm"}}, U),
        ({"rough": {"not": "46 mm"}}, U),
        ({"rough": "48 mm"}, F),
        ({"volts": "230 V~"}, T),
        ({"volts": ["110 V~", "120 V~"]}, F),
        ({"count": "4"}, T),
        ({"wall": {"at_least": "tall"}}, U),
        ({"wall": "tall"}, U),
        ({"wall": {"not": "tall"}}, U),
        ({"t": {"at_least": "1 mm"}}, U),
        ({"nobody-knows": "1"}, U),
    ],
)
def test_lines(condition: dict[str, Any] | None, truth: Truth) -> None:
    """Words, lists, senses and quantities in other units; what cannot be compared is unknown, never false."""
    assert judged(condition) is truth


def test_a_tree_refuses_what_cannot_be_compared() -> None:
    """Where a condition is built to be asked about, its author hears what is wrong, and where."""
    for condition, inner in (
        ({"wall": "tall"}, ("wall",)),
        ({"any": [{"t": "1"}, {"wall": {"at_least": "1"}}]}, ("any", 1, "wall")),
        ({"not": {"t": {"at_most": "1 mm"}}}, ("not", "t")),
    ):
        with pytest.raises(RequirementError) as raised:
            tree_of(condition, DIMENSIONS.get, None, ("parts", 0, "when"))
        assert raised.value.loc == ("parts", 0, "when", *inner)


def test_names_in_a_condition() -> None:
    """Every fact that is asked, however deep."""
    condition = {"a": "1", "any": [{"b": "1"}, {"not": {"c": "1"}}], "all": [{"d": {"at_least": "1 mm"}}]}
    assert names_in(condition) == {"a", "b", "c", "d"}


class Written(BaseModel):
    when: Condition


@pytest.mark.parametrize(
    ("condition", "inner"),
    [
        ({"any": {"t": "1"}}, ("any",)),
        ({"all": ({"t": "1"}, {"wall": {"atleast": "1 mm"}})}, ("all", 1, "wall", "atleast")),
        ({"not": "t"}, ("not",)),
        ({"wall": {"at_least": ("1 mm", "2 mm")}}, ("wall", "at_least")),
        ({"t": ("1", {})}, ("t",)),
        ({"t": 1}, ("t",)),
    ],
)
def test_another_form_is_refused_at_its_place(condition: dict[str, Any], inner: tuple[object, ...]) -> None:
    with pytest.raises(ValidationError) as raised:
        Written(when=condition)
    assert raised.value.errors()[0]["ctx"]["inner"] == inner


# Conditions at random on facts of which more or less is known. Whole millimetres only, so that a range is the list of
# what it holds; the expected truth is counted off on that list and joined by the typed tables, not computed as the
# program does.
WORDS = ("a", "b", "c")
LENGTHS = range(1, 6)
_known_word = st.sets(st.sampled_from(WORDS), min_size=1).map(frozenset)
_known_length = st.tuples(st.sampled_from(LENGTHS), st.sampled_from(LENGTHS)).map(lambda ends: tuple(sorted(ends)))
facts_at_random = st.fixed_dictionaries({}, optional={"kind": _known_word, "rough": _known_length})
_length_text = st.sampled_from(LENGTHS).map(lambda n: f"{n} mm")
_word_line = st.one_of(
    st.sampled_from(WORDS),
    st.lists(st.sampled_from(WORDS), min_size=1, max_size=3),
    st.sampled_from(WORDS).map(lambda word: {"not": word}),
).map(lambda wanted: {"kind": wanted})
_length_line = st.one_of(
    _length_text,
    st.dictionaries(st.sampled_from(["at_least", "at_most", "not"]), _length_text, min_size=1),
).map(lambda wanted: {"rough": wanted})
conditions = st.recursive(
    st.one_of(_word_line, _length_line),
    lambda inner: st.one_of(
        st.builds(lambda kind, members: {kind: members}, st.sampled_from(["any", "all"]), st.lists(inner, max_size=3)),
        inner.map(lambda one: {"not": one}),
        st.tuples(inner, inner).map(lambda pair: {**pair[0], **pair[1]}),
    ),
    max_leaves=6,
)


def known_of(facts: Mapping[str, Any]) -> dict[str, Known]:
    return {
        name: one if name == "kind" else Interval.between(one[0] / 1000, one[1] / 1000) for name, one in facts.items()
    }


def counted_off(possible: list[bool]) -> Truth:
    return T if all(possible) else F if not any(possible) else U


def line_by_hand(name: str, wanted: Any, facts: Mapping[str, Any]) -> Truth:
    if isinstance(wanted, dict):
        parts = [NOT[line_by_hand(name, one, facts)] if sense == "not" else limit_by_hand(name, sense, one, facts)
                 for sense, one in wanted.items()]  # fmt: skip
        return reduce(lambda one, other: AND[one, other], parts, T)
    if isinstance(wanted, list):
        return reduce(lambda one, other: OR[one, other], [line_by_hand(name, one, facts) for one in wanted], F)
    return limit_by_hand(name, "is", wanted, facts)


def limit_by_hand(name: str, sense: str, wanted: str, facts: Mapping[str, Any]) -> Truth:
    if name not in facts:
        return U
    if name == "kind":
        return counted_off([one == wanted for one in facts["kind"]])
    limit = int(wanted.split()[0])
    low, high = facts["rough"]
    test = {"is": lambda n: n == limit, "at_least": lambda n: n >= limit, "at_most": lambda n: n <= limit}[sense]
    return counted_off([test(n) for n in range(low, high + 1)])


def by_hand(condition: Mapping[str, Any], facts: Mapping[str, Any]) -> Truth:
    truths = []
    for name, wanted in condition.items():
        if name == "all":
            truths.append(reduce(lambda one, other: AND[one, other], [by_hand(part, facts) for part in wanted], T))
        elif name == "any":
            truths.append(reduce(lambda one, other: OR[one, other], [by_hand(part, facts) for part in wanted], F))
        elif name == "not":
            truths.append(NOT[by_hand(wanted, facts)])
        else:
            truths.append(line_by_hand(name, wanted, facts))
    return reduce(lambda one, other: AND[one, other], truths, T)


@given(conditions, facts_at_random)
def test_any_condition_is_judged_as_the_tables_say(condition: dict[str, Any], facts: dict[str, Any]) -> None:
    assert judged(condition, known_of(facts)) is by_hand(condition, facts)


@given(conditions, conditions, facts_at_random)
def test_de_morgan(one: dict[str, Any], other: dict[str, Any], facts: dict[str, Any]) -> None:
    """Not both is one of the two not; neither is both not; twice not is nothing."""
    known = known_of(facts)
    nots = [{"not": one}, {"not": other}]
    assert judged({"not": {"all": [one, other]}}, known) is judged({"any": nots}, known)
    assert judged({"not": {"any": [one, other]}}, known) is judged({"all": nots}, known)
    assert judged({"not": {"not": one}}, known) is judged(one, known)


@given(conditions, facts_at_random, st.data())
def test_more_knowledge_never_turns_an_answer(
    condition: dict[str, Any], facts: dict[str, Any], data: st.DataObject
) -> None:
    """What is decided on little knowledge stays decided alike on whatever turns out within it."""
    before = judged(condition, known_of(facts))
    kind = data.draw(st.sampled_from(sorted(facts.get("kind", WORDS))))
    low, high = facts.get("rough", (min(LENGTHS), max(LENGTHS)))
    length = data.draw(st.integers(low, high))
    after = judged(condition, known_of({"kind": frozenset({kind}), "rough": (length, length)}))
    assert after is not U
    assert before in (U, after)
