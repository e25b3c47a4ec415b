"""What is stated of a variant: what stands in for something unknown is no fact about it."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess import stated
from guidegen.commands import starting
from guidegen.site.pages.template import render
from guidegen.trade import Catalogue
from tests.mutants.draft import catalogue as demonstration


@pytest.fixture
def first(tmp_path: Path) -> Catalogue:
    """The starter's workshop, of whose variant nothing is known but the mains voltage."""
    starting.new_workshop(tmp_path / "workshop")
    return trade.load(tmp_path / "workshop")


def test_nothing_unknown_is_stated_as_a_fact(first: Catalogue) -> None:
    """Neither plug nor material, pump, valve, order or pressure, although the computation assumes each."""
    machine = first.machine("first-family-first-variant")
    part = stated.variant_part(machine)
    assert part.connection == part.boiler_material == "unknown"
    path = list(stated.water_path(machine))
    assert path[0] == "water tank"
    assert [step for step in path if "known" in step] == path[1:-2]
    assert not {machine.water_path.pump.value, "check valve", "place for a feed coil"} & set(path)
    shown = render(
        "variant.html", v=part.model_dump(), status_words="", kits=[], drink="", places=[], neighbours=[], more=[],
        together=[], which="", pictures="", mark_pictures="",
        drawings={}, find_out=None,
    )  # fmt: skip
    for word in ("corded", "hard-wired", "brass", "unknown"):
        assert word not in shown


def test_what_is_known_is_stated_as_it_was() -> None:
    """tamsin/family.yml: a cord, a brass boiler, the check valve before the relief branch at 12 bar, then the coil."""
    machine = demonstration().machine("tamsin-mk2")
    part = stated.variant_part(machine)
    assert (part.connection, part.boiler_material) == ("corded", "brass")
    assert list(stated.water_path(machine)) == [
        "water tank", "vibration pump, 48 W", "check valve", "relief branch, opens at 12 bar ± 1 bar",
        "place for a feed coil", "straight fitting, G 1/8", "boiler", "group",
    ]  # fmt: skip
