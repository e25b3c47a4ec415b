"""Bounds, what screws bear, how fine instruments show and what parts are rated for, on the smallest guides."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from guidegen.judge.safety.guide import MachineSide, ScrewSide, Wetted
from tests.unit.judge.safety.small import DEVICES, guide, hold, messages

TUBE = Wetted("tube", "copper", "none", "none", None, True, 30e5, 423.15, "yes")
HOT = MachineSide("m", "corded", DEVICES, hottest=400.0)
BEARS = replace(HOT, screws={"bolt": ScrewSide("M5", (4.0, "its screw"), (2.0, "its screw"))})
EARTH = {"at_most": "0.3 Ω",
         "wider": {"of": "5 m", "above": "5 m", "per": "7.5 m", "more": "0.1 Ω", "most": "1 Ω"}}  # fmt: skip
TURN = {"at_least": "1/8 turn", "at_most": "11/8 turn", "tolerance": "1/8 turn"}


def step(**more: Any) -> dict[str, Any]:
    """A step of these parts."""
    return {"id": "a", "do": "Look at it.", **more}


def bounded(text: str, bounds: dict[str, Any], evidence: str = "maker-document") -> dict[str, Any]:
    """A step whose amount is this."""
    return step(bounds=[{"name": "amount", "is": text, "evidence": evidence, "source": "s", "bounds": bounds}])


def bolted(torque: str = "3 N·m ± 0.5 N·m", thread: str = "M5, A2-70", state: str = "dry") -> dict[str, Any]:
    """A step that tightens a bolt."""
    return step(names=["bolt"], torque={"is": torque, "thread": thread, "state": state, "source": "s"})


def earthed(limit: str, lead: str) -> dict[str, Any]:
    """An earth test whose lead is so long."""
    return bounded(limit, {**EARTH, "wider": {**EARTH["wider"], "of": lead}})  # type: ignore[dict-item]


def wet(**changes: Any) -> dict[str, Any]:
    """A kit of one wetted part, rated otherwise."""
    return {"wetted": (replace(TUBE, **changes),)}


JOINT = step(removes={"joints": ["j"]})

#: rule, a guide that breaks it, a guide that keeps it
CASES: list[tuple[str, Any, Any]] = [
    ("ACT02", guide(bounded("0.31 Ω", {"at_most": "300 mΩ"})), guide(bounded("0.3 Ω", {"at_most": "300 mΩ"}))),
    ("ACT02", guide(bounded("soon", {"at_least": "5 s"})), guide(bounded("1 min", {"at_least": "5 s"}))),
    ("ACT02", guide(bounded("181 s", {"at_least": "5 s", "at_most": "3 min"})),
     guide(bounded("180 s", {"at_least": "5 s", "at_most": "3 min"}))),
    ("ACT02", guide(bounded("8 mm ± 1 mm", {"at_least": "8 mm"})), guide(bounded("9 mm ± 1 mm", {"at_least": "8 mm"}))),
    ("ACT02", guide(bounded("3/4 turn", TURN)), guide(bounded("3/4 turn ± 1/8 turn", TURN))),
    ("ACT02", guide(bounded("3/4 turn ± 1/4 turn", TURN)), guide(bounded("5/4 turns ± 1/8 turn", TURN))),
    ("ACT02", guide(bounded("3/4 turn ± 1/8 turn", TURN, "assumed")), guide(bounded("3/4 turn ± 1/8 turn", TURN))),
    # EN 50678, from memory: another tenth of an ohm for each whole 7.5 m beyond 5 m, and one ohm at most
    ("ACT02", guide(earthed("0.4 Ω", "12 m")), guide(earthed("0.4 Ω", "12.5 m"))),
    ("ACT02", guide(earthed("0.31 Ω", "3 m")), guide(earthed("0.3 Ω", "3 m"))),
    ("ACT02", guide(earthed("1.1 Ω", "90 m")), guide(earthed("1 Ω", "90 m"))),
    ("QTY02", guide(step(hold=hold(at_most="40 °C", instrument="hand"))),
     guide(step(hold=hold(at_most="10 s", instrument="hand")))),
    ("QTY04", guide(bolted("4 N·m ± 0.5 N·m"), machine=BEARS), guide(bolted(), machine=BEARS)),
    ("QTY04", guide(bolted(state="dry, then oiled"), machine=BEARS), guide(bolted(), machine=BEARS)),
    ("QTY04", guide(bolted(state="clean"), machine=BEARS), guide(bolted("1.5 N·m", state="clean"), machine=BEARS)),
    ("QTY04", guide(bolted(thread="M6"), machine=BEARS), guide(bolted(), machine=BEARS)),
    ("QTY04", guide(bolted(), machine=HOT), guide(step())),
    ("QTY04", guide(bolted(), machine=replace(HOT, screws={"bolt": ScrewSide("M5", fault="no such metal")})),
     guide(bolted(), machine=BEARS)),
    ("QTY04", guide(bolted(), machine=replace(HOT, screws={"bolt": ScrewSide("M5", asks=("boiler.material",))})),
     guide(bolted(), machine=BEARS)),
    ("QTY05", guide(step(hold=hold(within="103 °C ± 0.5 K", instrument="display"))),
     guide(step(hold=hold(at_most="40 °C", instrument="display")))),
    *(("PRS04", guide(JOINT, kit=wet(**changes), machine=HOT), guide(JOINT, kit=wet(), machine=HOT)) for changes in (
        {"pressure": None}, {"temperature": None}, {"temperature": 399.0}, {"drinking_water": None},
        {"drinking_water": "no"})),
    ("PRS04", guide(JOINT, kit=wet(), machine=replace(HOT, loads={"water_path.pump_pressure": 31e5})),
     guide(JOINT, kit=wet(), machine=replace(HOT, loads={"water_path.pump_pressure": 29e5}))),
    ("PRS04", guide(JOINT, kit=wet(), machine=replace(HOT, hottest=("steam.setpoint",))),
     guide(JOINT, kit=wet(hot=False), machine=replace(HOT, hottest=("steam.setpoint",)))),
    ("PRS04", guide(JOINT, kit=wet(), machine=replace(HOT, loads={"water_path.relief_opens": None})),
     guide(JOINT, kit=wet(hot=False, temperature=300.0), machine=HOT)),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "bad", "good"), CASES, ids=[f"{rule}-{n}" for n, (rule, _, _) in enumerate(CASES)])
def test_a_rule_finds_the_bad_guide_and_leaves_the_good_one(rule: str, bad: Any, good: Any) -> None:
    """Each in its smallest form."""
    assert messages(rule, bad) != []
    assert messages(rule, good) == []
