"""A path of heat made larger or smaller: factors multiply, and no other path changes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.unit.trade.effects.bench import JACKET, SLEEVE, fitted, moved


@pytest.mark.parametrize("path", ["boiler_to_case", "group_to_room", "boiler_to_group"])
def test_a_factor_scales_the_path_that_it_names_and_no_other(path: str) -> None:
    """60 % of what the machine states in W/K."""
    before, after = fitted({**JACKET, "loss": path})
    assert getattr(after.network, path) == pytest.approx(0.6 * getattr(before, path))
    assert moved(before, after.network) == {path}
    assert after.added_mass() == 0.0


def test_two_factors_on_two_paths_stay_apart() -> None:
    """A jacket to 60 % and a sleeve to 80 %: neither path takes the other's factor."""
    before, after = fitted(JACKET, SLEEVE)
    assert after.network.boiler_to_case == pytest.approx(0.6 * before.boiler_to_case)
    assert after.network.group_to_room == pytest.approx(0.8 * before.group_to_room)


def test_two_factors_on_one_path_multiply() -> None:
    """A jacket to 60 %, and another over it that halves what is left: 30 %."""
    before, after = fitted(JACKET, {**JACKET, "by": "50 %"})
    assert after.network.boiler_to_case == pytest.approx(0.3 * before.boiler_to_case)


def test_idle_power_falls_by_what_the_jacket_keeps() -> None:
    """Boiler, case and room are in series: 60 % of the first path in watts is more than 60 % of both.

    With losses in proportion that is the fall to rounding; the case is then cooler, which takes some of it back, and
    losses that follow temperature take or give a little more.
    """
    from guidegen.heat.fleet import Fleet
    from guidegen.heat.idle import IDLE_POWER

    before, after = fitted(JACKET)
    # The element warms the boiler through the metal alone here, so that boiler and sensor agree.
    assert before.heater_to_water[0] == 0.0
    out, above = float(before.case_to_room[0]), float(before.control.setpoint[0] - before.room[0])  # type: ignore[union-attr]
    bare = float(before.boiler_to_case[0])
    kept = (1 / (1 / bare + 1 / out) - 1 / (1 / (0.6 * bare) + 1 / out)) * above
    falls = []
    for follows in (0.0, 1.0):
        sides = (replace(one, follows=np.full(1, follows)) for one in (before, after.network))
        power = [float(Fleet(one.parameters()).idle()[1][0, IDLE_POWER]) for one in sides]
        falls.append(power[0] - power[1])
    assert falls[0] == pytest.approx(kept)
    assert falls[1] == pytest.approx(kept, rel=0.1)
