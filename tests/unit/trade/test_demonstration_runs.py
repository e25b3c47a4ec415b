"""The demonstration's campaigns: small, marked as invented, and such that before and after may be compared."""

from __future__ import annotations

import pytest

from guidegen.trade import load
from guidegen.trade.blocks import compared, configurations, shots_of
from tests.campaign import CAMPAIGNS, FOLDER
from tests.conftest import REPOSITORY

KNOWN = load(REPOSITORY)


def test_all_of_it_is_invented_and_small() -> None:
    """300 kB, descriptions and all."""
    assert KNOWN.runs
    assert all(run.invented and run.machine and "invented" in run.machine for run in KNOWN.runs.values())
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) <= 300_000


@pytest.mark.parametrize(
    ("variant", "kit"),
    [(one.variant, kits[0]) for one in CAMPAIGNS for kits in one.configurations.values() if kits],
)
def test_each_kit_has_six_blocks(variant: str, kit: str) -> None:
    """One shot without and one with it in each, nothing refused."""
    found = configurations(KNOWN, variant, kit)
    pairs = compared(shots_of(found.without, "double"), shots_of(found.with_, "double"))
    assert (len(pairs.pairs), pairs.refused) == (6, ())
