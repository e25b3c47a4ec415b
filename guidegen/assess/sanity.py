"""Whether the numbers of a pair can be computed at all: what no heat and no water does is refused, with its place.

What is wrong is found in the pair's quantities; whose fault it is, where several take part, is the one that lies
furthest outside what such machines have. Only that pair is left out; the others are judged and built.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from guidegen.assess import inputs
from guidegen.assess.network_of import sides
from guidegen.assess.question import Served
from guidegen.heat.holding import holding_power
from guidegen.heat.network import Network, set_to
from guidegen.heat.pace import pace
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import ValidityError
from guidegen.heat.water import ATMOSPHERIC_PRESSURE, BOILING_PRESSURE, COLD_WATER, saturation_temperature
from guidegen.problems import CatalogueError, Code, Problem
from guidegen.trade import Catalogue
from guidegen.trade.effects.feed_coil import FeedCoil
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain
from guidegen.units import metric
from guidegen.workshop.base import Document, Loc
from guidegen.workshop.facts import Fact
from guidegen.workshop.walk import facts, name_of

SIGNED = ("temperature", "temperature_difference")
"""Dimensions of which zero is nothing special."""
HOTTEST = ("setpoint", "opens")
"""What the temperatures are called to which a control heats, brewing or steaming."""
SIZES = ("boiler.diameter", "boiler.wall", "boiler.straight_wall")
"""Facts that are drawn for no number, but that geometry divides by."""
LEAST_SHARE = 1 / 20
"""A coil that holds less of the main drink preheats nothing; our judgement, such coils hold a third to all of it."""


class NotComputed(CatalogueError):
    """A pair whose numbers cannot be computed; every other one can."""


@dataclass(frozen=True)
class Named:
    """A quantity as it was written, with the document it belongs to."""

    document: Document
    loc: Loc
    fact: Fact

    @property
    def name(self) -> str:
        """What the author calls it."""
        return name_of(self.document, self.loc)

    @property
    def off(self) -> float:
        """How far outside what such machines have: in widths of that range, or as a logarithm."""
        if self.fact.quantity is None or not self._has_range:
            return 0.0
        low, high = self.fact.plausible()
        ends = (self.fact.low, self.fact.value, self.fact.high)
        if self.fact.dimension in SIGNED or low <= 0:
            return max(0.0, (low - min(ends)) / (high - low), (max(ends) - high) / (high - low))
        if min(ends) <= 0:
            return math.inf
        return max(0.0, math.log(low / min(ends)), math.log(max(ends) / high))

    @property
    def positive(self) -> bool:
        """Whether such machines always have some of it."""
        return self._has_range and self.fact.plausible()[0] > 0

    @property
    def whole(self) -> bool:
        """Whether there is no more of it than all: a share."""
        return self._has_range and self.fact.plausible()[1] <= 1.0

    @property
    def _has_range(self) -> bool:
        return self.fact.spec is not None and self.fact.spec.plausible is not None

    def problem(self, code: Code, words: str, fix: str = "") -> Problem:
        """A problem with it, at its place."""
        place = self.fact.place or self.document.places[self.loc]
        plausible = self.fact.spec.plausible if self.fact.spec else None
        such = f"; such machines have {plausible[0]} to {plausible[1]}" if plausible else ""
        text = f"{self.name}: {self.fact.text}: {words}"
        return Problem(place.path, place.line, place.column, code, text, fix or f"correct it, or write unknown{such}")


def look(known: Catalogue, machine: Machine, kit: Kit, asked: Served) -> list[Problem]:
    """What keeps the numbers of a pair from being computed, seen from the stated values and their ends."""
    first = known.first(kit.id)
    listed = [*inputs.of_machine(machine, known), *kit.inputs(first)]
    all_ = _stated(known, machine, kit)
    taking_part = [one for one in all_ if _is_input(one, listed)]
    sizes = [one for one in all_ if one.document is machine and one.name in SIZES]
    found = [*_nothing((*taking_part, *sizes)), *_cold(taking_part), *_boils(machine, taking_part)]
    if found:
        return found
    try:
        if found := [*_coil(kit, machine, all_, asked)]:
            return found
        values = inputs.draw(listed, 0)
        networks = [one.network for one in sides(machine, first, kit, values)]
        return [*_held(networks, taking_part)] or [*too_long(known, machine, kit, networks, asked)]
    except ValidityError as error:
        return [outside(known, machine, kit, error)]


def too_long(
    known: Catalogue, machine: Machine, kit: Kit, networks: Sequence[Network], asked: Served
) -> Iterator[Problem]:
    """That a pair would take more steps in time than anybody waits for."""
    for network in networks:
        taken = pace(network, list(asked.pulls.values()))
        if not taken.affordable:
            number, fastest = float(np.max(taken.steps)), float(np.max(taken.at_rest))
            guilty = furthest(_stated(known, machine, kit)) or _whole(machine)
            words = f"a drink would take {number:,.0f} steps in time because of {taken.part}"
            yield guilty.problem(Code.TOO_LONG, f"{words}, and its fastest rate at rest is {fastest:,.0f} per second")
            return


def outside(known: Catalogue, machine: Machine, kit: Kit, error: ValidityError) -> Problem:
    """What a formula cannot be used for, as a problem with the quantity that is furthest from what machines have."""
    guilty = furthest(_stated(known, machine, kit)) or _whole(machine)
    return guilty.problem(Code.NO_FORMULA, f"nothing can be computed with it: {error}")


def furthest(among: Sequence[Named]) -> Named | None:
    """The quantity that lies furthest outside what such machines have, if one does."""
    worst = max(among, key=lambda one: one.off, default=None)
    return worst if worst is not None and worst.off > 0 else None


def _stated(known: Catalogue, machine: Machine, kit: Kit) -> list[Named]:
    documents: tuple[Document, ...] = (machine, *known.first(kit.id), kit, known.workshop, known.drinks)
    every = (Named(one, loc, fact) for one in documents for loc, fact in facts(one) if isinstance(fact, Fact))
    return [one for one in every if one.fact.quantity is not None]


def _whole(machine: Machine) -> Named:
    """The heater's power, where nothing lies outside."""
    return Named(machine, ("heater", "power"), machine.heater.power)


def _is_input(one: Named, listed: Sequence[Uncertain]) -> bool:
    return str(one.fact.place) in {each.place for each in listed}


def _nothing(needed: Sequence[Named]) -> Iterator[Problem]:
    """Quantities that are nothing or less, or may be; and shares of more than all."""
    for one in needed:
        fact = one.fact
        words, fix = "", "write from: and to:, with a lower end that there can be"
        if fact.low < 0 and fact.dimension not in SIGNED:
            words = f"its lower end is {metric(fact.low, fact.dimension)}, below zero"
        elif fact.dimension == "ratio" and one.whole and fact.high > 1.0:
            words, fix = "a share of more than all", ""
        elif one.positive and fact.low == 0:
            words, fix = "must be more than nothing", ""
        elif one.positive and fact.distribution == "normal" and fact.low <= fact.plus_minus:
            words = "drawn as measured so uncertainly it may be nothing, or less"
        if words:
            yield one.problem(Code.NOTHING, words, fix)


def _cold(taking_part: Sequence[Named]) -> Iterator[Problem]:
    """Water that is ice, or that no open tank holds."""
    boils = float(saturation_temperature(ATMOSPHERIC_PRESSURE))
    for one in taking_part:
        if one.name in inputs.SURROUNDINGS and one.fact.low <= ZERO_CELSIUS:
            yield one.problem(Code.BOILS, "at or below 0 °C water is ice")
        elif one.name == "feed" and one.fact.high >= boils:
            yield one.problem(Code.BOILS, f"water in an open tank boils at {metric(boils, 'temperature')}")


def _boils(machine: Machine, taking_part: Sequence[Named]) -> Iterator[Problem]:
    """Temperatures at which the water's pressure would open the relief valve before they are reached."""
    relief = machine.water_path.relief_opens
    absolute = ATMOSPHERIC_PRESSURE + relief.value
    if absolute > BOILING_PRESSURE.high:
        return
    boils = float(saturation_temperature(absolute))
    steam = metric(boils, "temperature")
    for one in taking_part:
        if one.name.rpartition(".")[2] in HOTTEST and one.fact.value >= boils:
            valve = next((each for each in taking_part if each.fact is relief), one)
            if valve.off > one.off:
                words = f"water boils at {steam} under it, before the {one.fact.text} of {one.name}"
                yield valve.problem(Code.BOILS, words)
                return
            words = f"water boils at {steam} under the {relief.text} at which the relief valve opens"
            yield one.problem(Code.BOILS, words)


def _coil(kit: Kit, machine: Machine, every: Sequence[Named], asked: Served) -> Iterator[Problem]:
    """A coil that holds next to nothing of the main drink."""
    if kit.coil is None:
        return
    drawn, held = asked.pulls[asked.main].mass, _water_in(kit.coil, machine)
    for one in every:
        if one.fact is kit.coil.size and 0 < held < LEAST_SHARE * drawn:
            words = f"the main drink draws {drawn / held:,.0f} times as much; nothing is preheated"
            yield one.problem(Code.NOTHING, words)


def _water_in(coil: FeedCoil, machine: Machine) -> float:
    """The cold water that a coil is to hold on a machine, kg."""
    return coil.demand(machine.boiler.diameter.value, machine.boiler.straight_wall.value).holds * COLD_WATER


def _held(sides: Sequence[Network], taking_part: Sequence[Named]) -> Iterator[Problem]:
    """A heater that cannot hold what it is set to, or never has to."""
    for network in sides:
        needed, has = float(holding_power(network)[0]), float(network.heater_power[0])
        if 0 < needed < has:
            continue
        held = metric(float(set_to(network.control)[0]), "temperature")
        power = next(one for one in taking_part if one.name.rpartition(".")[2] == "power")
        guilty = furthest(taking_part) or power
        words = f"cannot hold {held}: it needs {metric(needed, 'power')}"
        if needed <= 0:
            words = f"to hold {held} the heater never has to heat: it is as warm around the boiler"
        elif guilty is not power:
            words = f"a heater of {metric(has, 'power')} {words}"
        yield guilty.problem(Code.NOT_HELD, words)
        return
