"""The damp joint: every joint that it may be counts as opened, and each is closed as its own step says."""

from __future__ import annotations

import pytest

from guidegen.assess import guiding, verdict
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.resolve import resolve
from tests.mutants.draft import COMPUTED, catalogue, draft


def remedy(variant: str, kit: str, course: str) -> dict[str, ResolvedStep]:
    """The steps that make a damp joint again, by id, of the demonstration."""
    known = catalogue()
    assert known.shared is not None
    resolved = resolve(known.procedures[kit], known.shared, draft(variant, kit).facts)
    (found,) = [one for one in resolved.courses if one.name == course]
    (steps,) = [one.steps for one in found.remedies if one.id == "remake-joint"]
    return {step.step.id: step for step in steps}


@pytest.mark.parametrize(
    ("pair", "course", "joints"),
    [
        ("tamsin-mk2/feed-preheater", "fitting",
         "inlet-fitting steam-pipe outlet-union inlet-union coil-outlet coil-inlet"),
        ("tamsin-mk2/feed-preheater", "restoring", "steam-pipe feed-inlet"),
        ("tamsin-mk1/banjo-feed", "fitting", "banjo-joint new-hose-banjo new-hose-pump"),
    ],
)  # fmt: skip
def test_every_joint_that_it_may_be_is_opened_and_closed(pair: str, course: str, joints: str) -> None:
    """Written by hand from the procedures; a damp boiler gasket stops the work, so it is none of them."""
    steps = remedy(*pair.split("/"), course)
    assert {name for _, name in steps["undo-joint"].removes} == {*joints.split()}
    assert {name for _, name in steps["close-joint"].refits} == {*joints.split()}


def test_each_is_closed_as_its_own_step_says() -> None:
    """A hollow bolt by torque, with the wrench for it; a union by hand and a turn; a ring that has gripped by less."""
    banjo, coil = (remedy(*pair, "fitting")["close-joint"].step for pair in
                   (("tamsin-mk1", "banjo-feed"), ("tamsin-mk2", "feed-preheater")))  # fmt: skip
    assert {"torque-wrench", "crow-foot"} <= {*banjo.uses.tools}
    assert "torque-wrench" not in remedy("tamsin-mk2", "feed-preheater", "restoring")["close-joint"].step.uses.tools
    assert "to 5 N·m ± 0.5 N·m with the torque wrench" in banjo.notes[0]
    assert "Both fittings of the coil: on a new seal, by hand and 1/4 turn ± 1/8 turn more." in coil.notes[0]
    assert "both nuts of the coil: on the ring that has gripped, by hand" in coil.notes[0]


def test_a_joint_whose_seal_nobody_knows_holds_the_instruction_back() -> None:
    """Though no step prints its seal: whoever makes it again would not know what goes in."""
    known = catalogue()
    machine, kit = known.machines["tamsin-mk2"], known.kits["feed-preheater"]
    pipe = machine.inventory["steam-pipe"].model_copy(update={"sealing": "unknown"})
    other = machine.model_copy(update={"inventory": {**machine.inventory, "steam-pipe": pipe}})
    pair = verdict.judged(known, other, kit, "next")
    guided = guiding.guide(known, other, kit, verdict.fit_part(pair.check), pair, COMPUTED, "next")
    assert guided.procedure is None
    assert [one.name for one in guided.missing] == ["inventory.steam-pipe.sealing"]
