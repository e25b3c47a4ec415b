"""What stands around the steps, on the demonstration: words by hand, who does it, what the program adds."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from guidegen.judge.acts.row import ActTable
from guidegen.judge.safety.record import procedure_record
from guidegen.workshop.rows import OwnActs
from tests.mutants.draft import Draft, draft
from tests.mutants.table import BANJO, BANJO_WIRED, LOOP, TRIM

pytestmark = pytest.mark.slow

INSIDE = "This is for an electrically skilled person, with the mains cut off and the machine cool."
EARTH = "Opening it disturbs its earth, which that person tests again."


def printed(guide: tuple[str, str], **more: Any) -> dict[str, Any]:
    """The record of a guide with other parts around its steps."""
    one = draft(*guide)
    one.procedure.update(more)
    return procedure_record(one.guide())


def test_after_care_says_when_what_and_why() -> None:
    """The year's look is inside the machine, so it says for whom, and that the earth is tested again."""
    week, year, descaling = printed(BANJO)["aftercare"]
    assert week["occasion"] == "After a week"
    assert week["says"].startswith("Look beneath the machine and along its covers for drops and white traces")
    assert (year["occasion"], year["act"]) == ("After a year", "look-joint")
    assert year["because"] == f"{INSIDE} {EARTH} Phase 7 says how."
    assert descaling["says"] == "Flush 600 ml through the group and pour it away before the next drink."
    assert descaling["because"] == "Brass gives off more metal just after descaling."


def test_a_limit_stands_with_its_source() -> None:
    """The water for copper, by the FDA Food Code 2022, 4-101.14: not below pH 6."""
    (water,) = [one for one in printed(TRIM)["aftercare"] if one["id"] == "water"]
    assert water["says"] == "Use water that is not acidic. It is at pH 6 or above."
    assert water["source"] == "fda-food-code-4-101-14"


def test_what_is_done_first_stands_before_the_check_and_needs_no_author() -> None:
    """At a drop the mains is cut off before anybody presses a tissue; at a trip nobody checks anything."""
    faults = {one["sign"]: one for one in printed(BANJO)["faults"]}
    drop, trip, flow = faults["drop"], faults["trip"], faults["weak-flow"]
    assert drop["check"].startswith("Cut off the mains. Press a dry tissue against the hollow bolt of the banjo.")
    assert drop["check"].endswith(INSIDE)
    assert drop["do"].endswith("This too is for an electrically skilled person.")
    assert (trip["check"], trip["do"]) == (
        "None by yourself.", "Leave the machine unplugged. Call an electrically skilled person.")  # fmt: skip
    assert [one["stop_use"] for one in (drop, trip, flow)] == [True, True, False]
    wired = {one["sign"]: one for one in printed(BANJO_WIRED)["faults"]}
    assert wired["trip"]["do"] == "Leave the machine locked off. Call an electrically skilled person."


def test_causes_stand_behind_each_other_with_their_things() -> None:
    """A name begins with a small letter where it is not the first."""
    cause = [{"is": "leak", "of": ("banjo-joint",)}, "damaged-lead", {"is": "loosened", "of": ("banjo",)}]
    (row,) = printed(BANJO, faults=[{"symptom": "drop", "cause": tuple(cause)}])["faults"]
    assert row["cause"] == "A leak at the hollow bolt of the banjo, or a damaged lead, or the banjo fitting is loose"
    (row,) = printed(BANJO, faults=[{"symptom": "drop", "cause": tuple(reversed(cause))}])["faults"]
    assert row["cause"].startswith("The banjo fitting is loose, or a damaged lead")


def test_what_stops_the_use_is_in_every_guide_and_an_author_adds_to_it() -> None:
    """Written twice it stands once."""
    always = ["drop", "trip", "smell", "runaway"]
    assert printed(LOOP)["stop_signs"] == always
    more = printed(LOOP, stop_use=({"is": "came-loose", "of": ("control-sensor",)}, "drop"))
    assert more["stop_signs"] == [*always, "came-loose"]
    assert more["stop_use"][-1] == "The control sensor has come loose."


def test_an_end_has_the_words_and_the_helper_of_its_acts() -> None:
    """And the reason, where the row has one."""
    remedies = {one["id"]: one for one in printed(TRIM)["fitting"]["remedies"]}
    ends = {name: one["then"] for name, one in remedies.items()}
    assert ends["make-safe"]["stop"] == (
        "Do not switch the machine on again. It may be hot and under pressure. What is in the group stays there until "
        "somebody has let it off. Hang a sign on it."
    )
    assert ends["make-safe"]["who_can_help"].startswith("an electrically skilled person, ")
    assert remedies["make-safe"]["ends"] == ["no-power", "hang-sign"]
    assert ends["no-water"]["stop"] == (
        "Do not run the pump again. Air or a kinked hose is in the way, or the pump has failed. Hang a sign on it."
    )


@pytest.mark.parametrize(("change", "message"), [
    (lambda one: one.procedure["phases"][0]["steps"].append({"id": "more", "act": "press-joint", "of": ("boiler",)}),
     "`press-joint` is after-care, or check or remedy of a fault, and stands here as a step"),
    (lambda one: one.procedure["aftercare"].append({"id": "more", "occasion": "always", "act": "close-tap"}),
     "`close-tap` is a step, and stands here as after-care, or check or remedy of a fault"),
    (lambda one: one.procedure["faults"][0].update(do=({"act": "no-power"},)),
     "`no-power` is the end of a failing side, and stands here as after-care, or check or remedy of a fault"),
])  # fmt: skip
def test_an_act_that_may_not_stand_there_is_refused(change: Any, message: str) -> None:
    """With its place, and the command that lists what can be."""
    one: Draft = draft(*TRIM)
    change(one)
    assert message in [finding.message for finding in one.findings() if finding.rule == "ACT01"]


def test_an_act_that_may_apply_is_printed_and_one_that_does_not_is_left_out() -> None:
    """By the same condition, on a machine with a plug."""
    acts = [{"id": name, "occasion": "always", "act": "look-beneath", "when": {"mains.connection": name}}
            for name in ("corded", "hard-wired")]  # fmt: skip
    assert [one["id"] for one in printed(BANJO, aftercare=acts)["aftercare"]] == ["corded"]


OWN = OwnActs.model_validate({"acts": {
    "retighten": {"of": ("joint",), "say": "Tighten {of} by a hair.", "minutes": 1.0},
    "taste": {"say": "Taste the water.", "minutes": 1.0},
}})  # fmt: skip
"""Acts of a workshop: one at a joint, and one that may be done with the machine in use."""


def with_own_acts(guide: tuple[str, str]) -> Draft:
    """A guide whose workshop has acts of its own."""
    one = draft(*guide)
    one.facts = replace(one.facts, acts=ActTable.of(OWN))
    return one


def test_an_own_act_of_after_care_is_inside_the_machine_if_it_names_what_safety_depends_on() -> None:
    """Whatever its author thinks of it."""
    one = with_own_acts(TRIM)
    acts = [{"act": "retighten", "of": ("coil-nuts",)}, {"act": "taste"}]
    one.procedure["aftercare"] = [{"id": act["act"], "occasion": "every-year", **act} for act in acts]
    nuts, water = procedure_record(one.guide())["aftercare"]
    assert nuts["says"] == "Tighten both nuts of the coil by a hair."
    assert nuts["because"].startswith(f"{INSIDE} {EARTH}")
    assert water["because"] is None


def test_an_own_act_may_use_the_machine_so_it_is_none_for_a_symptom_that_stops_it() -> None:
    """What nobody can know is taken as the worst."""
    one = with_own_acts(TRIM)
    one.procedure["faults"][0]["check"] = ("taste",)
    assert "ACT10" in {finding.rule for finding in one.findings()}
