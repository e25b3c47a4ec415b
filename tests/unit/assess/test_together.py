"""Two kits on one machine: order, what is done twice, visits and the way back, from both instructions."""

from __future__ import annotations

from functools import cache

import pytest

from guidegen.assess import verdict
from guidegen.assess.together import together
from guidegen.record.together import Together
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from tests.mutants.draft import catalogue

pytestmark = pytest.mark.slow


@cache
def pairs(variant: str) -> dict[str, tuple[Together, ...]]:
    """All of a variant of the demonstration."""
    return together(catalogue(), catalogue().machines[variant])


def pair(variant: str, kit: str, other: str) -> Together:
    """What is said of two kits."""
    (one,) = [one for one in pairs(variant)[kit] if one.other == other]
    return one


@pytest.mark.parametrize(("variant", "kit", "other", "order"), [
    # The coil asks for the banjo there.
    ("tamsin-mk1", "feed-preheater", "banjo-feed", ("banjo-feed", "feed-preheater")),
    # The coil's instruction takes the leads of the brew thermostat off, which the controller's puts into a bag.
    ("tamsin-mk1", "feed-preheater", "loop-controller", ("feed-preheater", "loop-controller")),
    # Electronics and a hose do not meet: either may come first.
    ("tamsin-mk1", "banjo-feed", "loop-controller", ("banjo-feed", "loop-controller")),
    # There the coil wants the straight inlet, which the banjo's instruction puts into a bag, and the other way round.
    ("tamsin-mk2", "feed-preheater", "banjo-feed", (None, None)),
])  # fmt: skip
def test_the_order_follows_from_both_instructions(
    variant: str, kit: str, other: str, order: tuple[str | None, str | None]
) -> None:
    """By hand, from the kits' requirements and steps; both records say the same."""
    one, two = pair(variant, kit, other), pair(variant, other, kit)
    assert (one.first, one.second) == order
    assert one.model_copy(update={"other": "", "other_name": ""}) == two.model_copy(
        update={"other": "", "other_name": ""}
    )


def test_what_is_not_sure_to_fit_has_no_pair() -> None:
    """The controller does not fit Mark 2; of Bracken C nobody can tell yet whether the coil does."""
    assert {one.other for one in pairs("tamsin-mk2")["feed-preheater"]} == {"banjo-feed"}
    assert pairs("bracken-c") == {}


@pytest.mark.parametrize("variant", ["tamsin-mk1", "tamsin-mk1b", "bracken-a", "bracken-b"])
def test_no_test_is_left_out_for_a_machine_that_was_opened_again(variant: str) -> None:
    """Every instruction of the demonstration opens the machine, so nothing of the second falls away."""
    found = [one for many in pairs(variant).values() for one in many if one.first is not None]
    assert found
    for one in found:
        assert one.left_out == ()
        assert "opens the machine" in one.undone[0]


def test_leak_tests_count_no_more_where_a_joint_is_opened() -> None:
    """The coil's instruction opens joints, the controller's does not."""
    assert any("leak tests" in says for says in pair("tamsin-mk1", "feed-preheater", "banjo-feed").undone)
    assert not any("leak tests" in says for says in pair("tamsin-mk1", "feed-preheater", "loop-controller").undone)


@pytest.mark.parametrize(("variant", "each", "both"), [
    # A plug: the last visit looks for drops a night after the first heat, the next begins when the machine has cooled.
    ("tamsin-mk1", (2, 1), 3),
    # Hard-wired: whoever looks for drops also locks the circuit off for the next kit.
    ("bracken-a", (3, 2), 4),
])  # fmt: skip
def test_visits_are_counted_over_both(variant: str, each: tuple[int, int], both: int) -> None:
    """By hand, from the phases."""
    visits = pair(variant, "banjo-feed", "loop-controller").visits
    assert visits is not None
    assert (visits.each, visits.both) == (each, both)


def test_a_gain_is_claimed_only_where_one_kit_changes_nothing_that_is_computed() -> None:
    """The banjo has the effect `none`; coil and controller together are computed by nobody."""
    assert pair("tamsin-mk1", "feed-preheater", "banjo-feed").computed_as == "feed-preheater"
    assert pair("tamsin-mk1", "feed-preheater", "loop-controller").computed_as is None


def test_what_went_on_last_comes_off_first() -> None:
    """The reverse of the order of fitting."""
    off = pair("tamsin-mk1", "feed-preheater", "banjo-feed").off
    assert off is not None
    assert off.says == "First the Feed Preheater, then the Banjo Feed, each by its own restoring instruction."


PAIRS = [(machine, kit) for machine in catalogue().machines.values() for kit in catalogue().kits.values()]


@pytest.mark.parametrize(("machine", "kit"), PAIRS, ids=lambda one: one.id)
def test_without_a_self_check_a_pair_is_judged_alike(machine: Machine, kit: Kit) -> None:
    """Two ways to the same verdict, decisions and ways."""
    stands, judged = verdict.standing(catalogue(), machine, kit), verdict.judged(catalogue(), machine, kit, "next")
    assert stands == verdict.OnPaper(judged.fit, judged.decisions, judged.ways, judged.numbers)
