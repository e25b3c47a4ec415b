"""How many steps in time a machine takes, known before the first one: so that nothing runs without end. Compiled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from guidegen.heat.compiled import kernel
from guidegen.heat.fleet import Fleet
from guidegen.heat.layout import BETWEEN, FIRST_MODE, LUMPED, MATRICES, MODES, RATES, Matrix, Tower, Whole
from guidegen.heat.network import Network
from guidegen.heat.pull import Pull
from guidegen.heat.runs import PARTS, fastest_rate, flow_step
from guidegen.heat.steps import fastest, make_rates

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


@kernel
def pace_rows(p_all: Matrix, pulls: Matrix, exact: Tower, steps: Matrix, parts: Whole, rates: Matrix) -> None:
    """Write for each row the steps of its longest draw, the part that asks for them, and its fastest rate at rest.

    exact: scratch.
    """
    for r in range(len(p_all)):
        p = p_all[r]
        for i in range(len(pulls)):
            flow, duration = pulls[i, 1], pulls[i, 2]
            taken = duration / flow_step(p, flow)
            if taken > steps[r]:
                steps[r] = taken
                for which in range(len(PARTS)):
                    if fastest_rate(p, flow, which) > fastest_rate(p, flow, parts[r]):
                        parts[r] = which
        make_rates(p, exact, BETWEEN)
        rates[r] = fastest(exact[BETWEEN - FIRST_MODE, RATES])
