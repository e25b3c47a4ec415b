"""Invented campaigns: intervals of what is learned, and of before and after, hold the truth as often as they say.

`make test` learns from a part of three campaigns and compares twelve; `make harden` takes two hundred.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from guidegen.assess.learn.campaign import Campaign
from guidegen.assess.learn.lesson import learn
from guidegen.heat.paired import difference
from tests.reference.campaigns import Invented, bench, invented
from tests.whole import WHOLE

pytestmark = pytest.mark.slow

LEARNED, COMPARED, LAYERED = (200, 200, 200) if WHOLE else (2, 12, 1)
FIRST_LAYERED = 1001
"""The seed of the first one in layers: the machine of 1000 is so stiff that the general solver takes 900 s for it."""
LOW, HIGH = 0.90, 0.98
"""Shares within which the truth is to be held by intervals of 95 %."""


@cache
def _one(seed: int, layered: bool = False) -> Invented:
    return invented(bench(), seed, layered)


def _runs(one: Invented) -> Campaign:
    """The whole campaign; in a short run its cold start and three drinks without the kit, which cost a tenth."""
    return one.campaign if WHOLE else replace(one.campaign, runs=one.campaign.runs[:4])


def _held(one: Invented) -> bool:
    found = difference([before for before, _ in one.dips], [after for _, after in one.dips])
    return found.low <= one.change <= found.high


@pytest.mark.slow
def test_what_is_called_learned_is_right_as_often_as_it_says() -> None:
    """Of the learned intervals 90 to 98 % hold the truth; of the few of a short run at least four in five."""
    hits: list[bool] = []
    for seed in range(LEARNED):
        one = _one(seed)
        lesson = learn(_runs(one), starts=1)
        hits += [own.after[1] <= one.truth[own.of.key] <= own.after[2] for own in lesson.learned]
    share = sum(hits) / len(hits)
    print(f"learned: {share:.1%} of {len(hits)} intervals of {LEARNED} campaigns hold the truth")
    assert (LOW <= share <= HIGH) if WHOLE else share >= 0.8


def test_before_and_after_is_right_as_often_as_it_says() -> None:
    """Of the differences of five pairs 90 to 98 % hold the true change; of twelve at least nine."""
    held = sum(_held(_one(seed)) for seed in range(COMPARED))
    print(f"before and after: {held / COMPARED:.1%} of {COMPARED} differences hold the truth")
    # By chance alone fewer than nine of twelve intervals of 95 % hold the truth in one case of five hundred.
    assert (LOW <= held / COMPARED <= HIGH) if WHOLE else held >= 9


@pytest.mark.slow
def test_a_boiler_in_layers_is_noticed() -> None:
    """Before and after stays right, and the residuals speak: no network here has layers."""
    held, spoken = 0, 0
    for seed in range(FIRST_LAYERED, FIRST_LAYERED + LAYERED):
        one = _one(seed, True)
        held += _held(one)
        spoken += learn(_runs(one), starts=1).disagrees
    print(f"in layers: residuals speak in {spoken / LAYERED:.1%}, before and after holds in {held / LAYERED:.1%} "
          f"of {LAYERED}")  # fmt: skip
    assert spoken / LAYERED >= 0.9
    assert LOW <= held / LAYERED <= HIGH if WHOLE else True
