"""How many steps in time a machine takes, known before the first one: so that nothing runs without end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from guidegen.heat.fleet import Fleet
from guidegen.heat.layout import LUMPED, MATRICES, MODES, Matrix
from guidegen.heat.network import Network
from guidegen.heat.pacing import pace_rows
from guidegen.heat.pull import Pull
from guidegen.heat.runs import PARTS

MOST_STEPS, MOST_OF_ONE = 2_500.0, 50_000.0
"""Steps of one draw: on the average of all rows, and of any one. Such machines take 100 to 1,500 of them."""
FASTEST_AT_REST, FASTEST_OF_ONE = 300.0, 5_000.0
"""1/s: what sets the work where a controller switches within a step of rest; on the average, and of any row."""


@dataclass(frozen=True)
class Pace:
    """The steps of the draw that takes most, by row; which part asks for them where it is worst; rates at rest, 1/s."""

    steps: Matrix
    part: str
    at_rest: Matrix

    @property
    def affordable(self) -> bool:
        """Whether all of it is computed in reasonable time."""
        steps, rates = self.steps, self.at_rest
        within = np.mean(steps) <= MOST_STEPS and np.max(steps) <= MOST_OF_ONE
        return bool(within and np.mean(rates) <= FASTEST_AT_REST and np.max(rates) <= FASTEST_OF_ONE)


def pace(network: Network, pulls: Sequence[Pull]) -> Pace:
    """Give how many steps each row of a network takes."""
    fleet, rows = Fleet(network.parameters()), np.array([one.row() for one in pulls])
    steps, rates, parts = np.zeros(len(fleet)), np.zeros(len(fleet)), np.zeros(len(fleet), dtype=np.int64)
    exact = np.zeros((MODES, MATRICES, LUMPED, LUMPED))
    pace_rows(fleet.p, rows, exact, steps, parts, rates)
    return Pace(steps, PARTS[int(parts[int(np.argmax(steps))])], rates)
