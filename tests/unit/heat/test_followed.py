"""The sensor followed row by row is that of the shot's own results."""

from __future__ import annotations

import numpy as np
import pytest

from guidegen.heat.followed import followed
from guidegen.heat.network import Network
from guidegen.heat.pull import Pull, Usage
from guidegen.heat.study import study
from tests.reference.machines import plausible

PULL, GRID = Pull(0.05, 28.0), np.arange(0.0, 121.0, 0.5)


@pytest.mark.parametrize("relay", [False, True])
def test_the_drop_on_the_grid_is_the_drop_of_the_study(relay: bool) -> None:
    """Within what half a second hides; with a thermostat for the first phase, whose rows are asked for alone."""
    network: Network = plausible(3, coil=True, relay=relay)
    phase, habit = np.array([0.1, 0.5, 0.9]), np.zeros((3, 2))
    seen = followed(network, PULL, phase, habit, GRID)
    drops = seen[:, 0] - seen[:, GRID <= 88.0].min(axis=1)
    for row in range(3):
        one = study(network.row(row), {"d": PULL}, "d", Usage((), (), 60.0), phase[row : row + 1])
        ends = one.drop_ends["d"][0]
        assert ends[0] - 0.02 <= drops[row] <= ends[1] + 0.02


def test_rows_are_rows_of_their_own() -> None:
    """Some rows of a network are the same machines."""
    network = plausible(4, coil=True)
    assert np.array_equal(network.rows(slice(1, 3)).parameters(), network.parameters()[1:3])
