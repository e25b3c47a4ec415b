"""Dangerous changes that somebody tried on the demonstration, each alone: refused, or they cannot be written at all.

And legitimate ones that must not be refused with them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from guidegen.judge.acts.compiled import compiled
from guidegen.judge.acts.things import Thing, Things
from guidegen.workshop.acts import WrittenAct
from tests.mutants.draft import Draft, draft, frozen, thawed, unfolded, written_data
from tests.mutants.edits import drop, insert, value, write
from tests.mutants.table import BANJO, EXCHANGE, LOOP, TRIM, Mutant

pytestmark = pytest.mark.slow

OPEN_LIVE = {"id": "peek", "do": "Lift the top cover off.", "requires": {"mains": "off"}, "sets": {"enclosure": "open"}}


def another_act(name: str, act: str, **more: Any) -> Callable[[Draft], None]:
    """Write another act under the id of one of the shared blocks."""

    def change(one: Draft) -> None:
        def copied(node: Any) -> Any:
            if isinstance(node, dict):
                if node.get("id") == name and "act" in node:
                    return {"id": name, "act": act, **more}
                return {key: copied(inner) for key, inner in node.items()}
            return tuple(map(copied, node)) if isinstance(node, tuple) else node

        one.shared = thawed(unfolded(copied(written_data("content/procedures/shared.yml")), one.facts, "off", None))

    return change


def stated(name: str, text: str) -> Callable[[Draft], None]:
    """Write another stated value of the kit's procedure."""
    return lambda one: one.procedure["values"][name].update({"is": text})


DANGERS = (
    Mutant("", "earth limit of 300 ohms, citing a standard", TRIM, value("earth_limit", "is", "300 Ω")),
    Mutant("", "insulation of 0.3 ohms, citing a standard", TRIM, value("insulation_limit", "is", "0.3 Ω")),
    Mutant("", "a fuse that passes at 1 megohm", EXCHANGE, value("continuity_limit", "is", "1 MΩ")),
    Mutant("", "the plug stays in, the switch is set once more", TRIM,
           another_act("cut-off", "switch-off", of="own-switch")),
    Mutant("", "no signature when fitting", TRIM, drop("connect/", "+sign-off")),
    Mutant("", "no signature when restoring", TRIM, drop("restore:connect/", "+sign-off")),
    Mutant("", "2 bar on the bench", TRIM, stated("bench_pressure", "2 bar")),
    Mutant("", "0.1 mm to live parts", TRIM, stated("live_clearance", "0.1 mm")),
    Mutant("", "the pump never pressed", BANJO, drop("cold-test", "press")),
    Mutant("", "the steam tap open when it heats", TRIM, drop("connect-heater", "close-tap-hot")),
    Mutant("", "the cover off while live", LOOP, insert("heat/", "gains", OPEN_LIVE)),
    Mutant("", "80 N·m into a thread of brass", BANJO, stated("banjo_torque", "80 N·m ± 8 N·m")),
    Mutant("", "a bridge as advice", TRIM,
           write("put-boiler-back", "steam-pipe-on", "why", "Should the fuse have blown, bridge it and try again.")),
)  # fmt: skip


@pytest.mark.parametrize("mutant", DANGERS, ids=lambda mutant: mutant.says)
def test_it_is_refused(mutant: Mutant) -> None:
    """With a place and a fix."""
    blocking = [one for one in mutant.findings() if one.blocks]
    assert blocking
    for one in blocking:
        assert one.place.path.endswith(".yml")
        assert one.place.line >= 1
        assert one.fix


@pytest.mark.parametrize("written", [
    {"act": "follow-relief", "of": "coil", "at": "coil-inlet-end", "limit": "9 valves"},
    {"act": "look-tissues", "limit": "5 damp tissues"},
    {"act": "look-hot", "amount": "10 min", "limit": "3 drops"},
], ids=["nine things before the relief valve", "five damp tissues", "three drops"])  # fmt: skip
def test_a_count_of_faults_cannot_be_written(written: dict[str, Any]) -> None:
    """It is none, and nobody states it."""
    things = draft(*TRIM).facts.things
    made = compiled(WrittenAct.model_validate({"id": "a", **written}), things)
    assert [one.message for one in made.faults] == [f"`{written['act']}` takes no limit"]


@pytest.mark.parametrize("text", [
    "Never use compressed air here.",
    "The notice on it says: cuts the seal.",
])  # fmt: skip
def test_a_harmless_text_waits_for_a_reader_and_no_more(text: str) -> None:
    """Nothing is wrong with it but that nobody has confirmed it yet."""
    one = draft(*TRIM)
    write("put-boiler-back", "steam-pipe-on", "why", text)(one)
    assert {finding.rule for finding in one.findings() if finding.blocks} <= {"TXT02"}


def test_a_plug_may_be_locked_up() -> None:
    """A box for the plug is more than lying in sight."""
    one = draft(*TRIM)
    one.kits(tools={**one.kit.tools, "lock-out-box": "lock-out box"})
    (lock,) = compiled(WrittenAct.model_validate({"id": "lock", "act": "lock-plug"}), one.facts.things).steps
    insert("prepare/", "as-found", lock.model_dump(by_alias=True, exclude_defaults=True))(one)
    assert [str(finding.problem()) for finding in one.findings() if finding.blocks] == []


def test_joints_may_be_tried_by_hand_with_the_mains_off() -> None:
    """A pump that is worked by hand presses on the joints; the machine's own runs later, to fill the boiler."""
    one = draft(*TRIM)
    tool = Thing(
        "hand-pump", "tool", "the hand pump", "hand pump", ("hand-pump",), listed="tools", tool_kind="hand-pump"
    )
    one.facts = replace(one.facts, things=Things({**one.facts.things.by_id, "hand-pump": tool}))
    one.kits(tools={**one.kit.tools, "hand-pump": "hand pump"})
    one.procedure["values"]["by_hand"] = {
        "is": "10 bar",
        "evidence": "maker-document",
        "source": "kettleby-fitting-rules",
    }
    shared = thawed(written_data("content/procedures/shared.yml"))
    steps = {name_of(step): step for step in shared["blocks"]["cold-test"]["steps"]}
    by_hand = [
        {"id": "pump-on", "act": "hand-pump-on", "of": "feed-hose"},
        {"id": "by-hand", "act": "press-by-hand", "amount": "{cold_time}", "limit": "{by_hand}"},
        {"id": "let-off", "act": "let-off-by-hand"},
        {"id": "pump-off", "act": "hand-pump-off", "of": "feed-hose"},
    ]
    first = ["earth-gross", "earth-inside", "switch-for-wiring", "insulation-wiring", "insulation-heater", "tissues",
             "close-tap"]  # fmt: skip
    then = ["fill-tank", "close", "earth-casing", "sign-off", "test-rcd", "unlock", "power-pump", "prime", "power-off",
            "release-cold", "undo-again", "open-again", "again-open"]  # fmt: skip
    shared["blocks"]["cold-test"]["steps"] = [
        *(steps[name] for name in first), *by_hand, steps["cold-look"], *(steps[name] for name in then)
    ]  # fmt: skip
    one.shared = thawed(unfolded(frozen(shared), one.facts, "off", None))
    assert [str(finding.problem()) for finding in one.findings() if finding.blocks] == []
    shared["blocks"]["cold-test"]["steps"].remove(by_hand[1])
    one.shared = thawed(unfolded(frozen(shared), one.facts, "off", None))
    assert {"PRS02", "ACT05"} <= {finding.rule for finding in one.findings() if finding.blocks}


def name_of(step: dict[str, Any]) -> str:
    """The id of a step, or the block that stands in its place."""
    return str(step.get("id") or step["include"])


def test_an_instrument_may_have_any_id() -> None:
    """What a tool is stands in its kind."""
    known = draft(*TRIM).facts.things
    probe = replace(known.by_id["contact-probe"], id="probe-7", members=("probe-7",), tool_kind="contact-probe")
    others = {name: thing for name, thing in known.by_id.items() if name != "contact-probe"}
    act = WrittenAct.model_validate({"id": "a", "act": "measure-temperature", "of": "boiler", "limit": "40 °C"})
    (step,) = compiled(act, Things({**others, "probe-7": probe})).steps
    assert step.uses.tools == ("probe-7",)
    assert step.hold is not None
    assert step.hold.accept is not None
    assert step.hold.accept.instrument == "probe-7"
