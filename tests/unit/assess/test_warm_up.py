"""What the kit adds to warm-up is never the sum of those parts alone that get there."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from guidegen.assess import inputs
from guidegen.assess.asking import question, served
from guidegen.assess.figures import NO_VALUE, Figures
from guidegen.assess.numbers import Studies, compute
from guidegen.assess.running import warm_up
from tests.mutants.draft import catalogue
from tests.unit.trade.effects.bench import COIL, kit

pytestmark = pytest.mark.slow

LONG = {**COIL, "holds": "2.9 l", "gap": "0 mm", "to_case": "0.02 W/(m·K)"}
"""Some hundred metres of tube in a jacket, which the boiler warms through one small contact for longer than two hours:
20 kJ/K of copper and water over 2 W/K."""


@pytest.mark.parametrize("variant", ["bracken-a", "tamsin-mk2"])
def test_a_coil_that_never_settles_adds_no_number(variant: str) -> None:
    """Under a thermostat the last of boiler, group and coil counts; under electronic control the drop of a shot."""
    known, one = catalogue(), kit(LONG)
    machine = known.machine(variant)
    listed = [*inputs.of_machine(machine, known), *one.inputs()]
    asked, _ = question(machine, one, listed, served(known), 0)
    made = compute(asked, Studies()).warm_up
    assert made.with_.coil_settled_s.value is None
    assert made.added_s.value is None
    assert made.added_s.reason


def side(**times: float) -> Any:
    """A thermostat's side of three draws beside the stated row, all alike."""
    names = ("boiler_ready", "group_ready", "coil_settled", "shot_ready")
    rows = {name: np.full(4, times.get(name, np.nan)) for name in names}
    return SimpleNamespace(**rows, period=np.full(4, 60.0), parked=rows["coil_settled"])


def added(before: Any, after: Any) -> Any:
    """What is added between two sides."""
    return warm_up(Figures({}, 3), before, after).added_s


def test_only_whole_times_are_taken_from_each_other() -> None:
    """Worked out by hand: 700 s to the last with the kit, 500 s without; nothing where one part stays away."""
    before, after = {"boiler_ready": 300.0, "group_ready": 500.0}, {"boiler_ready": 310.0, "group_ready": 520.0}
    assert added(side(**before), side(**after, coil_settled=700.0)).value == pytest.approx(200.0)
    assert added(side(**before), side(**after)).value == pytest.approx(20.0)
    late = added(side(**before), side(**after, coil_settled=np.inf))
    assert late.value is None
    assert late.beyond is not None
    assert late.beyond.limit == pytest.approx(7200.0 - 500.0)
    never = added(side(**before | {"group_ready": np.inf}), side(**after, coil_settled=700.0))
    assert (never.value, never.beyond, never.reason) == (None, None, NO_VALUE)
    assert added(side(**before | {"group_ready": np.inf}), side(**after, coil_settled=np.inf)).value is None
