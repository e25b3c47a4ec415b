"""The forms for what is not known: a smooth wall, one that nobody has looked at, a coil that nobody can wind."""

from __future__ import annotations

from typing import Any

import pytest

from guidegen.record import Assessment
from guidegen.site.pages import cost, unknown
from guidegen.site.pages.comparison import comparison_page
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.place import kinds_of
from guidegen.site.pages.variants import variant_page
from tests.fixtures.records import record, site

COIL = "kit.tube.outside"


def pair(stands_out: list[dict[str, Any]], wound: bool = True, has_coil: bool = True) -> Assessment:
    """A record with these protrusions, of a kit with a coil or without, laid out or not."""
    one = record()
    parts = tuple(one.protrusions[0].model_copy(update=change) for change in stands_out)
    put = one.inputs[0].model_copy(update={"id": COIL if has_coil else "kit.mass"})
    return one.model_copy(update={
        "protrusions": parts, "inputs": (put,), "coil": one.coil if wound and has_coil else None,
        "restore": one.restore.model_copy(update={"possible": True}),
    })  # fmt: skip


TRIM = {"action": "trim", "carries": None, "undecided": False}
LEFT = {"action": "leave", "undecided": False}
OPEN = {"action": "cannot", "carries": None, "stands_out_mm": None, "undecided": True}
OLD = {"action": "cannot", "carries": None, "reason": "", "undecided": False}
"""As a record kept it before decisions had reasons."""


@pytest.mark.parametrize(
    ("one", "words", "lasting"),
    [
        (pair([]), "", "nothing is cut"),
        (pair([], wound=False), "", "nothing is cut"),  # a wall that is known to be smooth, whatever its size
        (pair([TRIM]), "one cut on this variant", "1 permanent cut"),
        (pair([LEFT]), "", "nothing is cut"),
        (pair([OPEN], wound=False), "not known", "not known yet"),
        (pair([OLD]), "not known", "not known yet"),
        (pair([LEFT], has_coil=False), "", "nothing is cut"),
        (pair([TRIM, OPEN]), "not known", "not known yet"),
        (pair([{**OPEN, "carries": "unknown"}]), "not known", "not known yet"),
        (pair([{**OPEN, "carries": "fuse", "undecided": False}]), "", "nothing is cut"),
    ],
)
def test_nothing_out_is_not_nobody_looked(one: Assessment, words: str, lasting: str) -> None:
    """An empty list is knowledge; an item of which nothing is known, or a coil without a place, is none."""
    found = unknown.cuts(one).words
    assert (found == words) if words != "not known" else words in found
    (printed,) = cost.lasting(one)
    assert printed.endswith(lasting) if lasting == "not known yet" else printed == lasting
    assert ("not known yet" in unknown.undone(one)) == (lasting == "not known yet")


def test_a_headline_that_is_not_claimed_is_nowhere_a_number() -> None:
    """Overview, variant and comparison say that it is not known; there are no charts; the numbers are examples."""
    one = record()
    put = one.inputs[0].model_copy(
        update={"id": "heater.power", "stated": False, "name": "Heater", "settles": "a meter"}
    )
    one = one.model_copy(update={"inputs": (put,)})
    assert "charts" not in kinds_of(one)
    overview = pair_page(one, "overview", site(one)).body
    assert 'class="gg-headline"' not in overview
    assert "×" not in overview
    assert "Heater: a meter" in overview
    for page in (variant_page(one.variant.id, site(one)), comparison_page(site(one))):
        assert "×" not in page.body
        assert "not known yet" in page.body.lower()
    assert "The values below are examples" in pair_page(one, "numbers", site(one)).body


def test_a_voltage_that_nobody_knows_is_no_number() -> None:
    """Neither 0 V nor None V."""
    one = record()
    one = one.model_copy(update={"variant": one.variant.model_copy(update={"voltage_v": None})})
    assert "voltage not known" in variant_page(one.variant.id, site(one)).body
    assert unknown.voltage(230.0) == "230 V"
