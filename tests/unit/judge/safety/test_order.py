"""The order of acts on the smallest guides: done before, done before power, nothing left in, all taken off again."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.guide import MachineSide
from tests.unit.judge.safety.small import DEVICES, LIVE, OPEN, guide, hold, messages


def act(name: str, item: str = "", things: tuple[str, ...] = (), **order: list[str]) -> dict[str, Any]:
    """A step that is an act of this name; `item` makes its id another one."""
    return {"id": f"{name}{item}", "do": "Do it.", "act": name, "names": things, "order": order}


READ = act("read-marks")
TIGHTEN = act("tighten-bolt", after=["read-marks"])
SEAT = act("seat-device", owes=["try-flat"])
FLAT = act("try-flat")
OPEN_TAP = act("open-tap", puts=["open-tap"])
CLOSE_TAP = act("close-tap", takes=["open-tap"])
HEAT = {**LIVE, "act": "energise-heat", "order": {"without": ["open-tap"]}}
HERE, THERE = (act("wipe-joint", name, (name,)) for name in ("here", "there"))
REMAKE = act("remake-joint", "", ("here",), after=["=wipe-joint"])
SIGN = act("sign")
POWER = {**LIVE, "act": "energise-use", "order": {"fresh": ["sign"]}}
DO = {"id": "do", "do": "Do it."}
SAW = {"id": "saw", "do": "Saw it.", "reversible": False}
EARLY: dict[str, Any] = {**act("look-bolts"), "order": {"early": True}}
TRIED = {**act("try-flat"), "order": {"again": ["seat-device|screw-device"]}}
EITHER = act("start-bolts", after=["set-in|turn-on"])


def failing(goto: str) -> dict[str, Any]:
    """The look at a seat, its failing side leading there."""
    return {**TRIED, "hold": {**hold(), "on_fail": {"goto": goto}}}


CASES: list[tuple[str, list[dict[str, Any]], list[dict[str, Any]]]] = [
    ("ACT05", [TIGHTEN, READ], [READ, TIGHTEN]),
    ("ACT05", [THERE, REMAKE], [THERE, HERE, REMAKE]),
    ("ACT05", [EITHER], [act("turn-on"), EITHER]),
    ("ACT06", [FLAT, SEAT, LIVE], [SEAT, FLAT, LIVE]),
    ("ACT06", [SEAT, FLAT, {**SEAT, "id": "again"}, LIVE], [SEAT, FLAT, LIVE, {**SEAT, "id": "again"}]),
    ("ACT07", [OPEN_TAP, HEAT, CLOSE_TAP], [OPEN_TAP, CLOSE_TAP, HEAT]),
    ("ACT07", [CLOSE_TAP, OPEN_TAP], [OPEN_TAP, CLOSE_TAP]),
    ("ACT11", [SIGN, OPEN, POWER], [OPEN, SIGN, POWER]),
    ("ACT11", [SIGN, {**DO, "refits": {"joints": ["x"]}}, POWER], [{**DO, "refits": {"joints": ["x"]}}, SIGN, POWER]),
    ("ACT12", [SAW, EARLY], [EARLY, SAW]),
    ("ACT12", [SAW, EARLY], [EARLY]),
    ("ACT13", [SEAT, DO, failing("do")], [SEAT, DO, failing("seat-device")]),
    ("ACT13", [SEAT, failing("try-flat")], [SEAT, {**TRIED, "hold": hold()}]),
]


@pytest.mark.parametrize(("rule", "bad", "good"), CASES, ids=[f"{rule}-{n}" for n, (rule, _, _) in enumerate(CASES)])
def test_a_rule_finds_the_bad_order_and_leaves_the_good_one(
    rule: str, bad: list[dict[str, Any]], good: list[dict[str, Any]]
) -> None:
    """The same steps in another order, or one of them done to another thing."""
    assert messages(rule, guide(*bad)) != []
    assert messages(rule, guide(*good)) == []


def test_the_way_back_takes_off_what_was_fitted() -> None:
    """ACT08: what a step of the fitting puts on for good, a step of the restoring takes off, on every path."""

    def both(*restoring: dict[str, Any]) -> Any:
        return guide(act("mount", fits=["bracket"]),
                     restore={"phases": [{"id": "back", "name": "Back", "steps": list(restoring)}]})  # fmt: skip

    assert messages("ACT08", both(READ)) != []
    assert messages("ACT08", both(act("unmount", takes=["bracket"]))) == []


@pytest.mark.parametrize("circuit", [(), ("own-switch", "brew", "fuse")])
def test_a_new_lead_of_the_heater_asks_for_every_guard(circuit: tuple[str, ...]) -> None:
    """SFD04: a lead that the kit brings into the heater's circuit; the fuse is proved in series before any heat."""
    lead = Thing("supply", "lead", "the supply lead", "supply lead", ("supply",), heats=True, brought=True)
    join = {"id": "join", "do": "Push it on.", "refits": {"leads": ["supply"]}}
    try_it = {
        "id": "try",
        "do": "Measure.",
        "names": ["supply"],
        "in_series": ["fuse"],
        "hold": hold(at_most="0 devices"),
    }
    machine = MachineSide("m", "corded", DEVICES, circuit=circuit)

    def found(*steps: dict[str, Any], brought: bool = True) -> list[str]:
        things = Things({"supply": replace(lead, brought=brought)})
        return messages("SFD04", guide(*steps, things=things, machine=machine))

    assert found(join, try_it, LIVE) == []
    assert found(join, LIVE, brought=False) == []
    (words,) = found(join, LIVE)
    assert "fuse is not proved in series" in words
    assert found(try_it, join, LIVE) != []
