"""The steps in time that rows take, counted before the first one: compiled."""

from __future__ import annotations

from guidegen.heat.compiled import kernel
from guidegen.heat.exact import fastest, make_rates
from guidegen.heat.layout import BETWEEN, FIRST_MODE, RATES, Matrix, Tower, Whole
from guidegen.heat.runs import PARTS, fastest_rate, flow_step


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
