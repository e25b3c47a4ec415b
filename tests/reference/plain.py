"""Machines and kits as plain numbers, from the catalogue's facts: nothing here is worked out by the package.

Water is that of the library `iapws`; metals, the winding of a coil and the heat into its water are written again from
the methods page.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

from iapws import IAPWS97
from scipy.special import jn_zeros

from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from tests.reference.skins import BOILER_TALL, CASE_TALL, GRAY, GRAY_CASE, TUBE_WIDE, area, stated_state
from tests.reference.winding import skin, wound

ZERO = 273.15
METALS = {
    "brass": (8530.0, 380.0, 110.0), "aluminium": (2702.0, 903.0, 237.0), "copper": (8933.0, 385.0, 401.0),
    "stainless": (7900.0, 477.0, 14.9),
}  # fmt: skip
"""kg/m³, J/(kg K), W/(m K): Incropera, table A.1, at 300 K."""
WATER = round((IAPWS97(T=373.15, x=0).h - IAPWS97(T=293.15, P=0.101325).h) / 80.0, 2) * 1e3
"""J/(kg K): the mean between 20 and 100 °C."""
TANK_WATER = IAPWS97(T=ZERO + 20.0, P=0.101325).rho
STILL = float(jn_zeros(0, 1)[0] ** 2)
"""The Nusselt number of still water in a tube."""
PRESSURE, HALF_WARM, DRINK_FLOW = 0.3, ZERO + 50.0, 1.8e-6
"""MPa in boiler and coil; K and m³/s at which heat transfer in the coil is taken."""

MOST, LEAST = "high", "low"
SLOW = {
    "boiler.mass": MOST, "boiler.water": MOST, "boiler.to_water": LEAST, "heater.heat_capacity": MOST,
    "heater.to_boiler": LEAST, "heater.to_water": LEAST, "group.mass": MOST, "group.to_boiler": MOST,
    "group.to_room": LEAST, "losses.boiler_to_case": LEAST, "losses.case_temperature": MOST, "sensor.metal_share": MOST,
    "control.setpoint": MOST, "control.opens": MOST, "control.closes": MOST, "room": MOST,
    "coil.tube.outside": LEAST, "coil.tube.wall": MOST, "coil.holds": MOST, "coil.fittings_mass": MOST,
    "coil.tails.inlet": MOST, "coil.tails.outlet": MOST,
    "coil.contact": MOST, "coil.to_case": LEAST, "coil.shields": MOST, "inside": LEAST, "case": MOST,
    "own.setpoint": LEAST, "own.opens": LEAST, "own.closes": LEAST,
}  # fmt: skip
"""A guess at the end of each fact at which a machine cools slowest: heavy, hot and well kept. The slowest is looked for
from there; what is not named has no part in cooling."""
UNMEASURED = {
    "coil.contact": {"clamped": (0.16, 0.6, 3.2), "pasted": (1.0, 4.0, 15.0)},
    "coil.to_case": (0.15, 0.35, 0.7),
    "coil.shields": (0.5, 0.8, 1.0),
}  # fmt: skip
"""What stands in where nobody measured a coil: least, stated, most; W/(m K) and shares."""
INSIDE = {"value": 1.0, "low": 0.7, "high": 1.5}
"""The correlations' share that the methods page states."""
CASE_HOLDS = {"value": 1000.0, "low": 400.0, "high": 2500.0}
"""J/K of a case that nobody weighed, as the methods page states it."""


class Plant(NamedTuple):
    """A machine in W, J/K, W/K, m², K and s. Of a relay `setpoint` is where it opens, `closes` where it closes.

    What gives heat to air has an area, such that it loses what is stated in the stated state, and an emissivity.
    """

    heater_power: float
    element: float
    element_boiler: float
    element_water: float
    boiler: float
    boiler_water: float
    boiler_group: float
    boiler_area: float
    water: float
    mixed: int
    group: float
    group_water: float
    group_area: float
    lag: float
    metal_share: float
    case: float
    case_area: float
    boiler_gray: float
    group_gray: float
    room: float
    feed: float
    relay: bool
    setpoint: float
    closes: float
    kp: float
    ki: float
    kd: float
    coil_water: float = 0.0
    coil_metal: float = 0.0
    coil_boiler: float = 0.0
    coil_area: float = 0.0
    coil_gray: float = 0.0
    inside_rest: float = 0.0
    inside_flow: float = 0.0
    along: float = 0.0
    bypass: float = 0.0

    @property
    def middle(self) -> float:
        """What the control holds, K."""
        return (self.setpoint + self.closes) / 2 if self.relay else self.setpoint


class Guessed(NamedTuple):
    """A number and its ends that stand in."""

    low: float
    value: float
    high: float


class Facts:
    """The numbers of one machine, one kit's effects and one workshop, each at an end of its range or as stated."""

    def __init__(
        self,
        known: Catalogue,
        machine: Machine,
        kit: Kit | None,
        ends: Mapping[str, str] | None = None,
        at: str = "value",
    ) -> None:
        self.known, self.machine, self.kit, self.ends, self.at = known, machine, kit, ends or {}, at

    def __call__(self, name: str) -> float:
        """The number of a fact, in SI."""
        return float(getattr(self.fact(name), self.end(name)))

    def end(self, name: str) -> str:
        """At which end of its range a fact is taken."""
        return self.ends.get(name, self.at)

    def moved(self, name: str, end: str) -> Facts:
        """The same with one fact at another end."""
        return Facts(self.known, self.machine, self.kit, {**self.ends, name: end}, self.at)

    @property
    def weighed(self) -> Facts:
        """Those that decide how much water weighs: as stated, or where ends are tried all low ones."""
        return Facts(self.known, self.machine, self.kit, {}, "low") if self.ends else self

    def fact(self, name: str) -> Any:
        """The fact of a name: of the workshop, of the kit's coil or control, else of the machine."""
        if name in ("room", "feed"):
            return getattr(self.known.workshop, name)
        first, _, rest = name.partition(".")
        if first == "own":
            # The machine's own control, which its losses are stated under, where the kit brings another.
            return self.machine.fact(f"control.{rest}") if self.effect("set_control") else None
        effect = self.effect("feed_coil" if first == "coil" else "set_control")
        if effect is not None and first in ("coil", "control"):
            found: Any = effect if first == "coil" else effect.control
            for part in rest.split("."):
                found = getattr(found, part, None)
            if found is None and name in UNMEASURED:
                ends = UNMEASURED[name]
                return Guessed(*(ends[effect.joined.value] if isinstance(ends, dict) else ends))
            return found
        return self.machine.fact(name)

    def effect(self, kind: str) -> Any:
        """The kit's effect of a kind, or None; kinds that are not written again here are refused."""
        effects = self.kit.effects if self.kit is not None else ()
        assert {one.kind for one in effects} <= {"feed_coil", "set_control", "none"}
        return next((one for one in effects if one.kind == kind), None)

    def slow(self) -> Facts:
        """A machine that cools slowly."""
        named = ("inside", "case")
        ends = {name: end for name, end in SLOW.items() if name in named or hasattr(self.fact(name), end)}
        return Facts(self.known, self.machine, self.kit, ends)

    @property
    def inside(self) -> float:
        """The share of the correlations."""
        return INSIDE[self.end("inside")]

    @property
    def case(self) -> float:
        """What the case holds, J/K."""
        return CASE_HOLDS[self.end("case")]

    @property
    def stated(self) -> tuple[float, float, float]:
        """Boiler and group where the machine's losses are stated, K, and what its case then loses, W/K."""
        ends = self.ends
        if self.effect("set_control"):
            ends = {name: end for name, end in ends.items() if not name.startswith("control.")}
            ends = {name.replace("own.", "control."): end for name, end in ends.items()}
        alone = Facts(self.known, self.machine, None, ends, self.at)
        names = ("sensor.metal_share", "heater.to_boiler", "heater.to_water", "boiler.to_water", "group.to_boiler",
                 "losses.boiler_to_case", "group.to_room", "losses.case_temperature", "room")  # fmt: skip
        return stated_state(held(alone), *(alone(name) for name in names))


@cache
def density(temperature: float) -> float:
    """Of liquid water, kg/m³, under the pump's least pressure."""
    return float(IAPWS97(T=temperature, P=PRESSURE).rho)


@cache
def half_warm() -> IAPWS97:
    """Water in the coil, for heat transfer."""
    return IAPWS97(T=HALF_WARM, P=0.101325)


def held(facts: Facts) -> float:
    """What the control holds, K, of a thermostat the middle; the kit's where it brings one."""
    effect = facts.effect("set_control")
    control = effect.control if effect is not None else facts.machine.control
    if control.kind == "thermostat":
        return (facts("control.opens") + facts("control.closes")) / 2
    return facts("control.setpoint")


def plant(facts: Facts) -> Plant:
    """A machine, with the effects of a kit if there is one."""
    control = facts.effect("set_control").control if facts.effect("set_control") else facts.machine.control
    relay = control.kind == "thermostat"
    tuning = (facts("control.opens"), facts("control.closes"), 0.0, 0.0, 0.0) if relay else (
        facts("control.setpoint"), 0.0, facts("control.kp"), facts("control.ki"), facts("control.kd")
    )  # fmt: skip
    old = Facts(facts.known, facts.machine, None, {}, facts.weighed.at)
    hot, iron, out = facts.stated
    air, room = facts("losses.case_temperature"), facts("room")
    gray, grayer = GRAY[facts.machine.boiler.material.value], GRAY[facts.machine.group.material.value]
    made = Plant(
        facts("heater.power"), facts("heater.heat_capacity"), facts("heater.to_boiler"), facts("heater.to_water"),
        facts("boiler.mass") * METALS[facts.machine.boiler.material.value][1], facts("boiler.to_water"),
        facts("group.to_boiler"), area(facts("losses.boiler_to_case"), hot, air, BOILER_TALL, False, gray),
        facts("boiler.water") * density(held(old)) * WATER, round(facts("mixing")),
        facts("group.mass") * METALS[facts.machine.group.material.value][1], facts("group.to_water"),
        area(facts("group.to_room"), iron, room, BOILER_TALL, False, grayer),
        facts("control.lag") if relay else facts("sensor.lag"), facts("sensor.metal_share"),
        facts.case, area(out, air, room, CASE_TALL, False, GRAY_CASE), gray, grayer,
        room, facts("feed"), relay, *tuning,
    )  # fmt: skip
    return with_coil(made, facts) if facts.effect("feed_coil") else made


def with_coil(bare: Plant, facts: Facts) -> Plant:
    """The same with a coil of tube round its boiler."""
    outside, wall, coil = facts("coil.tube.outside"), facts("coil.tube.wall"), facts.effect("feed_coil")
    heavy, warm, leads = METALS[coil.tube.material.value]
    metal = math.pi / 4 * (outside**2 - (outside - 2 * wall) ** 2)
    length = of_holds(facts)
    touching, free, bend = wound(coil, facts.machine)
    touches = touches_of(facts, touching)
    contact, to_case = facts("coil.contact") * touches, facts("coil.to_case") * free_of(facts, free)
    then = facts.weighed
    stays, goes = then("coil.contact") * touches_of(then, touching), then("coil.to_case") * free_of(then, free)
    parked = (stays * held(then) + goes * then("losses.case_temperature")) / (stays + goes)
    hot, air, gray = facts.stated[0], facts("losses.case_temperature"), GRAY[coil.tube.material.value]
    as_stated = (contact * hot + to_case * air) / (contact + to_case)
    water = half_warm()
    reynolds = 4 * DRINK_FLOW * water.rho / (math.pi * (outside - 2 * wall) * water.mu)
    ratio = (outside - 2 * wall) / bend
    nusselt = 3.66 + 0.08 * (1 + 0.8 * ratio**0.9) * reynolds ** (0.5 + 0.2903 * ratio**0.194) * water.Prandt ** (1 / 3)
    returns = facts.machine.water_path.relief_branch.value == "downstream"
    return bare._replace(
        boiler_area=bare.boiler_area * (1 - facts("coil.shields") * min(1.0, touches * outside / skin(facts.machine))),
        coil_water=facts("coil.holds") * density(parked) * WATER,
        coil_metal=metal * length * heavy * warm + facts("coil.fittings_mass") * METALS["brass"][1],
        coil_boiler=contact,
        coil_area=area(to_case, as_stated, air, TUBE_WIDE, True, gray),
        coil_gray=gray,
        inside_rest=facts.inside * STILL * math.pi * water.k * length,
        inside_flow=facts.inside * nusselt * math.pi * water.k * length,
        along=leads * metal / length,
        bypass=facts("water_path.bypass") * TANK_WATER * WATER if returns else 0.0,
    )


def touches_of(facts: Facts, touching: float) -> float:
    """The tube that touches, m."""
    return touching * (of_holds(facts) - facts("coil.tails.inlet") - facts("coil.tails.outlet"))


def free_of(facts: Facts, free: float) -> float:
    """The tube that is free all round, or as much of it that is free by half, m."""
    tails = facts("coil.tails.inlet") + facts("coil.tails.outlet")
    return tails + free * (of_holds(facts) - tails)


def of_holds(facts: Facts) -> float:
    """The whole tube, m."""
    return facts("coil.holds") / (math.pi / 4 * (facts("coil.tube.outside") - 2 * facts("coil.tube.wall")) ** 2)
