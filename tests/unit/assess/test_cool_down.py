"""The wait before work is a bound: nothing that the inputs allow cools more slowly."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import product

import pytest

from guidegen.assess import after_use, inputs
from guidegen.assess.asking import slowest
from guidegen.record import Figure
from guidegen.record.computed import CoolDown
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain
from tests.mutants.draft import catalogue
from tests.unit.trade.effects.bench import (
    BRASS_FOOT,
    BRASS_RING,
    COIL,
    ELEMENT,
    JACKET,
    LOOP,
    MK2,
    SLEEVE,
    kit,
)

WIDE = {
    "coil": {**COIL, "tube": {**COIL["tube"], "outside": "8 mm ± 0.2 mm", "wall": "1 mm ± 0.1 mm"},  # type: ignore[dict-item]
             "holds": "58 ml ± 5 ml", "fittings_mass": "42 g ± 10 g", "to_case": "unknown", "shields": "unknown",
             "contact": "unknown"},
    "element": {**ELEMENT, "power": "unknown", "heat_capacity": "unknown", "to_boiler": "unknown"},
    "masses": {**BRASS_RING, "mass": "100 g ± 20 g"}, "foot": {**BRASS_FOOT, "mass": "500 g ± 90 g"},
    "jacket": {**JACKET, "by": "unknown"}, "sleeve": {**SLEEVE, "by": "80 % ± 10 %"},
    "loop": {**LOOP, "control": {**LOOP["control"], "setpoint": "101 °C ± 3 K"}},  # type: ignore[dict-item]
}  # fmt: skip
PAIRS = {
    "coil": (MK2, kit(WIDE["coil"])),
    "element and jacket": (MK2, kit(WIDE["element"], WIDE["jacket"], WIDE["sleeve"])),
    "masses and control": (catalogue().machine("tamsin-mk1"), kit(WIDE["masses"], WIDE["foot"], WIDE["loop"])),
}
SLACK = 1e-3
"""A share: boiler water weighs a little more where the machine's own control holds it cooler, even if a kit's control
has taken its place; and the moments lie on lines between looks a minute apart."""


def listed(machine: Machine, one: Kit) -> list[Uncertain]:
    """All inputs of a pair."""
    return [*inputs.of_machine(machine, catalogue()), *one.inputs()]


def waits(machine: Machine, one: Kit, stated: Iterable[Uncertain]) -> dict[str, float]:
    """The times of both sides, of inputs that are held where they stand."""
    held = [replace(one, low=one.value, high=one.value) for one in stated]
    return seconds_of(after_use.cool_down_part(slowest(machine, one, held)))


def seconds_of(made: CoolDown) -> dict[str, float]:
    """The four times of a record's part."""
    figures: dict[str, Figure] = {
        "touch without": made.without.touch_s, "touch with": made.with_.touch_s,
        "below 90 without": made.without.below_90_s, "below 90 with": made.with_.below_90_s,
    }  # fmt: skip
    return {name: figure.value for name, figure in figures.items() if figure.value is not None}


@pytest.mark.parametrize("pair", PAIRS)
def test_no_input_alone_makes_it_slower(pair: str) -> None:
    """From each corner that is taken, every input is moved to each of its ends in turn."""
    machine, one = PAIRS[pair]
    every = listed(machine, one)
    bound = seconds_of(after_use.cool_down_part(slowest(machine, one, every)))
    assert len(bound) == 4
    for values in product(*(each.slowest() for each in every)):
        corner = [replace(each, value=value) for each, value in zip(every, values, strict=True)]
        for index, each in enumerate(corner):
            for end in {each.low, each.high} - {each.value}:
                moved = [*corner[:index], replace(each, value=end), *corner[index + 1 :]]
                for name, seconds in waits(machine, one, moved).items():
                    assert seconds <= bound[name] * (1.0 + SLACK), (each.id, end)


@pytest.mark.parametrize("pair", PAIRS)
def test_no_draw_is_slower(pair: str) -> None:
    """A hundred machines between the ends of all inputs together."""
    machine, one = PAIRS[pair]
    every = listed(machine, one)
    bound = seconds_of(after_use.cool_down_part(slowest(machine, one, every)))
    level = [replace(each, evidence="assumed") for each in every]
    values = inputs.draw(level, 128)
    for row in range(1, 101):
        drawn = [replace(each, value=float(values[each.id][row])) for each in level]
        for name, seconds in waits(machine, one, drawn).items():
            assert seconds <= bound[name] * (1.0 + SLACK)


def test_the_bound_of_a_kit_that_changes_nothing_is_the_machine_s_own() -> None:
    """To the bit."""
    one = catalogue().kit("banjo-feed")
    made = after_use.cool_down_part(slowest(MK2, one, listed(MK2, one)))
    assert made.with_ == made.without
