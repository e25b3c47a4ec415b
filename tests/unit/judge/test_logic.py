"""Three-valued logic by its published tables, and intervals against thresholds."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest

from guidegen.judge.logic import Interval, Truth, all_of, among, any_of, at_least, at_most, exact

F, U, T = Truth.FALSE, Truth.UNKNOWN, Truth.TRUE

# S. C. Kleene, Introduction to Metamathematics, 1952, §64: the strong tables, rows and columns in the order
# true, false, unknown. Cited from memory.
AND = {(T, T): T, (T, F): F, (T, U): U, (F, T): F, (F, F): F, (F, U): F, (U, T): U, (U, F): F, (U, U): U}
OR = {(T, T): T, (T, F): T, (T, U): T, (F, T): T, (F, F): F, (F, U): U, (U, T): T, (U, F): U, (U, U): U}
NOT = {T: F, F: T, U: U}


def test_the_strong_tables() -> None:
    """`and`, `or`, `not` are Kleene's strong connectives."""
    for one, other in itertools.product(Truth, repeat=2):
        assert (one & other) is AND[one, other]
        assert (one | other) is OR[one, other]
    for one in Truth:
        assert (~one) is NOT[one]


def test_laws_that_hold_and_one_that_does_not() -> None:
    """De Morgan, distribution and double negation hold; the excluded middle does not."""
    for a, b, c in itertools.product(Truth, repeat=3):
        assert ~(a & b) is (~a | ~b)
        assert (a & (b | c)) is ((a & b) | (a & c))
        assert ~~a is a
    assert (U | ~U) is U


def test_unknown_can_become_either_and_nothing_else_changes() -> None:
    """Where the outcome is known in spite of an unknown, it is the same whatever the unknown turns out to be."""
    for a, b in itertools.product(Truth, repeat=2):
        for table in (Truth.__and__, Truth.__or__):
            result = table(a, b)
            if result is not U:
                settled = itertools.product([a] if a is not U else [T, F], [b] if b is not U else [T, F])
                assert {table(*pair) for pair in settled} == {result}


@pytest.mark.parametrize("truth", list(Truth))
def test_there_is_no_cast_to_bool(truth: Truth) -> None:
    """Not even of true and false: a place that casts one would cast "unknown" some day."""
    with pytest.raises(TypeError, match="may be unknown"):
        bool(truth)
    with pytest.raises(TypeError):
        assert truth


def test_all_and_any_of_nothing() -> None:
    assert all_of([]) is T
    assert any_of([]) is F
    assert all_of([T, U]) is U
    assert any_of([F, U, T]) is T


def test_true_only_wholly_inside_false_only_wholly_outside() -> None:
    """[m − u, m + u] against 40: touching from inside passes, straddling is unknown."""
    limit = Interval.around(40)
    for middle, expected in ((40.5, T), (40.49, U), (39.5, U), (39.49, F)):
        assert at_least(Interval.around(middle, 0.5), limit) is expected
    for middle, expected in ((39.5, T), (39.51, U), (40.5, U), (40.51, F)):
        assert at_most(Interval.around(middle, 0.5), limit) is expected


def test_a_limit_may_itself_be_uncertain() -> None:
    """A computed height of 38 to 39: only more than all of it passes, only less than all of it fails."""
    limit = Interval.between(38, 39)
    assert at_least(Interval.around(39), limit) is T
    assert at_least(Interval.around(38.5), limit) is U
    assert at_least(Interval.around(37.9), limit) is F


def test_a_float_is_taken_for_the_decimal_it_was_meant_to_be() -> None:
    """1.3 mm becomes 0.0013000000000000002 m in binary; the limit is 0.0013 m all the same."""
    assert 1.3 * 0.001 != 0.0013
    assert exact(1.3 * 0.001) == Fraction(13, 10000)


def test_words() -> None:
    assert among(frozenset({"banjo"}), frozenset({"banjo", "elbow"})) is T
    assert among(frozenset({"straight"}), frozenset({"banjo"})) is F
    assert among(frozenset({"straight", "banjo"}), frozenset({"banjo"})) is U


def test_an_interval_does_not_end_below_its_start() -> None:
    with pytest.raises(ValueError, match="ends at or above"):
        Interval.between(2, 1)
