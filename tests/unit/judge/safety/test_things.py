"""The smallest guides whose things are bonded, joined and of metals that bear each other, and those that are not."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.guide import MachineSide, Wetted
from tests.unit.judge.safety.examples import DO, make
from tests.unit.judge.safety.small import messages

BOILER = Thing("boiler", "boiler", "the boiler", "boiler", ("boiler",))
EARTH_SCREW = Thing("screw", "earth", "the screw", "screw", ("screw",))
BOND = {"id": "bond", "do": "Screw the bond on.", "acts": ["bond"], "names": ["bond", "eyelet", "screw"]}


def of(material: str, filler: str = "none") -> dict[str, Any]:
    """Return a kit with a tube in the water."""
    return {"parts": {"tube": "tube"}, "wetted": (Wetted("tube", material, filler, "none"),)}


def beside(material: str) -> MachineSide:
    """Return a machine whose boiler is of this."""
    return MachineSide("m", "corded", metals={"boiler": material})


def things(*some: Thing) -> Things:
    """Return the inventory of machine and kit."""
    return Things({one.id: one for one in some})


def joint(sealing: str, one: str, other: str, name: str = "joint") -> Thing:
    """Return a joint that the kit brings."""
    return Thing(name, "joint", "the joint", "joint", (name,), ends=(one, other), sealing=sealing, brought=True)


TUBE = of("copper")
TWO = {"wetted": tuple(Wetted(name, "copper", "none", "none") for name in ("tube", "fitting"))}

LEAD_OF_THE_MACHINE = Thing("lead", "lead", "the lead", "lead", ("lead",), ends=("box", "switch"))
SENSOR_AND_LEAD = things(
    replace(LEAD_OF_THE_MACHINE, brought=True),
    Thing("sensor", "sensor", "the sensor", "sensor", ("sensor",), brought=True),
    Thing("cable", "lead", "its cable", "cable", ("cable",), ends=("sensor", "box"), brought=True),
)
"""A lead of the kit with two loose ends, and one that is one with its sensor."""
PUSHED_ON = {"id": "on", "do": "Push it on.", "names": ["lead", "switch"], "refits": {"leads": ["lead"]}}
PLUGGED_IN = {"id": "in", "do": "Plug both in.", "names": ["lead", "cable", "box"],
              "refits": {"leads": ["lead", "cable"]}}  # fmt: skip

CASES: list[tuple[str, Any, Any]] = [
    (
        "EAR03",
        make(DO, kit=TUBE),
        make(
            BOND,
            kit=TUBE,
            things=things(
                Thing("bond", "lead", "the bond", "bond", ("bond",), brought=True, ends=("eyelet", "screw")),
                Thing("eyelet", "place", "the eyelet", "eyelet", ("eyelet",), part_of="tube"),
                EARTH_SCREW,
            ),
        ),
    ),
    (
        "EAR03",
        make(DO, kit=TUBE, things=things(BOILER, joint("tape", "tube", "boiler"))),
        make(DO, kit=TUBE, things=things(BOILER, joint("flat-seal", "tube", "boiler"))),
    ),
    (
        "EAR03",
        make(
            DO,
            kit=TUBE,
            things=things(
                BOILER, joint("flat-seal", "fitting", "boiler"), joint("flat-seal", "tube", "fitting", "union")
            ),
        ),
        make(
            DO,
            kit=TWO,
            things=things(
                BOILER, joint("flat-seal", "fitting", "boiler"), joint("flat-seal", "tube", "fitting", "union")
            ),
        ),
    ),
    (
        "PAR03",
        make(DO, kit=TUBE, things=things(joint("flat-seal", "tube", "pump"))),
        make(
            DO, kit=TUBE, things=things(joint("flat-seal", "tube", "pump"), joint("gasket", "boiler", "tube", "other"))
        ),
    ),
    (
        "PAR03",
        make(DO, kit={"parts": {"bolt": "bolt"}}, things=things(joint("two-seals", "a", "bolt"))),
        make(DO, kit={"parts": {"bolt": "bolt"}}, things=things(joint("two-seals", "a", "b"))),
    ),
    ("PAR04", make(PLUGGED_IN, things=SENSOR_AND_LEAD), make(PUSHED_ON, PLUGGED_IN, things=SENSOR_AND_LEAD)),
    ("PAR04", make(PUSHED_ON, things=SENSOR_AND_LEAD), make(DO, things=things(LEAD_OF_THE_MACHINE))),
    ("FOD02", make(DO, kit=of("brass")), make(DO, kit=of("brass with at most 0.25 % lead"))),
    ("FOD02", make(DO, kit=of("brass with 0.3 % lead")), make(DO, kit=of("brass with 0.2 % lead"))),
    ("FOD02", make(DO, kit=of("copper", "tin-lead solder")), make(DO, kit=of("copper", "lead-free brazing alloy"))),
    ("FOD02", make(DO, kit=of("pewter")), make(DO, kit=of("stainless steel"))),
    ("FOD03", make(DO, kit=TUBE, machine=beside("aluminium")), make(DO, kit=TUBE, machine=beside("brass"))),
    ("FOD03", make(DO, kit=TUBE, machine=beside("unknown")), make(DO, kit=of("PTFE"), machine=beside("unknown"))),
]
"""Rule, a guide that breaks it, a guide that keeps it."""


@pytest.mark.parametrize(("rule", "bad", "good"), CASES, ids=[f"{rule}-{n}" for n, (rule, _, _) in enumerate(CASES)])
def test_a_rule_finds_the_bad_guide_and_leaves_the_good_one(rule: str, bad: Any, good: Any) -> None:
    """Bonds, ways of the water, lead, fillers, pairs of metals."""
    assert messages(rule, bad) != []
    assert messages(rule, good) == []
