"""Laws that the coil's geometry keeps for every boiler and tube."""

from __future__ import annotations

import dataclasses

from hypothesis import given, settings
from hypothesis import strategies as st

from guidegen.heat.coil import CoilDemand, wind


def _between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


@st.composite
def demands(draw: st.DrawFn) -> CoilDemand:
    """Draw boilers and tubes from thimbles to kettles."""
    outside = draw(_between(3e-3, 15e-3))
    return CoilDemand(
        boiler_diameter=draw(_between(30e-3, 200e-3)),
        straight_wall=draw(_between(0.0, 200e-3)),
        tube_outside=outside,
        tube_wall=outside * draw(_between(0.05, 0.3)),
        holds=draw(_between(1e-6, 300e-6)),
        layers_max=draw(st.integers(1, 4)),
        gap=draw(_between(0.0, 3e-3)),
        tails=draw(_between(0.0, 0.5)),
        fittings_mass=draw(_between(0.0, 0.2)),
        height_margin=draw(_between(0.0, 10e-3)),
    )


TOLERANCE = 1e-9


@given(demands(), _between(0.0, 100e-6))
@settings(max_examples=60, deadline=None)
def test_a_longer_coil_never_holds_less(demand: CoilDemand, more: float) -> None:
    """Asking for more never gives less volume, length or mass."""
    small, large = wind(demand), wind(dataclasses.replace(demand, holds=demand.holds + more))
    assert large.held >= small.held * (1 - TOLERANCE)
    assert large.length >= small.length * (1 - TOLERANCE)
    assert large.filled_mass >= small.filled_mass * (1 - TOLERANCE)


@given(demands(), _between(0.0, 50e-3))
@settings(max_examples=60, deadline=None)
def test_more_wall_or_more_layers_never_hold_less(demand: CoilDemand, more: float) -> None:
    """A taller wall and one more layer allowed leave no less water in the coil."""
    held = wind(demand).held * (1 - TOLERANCE)
    assert wind(dataclasses.replace(demand, straight_wall=demand.straight_wall + more)).held >= held
    assert wind(dataclasses.replace(demand, layers_max=demand.layers_max + 1)).held >= held


@given(demands())
@settings(max_examples=100, deadline=None)
def test_a_coil_stays_on_its_wall_and_in_its_layers(demand: CoilDemand) -> None:
    """No coil is higher than the wall without its margin, and none has more layers than allowed."""
    one = wind(demand)
    assert one.height <= max(0.0, demand.straight_wall - demand.height_margin) + TOLERANCE
    assert one.layers <= demand.layers_max
    assert len(one.turns_per_layer) == one.layers
    assert one.tightest_radius > demand.boiler_diameter / 2


@given(demands())
@settings(max_examples=100, deadline=None)
def test_held_and_missing_make_up_what_was_asked_for(demand: CoilDemand) -> None:
    """What is held and what is missing are together what was asked for; a coil that fits misses nothing."""
    one = wind(demand)
    assert abs(one.held + one.volume_missing - demand.holds) <= 1e-9 * demand.holds + 1e-12
    assert one.fits == (one.height_missing == 0.0)
    assert one.fits or one.height_missing > 0
    assert one.filled_mass >= one.dry_mass >= one.tube_mass
