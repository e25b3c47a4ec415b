"""Conditions on a machine: strong Kleene logic, where unknown never counts as true."""

from __future__ import annotations

from typing import Any

import pytest

from guidegen.judge.safety.facts import UNKNOWN, Facts, Item, Value, holds, names_in, word

T, F, U = {"t": "1"}, {"f": "1"}, {"u": "1"}
FACTS = Facts({
    "t": word("1"), "f": word("0"), "u": UNKNOWN,
    "wall": Value("46 mm", 0.046, "length"),
    "volts": Value("230 V~", 230.0, "voltage"),
    "count": Value("4", 4.0, "count"),
})  # fmt: skip
VALUES = {"T": (T, True), "F": (F, False), "U": (U, None)}

#: Kleene's strong tables, written out (Kleene 1952, section 64)
AND = {("T", "T"): True, ("T", "F"): False, ("T", "U"): None, ("F", "F"): False, ("F", "U"): False, ("U", "U"): None}
OR = {("T", "T"): True, ("T", "F"): True, ("T", "U"): True, ("F", "F"): False, ("F", "U"): None, ("U", "U"): None}


@pytest.mark.parametrize(("pair", "truth"), AND.items())
def test_and(pair: tuple[str, str], truth: bool | None) -> None:
    """`all`, in both orders."""
    for first, second in (pair, pair[::-1]):
        assert holds({"all": [VALUES[first][0], VALUES[second][0]]}, FACTS) is truth


@pytest.mark.parametrize(("pair", "truth"), OR.items())
def test_or(pair: tuple[str, str], truth: bool | None) -> None:
    """`any`, in both orders."""
    for first, second in (pair, pair[::-1]):
        assert holds({"any": [VALUES[first][0], VALUES[second][0]]}, FACTS) is truth


@pytest.mark.parametrize(("name", "truth"), [("T", False), ("F", True), ("U", None)])
def test_not(name: str, truth: bool | None) -> None:
    """`not` of unknown is unknown."""
    assert holds({"not": VALUES[name][0]}, FACTS) is truth


@pytest.mark.parametrize(
    ("condition", "truth"),
    [
        (None, True),
        ({}, True),
        ({"t": ["0", "1"]}, True),
        ({"t": {"not": "1"}}, False),
        ({"wall": {"at_least": "40 mm"}}, True),
        ({"wall": {"at_most": "4 cm"}}, False),
        ({"wall": {"at_least": "1.8 in", "at_most": "1.9 in"}}, True),
        ({"volts": "230 V~"}, True),
        ({"volts": ["110 V~", "120 V~"]}, False),
        ({"count": "4"}, True),
        ({"wall": {"at_least": "tall"}}, None),
        ({"nobody-knows": "1"}, None),
    ],
)
def test_lines(condition: dict[str, Any] | None, truth: bool | None) -> None:
    """Words, lists, senses and quantities in other units."""
    assert holds(condition, FACTS) is truth


def test_names_in_a_condition() -> None:
    """Every fact that is asked, however deep."""
    condition = {"a": "1", "any": [{"b": "1"}, {"not": {"c": "1"}}], "all": [{"d": {"at_least": "1 mm"}}]}
    assert names_in(condition) == {"a", "b", "c", "d"}


def test_a_factory_spread_makes_scenarios() -> None:
    """One per option, and the options of two spreads multiply."""
    spread = Value("some units", None, options=("straight", "banjo"))
    assert [one.get("x").value for one in Facts({"x": spread}).scenarios()] == ["straight", "banjo"]
    assert len(Facts({"x": spread, "y": spread, "z": word("1")}).scenarios()) == 4
    assert len(Facts({"z": word("1")}).scenarios()) == 1


def test_an_item_sees_its_own_facts() -> None:
    """A repeated step asks `item.…` and still sees the machine."""
    facts = FACTS.for_item(Item("boss", "drain boss", {"kind": word("boss")}))
    assert holds({"item.kind": "boss", "item.id": "boss", "t": "1"}, facts) is True
    assert facts.get("item.name").text == "drain boss"
