"""Whether a kit is worth it, from drops that are written down here; the shares are counted by hand."""

from __future__ import annotations

import numpy as np
import pytest

from guidegen.assess.worth import worth
from guidegen.record.worth import WorthLimits
from guidegen.site.pages.phenomena import PHENOMENA
from guidegen.trade.worth import WrittenLimits

LIMITS = WorthLimits(felt_k=0.5, clear_k=1.0, clear_ratio=0.7, worse_from=0.1, clear_from=0.95, likely_from=0.8)


def of(*changes: tuple[int, float]) -> tuple[np.ndarray, np.ndarray]:
    """Drops of 4 K without the kit, and so often as many kelvin less with it; row 0 is as stated and counts not."""
    less = np.concatenate([[99.0], *(np.full(often, change) for often, change in changes)])
    return np.full(len(less), 4.0), 4.0 - less


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        # At 4 K a ratio of 0.7 is a drop of 2.8 K: 1.2 K less.
        ([(95, 1.25), (5, 0.0)], "clearly-better"),
        ([(94, 1.25), (6, 0.0)], "a-little-better"),
        ([(100, 1.1)], "a-little-better"),
        ([(80, 0.5), (20, 0.0)], "a-little-better"),
        ([(79, 0.5), (21, 0.0)], "cannot-tell"),
        ([(80, 0.49), (20, 0.6)], "nothing"),
        ([(80, -0.49), (11, 0.6), (9, -0.5)], "nothing"),
        ([(90, 3.0), (10, -0.5)], "may-be-worse"),
        ([(95, 3.0), (5, -0.5)], "clearly-better"),
        ([(50, 0.6), (50, 0.0)], "cannot-tell"),
    ],
)
def test_the_first_that_holds_is_the_verdict(changes: list[tuple[int, float]], verdict: str) -> None:
    """Of a hundred draws: one in ten warns, nineteen of twenty promise, four of five decide the rest."""
    made = worth(*of(*changes), LIMITS)
    assert made is not None
    assert made.verdict == verdict


def test_the_shares_are_those_of_the_draws() -> None:
    """Ten draws: three worse, two unchanged, five smaller, of which four by more than 1.2 K."""
    made = worth(*of((3, -1.0), (2, 0.1), (1, 0.7), (4, 2.0)), LIMITS)
    assert made is not None
    assert (made.worse, made.unchanged, made.little, made.clear) == (0.3, 0.2, 0.5, 0.4)


def test_a_draw_without_a_drop_counts_for_nothing() -> None:
    """Half of the draws are not known: what is left can decide nothing."""
    without, with_ = of((5, 2.0), (5, 2.0))
    without[1:6] = np.nan
    made = worth(without, with_, LIMITS)
    assert made is not None
    assert (made.verdict, made.clear) == ("cannot-tell", 0.5)


def test_without_draws_nobody_decides() -> None:
    """The stated values alone say nothing of how sure they are."""
    assert worth(np.array([4.0]), np.array([1.0]), LIMITS) is None


def test_the_limits_are_the_workshops() -> None:
    """Who calls a kelvin nothing gets another verdict from the same draws."""
    drops = of((100, 0.8))
    stricter = LIMITS.model_copy(update={"felt_k": 1.0})
    assert [one.verdict for one in (worth(*drops, limits) for limits in (LIMITS, stricter)) if one] == [
        "a-little-better",
        "nothing",
    ]


def test_what_is_left_out_is_as_the_methods_page_says() -> None:
    """The defaults, in kelvin and shares."""
    assert WrittenLimits().model_dump() == {
        "felt": 0.5, "clear": 1.0, "clear_ratio": 0.7, "worse_from": 0.1, "clear_from": 0.95, "likely_from": 0.8,
    }  # fmt: skip
    written = WrittenLimits.model_validate({"felt": "0.9 °F", "likely_from": "90 %"})
    assert written.felt == pytest.approx(0.5)
    assert written.likely_from == pytest.approx(0.9)


def test_the_methods_page_states_the_limits_that_hold_by_default() -> None:
    """Both are written by hand; here they meet."""
    text = next(one for one in PHENOMENA if one.id == "worth").text[0]
    limits = WrittenLimits()
    wanted = (
        f"worse: d is −{limits.felt:g} K or less in {limits.worse_from:.0%}",
        f"r is {limits.clear_ratio:g} or less and d {limits.clear:g} K or more in {limits.clear_from:.0%}",
        f"d is {limits.felt:g} K or more in {limits.likely_from:.0%}",
        f"smaller than {limits.felt:g} K either way in {limits.likely_from:.0%}",
    )
    assert all(one.replace("%", " %") in text for one in wanted)
