"""Plans: expected widths, how many pairs, in which order."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import t

from guidegen.heat.planning import along, blocks, expected, pairs_needed

RNG = np.random.default_rng(9)


def test_the_expected_width_is_that_of_a_joint_normal_distribution() -> None:
    """Figure and data are jointly normal; what is left of the figure's variance does not hang on the data's values."""
    slopes, figure = RNG.normal(size=(12, 4)), RNG.normal(size=4)
    both = slopes @ slopes.T + np.eye(12)
    left = figure @ figure - figure @ slopes.T @ np.linalg.solve(both, slopes @ figure)
    assert expected(slopes, figure) == pytest.approx(math.sqrt(left), rel=1e-9)


def test_a_straight_figure_is_found_and_the_rest_is_what_is_left() -> None:
    """y = 3 + 2 a − b with noise of 0.5."""
    steps = RNG.normal(size=(4000, 2))
    gradient, rest = along(3.0 + steps @ [2.0, -1.0] + RNG.normal(0.0, 0.5, 4000), steps)
    assert gradient == pytest.approx([2.0, -1.0], abs=0.05)
    assert rest == pytest.approx(0.5, rel=0.05)


@pytest.mark.parametrize(("deviation", "half"), [(1.0, 0.5), (0.3, 0.1), (2.0, 1.0), (0.05, 0.5)])
def test_so_many_pairs_are_enough_and_one_less_is_not(deviation: float, half: float) -> None:
    """By scipy's Student distribution; below five nothing is compared."""
    count = pairs_needed(deviation, half)

    def width(pairs: int) -> float:
        return float(t.ppf(0.975, pairs - 1)) * deviation / math.sqrt(pairs)

    assert width(count) <= half
    assert count == 5 or width(count - 1) > half


def test_each_block_has_each_configuration_once_in_a_seeded_order() -> None:
    """The same seed gives the same order, and over many blocks each stands first about as often."""
    names = ["stock", "a", "a + b"]
    made = blocks(names, 300, 4)
    assert all(sorted(one) == sorted(names) for one in made)
    assert made == blocks(names, 300, 4)
    assert made != blocks(names, 300, 5)
    assert all(70 <= sum(one[0] == name for one in made) <= 130 for name in names)
