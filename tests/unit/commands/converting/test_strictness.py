"""What `guidegen convert` makes of the demonstration's procedures in words is right, and no less strict.

What people made of them by hand stands in `content/procedures/`; that is what the program's acts are compared with.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.assess.inventory import things_of
from guidegen.judge.acts.compiled import compiled
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.steps import Step
from tests.fixtures.in_words import DEMONSTRATION, NAMES, entries, procedure

pytestmark = pytest.mark.slow

WORST_FIRST = {
    "mains": ("live", "pump_only", "off", "proved_dead"), "temperature": ("unknown", "cool"),
    "pressure": ("unknown", "released"), "water": ("full", "drained"), "enclosure": ("open", "closed"),
    "earth": ("disturbed", "ok", "tested"), "leak": ("untested", "bench_ok", "cold_ok", "hot_ok"),
    "primed": ("no", "yes"),
}  # fmt: skip
OTHER_THINGS = {("feed-preheater", "coil-picture"), ("feed-preheater", "hose-on"),
                ("feed-preheater", "bond-off"), ("loop-controller", "picture"),
                ("shared", "photograph")}  # fmt: skip
"""By hand the photographs show more, or one more shows the rest; the hose says where it goes, the bond where
it ends.
"""


@pytest.mark.parametrize("name", NAMES)
def test_an_act_is_the_one_that_a_person_chose(converted: Path, name: str) -> None:
    """The same act of the same things as in the procedures that were written anew by hand."""
    by_hand: dict[tuple[str, ...], list[dict[str, Any]]] = {}
    for above, step, _ in entries(procedure(DEMONSTRATION, name)):
        by_hand.setdefault((*above, step["id"]), []).append(step)
    compared = 0
    for above, step, _ in entries(procedure(converted, name)):
        hands = by_hand.get((*above, step["id"]))
        if "do" in step or hands is None:
            continue
        assert step["act"] in [one["act"] for one in hands], step["id"]
        compared += 1
        if (name, step["id"]) not in OTHER_THINGS:
            assert things(step) in map(things, hands), step["id"]
    assert compared > 5


def things(step: dict[str, Any]) -> list[set[str]]:
    """The things of an act, slot by slot."""
    slots = (step.get(slot, ()) for slot in ("of", "at", "to"))
    return [{one} if isinstance(one, str) else set(one) for one in slots]


@pytest.mark.parametrize("name", NAMES)
def test_no_act_is_less_strict_than_its_step(in_words: Path, converted: Path, name: str) -> None:
    """On every machine that has its things: judged here by rules of its own, not by those of the command."""
    known = trade.load(DEMONSTRATION)
    kits = known.kits.values() if name == "shared" else [known.kits[name]]
    pairs = [things_of(machine, kit)[0] for kit in kits for machine in known.machines.values()]
    after: dict[tuple[str, ...], list[dict[str, Any]]] = {}
    for above, step, _ in entries(procedure(converted, name)):
        after.setdefault((*above, step["id"]), []).append(step)
    dead = "proved_dead" if name == "loop-controller" else "off"
    for above, written, kind in entries(procedure(in_words, name)):
        made_of = after[(*above, written["id"])]
        acts = [one for one in made_of if "act" in one] if written not in made_of else []
        old, tried = Step.model_validate(written), 0
        for one in pairs if acts else ():
            made = [compiled(WrittenAct.model_validate(act), one, kind, dead) for act in acts]
            steps = [step for each in made for step in each.steps]
            if not any(each.faults for each in made) and all("{thing." not in step.do for step in steps):
                thermostat = one.get("control-thermostat")
                names = {"{control_thermostat.id}": thermostat.members[0] if thermostat else ""}
                assert any(at_least(old, step, names) for step in steps), (above, written["id"])
                tried += 1
        assert tried or not acts, written["id"]


def at_least(old: Step, new: Step, names: dict[str, str]) -> bool:
    """Whether a step asks and does what another one does, or more strictly."""

    def moved(step: Step, field: str) -> set[str]:
        part = getattr(step, field)
        found = () if part is None else (*part.devices, *part.joints, *part.leads, *([True] if part.permanent else []))
        return {names.get(one, one) for one in found}

    asked = all(
        key in new.requires and WORST_FIRST[key].index(new.requires[key]) >= WORST_FIRST[key].index(value)
        for key, value in old.requires.items()
    )
    same = old.sets == new.sets and all(moved(old, field) == moved(new, field) for field in ("removes", "refits"))
    told = all(
        {names.get(one, one) for one in getattr(old, field)} <= set(getattr(new, field))
        for field in ("records", "verifies", "earth_points", "insulation_of", "acts")
    )
    parts = all(
        (getattr(old, field) is None) == (getattr(new, field) is None)
        for field in ("isolate", "prove", "supply", "cooling", "release", "leak", "relief", "clearance", "cut", "seat")
    )
    turned = (old.torque and old.torque.is_) == (new.torque and new.torque.is_)
    return asked and same and told and parts and turned and old.reversible == new.reversible and held(old, new)


def held(old: Step, new: Step) -> bool:
    """Whether a hold point is as strict: the same number, the same way out."""
    if old.hold is None or old.hold.accept is None or old.hold.on_fail is None:
        return True
    if new.hold is None or new.hold.accept is None or new.hold.on_fail is None:
        return False
    limits = [(one.at_most, one.at_least, one.within) for one in (old.hold.accept, new.hold.accept)]
    before, after = ([re.sub(r"^0 .*", "0", text or "") for text in limit] for limit in limits)
    return before == after and old.hold.on_fail.goto == new.hold.on_fail.goto
