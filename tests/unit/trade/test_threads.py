"""Which threads go together: designations by iso-228-1, iso-7-1 and iso-261; gender is common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from guidegen.trade.check_threads import check_kit_threads, check_machine_threads, mates
from guidegen.trade.kit import Kit
from guidegen.workshop.inventory import ScrewedEnd
from tests.mutants.draft import catalogue

KNOWN = catalogue()
MACHINES = KNOWN.machines.values()
COIL = KNOWN.kits["feed-preheater"]


@pytest.mark.parametrize(
    ("male", "female", "fit"),
    [
        ("G 1/8", "G 1/8", True),  # iso-228-1: parallel in parallel, sealed on a face
        ("M10", "M10", True),  # iso-261
        ("G 1/8", "G 1/4", False),
        ("R 1/8", "Rp 1/8", True),  # iso-7-1: taper outside in parallel inside
        ("R 1/8", "Rc 1/8", True),  # iso-7-1: taper outside in taper inside
        ("R 1/8", "Rc 1/4", False),
        ("Rp 1/8", "R 1/8", False),  # iso-7-1: R is always outside, Rp and Rc always inside
        ("R 1/8", "R 1/8", False),
        ("R 1/8", "G 1/8", False),  # another standard's tolerance: neither face nor thread seals
    ],
)
def test_which_threads_go_together(male: str, female: str, fit: bool) -> None:
    """Written by hand from the scope of each standard."""
    assert mates(male, female) is fit


def with_ends(kit: Kit, ends: Mapping[str, tuple[Mapping[str, Any], ...]]) -> Kit:
    """A kit whose parts have other threads."""
    parts = tuple(
        one.model_copy(update={"threads": tuple(ScrewedEnd.model_validate(end) for end in ends[one.id])})
        if one.id in ends
        else one
        for one in kit.parts
    )
    return kit.model_copy(update={"parts": parts})


@pytest.mark.parametrize("kit", KNOWN.kits.values(), ids=lambda kit: kit.id)
def test_the_demonstration_goes_together(kit: Kit) -> None:
    """Each kit on every machine, and each machine by itself."""
    assert [*check_kit_threads(kit, MACHINES)] == []
    assert [one for machine in MACHINES for one in check_machine_threads(machine)] == []


def test_exchanged_fittings_are_refused() -> None:
    """The straight inlet is male outside and the hose's nut female, so neither takes the other's fitting."""
    female, male = ({"thread": "G 1/8", "gender": gender} for gender in ("female", "male"))
    found = check_kit_threads(with_ends(COIL, {"female-fitting": (male,), "male-fitting": (female,)}), MACHINES)
    assert [one.message.partition(": ")[2] for one in found] == [
        "female-fitting and straight-inlet are both male",
        "feed-hose and male-fitting are both female",
    ]


def test_a_thread_of_no_machine_is_refused_and_one_of_some_is_not() -> None:
    """On which machines a kit's thread is another one, its requirements say."""
    wide = with_ends(COIL, {"female-fitting": ({"thread": "G 1/4", "gender": "female"},)})
    assert [one.message.partition(": ")[2] for one in check_kit_threads(wide, MACHINES)] == [
        "G 1/8, male, does not go into G 1/4, female"
    ]
    machine = KNOWN.machines["tamsin-mk1"]
    pump = machine.inventory["straight-inlet"].model_copy(
        update={"threads": (ScrewedEnd(thread="G 1/4", gender="male"),)}
    )
    other = machine.model_copy(update={"inventory": {**machine.inventory, "straight-inlet": pump}})
    assert [*check_kit_threads(wide, [machine, other])] == []


def test_one_side_alone_is_refused() -> None:
    """Otherwise a thread that nobody wrote would pass."""
    found = check_kit_threads(with_ends(COIL, {"male-fitting": ()}), MACHINES)
    assert [one.message.partition(": ")[2] for one in found] == [
        "feed-hose says what its thread is, and male-fitting does not"
    ]
