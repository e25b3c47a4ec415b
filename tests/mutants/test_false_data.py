"""What a machine's data say, made false in the direction that hurts: the kit is no longer sold and fitted as before.

The rows are written by hand, from what each fact guards. A false value is refused when the files are read, or by the
lint of the guide; or the kit does not fit, or nobody can tell; or the act that would hurt is not in the steps. Of the
metal that must remain under a cut, the greater of what is stated and what is computed holds: tests/unit/trade.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from guidegen.assess.guiding import problems
from guidegen.problems import CatalogueError
from guidegen.record import Assessment
from guidegen.trade.check_inventory import check_machine_things
from guidegen.trade.machine import Machine
from guidegen.units import parse
from guidegen.workshop.facts import Choice
from tests.fixtures.unknown_facts import assessor, where
from tests.fixtures.unknowns import facts_of, put
from tests.mutants.draft import catalogue

COIL, BANJO, LOOP = "feed-preheater", "banjo-feed", "loop-controller"
NOT_CUT, NOT_FITTED = "not cut", ("does-not-fit", "cannot-tell-yet")
ROWS = (
    # variant, fact, what is written, kit, what comes of it: an outcome, NOT_CUT, or the code that refuses it
    ("bracken-a", "boiler.material", "aluminium", COIL, "does-not-fit"),
    ("tamsin-mk2", "group.material", "aluminium", COIL, "does-not-fit"),
    ("bracken-a", "group.material", "aluminium", COIL, "does-not-fit"),
    ("tamsin-mk2", "heater.terminal_distance", "12 mm", COIL, "does-not-fit"),
    ("bracken-a", "heater.terminal_distance", "12 mm", COIL, "does-not-fit"),
    ("tamsin-mk2", "boiler.straight_wall", "25 mm", COIL, "does-not-fit"),
    ("tamsin-mk2", "boiler.clearance", "5 mm", COIL, "does-not-fit"),
    ("tamsin-mk2", "boiler.diameter", "50 mm", COIL, "does-not-fit"),
    ("tamsin-mk2", "boiler.wall", "1 mm", COIL, NOT_CUT),
    ("tamsin-mk2", "boiler.protrusions.0.carries", "thermal fuse", COIL, "does-not-fit"),
    ("tamsin-mk2", "boiler.protrusions.0.stands_out", "30 mm", COIL, "CUT01"),
    ("tamsin-mk2", "boiler.bolts.torque", "15 N·m ± 1 N·m", COIL, "QTY04"),
    ("tamsin-mk2", "boiler.bolts.engagement", "2 mm", COIL, "QTY04"),
    ("tamsin-mk2", "boiler.bolts.thread", "M3", COIL, "QTY04"),
    ("tamsin-mk2", "boiler.bolts.class_", "4.6", COIL, "QTY04"),
    ("bracken-a", "boiler.bolts.undone_from", "above", COIL, "cannot-tell-yet"),
    ("tamsin-mk2", "water_path.relief_branch", "none", COIL, "PRS03"),
    ("tamsin-mk2", "water_path.relief_branch", "downstream", COIL, "PRS06"),
    ("bracken-a", "water_path.relief_branch", "none", COIL, "PRS03"),
    ("tamsin-mk2", "water_path.relief_opens", "40 bar", COIL, "X29"),
    ("tamsin-mk2", "water_path.pump_pressure", "60 bar", COIL, "PRS04"),
    ("tamsin-mk2", "water_path.pump_pressure", "60 bar", BANJO, "PRS04"),
    ("tamsin-mk2", "water_path.inlet.thread", "G 1/4", BANJO, "does-not-fit"),
    ("tamsin-mk2", "water_path.inlet.fitting", "something else", BANJO, "does-not-fit"),
    ("tamsin-mk2", "water_path.inlet.fitting", "something else", COIL, "PAR02"),
    ("tamsin-mk2", "steam.setpoint", "190 °C", COIL, "X29"),
    ("tamsin-mk2", "steam.setpoint", "100 °C", COIL, "X29"),
    ("bracken-a", "steam.setpoint", "190 °C", COIL, "N03"),
    ("bracken-a", "steam.overshoot", "60 K", COIL, "PRS04"),
    ("tamsin-mk2", "control.setpoint", "195 °C", COIL, "N03"),
    ("bracken-a", "control.opens", "150 °C", COIL, "X29"),
    ("tamsin-mk2", "heater.power", "6000 W", COIL, "X29"),
    ("bracken-a", "heater.power", "3000 W", LOOP, "does-not-fit"),
    ("bracken-a", "mains.voltage", "400 V~", LOOP, "does-not-fit"),
    ("tamsin-mk2", "safety_devices.0.rating", "16 A, opens at 110 °C", COIL, "X29"),
    ("tamsin-mk2", "safety_devices.1.rating", "30 bar", COIL, "X29"),
    ("tamsin-mk2", "safety_devices.2.rating", "4 A, 184 °C, one shot", COIL, "X29"),
)


def false(machine: Machine, name: str, text: str) -> Machine:
    """The machine with one fact that somebody has written down wrongly."""
    fact = dict(facts_of(machine))[where(name)]
    wrong: Any = {"text": text}
    wrong |= {"word": text} if isinstance(fact, Choice) else {"quantity": parse(text, fact.dimension), "ends": None}
    return put(machine, where(name), replace(fact, **wrong))  # type: ignore[no-any-return]


@cache
def found(variant: str, name: str, text: str, kit: str) -> tuple[set[str], Assessment | None]:
    """The codes of what is refused, and the record where there is one."""
    machine = false(catalogue().machines[variant], name, text) if name else catalogue().machines[variant]
    codes = {str(one.code) for one in check_machine_things(machine)}
    try:
        record = assessor().assess(machine, catalogue().kit(kit))
    except CatalogueError as error:
        return codes | {str(one.code) for one in error.problems}, None
    return codes | {str(one.code) for one in problems(record) if one.severity == "error"}, record


def acts(value: Any) -> set[str]:
    """Every act below a value."""
    if isinstance(value, dict):
        return {str(value.get("act"))}.union(*map(acts, value.values()))
    return set().union(*map(acts, value)) if isinstance(value, list | tuple) else set()


def cut(record: Assessment | None) -> bool:
    """Whether there is an instruction that saws."""
    return record is not None and record.procedure is not None and "saw" in acts(record.procedure.model_dump())


@pytest.mark.slow
@pytest.mark.parametrize(("variant", "name", "text", "kit", "comes"), ROWS, ids=lambda one: str(one))
def test_what_is_false_does_not_hurt(variant: str, name: str, text: str, kit: str, comes: str) -> None:
    """Of the true value none of it comes; of the false one it does."""
    good, as_it_is = found(variant, "", "", kit)
    codes, record = found(variant, name, text, kit)
    assert good == set()
    assert as_it_is is not None
    assert as_it_is.fit.outcome not in NOT_FITTED
    if comes in NOT_FITTED:
        assert record is not None
        assert record.fit.outcome == comes
        assert record.procedure is None
    elif comes == NOT_CUT:
        assert cut(as_it_is)
        assert not cut(record)
    else:
        assert comes in codes
