"""The uncertain inputs of a pair: which facts take part, how they are drawn, and what the record says of them.

Every input has its column in one fixed sequence, whether it takes part or not. So the runs without and with a kit
see the same boiler in the same draw, and their ratio is far tighter than either.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from guidegen.heat.network import Rows
from guidegen.heat.statistics import Distribution, Normal, Rectangular, uniforms
from guidegen.language import gettext, marked
from guidegen.record import rounded
from guidegen.record.stated import Input
from guidegen.trade import Catalogue
from guidegen.trade.kit import AddMass, FeedCoil, Kit, ScaleLoss, SetControl, SetHeater
from guidegen.trade.machine import Control, Machine, PidControl
from guidegen.unit_table import UNITS
from guidegen.workshop.facts import Evidence, Fact

MACHINE = (
    "boiler.mass", "boiler.water", "boiler.to_water", "heater.power", "heater.heat_capacity", "heater.to_boiler",
    "heater.to_water", "group.mass", "group.to_boiler", "group.to_water", "group.to_room", "losses.boiler_to_case",
    "losses.case_temperature", "mixing", "sensor.lag", "sensor.metal_share", "control.setpoint", "control.kp",
    "control.ki", "control.kd", "control.opens", "control.closes", "control.lag", "water_path.bypass",
)  # fmt: skip
"""Facts of the machine that the network is made of."""

SURROUNDINGS = ("room", "feed")
KIT = (
    "kit.tube.outside", "kit.tube.wall", "kit.holds", "kit.tails", "kit.fittings_mass", "kit.contact", "kit.to_case",
    "kit.shields", "kit.control.setpoint", "kit.control.kp", "kit.control.ki", "kit.control.kd", "kit.control.opens",
    "kit.control.closes", "kit.control.lag", "kit.mass", "kit.by", "kit.power", "kit.heat_capacity", "kit.to_boiler",
)  # fmt: skip
"""Facts of a kit's effects. Two effects of one kind in one kit would share a column; no kit has that."""
STEAM = ("steam.setpoint", "steam.overshoot")
MODEL = ("model.inside", "model.phase")
"""What the model itself does not know: heat transfer inside the coil, and when in its cycle a thermostat is met."""

COLUMNS = MACHINE + SURROUNDINGS + KIT + MODEL + STEAM
SI = {
    dimension: next((unit for unit, scale in table.items() if scale == (1, 0)), "")
    for dimension, table in UNITS.items()
} | {"temperature": "K", "volume": "m³", "pressure": "Pa", "flow": "m³/s"}
"""The unit of each dimension in which the record keeps inputs."""
SEED = 20260131
COVERAGE_FACTOR = 1.96
"""A measured ± is read as a 95 % interval of a normal distribution; every other ± as equally likely all over."""


@dataclass(frozen=True)
class Uncertain:
    """One input: where it stands, what it is called, its stated value and ends in SI, and its evidence."""

    id: str
    name: str
    value: float
    low: float
    high: float
    dimension: str
    text: str
    evidence: Evidence
    source: str | None = None
    settles: str | None = None
    place: str = ""
    stated: bool = True

    @property
    def varies(self) -> bool:
        """Whether there is anything to draw."""
        return self.high > self.low

    @property
    def distribution(self) -> Distribution:
        """How it is drawn."""
        if self.evidence == "measured":
            return Normal(self.value, (self.high - self.low) / 2 / COVERAGE_FACTOR)
        return Rectangular(self.low, self.high)

    def record(self) -> Input:
        """What the record keeps."""
        return Input(
            id=self.id,
            name=self.name,
            value=rounded(self.value),
            low=rounded(self.low),
            high=rounded(self.high),
            unit=next(
                (unit for unit, (factor, offset) in UNITS[self.dimension].items() if (factor, offset) == (1, 0)), ""
            ),
            text=self.text,
            evidence=self.evidence,
            source=self.source,
            settles=self.settles or None,
            place=self.place,
            stated=self.stated,
        )


def of_fact(name: str, fact: Fact) -> Uncertain:
    """An input from a fact of the catalogue."""
    return Uncertain(
        id=name,
        name=gettext(fact.title) or name,
        value=fact.value,
        low=fact.low,
        high=fact.high,
        dimension=fact.dimension,
        text=fact.text if fact.known else gettext("not known; {range} stands in").format(range=_range_text(fact)),
        evidence=fact.evidence if fact.known else "assumed",
        source=fact.source,
        settles=gettext(fact.settles),
        place=str(fact.place) if fact.place else "",
        stated=fact.known or bool(fact.options),
    )


def _range_text(fact: Fact) -> str:
    if fact.spec and fact.spec.plausible:
        return gettext("{low} to {high}").format(low=fact.spec.plausible[0], high=fact.spec.plausible[1])
    return gettext(" or ").join(option.text for option in fact.options) or fact.text


def of_machine(machine: Machine, known: Catalogue) -> Iterator[Uncertain]:
    """The inputs of a machine in its room."""
    for name in MACHINE + STEAM:
        fact = machine.fact(name)
        if isinstance(fact, Fact):
            yield of_fact(name, fact)
    yield of_fact("room", known.workshop.room)
    yield of_fact("feed", known.workshop.feed)


def of_kit(kit: Kit) -> Iterator[Uncertain]:
    """The inputs that a kit's effects bring."""
    for effect in kit.effects:
        match effect:
            case FeedCoil():
                yield of_fact("kit.tube.outside", effect.tube.outside)
                yield of_fact("kit.tube.wall", effect.tube.wall)
                for name in ("holds", "tails", "fittings_mass", "contact", "to_case", "shields"):
                    yield of_fact(f"kit.{name}", getattr(effect, name))
                yield replace(INSIDE, name=gettext(INSIDE.name), settles=gettext(HOW))
            case SetControl(control=control):
                yield from of_control(control)
            case AddMass():
                yield of_fact("kit.mass", effect.mass)
            case ScaleLoss():
                yield of_fact("kit.by", effect.by)
            case SetHeater():
                for name in ("power", "heat_capacity", "to_boiler"):
                    yield of_fact(f"kit.{name}", getattr(effect, name))
            case _:
                pass


def of_control(control: Control) -> Iterator[Uncertain]:
    """The inputs of a control that a kit puts in."""
    names = ("setpoint", "kp", "ki", "kd") if isinstance(control, PidControl) else ("opens", "closes", "lag")
    for name in names:
        yield of_fact(f"kit.control.{name}", getattr(control, name))


HOW = marked("a long draw with the coil's outlet logged")
INSIDE = Uncertain(
    id="model.inside",
    name=marked("Heat from tube to water, against the published correlations"),
    value=1.0,
    low=0.7,
    high=1.5,
    dimension="ratio",
    text="100 %, 70 % to 150 %",
    evidence="assumed",
    settles=HOW,
)
"""Correlations for coiled tubes differ by a third, and water at rest is stirred by its own warmth."""


@dataclass(frozen=True)
class Values:
    """Values of the inputs, each of shape (n,): row 0 as stated, the others drawn."""

    rows: Mapping[str, Rows]
    phase: Rows

    def __getitem__(self, name: str) -> Rows:
        return self.rows[name]


def draw(inputs: Iterable[Uncertain], draws: int) -> Values:
    """Row 0 as stated, then the draws; with no draws row 0 alone."""
    points = uniforms(COLUMNS, draws, SEED) if draws else np.empty((0, len(COLUMNS)))
    column = {name: points[:, i] for i, name in enumerate(COLUMNS)}
    rows = {}
    for one in inputs:
        drawn = np.asarray(one.distribution.at(column[one.id])) if one.varies else np.full(draws, one.value)
        rows[one.id] = np.concatenate(([one.value], drawn))
    return Values(rows, np.concatenate(([0.0], column["model.phase"])))
