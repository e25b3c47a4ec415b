"""Numbers as owners write them, inches as a ruler shows them, and hints that are themselves answers."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidegen.judge.fit.answers import accepted, example, is_plausible, read_answer, read_number
from guidegen.judge.fit.identify import which_of
from guidegen.judge.fit.scale import NotRead
from guidegen.trade.paths import known_facts
from tests.fixtures.fit_demonstration import demonstration
from tests.mutants.draft import catalogue

KNOWN = catalogue()


@cache
def facts() -> list[Any]:
    """Every question of the demonstration as some page asks it."""
    machines = list(KNOWN.machines.values())
    which = which_of(machines, KNOWN.questions, known_facts(), edition="next", contact="x")["rules"]["facts"]
    pairs = [done.payload["rules"]["facts"] for done in demonstration().values()]
    return [fact for one in (which, *pairs) for fact in one]


@cache
def inches() -> list[Any]:
    """Every unit of them that is inches."""
    return [unit for fact in facts() for unit in fact["units"] if unit["unit"] == "in"]


def test_no_hint_is_itself_refused() -> None:
    """Every question, every unit: what is given as an example is read, and such machines have it."""
    for fact in facts():
        for unit in fact["units"]:
            text = f"{example(unit)} {unit['unit']}"
            assert is_plausible(fact, read_answer(fact, text)), (fact["fact"], text)
            assert text in accepted(fact)
    assert inches()


@pytest.mark.parametrize("text", ["1 13/16", "1-13/16", '1-13/16"', "1 13/16″", " 1 13/16 "])
def test_a_fraction_is_read_as_a_ruler_shows_it(text: str) -> None:
    """1 13/16 = 1.8125; with hundredths the nearer is 1.81."""
    unit: Any = {"unit": "in", "decimals": 2, "cuts": [150], "ways": [0, 1]}
    assert read_number(unit, text) == 181
    assert read_number(unit, '1.81"') == 181
    assert read_number(unit, "3/4") == 75


@pytest.mark.parametrize("text", ["1 3/5", "1 16/16", "0/8", "13/", "1/128", "1 1 1/2"])
def test_what_no_ruler_shows_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        read_number({"unit": "in", "decimals": 2, "cuts": [], "ways": [0]}, text)  # type: ignore[typeddict-item]


def test_only_inches_have_fractions() -> None:
    with pytest.raises(NotRead):
        read_number({"unit": "mm", "decimals": 1, "cuts": [], "ways": [0]}, "1 1/2")  # type: ignore[typeddict-item]


def test_a_fraction_across_a_limit_is_refused_not_rounded() -> None:
    """Something changes at 1.82: 1 13/16 lies between 1.81 and 1.82, so it decides nothing."""
    unit: Any = {"unit": "in", "decimals": 2, "cuts": [182], "ways": [0, 1]}
    with pytest.raises(NotRead, match="too close to a limit"):
        read_number(unit, "1 13/16")


@given(
    st.deferred(lambda: st.sampled_from(inches())), st.integers(0, 9), st.sampled_from([2, 4, 8, 16, 32, 64]), st.data()
)
def test_what_is_read_is_judged_as_the_fraction_itself(unit: Any, whole: int, parts: int, data: Any) -> None:
    """The count that stands for it is at most half a count away, and nothing changes between the two."""
    above = data.draw(st.integers(1, parts - 1))
    exact = (whole + Fraction(above, parts)) * 10 ** unit["decimals"]
    try:
        count = read_number(unit, f"{whole}-{above}/{parts}")
    except NotRead:
        low = int(exact)
        assert any(cut == low + 1 for cut in unit["cuts"])
        return
    assert abs(count - exact) <= Fraction(1, 2)
    ways = {unit["ways"][sum(cut <= one for cut in unit["cuts"])] for one in (int(exact), -int(-exact // 1))}
    assert len(ways) == 1
