"""From the catalogue to the question of a pair: networks drawn from its facts, and what is asked of them."""

from __future__ import annotations

from dataclasses import replace

from guidegen.assess import inputs, setpoints
from guidegen.assess.inputs import Uncertain
from guidegen.assess.network_of import with_kit, without_kit
from guidegen.assess.question import Question, Served
from guidegen.heat.network import Network
from guidegen.heat.pull import Pull, Usage
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine


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


def question(machine: Machine, kit: Kit, listed: list[Uncertain], asked: Served, draws: int) -> Question:
    """The question of one pair: its uncertain inputs drawn so many times beside the stated values."""
    values = inputs.draw(listed, draws)
    plain = without_kit(machine, values)
    fitted = with_kit(machine, kit, values, plain)
    return Question(
        values=values,
        plain=plain,
        fitted=fitted,
        slowest=slowest(machine, kit, listed),
        served=asked,
        mixing=(machine.mixing.low, machine.mixing.high),
        setpoint_changes=setpoints.changes(machine, (plain, fitted.network)),
        hottest=machine.steam.setpoint.high + machine.steam.overshoot.high,
    )


# --- the slowest cooling -----------------------------------------------------------------------------


def slowest(machine: Machine, kit: Kit, listed: list[Uncertain]) -> tuple[Network, Network]:
    """The machine without and with the kit at the ends of its inputs: small losses, large capacities, warm air."""
    slow = inputs.draw([_slowest(one) for one in listed], 0)
    plain = without_kit(machine, slow)
    return plain, with_kit(machine, kit, slow, plain).network


HOLDS_HEAT = (
    "boiler.mass",
    "boiler.water",
    "group.mass",
    "heater.heat_capacity",
    "kit.holds",
    "kit.fittings_mass",
    "kit.mass",
)
LETS_IT_GO = (
    "losses.boiler_to_case",
    "group.to_room",
    "group.to_boiler",
    "kit.to_case",
    "boiler.to_water",
    "kit.contact",
)
WARM_AROUND = ("losses.case_temperature", "room", "control.setpoint", "control.opens", "control.closes")


def _slowest(one: Uncertain) -> Uncertain:
    if one.id in HOLDS_HEAT or one.id in WARM_AROUND:
        return replace(one, value=one.high)
    return replace(one, value=one.low) if one.id in LETS_IT_GO else one
