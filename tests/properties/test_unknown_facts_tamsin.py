"""What nobody knows is never told as if somebody did: each fact of each Tamsin, taken away in turn."""

from __future__ import annotations

import pytest

from tests.fixtures.unknown_facts import cases, check


@pytest.mark.slow
@pytest.mark.parametrize(("variant", "name"), cases("tamsin"))
def test_no_fact_that_nobody_knows_is_told(variant: str, name: str) -> None:
    """Every fact that is known of it."""
    check(variant, name)
