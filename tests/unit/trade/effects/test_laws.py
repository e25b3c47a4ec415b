"""What holds of every effect: identity, order, composition, and a budget that adds up."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from guidegen.assess import Assessor, inputs
from guidegen.assess.network_of import machine_parts, with_kits, without_kit
from guidegen.heat.network import Network
from tests.mutants.draft import catalogue
from tests.unit.trade.effects.bench import (
    BRASS_FOOT,
    BRASS_RING,
    COIL,
    ELEMENT,
    JACKET,
    LOOP,
    NOTHING,
    ONE_OF_EACH,
    SLEEVE,
    drawn,
    fitted,
    kit,
)

DRAWS = 32
SETS = (
    (NOTHING,), (LOOP,), (ELEMENT,), (BRASS_RING, BRASS_FOOT), (JACKET, SLEEVE), (COIL,), ONE_OF_EACH,
    (BRASS_RING, COIL, BRASS_FOOT, SLEEVE, JACKET, ELEMENT, LOOP),
)  # fmt: skip


def flat(network: Network) -> NDArray[np.float64]:
    """Everything that the kernels read."""
    return network.parameters()


@pytest.mark.parametrize("written", SETS, ids=lambda one: "+".join(part["kind"] for part in one))
def test_the_parts_add_up_to_the_totals(written: tuple[dict[str, Any], ...]) -> None:
    """In every draw: the heat capacity of the whole network, and the machine's own mass with what the kit brings."""
    plain, after = fitted(*written, draws=DRAWS)
    capacity = sum(one.heat_capacity for one in after.parts)
    assert np.allclose(capacity, after.network.heat_capacity(), rtol=1e-12, atol=0.0)
    values = drawn(catalogue().machine("tamsin-mk2"), kit(*written), DRAWS)
    own = values["boiler.mass"] + values["group.mass"] + plain.water_mass
    assert np.allclose(sum(one.mass for one in after.parts), own + after.added_mass(), rtol=1e-12, atol=0.0)
    assert len({one.id for one in after.parts}) == len(after.parts)


@pytest.mark.parametrize("variant", sorted(catalogue().machines))
def test_without_a_kit_the_parts_are_the_machine(variant: str) -> None:
    """The element counts too: without it the share of heat that a drink withdraws would not be that of its chart."""
    machine = catalogue().machine(variant)
    values = drawn(machine, kit(NOTHING), DRAWS)
    plain = without_kit(machine, values)
    capacity = sum(one.heat_capacity for one in machine_parts(machine, values, plain))
    assert np.allclose(capacity, plain.heat_capacity(), rtol=1e-12, atol=0.0)


def test_the_record_s_parts_add_up_to_the_record_s_totals() -> None:
    """To the six digits that a record keeps."""
    budget = (
        Assessor(catalogue(), "next", 0)
        .assess(catalogue().machine("tamsin-mk2"), catalogue().kit("feed-preheater"))
        .budget
    )
    assert budget.with_.mass_kg.value == pytest.approx(sum(one.mass_kg for one in budget.parts), rel=5e-6)
    total = sum(one.heat_capacity_j_per_k for one in budget.parts)
    assert budget.with_.heat_capacity_j_per_k.value == pytest.approx(total, rel=5e-6)
    kits = sum(one.mass_kg for one in budget.parts if one.kit)
    assert budget.added_kg.value == pytest.approx(kits, rel=5e-6)


def test_a_kit_may_list_its_effects_in_any_order() -> None:
    """Whatever stands first, the machine is the same one: what each is made of does not depend on the list."""
    networks = [fitted(*order)[1].network for order in itertools.permutations((LOOP, BRASS_RING, JACKET, COIL))]
    assert len({flat(one).tobytes() for one in networks}) == 1


def test_two_of_a_kind_may_change_places() -> None:
    """A sum does not depend on its order, but for the last bit."""
    one, other = (fitted(*order)[1] for order in ((BRASS_RING, BRASS_FOOT), (BRASS_FOOT, BRASS_RING)))
    assert np.allclose(flat(one.network), flat(other.network), rtol=1e-15)
    assert np.allclose(one.added_mass(), other.added_mass(), rtol=1e-15)


def test_effects_compose() -> None:
    """Two kits one after the other make the same machine as one kit with the effects of both."""
    machine = catalogue().machine("tamsin-mk2")
    both = kit(BRASS_RING, JACKET, COIL)
    values = drawn(machine, both, DRAWS)
    plain = without_kit(machine, values)
    first = with_kits(machine, (kit(BRASS_RING, JACKET),), values, plain).network
    second = with_kits(machine, (kit(COIL),), values, first).network
    assert flat(second).tobytes() == flat(with_kits(machine, (both,), values, plain).network).tobytes()


@pytest.mark.parametrize("written", SETS, ids=lambda one: "+".join(part["kind"] for part in one))
def test_no_effect_touches_the_machine_it_is_given(written: tuple[dict[str, Any], ...]) -> None:
    """The run without is computed from the same arrays afterwards."""
    machine, one = catalogue().machine("tamsin-mk2"), kit(*written)
    values = drawn(machine, one, DRAWS)
    plain = without_kit(machine, values)
    before = flat(plain).tobytes()
    with_kits(machine, (one,), values, plain)
    assert flat(plain).tobytes() == before


def test_what_a_kit_brings_moves_nothing_of_the_machine_s_draws() -> None:
    """The same boilers without and with, whatever is in the kit."""
    machine = catalogue().machine("tamsin-mk2")
    alone = drawn(machine, kit(NOTHING), DRAWS)
    beside = drawn(machine, kit(*ONE_OF_EACH, BRASS_FOOT, SLEEVE), DRAWS)
    for name, rows in alone.rows.items():
        assert rows.tobytes() == beside[name].tobytes()
    assert {one.id for one in inputs.of_machine(machine, catalogue())} == set(alone.rows)
