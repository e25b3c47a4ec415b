"""Which kit comes off before which: from requirements and inventories, never written by hand."""

from __future__ import annotations

import pytest

from guidegen.assess import guiding, leaning, verdict
from tests.mutants.draft import COMPUTED, catalogue

pytestmark = pytest.mark.slow


def guided(variant: str, kit: str) -> guiding.Guided:
    """What the record of a pair holds of its guide."""
    known = catalogue()
    machine, one = known.machines[variant], known.kits[kit]
    pair = verdict.judged(known, machine, one, "next")
    return guiding.guide(known, machine, one, verdict.fit_part(pair.check), pair, COMPUTED, "next")


def notes(variant: str, kit: str) -> tuple[list[str], list[str]]:
    """What is said of other kits, before the fitting and before the way back, each with whether it goes on first."""
    made = guided(variant, kit)
    fitting = [
        f"first-{one.id}" if "is fitted by its own" in one.says else f"off-{one.id}" for one in made.before_fitting
    ]
    return fitting, [f"off-{one.id}" for one in made.before_restoring]


@pytest.mark.parametrize(("variant", "kit", "fitting", "restoring"), [
    # The coil stands on the banjo: its requirement about the inlet fitting names that kit.
    ("tamsin-mk1", "banjo-feed", ["off-feed-preheater"], ["off-feed-preheater"]),
    ("tamsin-mk2", "banjo-feed", ["off-feed-preheater"], ["off-feed-preheater"]),
    # Where the coil needs it, the banjo goes on first; where it does not, the coil's instruction expects the old one.
    ("tamsin-mk2", "feed-preheater", ["off-banjo-feed"], ["off-banjo-feed"]),
    # The coil's instruction takes the leads of the brew thermostat off, which the controller's puts into a bag.
    ("tamsin-mk1", "feed-preheater", ["first-banjo-feed", "off-loop-controller"],
     ["off-banjo-feed", "off-loop-controller"]),
    # A machine that left the works with a banjo takes no Banjo Feed.
    ("tamsin-mk3", "feed-preheater", [], []),
    # The works fitted both inlets: the instruction is written for either.
    ("bracken-c", "feed-preheater", ["off-loop-controller"], ["off-banjo-feed", "off-loop-controller"]),
    # The other way round nothing is in the way: the coil leaves the thermostat where it was.
    ("tamsin-mk1", "loop-controller", [], []),
])  # fmt: skip
def test_kits_that_lean_on_each_other_say_so(variant: str, kit: str, fitting: list[str], restoring: list[str]) -> None:
    """By hand from the kits' requirements and joints."""
    assert notes(variant, kit) == (fitting, restoring)


@pytest.mark.parametrize(("variant", "kit", "fitting", "restoring"), [
    ("tamsin-mk1", "banjo-feed", "the coil of the Feed Preheater", "the coil of the Feed Preheater"),
    ("tamsin-mk2", "feed-preheater", "the banjo fitting of the Banjo Feed", None),
    ("tamsin-mk1", "feed-preheater", "the controller of the Loop Controller", "the controller of the Loop Controller"),
    ("tamsin-mk3", "feed-preheater", None, None),
    ("tamsin-mk1", "loop-controller", None, None),
])  # fmt: skip
def test_the_reader_looks_for_what_comes_off_first(
    variant: str, kit: str, fitting: str | None, restoring: str | None
) -> None:
    """Once the machine is open and before anything is changed; by hand from the notes above and the inventories."""
    made = guided(variant, kit).procedure
    assert made is not None
    assert made.restoring is not None
    for course, wanted in ((made.fitting, fitting), (made.restoring, restoring)):
        looks = [step for step in course.steps if step.act in leaning.LOOKS.values()]
        assert [one.do for one in looks] == ([f"Check whether the machine has {wanted}."] if wanted else [])
        for look in looks:
            before = [one.act for one in course.steps[: course.steps.index(look)]]
            assert "lift-cover" in before
            assert not {"photograph", "label", "pull-leads", "undo-joint"} & {*before}
            assert look.hold is not None
            assert look.hold.on_fail is not None
            assert look.hold.record
            assert "off first, by its own restoring instruction" in (look.hold.on_fail.stop or "")


def test_the_one_on_top_comes_off_first() -> None:
    """The other stays until then."""
    (below,) = guided("tamsin-mk1", "banjo-feed").before_restoring
    assert "Feed Preheater is on the machine, it comes off first" in below.says
    (top,) = guided("tamsin-mk2", "feed-preheater").before_restoring
    assert "stays on until this kit is off" in top.says
