"""The outputs of a pair by their places in a record, each worked out by the second implementation."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any

import numpy as np
from iapws import IAPWS97

from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from tests.reference.outputs import Bench, Drawn, Shot
from tests.reference.plain import ZERO, Facts, Plant, plant
from tests.reference.resting import cooling, settled

JOULES_PER_WH = 3600.0
SIDES = ("without", "with")
Found = dict[str, float]


class Side:
    """One side of the comparison: a plant and all that is asked of it, worked out once."""

    def __init__(self, facts: Facts) -> None:
        self.facts, self.known = facts, facts.known
        self.plant = plant(facts)
        self.bench = Bench(self.plant)
        self.drinks = {one.id: _drawn(one) for one in self.known.drinks.drinks}
        self.main = self.drinks[self.known.workshop.main_drink]

    @cached_property
    def tried(self) -> dict[str, tuple[Shot, list[Shot], Any]]:
        """Every drink from rest."""
        return {name: self.bench.drink(drink) for name, drink in self.drinks.items()}

    @property
    def shot(self) -> Shot:
        """The main drink from rest."""
        return self.tried[self.known.workshop.main_drink][0]

    @cached_property
    def again(self) -> dict[str, Shot]:
        """The main drink again, by the record's places."""
        made = self.bench.again(self.tried[self.known.workshop.main_drink][2], self.main)
        places = {f"waiting.{wait:g}": one for wait, one in made.items()}
        return {**places, "after_flush": self.bench.after_flush(self.main)}

    @cached_property
    def warm_up(self) -> Found:
        """Times from cold, s."""
        made = dict(zip(("boiler_ready_s", "group_ready_s", "coil_settled_s"), self.bench.times, strict=True))
        if not self.plant.coil_water:
            del made["coil_settled_s"]
        if not self.plant.relay:
            made["shot_ready_s"] = self.bench.shot_ready(self.main, self.shot.sensor_drop)
        return made

    @cached_property
    def session(self) -> float:
        """J."""
        usage = self.known.workshop.usage
        return self.bench.session([self.drinks[name] for name in usage.drinks], usage.on_for.value)

    @cached_property
    def after_steam(self) -> tuple[float, float]:
        """s and m³."""
        return self.bench.after_steam(self.facts("steam.setpoint"))

    @cached_property
    def cooling(self) -> tuple[float, float]:
        """s."""
        return cooling(self.facts)


def _drawn(drink: Any) -> Drawn:
    return Drawn(drink.beverage.value + drink.puck_keeps.value + drink.vented.value, drink.time.value)


class Sides:
    """The sides of one variant's pairs; a plant that several kits leave alike is worked out once."""

    def __init__(self, known: Catalogue, machine: Machine) -> None:
        self.known, self.machine = known, machine
        self._sides: dict[Plant, Side] = {}

    def side(self, kit: Kit | None) -> Side:
        """The machine as it is, or with a kit."""
        made = Side(Facts(self.known, self.machine, kit))
        return self._sides.setdefault(made.plant, made)


def outputs(before: Side, after: Side) -> Found:
    """Every output that stepping through time gives, by its place, in the record's units."""
    sides = dict(zip(SIDES, (before, after), strict=True))
    made: Found = {}
    for name in before.drinks:
        made |= dict(_drink(name, sides))
    for where, side in sides.items():
        made |= {f"warm_up.{where}.{key}": value for key, value in side.warm_up.items()}
        made |= _energy(where, side)
        for place, shot in side.again.items():
            made[f"{place}.sensor_drop_k.{where}"] = shot.sensor_drop
            made[f"{place}.stability_band_k.{where}"] = shot.stability_band
        made[f"after_steam.wait_s.{where}"] = side.after_steam[0]
        made[f"after_steam.flush_ml.{where}"] = side.after_steam[1] * 1e6
        made[f"cool_down.{where}.touch_s"], made[f"cool_down.{where}.below_90_s"] = side.cooling
    return made | _added(before, after) | _with(before, after)


def _drink(name: str, sides: dict[str, Side]) -> Iterator[tuple[str, float]]:
    results = {where: side.tried[name][0] for where, side in sides.items()}
    for where, one in results.items():
        place, side = f"drinks.{name}.{where}", sides[where]
        yield f"{place}.sensor_drop_k", one.sensor_drop
        yield f"{place}.water_drop_k", one.water_drop
        yield f"{place}.outlet_fall_k", one.outlet_fall
        yield f"{place}.stability_band_k", one.stability_band
        yield f"{place}.mean_outlet_degc", one.mean_outlet - ZERO
        yield f"{place}.sensor_recovery_s", one.sensor_recovery
        if side.plant.coil_water:
            yield f"{place}.coil_recovery_s", one.coil_recovery
        if side.plant.relay:
            drops = [shot.sensor_drop for shot in side.tried[name][1]]
            yield f"{place}.sensor_drop_phases_k", one.sensor_drop
            yield f"{place}.sensor_drop_phases_k low", min(drops)
            yield f"{place}.sensor_drop_phases_k high", max(drops)
    one, other = results["without"], results["with"]
    yield f"drinks.{name}.drop_ratio.sensor", other.sensor_drop / one.sensor_drop
    yield f"drinks.{name}.drop_ratio.water", other.water_drop / one.water_drop
    yield f"drinks.{name}.drop_ratio.outlet", other.stability_band / one.stability_band


def _energy(where: str, side: Side) -> Found:
    shop, watt_hours = side.known.workshop, side.session / JOULES_PER_WH
    return {
        f"energy.{where}.idle_w": side.bench.idle.power,
        f"energy.{where}.session_wh": watt_hours,
        f"energy.{where}.day_wh": watt_hours * shop.usage.sessions_per_day,
        f"energy.{where}.session_cost": watt_hours * shop.tariff.per_kwh / 1e3,
    }


def _added(before: Side, after: Side) -> Found:
    def ready(side: Side) -> float:
        by_shot = not (before.plant.relay or after.plant.relay)
        return side.warm_up["shot_ready_s"] if by_shot else max(
            value for key, value in side.warm_up.items() if key != "shot_ready_s"
        )  # fmt: skip

    sessions = before.known.workshop.usage.sessions_per_day
    return {
        "warm_up.added_s": ready(after) - ready(before),
        "energy.day_ratio": after.session / before.session,
        "energy.idle_added_w": after.bench.idle.power - before.bench.idle.power,
        "energy.day_added_wh": (after.session - before.session) * sessions / JOULES_PER_WH,
    }


def _with(before: Side, after: Side) -> Found:
    idle, lowest = after.bench.idle, after.shot.lowest_sensor
    made = {"display.before_degc": idle.high - ZERO, "display.lowest_degc": lowest - ZERO}
    if not after.plant.relay:
        made["same_cup_degc"] = after.bench.same_cup(after.main, before.shot.mean_outlet) - ZERO
    steam = IAPWS97(T=after.facts("steam.setpoint"), x=1)
    made["after_steam.pressure_bar"] = (steam.P - 0.101325) * 10
    if after.plant.coil_water:
        hot = after.facts("steam.setpoint") + after.facts("steam.overshoot")
        made["coil.parked_degc"] = idle.parked - ZERO
        made["coil.preheated_ml"] = after.bench.preheated(after.main) * 1e6
        made["after_steam.coil_highest_degc"] = float(settled(after.plant, hot)[0][-1]) - ZERO
    return {name: float(np.asarray(value)) for name, value in made.items()}
