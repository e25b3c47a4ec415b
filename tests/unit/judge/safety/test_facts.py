"""Plain values that a procedure asks: scenarios of a factory spread, and what a repeated step sees."""

from __future__ import annotations

from guidegen.judge.logic import Interval, Truth
from guidegen.judge.safety.facts import UNKNOWN, Facts, Item, Value, holds, word


def test_a_value_is_known_by_its_ends_or_its_word() -> None:
    """A quantity with a tolerance is all that lies between its ends; the possibility of a spread is read, too."""
    assert UNKNOWN.known is None
    assert word("brass").known == frozenset({"brass"})
    assert Value("4", 4.0, "count").known == Interval.around(4)
    assert Value("46 mm ± 1 mm", 0.046, "length", ends=(0.045, 0.047)).known == Interval.between(0.045, 0.047)
    assert Value("45 mm", "45 mm", "length").known == Interval.around(0.045)
    assert Value("tall", "tall", "length").known is None


def test_a_limit_inside_the_tolerance_is_undecided() -> None:
    """46 mm ± 1 mm may be less than 45.5 mm: nobody may act on the nominal value alone."""
    facts = Facts({"wall": Value("46 mm ± 1 mm", 0.046, "length", ends=(0.045, 0.047))})
    assert holds({"wall": {"at_least": "45 mm"}}, facts) is Truth.TRUE
    assert holds({"wall": {"at_least": "45.5 mm"}}, facts) is Truth.UNKNOWN
    assert holds({"wall": {"at_least": "47.5 mm"}}, facts) is Truth.FALSE


def test_a_factory_spread_makes_scenarios() -> None:
    """One per option, and the options of two spreads multiply."""
    spread = Value("some units", None, options=("straight", "banjo"))
    assert [one.get("x").value for one in Facts({"x": spread}).scenarios()] == ["straight", "banjo"]
    assert len(Facts({"x": spread, "y": spread, "z": word("1")}).scenarios()) == 4
    assert len(Facts({"z": word("1")}).scenarios()) == 1


def test_an_item_sees_its_own_facts() -> None:
    """A repeated step asks `item.…` and still sees the machine."""
    facts = Facts({"t": word("1")}).for_item(Item("boss", "drain boss", {"kind": word("boss")}))
    assert holds({"item.kind": "boss", "item.id": "boss", "t": "1"}, facts) is Truth.TRUE
    assert facts.get("item.name").text == "drain boss"
