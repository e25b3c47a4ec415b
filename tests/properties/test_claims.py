"""The inputs that are counted where there are no draws: each leads a ranking where nothing is known of a machine."""

from __future__ import annotations

import pytest

from guidegen.assess import Assessor
from guidegen.record.claims import COUNTED
from tests.fixtures.unknowns import without_facts
from tests.mutants.draft import catalogue

DRAWS = 512


@pytest.mark.slow
def test_what_is_counted_leads_some_ranking() -> None:
    """On a machine with a thermostat and on one with electronic control, of which nothing else is known.

    A ranking keeps the three inputs that move a figure most, of a headline eight. What never comes among them would be
    counted for nothing.
    """
    known = catalogue()
    assessor = Assessor(known, "next", DRAWS)
    leading: set[str] = set()
    for variant in ("tamsin-mk1", "tamsin-mk2"):
        found = assessor.assess(without_facts(known.machines[variant]), known.kits["feed-preheater"])
        leading |= {name for ranks in found.influence.values() for name in ranks}
    assert set(COUNTED) - leading == set()
