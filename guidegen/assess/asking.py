"""From the catalogue to the question of a pair: networks drawn from its facts, and what is asked of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from guidegen.assess import inputs, setpoints
from guidegen.assess.network_of import sides as sides_of
from guidegen.assess.question import PairQuestion, Portion, Served
from guidegen.assess.slowest import slowest as slowest_of
from guidegen.heat.network import Network
from guidegen.heat.pull import Pull, Usage
from guidegen.trade import Catalogue
from guidegen.trade.effects.base import Fitted
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.shop import WrittenDrink
from guidegen.trade.uncertain import Uncertain, Values
from guidegen.trade.water_path import relief_reached

MOST = 0.9
"""A drink varies by this share of itself at most, whatever ± is stated: it takes something, and some time."""


def served(known: Catalogue) -> Served:
    """What a workshop asks of every machine."""
    usage, drinks, worth = known.workshop.usage, known.drinks.drinks, known.workshop.worth
    spacing = usage.on_for.value / (len(usage.drinks) + 1)
    starts = tuple(spacing * (i + 1) for i in range(len(usage.drinks)))
    withdrawn = {one.id: one.beverage.value + one.puck_keeps.value + one.vented.value for one in drinks}
    return Served(
        pulls={one.id: _pull(one, withdrawn[one.id]) for one in drinks},
        beverages={one.id: one.beverage.value for one in drinks},
        main=known.workshop.main_drink,
        usage=Usage(usage.drinks, starts, usage.on_for.value),
        sessions_per_day=usage.sessions_per_day,
        per_kwh=known.workshop.tariff.per_kwh,
        worth={"felt_k": worth.felt, "clear_k": worth.clear, "clear_ratio": worth.clear_ratio}
        | {name: getattr(worth, name) for name in ("worse_from", "clear_from", "likely_from")},
    )


def _pull(drink: WrittenDrink, withdrawn: float) -> Pull:
    """What a drink takes, with its ±: those of its parts do not depend on each other (JCGM 100, 5.1.2)."""
    parts = (drink.beverage, drink.puck_keeps, drink.vented)
    spread = math.hypot(*(one.plus_minus for one in parts))
    time = drink.time
    return Pull(withdrawn, time.value, min(spread, MOST * withdrawn), min(time.plus_minus, MOST * time.value))


def question(
    machine: Machine, kit: Kit, listed: list[Uncertain], asked: Served, draws: int, first: Sequence[Kit] = ()
) -> tuple[PairQuestion, Fitted]:
    """The question of one pair, its uncertain inputs drawn so many times beside the stated values.

    `first` are the kits that are on the machine before. `listed` has their inputs too.
    With it comes what the question was put from, for words: the names of parts, the coil that the protrusions meet.
    """
    values = inputs.draw(listed, draws)
    before, fitted = sides_of(machine, first, kit, values)
    plain, there = before.network, {one.id for one in before.parts if one.kit}
    coil = next((one.coil for one in (*first, kit) if one.coil is not None), None)
    made = PairQuestion(
        values=values.rows,
        phase=values.phase,
        habit=np.column_stack([values[one.id] for one in inputs.HABITS]),
        plain=supplied(plain, values),
        fitted=supplied(fitted.network, values),
        shares=tuple(
            Portion(one.id, one.kit and one.id not in there, one.mass, one.heat_capacity, one.id in there)
            for one in fitted.parts
        ),
        wound=fitted.wound,
        tube_length=fitted.tube_length,
        tube=coil.tube.material.value if coil is not None else None,
        relief_reached=relief_reached(machine),
        slowest=slowest(machine, kit, listed, first),
        served=asked,
        mixing=(machine.mixing.low, machine.mixing.high),
        setpoint_changes=setpoints.changes(machine, (plain, fitted.network)),
        hottest=machine.steam.setpoint.high + machine.steam.overshoot.high,
    )
    return made, fitted


def supplied(network: Network, values: Values) -> Network:
    """The network at the mains voltage that it is given: its heater's power goes with the square of that."""
    return replace(network, heater_power=network.heater_power * values[inputs.SUPPLY.id] ** 2)


def slowest(machine: Machine, kit: Kit, listed: list[Uncertain], first: Sequence[Kit] = ()) -> tuple[Network, Network]:
    """The machine without and with the kit where the ends of its inputs let it cool slowest."""

    def sides(values: Values) -> tuple[Network, Network]:
        before, after = sides_of(machine, first, kit, values)
        return before.network, after.network

    return slowest_of(listed, sides)
