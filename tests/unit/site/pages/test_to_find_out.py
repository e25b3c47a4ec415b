"""What to find out next of a variant of which little is known."""

from __future__ import annotations

from guidegen.assess import verdict
from guidegen.record import Assessment
from guidegen.record.self_check import SelfCheck
from guidegen.site.pages.to_find_out import BEST, to_find_out
from tests.fixtures.records import record
from tests.mutants.draft import catalogue

KITS = ("banjo-feed", "feed-preheater", "loop-controller")


def judged(variant: str, kit: str) -> Assessment:
    """A record with the pair's own verdict and self-check."""
    known = catalogue()
    check = verdict.checked(known, known.machine(variant), known.kit(kit), "next")
    asked = SelfCheck.model_validate({**check.payload, "makes": {}})
    return record(variant, kit).model_copy(update={"fit": verdict.fit_part(check), "self_check": asked})


def test_a_variant_that_is_told_has_nothing_to_find_out() -> None:
    """The Mark 2 is measured: each of its verdicts is one."""
    assert to_find_out([judged("tamsin-mk2", kit) for kit in KITS]) is None


def test_what_decides_comes_first_with_how_it_is_measured() -> None:
    """Of the Mark 1 for 120 V two letters and a photograph are known; the file says `unknown` of these."""
    found = to_find_out([judged("tamsin-mk1-120", kit) for kit in KITS])
    assert found is not None
    assert len(found.best) == BEST
    assert all(one.decides.startswith("decides about") for one in found.best)
    titles = {one.title for one in found.best} | {one.partition(":")[0] for one in found.others}
    assert {"Boiler material", "Free room round the boiler", "Check valve", "Inlet thread"} <= titles
    assert len(titles) == len(found.best) + len(found.others), "each is named once"
    assert "Control kind: thermostat" in found.known


def test_how_a_size_is_measured_is_drawn() -> None:
    """Of the Bracken C the works fitted inlets as they came to hand: how far one sticks out, a ruler tells."""
    found = to_find_out([judged("bracken-c", "feed-preheater")])
    assert found is not None
    figures = {one.title: str(one.figure) for one in found.best}
    assert "How to measure it" in figures["How far the inlet fitting sticks out"]
