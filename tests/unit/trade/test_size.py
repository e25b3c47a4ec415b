"""What machines of another size have."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.trade.load import load
from guidegen.trade.machine import Machine
from guidegen.trade.size import facts_for, ranges, sized, times_usual
from guidegen.workshop.facts import Fact

ROOT = Path(__file__).parents[3]
KNOWN = load(ROOT)


def with_water(text: str | None) -> Machine:
    """The Bracken A with other water in its boiler, or with none stated."""
    machine = KNOWN.machine("bracken-a")
    old = machine.boiler.water
    quantity = old.quantity and type(old.quantity)(float(text or 0), 0.0, "volume", text or "")
    water = Fact(text=f"{text}", dimension="volume", quantity=quantity, spec=old.spec, known=text is not None)
    return machine.model_copy(update={"boiler": machine.boiler.model_copy(update={"water": water})})


def test_nothing_moves_for_the_machines_that_the_ranges_were_written_for() -> None:
    """All of the demonstration's; so no stand-in of theirs is another one."""
    assert {name for name, one in KNOWN.machines.items() if [*ranges(one)]} == set()


def test_a_boiler_three_times_as_large() -> None:
    """330 ml are three times 110 ml. Metal goes with the surface, 3^(2/3) = 2.08: 0.40 kg to 0.65 kg become 0.83 kg to
    1.4 kg; a heater may be as weak as before, or as strong as 1500 W * 2.08 = 3120 W."""
    machine = with_water("0.00033")
    assert times_usual(machine) == pytest.approx(3)
    found = dict(ranges(machine))
    assert found["boiler.mass"] == ("0.83 kg", "1.4 kg")
    assert found["heater.power"] == ("700 W", "3100 W")


def test_facts_and_questions_take_the_same_range() -> None:
    """What is warned of, what stands in, and what an owner may answer."""
    machine = with_water("0.00033")
    fact = sized(machine).fact("boiler.mass")
    kind = facts_for(machine)["boiler.mass"]
    assert isinstance(fact, Fact)
    assert fact.spec is not None
    assert kind.spec is not None
    assert fact.spec.plausible == kind.spec.plausible == ("0.83 kg", "1.4 kg")


def test_where_nobody_knows_the_water_the_wall_says_it() -> None:
    """72 mm across and 44 mm tall are 179 ml, of which some 62 % is water: 111 ml, as on the machine that has 110 ml."""
    assert times_usual(with_water(None)) == 1
