"""Every number of the Brackens, the kits, the drinks and the workshop, typed wrong."""

from __future__ import annotations

import pytest

from tests.properties.every_number import MISTAKES, Mistake, judged, mistakes
from tests.whole import some

FILES = ("machines/bracken/*.yml", "content/kits/*.yml", "content/drinks.yml", "content/workshop.yml")


@pytest.mark.slow
@pytest.mark.parametrize("mistake", some(mistakes(*FILES), 15), ids=str)
def test_a_wrong_number_is_refused_or_computed(mistake: Mistake) -> None:
    """With place and fix, or with finite numbers."""
    assert judged(mistake) in ("refused", "record")


def test_numbers_and_mistakes_are_met_evenly() -> None:
    """None is left out, and every mistake is made about as often as any other."""
    made = [*mistakes(*FILES), *mistakes("machines/tamsin/*.yml")]
    count = [sum(one.factor == factor for one in made) for factor in MISTAKES]
    assert len(made) > 400
    assert min(count) > 0.5 * max(count)
    assert sum(one.draws > 0 for one in made) > 30
