"""The wait before work is a bound: nothing that the inputs allow cools more slowly."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from guidegen.assess import after_use, inputs
from guidegen.assess.after_use import cooled
from guidegen.assess.asking import question, served
from guidegen.assess.network_of import with_kits, without_kit
from guidegen.heat.network import Rows
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain, Values
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

pytestmark = pytest.mark.slow

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
PAIRS |= {
    f"{machine.id} with {one.id}": (machine, one)
    for machine in catalogue().machines.values() for one in catalogue().kits.values()
}  # fmt: skip
STRONGEST = 10
"""So many inputs, those that move the times most, go to all of their corners together."""
TIMES = ("touch without", "below 90 without", "touch with", "below 90 with")
ROUNDED = 1e-5
"""A share: the record keeps six digits."""


def listed(machine: Machine, one: Kit) -> list[Uncertain]:
    """All inputs of a pair."""
    return [*inputs.of_machine(machine, catalogue()), *one.inputs()]


def printed(machine: Machine, one: Kit, draws: int = 0) -> Rows:
    """The four times that the record would print."""
    asked, _ = question(machine, one, listed(machine, one), served(catalogue()), draws)
    made = after_use.cool_down_part(asked.slowest, (asked.plain, asked.fitted))
    sides = made.without, made.with_
    return np.array([figure.value for side in sides for figure in (side.touch_s, side.below_90_s)], dtype=float)


def times(machine: Machine, one: Kit, rows: Mapping[str, Rows]) -> Rows:
    """The four times of machines, shape (4, n).

    The first row has the low end of every input, as the water of all rows has its density.
    """
    low = {each.id: each.low for each in listed(machine, one)}
    values = Values({name: np.concatenate(([low[name]], column)) for name, column in rows.items()}, np.zeros(0))
    plain = without_kit(machine, values)
    fitted = with_kits(machine, (one,), values, plain).network
    return np.concatenate([cooled(side) for side in (plain, fitted)])[:, 1:]


def one_by_one(machine: Machine, one: Kit, corner: Mapping[str, float]) -> Rows:
    """The four times of a corner with each input in turn at its low and at its high end, shape (4, inputs, 2)."""
    every = listed(machine, one)
    rows = {each.id: np.full(2 * len(every), corner[each.id]) for each in every}
    for index, each in enumerate(every):
        rows[each.id][2 * index : 2 * index + 2] = each.low, each.high
    return times(machine, one, rows).reshape(len(TIMES), len(every), 2)


@pytest.mark.parametrize("pair", PAIRS)
def test_no_corner_cools_slower_than_printed(pair: str) -> None:
    """For each time: the inputs that move it most in all of their corners, the others each at its slower end.

    Then from the slowest of those corners every input, whether it matters or not, at each of its ends in turn.
    """
    machine, one = PAIRS[pair]
    every, most = listed(machine, one), printed(machine, one)
    alone = one_by_one(machine, one, {each.id: each.value for each in every})
    strong = sorted(range(len(every)), key=lambda at: -float(np.ptp(alone[:, at] / most[:, None])))[:STRONGEST]
    corners = np.array(list(product(*((every[at].low, every[at].high) for at in strong))))
    for which, bound in enumerate(most):
        slower = np.argmax(alone[which], axis=1)
        rows = {each.id: np.full(len(corners), (each.low, each.high)[end])
                for each, end in zip(every, slower, strict=True)}  # fmt: skip
        rows |= {every[at].id: corners[:, index] for index, at in enumerate(strong)}
        found = times(machine, one, rows)[which]
        assert found.max() <= bound * (1 + ROUNDED), TIMES[which]
        slowest = {name: float(column[np.argmax(found)]) for name, column in rows.items()}
        moved = one_by_one(machine, one, slowest)[which]
        assert moved.max() <= bound * (1 + ROUNDED), (TIMES[which], every[int(np.argmax(moved.max(axis=1)))].id)


@pytest.mark.parametrize("pair", PAIRS)
def test_no_draw_is_slower_than_printed(pair: str) -> None:
    """Those drawn as normal lie beyond their ends now and then."""
    machine, one = PAIRS[pair]
    most, values = printed(machine, one, 512), inputs.draw(listed(machine, one), 512)
    plain = without_kit(machine, values)
    drawn = np.concatenate([cooled(side) for side in (plain, with_kits(machine, (one,), values, plain).network)])
    assert np.all(drawn.max(axis=1) <= most * (1 + ROUNDED))


def test_a_draw_beyond_every_end_moves_what_is_printed() -> None:
    """Where hardly anything but one measured value is uncertain, its draws lie beyond its ends, and they count."""
    machine, one = MK2, catalogue().kit("banjo-feed")
    sure = [
        replace(each, low=each.value, high=each.value) if each.id != "group.to_room" else
        replace(each, low=each.value * 0.9, high=each.value * 1.1, drawn="normal")
        for each in listed(machine, one)
    ]  # fmt: skip
    few, many = (question(machine, one, sure, served(catalogue()), draws)[0] for draws in (0, 512))
    ends, all_ = (after_use.cool_down_part(each.slowest, (each.plain, each.fitted)) for each in (few, many))
    assert ends.without.touch_s.value is not None
    assert all_.without.touch_s.value is not None
    assert all_.without.touch_s.value > ends.without.touch_s.value


def test_the_bound_of_a_kit_that_changes_nothing_is_the_machine_s_own() -> None:
    """To the bit."""
    one = catalogue().kit("banjo-feed")
    most = printed(MK2, one, 64)
    assert np.array_equal(most[:2], most[2:])
