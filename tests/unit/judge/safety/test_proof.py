"""A vessel that was cut, or came from elsewhere, is proven before it is heated: the smallest guides."""

from __future__ import annotations

import pytest

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.guide import Guide
from tests.unit.judge.safety.examples import less, make
from tests.unit.judge.safety.small import LIVE, hold, messages

SAWN = {"id": "saw", "do": "Saw it.", "cut": {"of": "the boss", "tool": "hand-saw"}}
PROVEN = {"id": "proof", "do": "Press on it.", "proof": {"vessels": ["boiler"]},
          "hold": hold(at_least="19 bar", instrument="hand-pump")}  # fmt: skip
RECORDED = {"id": "recorded", "do": "Compare it.", "proof": {"vessels": ["spare"]},
            "hold": hold(at_least="19 bar", instrument="record")}  # fmt: skip
PUT_IN = {"id": "put-in", "do": "Screw it in.", "names": ["j", "spare"], "refits": {"joints": ["j"]}}
VESSELS = Things({name: Thing(name, kind, f"the {name}", name, (name,))
                  for name, kind in (("boiler", "boiler"), ("spare", "spare-boiler"))})  # fmt: skip

CASES: list[tuple[str, Guide, Guide]] = [
    ("PRS06", make(SAWN, LIVE, things=VESSELS), make(SAWN, PROVEN, LIVE, things=VESSELS)),
    ("PRS06", make(PROVEN, SAWN, LIVE, things=VESSELS), make(SAWN, PROVEN, LIVE, PROVEN, things=VESSELS)),
    ("PRS06", make(PUT_IN, LIVE, things=VESSELS), make(RECORDED, PUT_IN, LIVE, things=VESSELS)),
    ("PRS06", make(less(PROVEN, hold=None)), make(PROVEN)),
    (
        "PRS06",
        make(less(PROVEN, proof={"vessels": ["boiler"], "relief": "downstream"})),
        make(less(PROVEN, proof={"vessels": ["boiler"], "relief": "upstream"})),
    ),
    ("PRS06", make(less(PROVEN, do="Press with nitrogen.")), make(PROVEN)),
]


@pytest.mark.parametrize(("rule", "bad", "good"), CASES, ids=[f"{rule}-{n}" for n, (rule, _, _) in enumerate(CASES)])
def test_a_rule_finds_the_bad_guide_and_leaves_the_good_one(rule: str, bad: Guide, good: Guide) -> None:
    """Not proven, proven before the last cut, without a hold point, through the relief valve, with gas."""
    assert messages(rule, bad) != []
    assert messages(rule, good) == []
