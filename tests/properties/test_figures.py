"""Every figure of every record of the demonstration: value, ends and stated value speak of one computation."""

from __future__ import annotations

from functools import cache

import pytest

from guidegen.assess import Assessor
from guidegen.record import Assessment, places
from tests.conftest import DRAWS
from tests.mutants.draft import catalogue

pytestmark = pytest.mark.slow
PAIRS = [(machine, kit) for machine in catalogue().machines for kit in catalogue().kits]
FAR = 1.0
"""Ranges that a headline of the typical machine may lie from the median at most."""


@cache
def assessor() -> Assessor:
    """Shared, so that what a variant is without a kit is computed once."""
    return Assessor(catalogue(), "next", DRAWS)


@pytest.fixture(scope="module", params=PAIRS, ids="/".join)
def record(request: pytest.FixtureRequest) -> Assessment:
    """The record of one pair with few draws."""
    machine, kit = request.param
    return assessor().assess(catalogue().machine(machine), catalogue().kit(kit))


def test_no_value_lies_outside_its_own_range(record: Assessment) -> None:
    """Median and ends are of the same draws; a thermostat's expected drop lies between its best and worst start."""
    for place, one in places.figures(record):
        if one.value is not None:
            assert one.low is None or one.low <= one.value, place
            assert one.high is None or one.value <= one.high, place


def test_a_missing_value_or_end_says_why(record: Assessment) -> None:
    """No value without a reason; an end that is not there lies beyond a limit, with its share of the draws."""
    for place, one in places.figures(record):
        assert one.value is not None or one.reason, place
        if one.ranged and None in (one.low, one.high):
            assert one.beyond is not None, place
            assert one.beyond.share > 0.02, place
        if one.beyond is not None and one.value is not None:
            assert one.value <= one.beyond.limit, place


def test_the_machine_of_the_curves_is_near_to_the_medians(record: Assessment) -> None:
    """Each headline on it lies within its range; the curve starts and falls as that machine does."""
    known = dict(places.figures(record))
    assert set(record.typical) <= set(places.headlines(record.main_drink))
    for place, there in record.typical.items():
        one = known[place]
        if one.low is not None and one.high is not None and one.value is not None and one.high > one.low:
            assert abs(there - one.value) <= FAR * (one.high - one.low), place
    drop = f"drinks.{record.main_drink}.with.sensor_drop_k"
    if record.main.with_.sensor_drop_phases_k is None and drop in record.typical:
        trace = record.shot.with_.sensor_degc
        assert trace[0] - min(trace) == pytest.approx(record.typical[drop], abs=0.1)


def test_a_thermostat_s_phase_is_no_part_of_the_range(record: Assessment) -> None:
    """The best and the worst start of one machine lie around what is expected of it."""
    for side in (record.main.without, record.main.with_):
        phases = side.sensor_drop_phases_k
        if phases is not None:
            assert phases.value is not None
            assert phases.low is not None
            assert phases.high is not None
            assert phases.low < phases.value < phases.high
    assert all("model.phase" not in found for found in record.influence.values())
