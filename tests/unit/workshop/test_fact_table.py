"""Facts are known by name: a requirement is checked against whatever table is given, of whatever trade."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from guidegen.problems import Code
from guidegen.workshop.fact_table import FactKind, FactTable
from guidegen.workshop.facts import Spec
from guidegen.workshop.requirements import Bound, Requirement

BICYCLES = FactTable(
    {
        "fork.steerer": FactKind("length", (), Spec("Steerer above the crown", ("100 mm", "300 mm"), "a tape measure")),
        "fork.material": FactKind(None, ("steel", "carbon"), None),
    },
    computed={"stem.stack": "length", "stem.mass": "mass"},
)


def requirement(**written: Any) -> Requirement:
    data = {"id": "one", "says": "It fits.", "because": "It must.", **written}
    return Requirement.model_validate(data, context={"facts": BICYCLES})


def mistake(**written: Any) -> tuple[str, str, str]:
    """Code, message and fix of the one mistake."""
    with pytest.raises(ValidationError) as raised:
        requirement(**written)
    (error,) = raised.value.errors()
    return error["type"], error["ctx"]["message"], error["ctx"]["fix"]


def test_a_bound_is_read_by_the_kind_of_its_fact() -> None:
    """A computed name with its margin, a quantity, words: nothing of it is peculiar to one trade."""
    assert requirement(fact="fork.steerer", at_least="stem.stack", margin="2 mm").bound(BICYCLES) == Bound(
        computed="stem.stack", margin=0.002
    )
    bound = requirement(fact="fork.steerer", at_most="30 cm").bound(BICYCLES)
    assert bound is not None
    assert bound.quantity is not None
    assert bound.quantity.value == pytest.approx(0.3)
    assert requirement(fact="fork.material", **{"is": "steel"}).bound(BICYCLES) == Bound(words=("steel",))


def test_names_are_those_of_the_table() -> None:
    """With the nearest name as the fix; a fact of another trade is unknown here."""
    code, message, fix = mistake(fact="fork.steerer_", at_least="10 mm")
    assert (code, fix) == (Code.UNKNOWN_FACT, "write fork.steerer")
    assert "no machine has a fact" in message
    assert mistake(fact="boiler.straight_wall", at_least="10 mm")[0] == Code.UNKNOWN_FACT
    assert mistake(fact="fork.steerer", at_least="stem.mass")[0] == Code.COMPARISON
    assert mistake(fact="fork.material", one_of=("steel", "wood"))[0] == Code.WRONG_CHOICE


def test_without_a_table_nothing_passes_unchecked() -> None:
    """A fault of ours, not of the author: it must not look like a valid requirement, nor like a mistake in one."""
    data = {"id": "one", "says": "It fits.", "because": "It must.", "fact": "fork.material", "is": "steel"}
    with pytest.raises(LookupError, match="no table of facts"):
        Requirement.model_validate(data)


def test_a_title_starts_small_and_a_fact_without_one_is_called_by_its_name() -> None:
    assert BICYCLES.title("fork.steerer") == "steerer above the crown"
    assert BICYCLES.title("fork.material") == "fork material"
    assert BICYCLES.dimension("fork.steerer") == "length"
    assert BICYCLES.dimension("nothing.of_it") is None
