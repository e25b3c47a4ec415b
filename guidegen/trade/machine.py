"""A machine variant: data about its parts. `physics` turns them into a thermal network.

Ranges in the specs are engineering judgement for small machines with one boiler; they serve to ask "is that
right?" and to stand in, marked as assumed, where nobody has measured.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Annotated, Literal, Self

from pydantic import Field, PrivateAttr, create_model

from guidegen.trade.boiler import Boiler
from guidegen.trade.positions import Position, Positions
from guidegen.workshop.base import Document, Id, Line, Model, Prose
from guidegen.workshop.fields import (
    Choice,
    Choices,
    Conductance,
    Count,
    DerivativeGain,
    Evidence,
    Fact,
    Flow,
    HeatCapacity,
    IntegralGain,
    Length,
    Mass,
    Material,
    Power,
    Pressure,
    Ratio,
    Spec,
    Temperature,
    TemperatureDifference,
    Time,
    Voltage,
    Words,
)  # fmt: skip
from guidegen.workshop.inventory import Inventory
from guidegen.workshop.looked_at import LookedAt
from guidegen.workshop.own_facts import OwnValues, WrittenFact, values_of

Status = Literal["reported", "seen", "measured", "built"]


class Years(Model):
    """First and last year of making; without a last year it is still made, or nobody knows."""

    from_: int = Field(alias="from", ge=1850, le=2100)
    to: int | None = Field(None, ge=1850, le=2100)


class WrittenMark(Model):
    """An outside mark that distinguishes this variant from its neighbours; where nobody looked, `see` is unknown.

    What is seen on the rating plate itself is called `plate`: it is asked before all other marks.
    """

    id: Id
    look: Line
    see: Line
    at: Position | None = None


class Mains(Model):
    """What the machine is fed with."""

    voltage: Annotated[Voltage, Spec("Mains voltage", settles="read the rating plate")]
    connection: Annotated[
        Choice, Choices(("corded", "hard-wired")), Spec("Connection", settles="look for a plug", stand_in="hard-wired")
    ]
    lead_length: Annotated[Length, Spec("Length of the lead", ("0.8 m", "5 m"), "measure the lead")]


class Heater(Model):
    """The heating element."""

    kind: Annotated[
        Choice,
        Choices(("cast-in", "sheath", "band")),
        Spec("Kind of heater", settles="look under the lid", stand_in="cast-in"),
    ]
    power: Annotated[Power, Spec("Heater power", ("700 W", "1500 W"), "power meter while heating")]
    heat_capacity: Annotated[
        HeatCapacity, Spec("Heat capacity of the element", ("30 J/K", "120 J/K"), "a cold start, logged at 1 Hz")
    ]
    to_boiler: Annotated[
        Conductance, Spec("Element to boiler metal", ("15 W/K", "80 W/K"), "a cold start, logged at 1 Hz")
    ]
    to_water: Annotated[Conductance, Spec("Element to water", ("0 W/K", "40 W/K"), "a cold start, logged at 1 Hz")]
    terminal_distance: Annotated[
        Length,
        Spec("Boiler wall to the nearest live terminal", ("10 mm", "80 mm"), "ruler, unplugged and cold", vital=True),
    ]
    leads: Annotated[Words, Spec("Heater leads", settles="look under the lid", stand_in="not recorded")]


class Group(Model):
    """The group: what the water passes on its way to the cup."""

    material: Annotated[
        Material, Spec("Group material", settles="magnet, colour, weight", stand_in="brass", vital=True)
    ]
    mass: Annotated[Mass, Spec("Group", ("0.95 kg", "1.35 kg"), "weigh the group")]
    to_boiler: Annotated[Conductance, Spec("Boiler to group", ("0.7 W/K", "5 W/K"), "a logged cold start")]
    to_water: Annotated[Conductance, Spec("Group to passing water", ("2 W/K", "15 W/K"), "an outlet run")]
    to_room: Annotated[Conductance, Spec("Group to room", ("0.25 W/K", "0.8 W/K"), "a logged cooling")]


class Losses(Model):
    """Heat that leaves through the case, as it is in the warm machine at rest, without a kit.

    What the case loses to the room follows from both; how losses change with temperature, from published correlations.
    """

    boiler_to_case: Annotated[
        Conductance, Spec("Boiler to the case's air", ("0.15 W/K", "0.5 W/K"), "idle watts on a power meter")
    ]
    case_temperature: Annotated[Temperature, Spec("Air in the case", ("28 °C", "50 °C"), "a probe in the case at idle")]


class Sensor(Model):
    """What the controller sees."""

    kind: Annotated[
        Choice,
        Choices(("ntc", "thermocouple", "thermostat", "pt100")),
        Spec("Kind of sensor", settles="look under the lid", stand_in="thermostat"),
    ]
    place: Annotated[Words, Spec("Place of the sensor", settles="look under the lid", stand_in="boiler top")]
    lag: Annotated[Time, Spec("Lag of the sensor", ("1 s", "8 s"), "a logged step")]
    metal_share: Annotated[Ratio, Spec("Share of metal in what it sees", ("0 %", "100 %"), "a shot logged at 1 Hz")]


class PidControl(Model):
    """Electronic control."""

    kind: Literal["pid"]
    setpoint: Annotated[Temperature, Spec("Brew setpoint", ("90 °C", "120 °C"), "read the display")]
    kp: Annotated[Conductance, Spec("Proportional gain", ("5 W/K", "200 W/K"), "read the controller")]
    ki: Annotated[IntegralGain, Spec("Integral gain", ("0 W/(K·s)", "5 W/(K·s)"), "read the controller")]
    kd: Annotated[DerivativeGain, Spec("Derivative gain", ("0 W·s/K", "600 W·s/K"), "read the controller")]


class ThermostatControl(Model):
    """A snap-action thermostat: opens when hot, closes when it has cooled by its differential."""

    kind: Literal["thermostat"]
    opens: Annotated[Temperature, Spec("Thermostat opens", ("90 °C", "125 °C"), "a logged idle hour")]
    closes: Annotated[Temperature, Spec("Thermostat closes", ("80 °C", "118 °C"), "a logged idle hour")]
    lag: Annotated[Time, Spec("Lag of the thermostat", ("1 s", "30 s"), "a logged idle hour")]


Control = Annotated[PidControl | ThermostatControl, Field(discriminator="kind")]


class SafetyDevice(Model):
    """A thermostat, fuse or valve. Its class says whether it controls or protects."""

    id: Id
    name: Line
    kind: Literal["thermostat", "thermal-fuse", "relief-valve"]
    class_: Literal["control", "protective"] = Field(alias="class")
    rating: Annotated[Words, Spec("Rating", settles="read the body of the device")]
    seat: Annotated[Words, Spec("Seat", settles="look under the lid")]


class Inlet(Model):
    """Where the feed water enters the boiler."""

    thread: Annotated[Words, Spec("Inlet thread", settles="thread gauge", vital=True)]
    projection: Annotated[
        Length, Spec("How far the inlet fitting sticks out", ("5 mm", "60 mm"), "ruler from the wall")
    ]
    fitting: Annotated[Choice, Choices(("straight", "banjo")), Spec("Inlet fitting", settles="look at the inlet")]


class WaterPath(Model):
    """From the pump to the boiler."""

    relief_branch: Annotated[
        Choice,
        Choices(("upstream", "downstream")),
        Spec("Relief branch, seen from where a coil goes", settles="follow the hose", stand_in="upstream", vital=True),
    ]
    relief_opens: Annotated[Pressure, Spec("Relief valve opens", ("7 bar", "16 bar"), "gauge, blind basket")]
    bypass: Annotated[Flow, Spec("Flow through the relief branch in a shot", ("0 ml/s", "4 ml/s"), "jug, watch")]
    check_valve: Annotated[
        Choice,
        Choices(("none", "before-relief", "after-relief")),
        Spec("Check valve", settles="follow the hose", stand_in="after-relief", vital=True),
    ]
    inlet: Inlet
    pump: Annotated[Words, Spec("Pump", settles="read the pump's plate", stand_in="vibration pump")]
    pump_pressure: Annotated[
        Pressure, Spec("Greatest pressure of the pump", ("9 bar", "20 bar"), "read the pump's data sheet")
    ]


class Steam(Model):
    """The hottest that the boiler gets in use."""

    setpoint: Annotated[Temperature, Spec("Steam setpoint", ("120 °C", "145 °C"), "a probe on the boiler")]
    overshoot: Annotated[TemperatureDifference, Spec("Overshoot above it", ("0 K", "20 K"), "a probe on the boiler")]


class MachineData(Document):
    """A family joined with one of its variants, complete."""

    name: Line
    invented: bool = False
    summary: Prose
    years: Years
    evidence: Evidence = "assumed"
    source: str | None = None
    status: Status
    based_on: Id | None = None
    marks: tuple[WrittenMark, ...]
    mains: Mains
    boiler: Boiler
    heater: Heater
    group: Group
    losses: Losses
    mixing: Annotated[Count, Spec("Cells that stir the boiler", ("1", "10"), "an outlet run")]
    sensor: Sensor
    control: Control
    safety_devices: tuple[SafetyDevice, ...]
    water_path: WaterPath
    steam: Steam
    inventory: Inventory = Field(default_factory=dict)
    positions: Positions = Field(default_factory=dict)
    own: OwnValues = Field(default_factory=OwnValues)
    looked_at: dict[Line, LookedAt] = Field(default_factory=dict)


class Machine(MachineData):
    """A variant with its place in the catalogue."""

    _id: str = ""
    _family: str = ""
    _family_name: str = ""
    _seen: Mapping[str, Fact | Choice] = PrivateAttr(default_factory=dict)

    @property
    def id(self) -> str:
        """Return `<family>-<file stem>`."""
        return self._id

    @property
    def family(self) -> str:
        """Return the id of the family."""
        return self._family

    @property
    def family_name(self) -> str:
        """Return the name of the family."""
        return self._family_name

    def fact(self, path: str) -> Fact | Choice | None:
        """Return the fact behind a dotted name; None where this machine has none, as a setpoint without a PID."""
        from guidegen.trade.paths import fact_of

        return self._seen[path] if path in self._seen else fact_of(self, path)

    def seen(self, facts: Mapping[str, Fact | Choice]) -> Self:
        """Return the same machine with other facts behind some names: as a kit sees it once its size is known."""
        made = self.model_copy()
        made._seen = dict(facts)
        return made


@lru_cache(maxsize=16)
def machine_with(facts: tuple[WrittenFact, ...] | None) -> type[Machine]:
    """Return the model of machines that may state these facts of a workshop's own; the same for the same facts.

    None stands for facts that nobody can read.
    """
    if facts == ():
        return Machine
    values = values_of(facts)
    return create_model("Machine", __base__=Machine, own=(values, Field(default_factory=values)))
