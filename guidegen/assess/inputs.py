"""The uncertain inputs of a pair: which facts take part, how they are drawn, and what the record says of them.

Every input has its column in one fixed sequence, whether it takes part or not. So the runs without and with a kit
see the same boiler in the same draw, and their ratio is far tighter than either.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from guidegen.assess.columns import WIDTH, columns_of
from guidegen.heat.statistics import spread, uniforms
from guidegen.language import gettext, marked
from guidegen.record import rounded
from guidegen.record.stated import Input
from guidegen.trade import Catalogue
from guidegen.trade.controls import CONTROLLED
from guidegen.trade.effects import input_names
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain, Values, of_fact
from guidegen.unit_table import UNITS
from guidegen.workshop.facts import Fact

MACHINE = (
    "boiler.mass", "boiler.water", "boiler.to_water", "heater.power", "heater.heat_capacity", "heater.to_boiler",
    "heater.to_water", "group.mass", "group.to_boiler", "group.to_water", "group.to_room", "losses.boiler_to_case",
    "losses.case_temperature", "mixing", "sensor.lag", "sensor.metal_share", *(f"control.{one}" for one in CONTROLLED),
    "water_path.bypass", "steam.setpoint", "steam.overshoot", "water_path.relief_opens",
)  # fmt: skip
"""Facts of the machine that are uncertain inputs."""
SIZES = ("boiler.diameter", "boiler.straight_wall")
"""Sizes that decide how a coil lies. Where they are known their ± moves nothing; where they are not, all that is
computed of a coil rests on what stands in."""
SURROUNDINGS = ("room", "feed")
SUPPLY = Uncertain(
    id="mains.supply",
    name=marked("Mains voltage, divided by the rated one"),
    value=1.0,
    low=0.9,
    high=1.1,
    dimension="ratio",
    text="100 %, 90 % to 110 %",
    evidence="standard",
    settles=marked("a voltmeter at the socket, with the heater on"),
    drawn="triangular",
)
"""A heater's power goes with its square. EN 50160, 4.2.2: within ± 10 % of the nominal voltage; from memory."""
HABITS = tuple(
    Uncertain(id=ident, name=name, value=0.0, low=-1.0, high=1.0, dimension="ratio", text=marked("the ± of each drink"),
              evidence="assumed", settles=marked("scale and watch over some days' drinks"), drawn="triangular")
    for ident, name in (
        ("drinks.water", marked("Water that a drink takes, against what is stated")),
        ("drinks.time", marked("Time that a drink takes, against what is stated")),
    )
)  # fmt: skip
"""How far the drinks of a draw are off what is stated for them, as a share of their own ±: all of them alike."""
CASE = Uncertain(
    id="model.case",
    name=marked("Heat capacity of the case, sheet metal and air"),
    value=1000.0,
    low=400.0,
    high=2500.0,
    dimension="heat_capacity",
    text="1000 J/K, 400 J/K to 2500 J/K",
    evidence="assumed",
    settles=marked("a probe in the case, logged from cold"),
    drawn="log-triangular",
)
"""One to five kilograms of sheet steel, as much of it as warms with the air; ten litres of air weigh twelve grams."""
PHASE = "model.phase"
"""When in its cycle a thermostat is met: nothing that anybody could state."""

SI = {
    dimension: next((unit for unit, scale in table.items() if scale == (1, 0)), "")
    for dimension, table in UNITS.items()
} | {"temperature": "K", "volume": "m³", "pressure": "Pa", "flow": "m³/s"}
"""The unit of each dimension in which the record keeps inputs."""
SEED = 7
"""Of eight that were tried the one whose ranges come nearest to those of 20,000 plain draws: ends off by at most 3 % of
the width, and 4 % from another 20,000, where the worst seed was off by 7 %. Like the width, it never changes again."""


def names() -> tuple[str, ...]:
    """Every name that an input of a machine in its room, of a kit or of the model can have."""
    return (*MACHINE, *SIZES, *SURROUNDINGS, SUPPLY.id, CASE.id, *(one.id for one in HABITS), *input_names(), PHASE)


def of_machine(machine: Machine, known: Catalogue) -> Iterator[Uncertain]:
    """The inputs of a machine in its room."""
    for name in MACHINE:
        fact = machine.fact(name)
        if isinstance(fact, Fact):
            yield of_fact(name, fact)
    for name in SIZES:
        fact = machine.fact(name)
        if isinstance(fact, Fact) and not fact.known:
            yield of_fact(name, fact)
    for name in SURROUNDINGS:
        yield of_fact(name, getattr(known.workshop, name))
    for one in (SUPPLY, CASE, *HABITS):
        yield replace(one, name=gettext(one.name), text=gettext(one.text), settles=gettext(str(one.settles)))


def recorded(one: Uncertain) -> Input:
    """What the record keeps of an input."""
    return Input(
        id=one.id,
        name=one.name,
        value=rounded(one.value),
        low=rounded(one.low),
        high=rounded(one.high),
        unit=next((unit for unit, scale in UNITS[one.dimension].items() if scale == (1, 0)), ""),
        text=one.text,
        evidence=one.evidence,
        source=one.source,
        settles=one.settles or None,
        place=one.place,
        stated=one.stated,
    )


@lru_cache(maxsize=1)
def _points(draws: int) -> NDArray[np.float64]:
    """The one sequence that all pairs share; nobody writes into it."""
    points = uniforms(WIDTH, draws, SEED) if draws else np.empty((0, WIDTH))
    points.flags.writeable = False
    return points


def draw(inputs: Iterable[Uncertain], draws: int) -> Values:
    """Row 0 as stated, then the draws; with no draws row 0 alone."""
    points = _points(draws)
    listed = list(inputs)
    columns = columns_of({*(one.id for one in listed), PHASE})
    drawn = spread(columns, {one.id: one.distribution for one in listed if one.varies}, points)
    rows = {
        one.id: np.concatenate(([one.value], drawn[one.id] if one.varies else np.full(draws, one.value)))
        for one in listed
    }
    return Values(rows, np.concatenate(([0.0], points[:, columns[PHASE]])))
