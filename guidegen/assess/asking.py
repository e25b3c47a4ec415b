"""From the catalogue to the question of a pair: networks drawn from its facts, and what is asked of them."""

from __future__ import annotations

from dataclasses import replace

from guidegen.assess import inputs, setpoints
from guidegen.assess.network_of import with_kit, without_kit
from guidegen.assess.question import PairQuestion, Portion, Served
from guidegen.heat.network import Network
from guidegen.heat.pull import Pull, Usage
from guidegen.trade import Catalogue
from guidegen.trade.effects.base import Fitted
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain, Values
from guidegen.trade.water_path import relief_reached


def served(known: Catalogue) -> Served:
    """What a workshop asks of every machine."""
    usage, drinks = known.workshop.usage, known.drinks.drinks
    spacing = usage.on_for.value / (len(usage.drinks) + 1)
    starts = tuple(spacing * (i + 1) for i in range(len(usage.drinks)))
    withdrawn = {one.id: one.beverage.value + one.puck_keeps.value + one.vented.value for one in drinks}
    return Served(
        pulls={one.id: Pull(withdrawn[one.id], one.time.value) for one in drinks},
        beverages={one.id: one.beverage.value for one in drinks},
        main=known.workshop.main_drink,
        usage=Usage(usage.drinks, starts, usage.on_for.value),
        sessions_per_day=usage.sessions_per_day,
        per_kwh=known.workshop.tariff.per_kwh,
    )


def question(
    machine: Machine, kit: Kit, listed: list[Uncertain], asked: Served, draws: int
) -> tuple[PairQuestion, Fitted]:
    """The question of one pair, its uncertain inputs drawn so many times beside the stated values.

    With it comes what the question was put from, for words: the names of parts, the coil that the protrusions meet.
    """
    values = inputs.draw(listed, draws)
    plain = without_kit(machine, values)
    fitted = with_kit(machine, kit, values, plain)
    made = PairQuestion(
        values=values.rows,
        phase=values.phase,
        plain=supplied(plain, values),
        fitted=supplied(fitted.network, values),
        shares=tuple(Portion(one.id, one.kit, one.mass, one.heat_capacity) for one in fitted.parts),
        wound=fitted.wound,
        tube=kit.coil.tube.material.value if kit.coil is not None else None,
        relief_reached=relief_reached(machine),
        slowest=slowest(machine, kit, listed),
        served=asked,
        mixing=(machine.mixing.low, machine.mixing.high),
        setpoint_changes=setpoints.changes(machine, (plain, fitted.network)),
        hottest=machine.steam.setpoint.high + machine.steam.overshoot.high,
    )
    return made, fitted


def supplied(network: Network, values: Values) -> Network:
    """The network at the mains voltage that it is given: its heater's power goes with the square of that."""
    return replace(network, heater_power=network.heater_power * values[inputs.SUPPLY.id] ** 2)


def slowest(machine: Machine, kit: Kit, listed: list[Uncertain]) -> tuple[Network, Network]:
    """The machine without and with the kit in every corner of its inputs in which it may cool slowest."""
    corners = inputs.slowest(listed)
    plain = without_kit(machine, corners)
    return plain, with_kit(machine, kit, corners, plain).network
