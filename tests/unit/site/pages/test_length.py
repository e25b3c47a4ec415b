"""The guides of the demonstration are no longer than they were when their steps were written as sentences.

`tests/fixtures/words_before_acts.json` holds the words of each guide and course as they were in the old text: counted
in the records of the parent of commit 74fcd67 by the rule of `words`, every reason where it stood. It is never counted
anew.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from guidegen.judge.safety.record import procedure_record
from guidegen.record.procedure import Instruction, InstructionCourse
from guidegen.record.step import InstructionStep
from guidegen.site.pages.instruction import reasons
from tests.mutants.draft import draft

pytestmark = pytest.mark.slow

BEFORE: dict[str, dict[str, int]] = json.loads(
    (Path(__file__).parents[3] / "fixtures" / "words_before_acts.json").read_text(encoding="utf-8")
)
WET = (
    "cold-test/switch-for-wiring", "cold-test/insulation-", "cold-test/sign-off", "heat/blind-in-hot",
    "cooled/blind-out-hot", "cooled/sign-off", "after-heat/blind-out-leak",
    "remake-joint/close-cover", "remake-joint/undo-screws", "remake-joint/lift-cover", "remake-joint/still-off",
    "remake-joint/measure", "remake-joint/prove-dead",
)  # fmt: skip
PROOF = ("exchange/boiler-proof", "put-back/proof", "put-back/fitting-inlet-proven")
OTHER_KITS = "/look-for-"
LACKING = {
    ("feed-preheater", "fitting"): (
        *WET,
        *PROOF,
        "cooled/torque-again",
        "take-out/live-room",
        "take-out/relief-first",
        "connect/clearance-again",
        "vessel-fails/",
    ),
    ("feed-preheater", "restoring"): (*WET, "cooled/torque-again"),
    ("banjo-feed", "fitting"): WET,
    ("banjo-feed", "restoring"): (*WET, "cool/kept", "exchange/label"),
    ("loop-controller", "fitting"): ("fit/switch-for-series",),
    ("loop-controller", "restoring"): (
        *("put-back/switch-for-series", "put-back/series-", "test/still-full", "cool/kept", "put-back/label"),
        *("put-back/ties-off", "put-back/supply-off", "put-back/heater-off", "service/"),
    ),
}
"""How the keys of steps begin that the old text had not at all and that safety asks for, beside the look for other kits
on the machine (`OTHER_KITS`): that a boiler which was cut or exchanged is proved under pressure; that every protective
device is in series again, which is measured through the switch; that the boiler is full before it heats; that
insulation is tested and signed for before the first power, and the joints pressed hot; that what can be looked at comes
before a cut; that the coil is measured to live parts with all leads on, that a proof that fails is let off, that what
goes back as labelled has a label, that what was kept is there, that every lead of a kit comes off at both of its ends,
and that the machine is given back."""

ADDED = 80
"""Words that safety added to steps that were there: the pressure that the gauge shows, a lead that stays slack, what
catches the water of an open joint, the torque of a bond's two screws; how a crow-foot stands, when a thermostat may
click, that the pump stands still, what is in a joint's way, the row of a reading, both ways of a proof in series."""


def words(step: InstructionStep, reason: str | None) -> int:
    """The words of a step: all that it says but the list of what is taken in hand, numbers and limits beside it."""
    hold, torque = step.hold, step.torque
    way = hold.on_fail if hold else None
    said = [step.do, step.only_if, reason, *step.notes, step.keeps_control, step.restraint]
    said += [step.release.by, step.release.proof] if step.release else []
    said += [step.seat.position, step.seat.clamp] if step.seat else []
    said += [torque.is_, torque.thread, torque.state] if torque else []
    said += [hold.criterion, hold.method, hold.record] if hold else []
    said += [way.stop, way.who_can_help] if way else []
    return sum(len(text.split()) for text in said if text)


@cache
def instruction(pair: str) -> Instruction:
    """The instruction of a pair, without computation."""
    return Instruction.model_validate(procedure_record(draft(*pair.split("/")).guide()))


def course_of(pair: str, course: str) -> InstructionCourse:
    """One course of a pair that has both."""
    found = getattr(instruction(pair), course)
    assert isinstance(found, InstructionCourse)
    return found


@pytest.mark.parametrize("course", ["fitting", "restoring"])
@pytest.mark.parametrize("pair", BEFORE)
def test_a_guide_is_not_longer_than_it_was(pair: str, course: str) -> None:
    """Word for word, what the old text lacked apart."""
    steps = course_of(pair, course).steps
    why = reasons(steps)
    lacking = LACKING.get((pair.partition("/")[2], course), ())
    said = sum(
        words(step, why.get(step.anchor))
        for step in steps
        if OTHER_KITS not in step.key and not step.key.startswith(lacking)
    )
    assert said <= BEFORE[pair][course] + ADDED


def test_what_the_old_text_lacked_is_still_there() -> None:
    """Each of them in some guide of the kit: what is gone needs no leave to be longer."""
    for (kit, course), lacking in LACKING.items():
        keys = [step.key for pair in BEFORE if pair.endswith(kit) for step in course_of(pair, course).steps]
        assert [key for key in lacking if not any(one.startswith(key) for one in keys)] == []


@pytest.mark.parametrize("course", ["fitting", "restoring"])
def test_a_reason_is_printed_once_and_where_it_is_first_met(course: str) -> None:
    """Each reason of the longest guide, at the first step that has it; none is left out."""
    steps = course_of("tamsin-mk2/feed-preheater", course).steps
    printed = reasons(steps)
    assert sorted(printed.values()) == sorted({step.why for step in steps if step.why})
    met: set[str] = set()
    for step in steps:
        assert (step.anchor in printed) == (step.why is not None and step.why not in met)
        met |= {step.why} if step.why else set()
    assert len(met) < sum(step.why is not None for step in steps), "no reason comes twice: this test says nothing"
