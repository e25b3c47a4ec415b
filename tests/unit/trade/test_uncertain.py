"""How facts are drawn: what was written decides, and what was not written is taken and said so."""

from __future__ import annotations

from typing import Any

import pytest

from guidegen.heat.statistics import LogTriangular, Normal, Rectangular, Triangular
from guidegen.trade.uncertain import of_fact
from guidegen.units import parse
from guidegen.workshop.facts import Fact


def fact(text: str, dimension: str = "conductance", ends: tuple[str, str] | None = None, **more: Any) -> Fact:
    """A fact as it was written."""
    both = (parse(ends[0], dimension).value, parse(ends[1], dimension).value) if ends else None
    return Fact(text=text, dimension=dimension, quantity=parse(text, dimension), ends=both, **more)


@pytest.mark.parametrize(
    ("written", "drawn"),
    [
        (fact("10 W/K ± 2 W/K", evidence="measured"), Normal(10.0, 2.0 / 1.96)),
        (fact("10 W/K ± 2 W/K"), Rectangular(8.0, 12.0)),
        (fact("10 W/K ± 2 W/K", evidence="maker-document"), Rectangular(8.0, 12.0)),
        (fact("2 W/K", ends=("1 W/K", "5 W/K")), Triangular(1.0, 2.0, 5.0)),
        (fact("2 W/K", ends=("1 W/K", "5.1 W/K")), LogTriangular(1.0, 2.0, 5.1)),
        (fact("2 W/K", ends=("0 W/K", "5 W/K")), Triangular(0.0, 2.0, 5.0)),
        (fact("2 W/K", ends=("1 W/K", "9 W/K"), drawn="rectangular"), Rectangular(1.0, 9.0)),
        (fact("2 W/K", ends=("1 W/K", "9 W/K"), drawn="triangular"), Triangular(1.0, 2.0, 9.0)),
    ],
)
def test_what_was_written_decides_how_it_is_drawn(written: Fact, drawn: object) -> None:
    """As JCGM 101, 6.4, assigns distributions; `drawn` says otherwise."""
    made = of_fact("group.to_boiler", written)
    assert made.distribution == drawn


def test_an_assumed_value_without_a_spread_gets_one_and_says_so() -> None:
    """A guessed gain is no better known than to a third; what a maker states exactly, or is nothing, gets none."""
    made = of_fact("control.kp", fact("60 W/K"))
    assert (made.low, made.high) == (pytest.approx(42.0), pytest.approx(78.0))
    assert made.text == "60 W/K, ± 30 % assumed"
    for known in (fact("60 W/K", evidence="maker-document"), fact("0 W/K"), fact("60 W/K ± 1 W/K")):
        one = of_fact("control.kp", known)
        assert one.text == known.text
        assert (one.low, one.high) == (known.low, known.high)
