"""Every number of the Tamsins, typed wrong."""

from __future__ import annotations

import pytest

from tests.properties.every_number import Mistake, judged, mistakes
from tests.whole import some


@pytest.mark.slow
@pytest.mark.parametrize("mistake", some(mistakes("machines/tamsin/*.yml"), 15), ids=str)
def test_a_wrong_number_is_refused_or_computed(mistake: Mistake) -> None:
    """With place and fix, or with finite numbers."""
    assert judged(mistake) in ("refused", "record")
