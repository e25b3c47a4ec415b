"""Charts of two editions over each other: drawn where they differ, with the older one's numbers beside the newer's."""

from __future__ import annotations

import copy
import re
from typing import Any

from guidegen.editions.overlays import overlays
from guidegen.record import Assessment
from tests.fixtures.records import record

OLDER, NEWER = "edition 1", "edition 2"


def plain(what: Assessment) -> dict[str, Any]:
    """A record as an edition's snapshot holds it."""
    return copy.deepcopy(what.model_dump(mode="json", by_alias=True))


def drawn(what: Assessment, before: dict[str, Any]) -> dict[str, str]:
    """The charts by their id."""
    found = map(str, overlays(what, before, OLDER, NEWER))
    return {re.findall(r'<figure class="gg-chart" id="([^"]+)"', text)[0]: text for text in found}


def test_nothing_is_drawn_where_nothing_moved() -> None:
    """Nor where the older record has no such curve."""
    what = record()
    assert drawn(what, plain(what)) == {}
    assert drawn(what, {}) == {}


def test_a_curve_is_drawn_over_the_older_one_where_they_are_apart() -> None:
    """How far they are apart at most is said; less than a reader could see is not drawn."""
    what, before = record(), plain(record())
    place = 1
    before["shot"]["with"]["sensor_degc"][place] += 0.1
    assert drawn(what, before) == {}
    before["shot"]["with"]["sensor_degc"][place] += 0.6
    found = drawn(what, before)
    assert list(found) == ["chart-editions"]
    assert "moved by up to 0.7 °C" in found["chart-editions"]
    assert found["chart-editions"].count('class="gg-line gg-line--fine gg-with"') == 1
    assert found["chart-editions"].count('class="gg-line gg-with"') == 1
    assert "Thick: edition 2. Thin: edition 1." in found["chart-editions"]


def test_the_group_from_cold_is_drawn_over_the_older_one() -> None:
    """By the same rule."""
    what, before = record(), plain(record())
    before["from_cold"]["with"]["group_degc"] = [value - 1.5 for value in before["from_cold"]["with"]["group_degc"]]
    found = drawn(what, before)
    assert list(found) == ["chart-editions-warming"]
    assert "moved by up to 1.5 °C" in found["chart-editions-warming"]


def test_drops_stand_beside_each_other_with_their_ranges() -> None:
    """A range that became narrower is a change, though the value is the same."""
    what, before = record(), plain(record())
    name = next(iter(before["drinks"]))
    before["drinks"][name]["with"]["sensor_drop_k"] = {"value": 1.25, "low": 0.25, "high": 4.25, "reason": None}
    chart = drawn(what, before)["chart-editions-drops"]
    assert chart.count("gg-bar--hollow") == len(what.drinks)
    assert "1.2 °C before" in chart.replace("\u202f", " ")
    assert '<th scope="col">Edition 1</th><th scope="col">Edition 2</th>' in chart
