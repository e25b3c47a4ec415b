"""The closed coil: whether a kit goes on, by where the check valve is, and what opens first. Cases by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from guidegen.assess import guiding, verdict
from guidegen.assess.assessor import Assessor
from guidegen.judge.safety.facts import word
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.lint import lint
from guidegen.judge.safety.resolve import resolve
from guidegen.record import Assessment
from guidegen.record.closed_coil import ClosedCoil
from guidegen.record.stated import Reason
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.water_path import relief_reached
from guidegen.workshop.facts import Choice
from guidegen.workshop.inventory import InventoryJoint, InventoryUnknown
from tests.fixtures.wall_cases import choice, fact
from tests.mutants.draft import COMPUTED, catalogue

pytestmark = pytest.mark.slow

KNOWN = catalogue()
KIT = KNOWN.kit("feed-preheater")
EITHER = Choice(text="some units", known=False, options=("none", "before-relief"), evidence="measured")
ONE_LOCKS = Choice(text="some units", known=False, options=("none", "after-relief"))


def locking(one: str, other: str, closes: bool = False) -> InventoryJoint:
    """A joint with a flat seal."""
    return InventoryJoint(kind="joint", say="the check valve", between=(one, other), sealing="flat-seal", closes=closes)


def piped(valve: str | Choice, joint: str = "joint", branch: str = "downstream", **path: Any) -> Machine:
    """A machine that the kit fits as it is, with another water path."""
    machine = KNOWN.machine("bracken-a")
    facts = {"check_valve": choice(valve) if isinstance(valve, str) else valve, "relief_branch": choice(branch), **path}
    inventory = dict(machine.inventory)
    if valve == "after-relief":  # it sits behind the hose into which the relief valve branches
        inventory["check-valve"] = locking("relief-hose", "feed-hose", closes=True)
        inventory["relief-branch"] = locking("relief-hose", "relief")
        inventory["relief-pump"] = locking("relief-hose", "pump")
    if joint == "none":
        del inventory["check-valve"]
    elif joint == "unknown":
        inventory["check-valve"] = InventoryUnknown(kind="unknown")
    return machine.model_copy(
        update={"water_path": machine.water_path.model_copy(update=facts), "inventory": inventory}
    )


def reason(machine: Machine, kit: Kit = KIT) -> tuple[str, Reason, verdict.Judged]:
    """The outcome, and the reason that the relief valve is reached or not."""
    pair = verdict.judged(KNOWN, machine, kit, "next")
    fit = verdict.fit_part(pair.check)
    return fit.outcome, next(one for one in fit.reasons if one.id == "relief-reached"), pair


@pytest.mark.parametrize("branch", ["upstream", "downstream", "unknown"])
@pytest.mark.parametrize(
    ("valve", "joint", "outcome", "met"),
    [
        ("none", "none", "fits", True),
        ("before-relief", "joint", "fits", True),
        (EITHER, "joint", "fits", True),
        ("after-relief", "joint", "fits-with-conditions", False),
        ("after-relief", "none", "does-not-fit", False),
        ("after-relief", "unknown", "cannot-tell-yet", False),
        ("unknown", "joint", "cannot-tell-yet", None),
        ("unknown", "none", "cannot-tell-yet", None),
        (ONE_LOCKS, "joint", "cannot-tell-yet", None),
    ],
)
def test_where_the_check_valve_is_decides(
    valve: str | Choice, joint: str, branch: str, outcome: str, met: bool | None
) -> None:
    """Locked in: does not fit unless the valve can be moved. Not known: nobody can tell. On either side of the coil."""
    machine = piped(valve, joint, branch)
    found, why, _ = reason(machine)
    assert (found, why.met) == (outcome, met)
    assert relief_reached(machine) == {True: "yes", False: "no", None: "unknown"}[met]


def test_moving_it_is_the_remedy_where_it_is_offered() -> None:
    """The kit that offers to move it names that; one that does not offer it does not fit."""
    machine = piped("after-relief")
    assert reason(machine)[1].remedies == ("fabrication:move-check-valve",)
    changed = tuple(
        one.model_copy(update={"unmet": ()}) if one.id == "relief-reached" else one for one in KIT.requirements
    )
    assert reason(machine, KIT.model_copy(update={"requirements": changed}))[0] == "does-not-fit"


def test_an_owner_is_asked_where_nobody_knows_it() -> None:
    """With what to photograph; and not asked where the data say it."""
    asked = {one["fact"]: one for one in reason(piped("unknown"))[2].check.payload["questions"]}
    assert len(asked["water_path.check_valve"]["photos"]) == 3
    assert reason(piped("unknown"))[1].settles
    known = {one["fact"] for one in reason(piped("none"))[2].check.payload["questions"]}
    assert "water_path.check_valve" not in known


def guide(machine: Machine) -> Guide:
    """The instruction of a machine as it is built."""
    pair = verdict.judged(KNOWN, machine, KIT, "next")
    made = guiding.made_guide(KNOWN, machine, KIT, verdict.fit_part(pair.check), pair, COMPUTED, "next")
    assert made is not None
    return made


def steps(machine: Machine) -> list[str]:
    """The steps of the instruction by their ids; nothing in it may block."""
    made = guide(machine)
    assert not [one for one in lint(made) if one.blocks and one.rule != "TXT02"]
    return [one.step.id for one in made.resolved.fitting.steps]


def test_the_instruction_moves_it_and_looks_before_power() -> None:
    """Let off by hand, out, in, and the path followed, where it locks; followed alone where it does not."""
    moved, plain = steps(piped("after-relief")), steps(piped("before-relief"))
    assert [one for one in moved if one not in plain] == [
        "check-valve-picture", "check-valve-loose", "check-valve-off", "check-valve-on", "loosen-joint",
    ]  # fmt: skip
    assert moved.index("check-valve-on") < moved.index("relief-downstream") < moved.index("power-heat")


@pytest.mark.parametrize(
    ("left_out", "refused"), [("check-valve-loose", "check-valve-off"), ("loosen-joint", "undo-joint")]
)
def test_what_the_valve_locks_in_is_let_off_by_hand_first(left_out: str, refused: str) -> None:
    """Between pump, relief valve and check valve no tap is: the valve off without that is refused, in a remedy too."""
    made = guide(piped("after-relief"))
    course = made.resolved.fitting
    phases, remedies = (
        tuple(replace(one, steps=tuple(step for step in one.steps if step.step.id != left_out)) for one in parts)
        for parts in (course.phases, course.remedies)
    )
    fitting = replace(course, phases=phases, remedies=remedies)  # type: ignore[arg-type]
    changed = replace(made, resolved=replace(made.resolved, fitting=fitting))
    found = [one for one in lint(changed) if one.rule == "PRS05"]
    assert [one.step.split("/")[-1] for one in found if one.step] == [refused]
    assert "no tap lets off the water at the pump, the relief valve and the hose behind" in found[0].message
    assert "loosen-joint" in str(found[0].problem())


@pytest.mark.parametrize("valve", ["after-relief", "unknown"])
def test_moving_takes_what_the_instruction_takes_more(valve: str) -> None:
    """As the guide itself adds it up with the valve on one side and on the other."""
    pair = verdict.judged(KNOWN, piped(valve), KIT, "next")
    stated = {one["id"]: one["minutes"] for one in pair.check.payload["remedies"]}
    total = {}
    for side in ("after-relief", "before-relief"):
        ways = {"wall.way": word("smooth"), "bolts.way": word("usual")}
        usual = replace(pair, ways=ways)
        facts = guiding.facts_for(KNOWN, piped(side), KIT, verdict.fit_part(pair.check), usual, COMPUTED)
        assert KNOWN.shared is not None
        total[side] = resolve(KNOWN.procedures[KIT.id], KNOWN.shared, facts).fitting.minutes[1]
    assert stated["fabrication:move-check-valve"] == total["after-relief"] - total["before-relief"] > 0


# --- figures -----------------------------------------------------------------------------------------


def assessed(machine: Machine, kit: str = "feed-preheater") -> Assessment:
    """The record at the stated values."""
    return Assessor(KNOWN, "next", draws=0).assess(machine, KNOWN.kit(kit))


def closed(machine: Machine) -> ClosedCoil:
    """Its closed coil."""
    part = assessed(machine).closed_coil
    assert part is not None
    return part


@pytest.mark.parametrize(
    ("machine", "first", "bar"),
    [
        (piped("none"), "relief-valve", 11.0),
        (piped("before-relief"), "relief-valve", 11.0),
        (piped("after-relief"), "tube", 135.6),
        (piped("unknown"), "unknown", None),
        (piped("none", relief_opens=fact("140 bar", "pressure")), "tube", 135.6),
        (piped("unknown", relief_opens=fact("140 bar", "pressure")), "tube", 135.6),
    ],
)
def test_what_opens_first(machine: Machine, first: str, bar: float | None) -> None:
    """The relief valve where it is reached; else the tube, which yields at 62 MPa / 2 (1 - 36/64)."""
    part = closed(machine)
    assert part.opens_first == first
    assert part.yields_bar.value == pytest.approx(135.6, abs=0.1)
    if bar is None:
        assert part.opens_bar.value is part.opens_after_k.value is None
        assert "not known" in (part.opens_bar.reason or "")
    else:
        assert part.opens_bar.value == pytest.approx(bar, abs=0.1)
        assert (part.opens_after_k.value == part.yields_after_k.value) == (first == "tube")


def test_the_figures_are_of_the_size_that_textbooks_give() -> None:
    """Some 6 ml pushed out by the 163 ml of boiler and coil, of the order of 8 bar for a kelvin: common practice."""
    part = closed(KNOWN.machine("tamsin-mk2"))
    before, after = part.pushed_out_ml.without.value, part.pushed_out_ml.with_.value
    assert before is not None
    assert after is not None
    assert 5.0 < after < 7.0
    assert after - before == pytest.approx(part.coil_pushed_out_ml.value, rel=1e-4)
    assert part.rise_bar.value == pytest.approx(8.0, abs=1.0)
    kelvins = part.opens_after_k.value
    assert kelvins is not None
    assert 12 / 6 < kelvins < 12 / 3  # near room temperature the water gains 3 to 6 bar with each kelvin


def test_the_residual_risk_says_what_was_computed() -> None:
    """The number stands where the hazard of trapped water is described."""
    record = assessed(KNOWN.machine("bracken-a"))
    assert record.procedure is not None
    words = next(one.remains for one in record.procedure.residual if one.hazard == "trapped-water")
    assert "about 8 bar" in words
    assert "about 136 bar" in words


def test_a_kit_without_a_coil_has_none() -> None:
    """Nothing is said of a coil that is not there."""
    assert assessed(KNOWN.machine("bracken-a"), "banjo-feed").closed_coil is None
