"""What is left, trimmed or not cut: every reason by itself, and the metal that must remain."""

from __future__ import annotations

import math

import pytest

from guidegen.trade.cutting import Action, CoilPlace, Span, Why, decide, in_way, metal_needed, settled
from guidegen.trade.machine import Machine
from tests.fixtures.wall_cases import choice, fact, protrusion, with_protrusions
from tests.mutants.draft import catalogue

MARK_2 = catalogue().machine("tamsin-mk2")
BOSS = MARK_2.boiler.protrusions[0]
PLACE = CoilPlace(Span(0.0395, 0.0405), "in-place")
"""A coil of 40 mm, give or take half a millimetre."""


def decided(place: CoilPlace | None = PLACE, machine: Machine = MARK_2, evidence: str = "measured", **changes: str):  # type: ignore[no-untyped-def]
    """The decision on the Mark 2's boss with other facts."""
    (one,) = decide(with_protrusions(machine, protrusion(BOSS, evidence=evidence, **changes)), place)
    return one


@pytest.mark.parametrize(
    ("changes", "action", "why"),
    [
        ({}, "trim", "in-the-way"),
        ({"from_": "41.5 mm ± 0.5 mm", "to": "44 mm ± 0.5 mm"}, "leave", "elsewhere"),
        ({"from_": "40.5 mm ± 0.5 mm", "to": "44 mm ± 0.5 mm"}, "cannot", "place-open"),
        ({"from_": "unknown"}, "cannot", "place-open"),
        ({"to": "unknown"}, "cannot", "place-open"),
        ({"stands_out": "0.4 mm ± 0.1 mm"}, "leave", "flush"),
        ({"stands_out": "0.5 mm ± 0.1 mm"}, "cannot", "height-open"),
        ({"stands_out": "unknown"}, "cannot", "height-open"),
        ({"carries": "fuse"}, "cannot", "carries"),
        ({"carries": "unknown"}, "cannot", "carries-open"),
        ({"kind": "stud"}, "cannot", "kind"),
        ({"kind": "unknown"}, "cannot", "kind-open"),
        ({"metal_left": "unknown"}, "cannot", "metal-open"),
        ({"metal_left": "3.9 mm ± 0.1 mm"}, "cannot", "wall-open"),
        ({"metal_left": "5 mm ± 0.1 mm"}, "cannot", "too-thin"),
    ],
)
def test_each_reason_by_itself(changes: dict[str, str], action: str, why: str) -> None:
    """The wall is 4 mm ± 0.5 mm; one fact of the boss is other than that of a boss to be trimmed."""
    one = decided(**changes)
    assert (one.action, one.why) == (action, why)


def test_without_a_coil_everything_stays() -> None:
    """Nothing is in nobody's way."""
    assert decided(None).why is Why.NO_COIL


def test_what_is_only_assumed_is_not_cut() -> None:
    """A line that nobody measured is no line to saw along."""
    assert (decided(evidence="assumed").action, decided(evidence="assumed").why) == (Action.CANNOT, Why.ASSUMED)


@pytest.mark.parametrize(
    ("way", "expected"), [("in-place", False), ("from-below", False), ("from-above", True), (None, None)]
)
def test_what_the_coil_passes_on_its_way_counts(way: str | None, expected: bool | None) -> None:
    """A boss above the coil is in the way of a coil that slides down over it, and of no other."""
    above = protrusion(BOSS, from_="41.5 mm ± 0.5 mm", to="44 mm ± 0.5 mm")
    assert in_way(above, CoilPlace(PLACE.top, way)) is expected


@pytest.mark.parametrize(
    ("where", "unknown"),
    [("water_path", "relief_opens"), ("boiler", "material"), ("boiler", "diameter"), ("steam", "setpoint"),
     ("steam", "overshoot")],
)  # fmt: skip
def test_without_what_the_pressure_needs_nothing_is_cut(where: str, unknown: str) -> None:
    """Pressure, metal, diameter and the hottest temperature: each of them unknown is enough."""
    part = getattr(MARK_2, where)
    nobody = choice("unknown") if unknown == "material" else fact("unknown", getattr(part, unknown).dimension)
    machine = MARK_2.model_copy(update={where: part.model_copy(update={unknown: nobody})})
    one = decided(machine=machine)
    assert (one.action, one.why, one.undecided) == (Action.CANNOT, Why.PRESSURE_OPEN, True)


def test_a_boiler_hotter_than_any_stated_stress_is_not_cut() -> None:
    """Nothing is extrapolated."""
    hot = MARK_2.steam.model_copy(update={"setpoint": fact("149 °C ± 2 K", "temperature")})
    assert decided(machine=MARK_2.model_copy(update={"steam": hot})).why is Why.PRESSURE_OPEN


def test_the_metal_is_what_the_pressure_needs_and_a_tolerance() -> None:
    """By hand for the Mark 2: 13 bar, 70.2 mm and 37 N/mm² give 1.21 mm, with 0.2 mm it is 1.5 mm on a calliper."""
    ratio = math.sqrt((37.0 - 1.3) / (37.0 + 1.3))
    by_hand = 70.2 / 2 * (1 - ratio) + 0.2
    assert 1.4 < by_hand < 1.5
    assert metal_needed(MARK_2) == pytest.approx(1.5e-3)


def test_little_metal_is_never_enough() -> None:
    """A tenth of a millimetre in the data: the pressure's wall counts. At hardly any pressure 1 mm counts."""
    one = decided(metal_left="0.1 mm")
    assert (one.action, one.computed) == (Action.TRIM, True)
    assert one.keeps == pytest.approx(1.5e-3)
    low = MARK_2.water_path.model_copy(update={"relief_opens": fact("0.5 bar", "pressure")})
    assert metal_needed(MARK_2.model_copy(update={"water_path": low})) == pytest.approx(1.0e-3)
    thin = MARK_2.boiler.model_copy(update={"wall": fact("1.2 mm ± 0.1 mm")})
    assert decided(machine=MARK_2.model_copy(update={"boiler": thin}), metal_left="0.1 mm").why is Why.TOO_THIN


def test_a_wall_of_unknown_thickness_is_not_cut() -> None:
    """What stands in for it in a computation is no wall."""
    thick = MARK_2.boiler.model_copy(update={"wall": fact("unknown")})
    assert decided(machine=MARK_2.model_copy(update={"boiler": thick})).why is Why.WALL_OPEN


def test_nothing_is_cut_in_vain() -> None:
    """Where one thing in the way cannot be cut the coil does not go on, so no other is cut for it."""
    boss, stud = protrusion(BOSS), protrusion(BOSS, "earth-stud", kind="stud")
    one, other = decide(with_protrusions(MARK_2, boss, stud), PLACE)
    assert (one.action, one.why, one.undecided) == (Action.CANNOT, Why.NOT_ALONE, False)
    assert other.why is Why.KIND
    unseen = protrusion(BOSS, "rib", carries="unknown")
    assert decide(with_protrusions(MARK_2, boss, unseen), PLACE)[0].undecided


@pytest.mark.parametrize(
    ("ways", "fitted", "why"),
    [(("trimmed", "exchanged"), True, "in-the-way"), (("exchanged",), True, "exchanged"), ((), True, "not-fitted"),
     (("trimmed",), False, "not-fitted")],
)  # fmt: skip
def test_what_is_not_trimmed_that_way_is_not_cut(ways: tuple[str, ...], fitted: bool, why: str) -> None:
    """A boiler that is exchanged is left whole, and so is one on which the kit does not go."""
    (one,) = settled([decided()], ways, fitted)
    assert one.why == why
    assert (one.action is Action.TRIM) == (why == "in-the-way")
