"""The numbers of a pair: every figure and curve of its record that stepping through time or the draws give.

They follow from a `PairQuestion` alone. Words in them (reasons, names of parts) are untranslated; `wording` describes
them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from pydantic import Field

from guidegen.assess import after_use, budgeting, coils, curves, drinks, running
from guidegen.assess.closed_coil import closed_coil_part
from guidegen.assess.figures import Figures
from guidegen.assess.question import PairQuestion
from guidegen.assess.worth import worth
from guidegen.heat.after import SteamRecovery, after_steam
from guidegen.heat.network import Network, Pid, Rows
from guidegen.heat.shot import Shots
from guidegen.heat.study import FLUSH, FLUSH_PAUSE, WAITS, Study, setpoint_for, study
from guidegen.language import marked
from guidegen.record import places
from guidegen.record.base import Figure, Record, rounded
from guidegen.record.closed_coil import ClosedCoil
from guidegen.record.computed import AfterSteam, Budget, CoilPart, CoolDown, Energy, WarmUp
from guidegen.record.curves import FromCold, Shot, WhatIf
from guidegen.record.drinks import AfterFlush, Display, Drink, Waiting
from guidegen.record.worth import Worth, WorthLimits

ONE_TEMPERATURE = marked("the thermostat has one temperature")


class Numbers(Record):
    """The computed parts of an `Assessment`, under the same names."""

    budget: Budget
    drinks: dict[str, Drink]
    shot: Shot
    same_cup_shot: Shot | None
    typical: dict[str, float]
    from_cold: FromCold
    what_if: WhatIf
    waiting: tuple[Waiting, ...]
    same_cup_degc: Figure
    after_flush: AfterFlush
    after_steam: AfterSteam
    display: Display
    warm_up: WarmUp
    energy: Energy
    coil: CoilPart | None
    closed_coil: ClosedCoil | None
    cool_down: CoolDown
    influence: dict[str, dict[str, float]] = Field(default_factory=dict)
    worth: Worth | None


class Studies:
    """What stepping through time gave for each network, shared by the pairs of one variant."""

    def __init__(self) -> None:
        self._studies: dict[bytes, Study] = {}
        self._ways_back: dict[bytes, SteamRecovery] = {}
        self._drops: dict[tuple[bytes, tuple[float, ...]], Rows] = {}

    def study(self, network: Network, asked: PairQuestion, phase: Rows, habit: Rows) -> Study:
        """The study of a network, its shots from these phases of a thermostat's cycle, its drinks off by `habit`."""
        key = network.parameters().tobytes() + phase.tobytes() + habit.tobytes()
        if key not in self._studies:
            served = asked.served
            self._studies[key] = study(network, served.pulls, served.main, served.usage, phase, habit=habit)
        return self._studies[key]

    def drops(self, network: Network, asked: PairQuestion) -> Rows:
        """The drops of one machine at every point of "what if"."""
        key = (network.parameters().tobytes(), asked.setpoint_changes)
        if key not in self._drops:
            self._drops[key] = curves.drops(network, asked.served.pulls, asked.setpoint_changes)
        return self._drops[key]

    def way_back(self, network: Network, steam: Rows) -> SteamRecovery:
        """The way back from steam of a network that was steaming at a setpoint, K."""
        key = network.parameters().tobytes() + steam.tobytes()
        if key not in self._ways_back:
            self._ways_back[key] = after_steam(network, steam, after_use.FLUSH)
        return self._ways_back[key]


@dataclass(frozen=True)
class Side:
    """One side of the comparison: its network and what stepping through time gave."""

    network: Network
    study: Study


@dataclass(frozen=True)
class Led:
    """The parts of the record that headlines stand in, and the headlines by place."""

    drinks: dict[str, Drink]
    warm_up: WarmUp
    energy: Energy
    headlines: dict[str, Figure]


@dataclass(frozen=True)
class Computation:
    """One question being answered."""

    asked: PairQuestion
    studies: Studies
    make: Figures

    def numbers(self) -> Numbers:
        """All numbers; the influence of the inputs last, on every figure made before."""
        asked, make = self.asked, self.make
        before, after = self._side(asked.plain), self._side(asked.fitted)
        one, other, main = before.study, after.study, asked.served.pulls[asked.served.main]
        led = self._led(make, one, other)
        row = make.typical(led.headlines.values())
        typical = self._typical(asked.plain, row), self._typical(asked.fitted, row)
        there = self._led(Figures({}, 0), typical[0].study, typical[1].study).headlines
        drops = self.studies.drops(typical[0].network, asked), self.studies.drops(typical[1].network, asked)
        made = Numbers(
            coil=coils.coil_part(make, asked, other),
            closed_coil=closed_coil_part(make, asked, other),
            cool_down=after_use.cool_down_part(asked.slowest, (asked.plain, asked.fitted)),
            display=self._display(after),
            warm_up=led.warm_up,
            drinks=drinks.with_phases(led.drinks, (typical[0].study, typical[1].study)),
            budget=budgeting.budget(make, asked, budgeting.parts(asked.shares)),
            shot=self._shot(*typical),
            same_cup_shot=self._same_cup_shot(*typical),
            typical={place: figure.value for place, figure in there.items() if figure.value is not None},
            from_cold=curves.from_cold(
                (typical[0].network, typical[0].study), (typical[1].network, typical[1].study), main
            ),
            what_if=curves.points(drops, asked.served.pulls, asked.setpoint_changes),
            waiting=self._waiting(one, other),
            same_cup_degc=self._same_cup(before, after),
            after_flush=self._after_flush(one, other),
            after_steam=self._after_steam(),
            energy=led.energy,
            worth=self._worth(one, other),
        )
        return made.model_copy(update={"influence": make.influence(places.figures(made), led.headlines)})

    def _worth(self, before: Study, after: Study) -> Worth | None:
        """What the kit is worth in the main drink; a kit that leaves the network as it is serves another."""
        asked = self.asked
        if np.array_equal(asked.plain.parameters(), asked.fitted.parameters()):
            return None
        without, with_ = (study.drinks[asked.served.main].sensor_drop for study in (before, after))
        return worth(without, with_, WorthLimits(**asked.served.worth))

    def _side(self, network: Network) -> Side:
        return Side(network, self.studies.study(network, self.asked, self.asked.phase, self.asked.habit))

    def _alone(self, network: Network) -> Study:
        """One machine met at every phase of a thermostat's cycle, its drinks as stated."""
        return self.studies.study(network, self.asked, np.zeros(1), np.zeros((1, 2)))

    def _typical(self, network: Network, row: int) -> Side:
        return Side(network.row(row), self._alone(network.row(row)))

    def _led(self, make: Figures, before: Study, after: Study) -> Led:
        """The parts with headlines, and these by place."""
        asked, served = self.asked, self.asked.served
        made = {name: drinks.drink(make, name, asked, (before, after)) for name in served.pulls}
        warm_up = running.warm_up(make, before, after)
        energy = running.energy(make, before, after, served.sessions_per_day, served.per_kwh)
        known = dict(places.figures({"drinks": made, "warm_up": warm_up, "energy": energy}))
        return Led(made, warm_up, energy, {place: known[place] for place in places.headlines(served.main)})

    def _stirred(self, network: Network) -> tuple[Study, Study]:
        """A machine with a boiler that mixes best and least: nobody knows how well it does."""
        one, other = (replace(network, mixing=np.array([max(1.0, round(end))])) for end in self.asked.mixing)
        return self._alone(one), self._alone(other)

    def _shot(self, before: Side, after: Side) -> Shot:
        served = self.asked.served
        return curves.shot_curves(
            served.main,
            served.pulls[served.main].duration,
            (before.study, *self._stirred(before.network)),
            (after.study, *self._stirred(after.network)),
        )

    def _same_cup_rows(self, before: Side, after: Side, habit: Rows) -> Rows:
        """The setpoint, K, at which the mean outlet with the kit is that without it."""
        served = self.asked.served
        wanted = before.study.drinks[served.main].mean_outlet
        return setpoint_for(after.network, served.pulls[served.main], wanted, habit=habit)

    def _same_cup(self, before: Side, after: Side) -> Figure:
        if not isinstance(after.network.control, Pid):
            return Figure(value=None, reason=ONE_TEMPERATURE)
        return self.make.celsius(self._same_cup_rows(before, after, self.asked.habit))

    def _same_cup_shot(self, before: Side, after: Side) -> Shot | None:
        """The main drink with the kit at the setpoint for the same cup, K, beside the one without at its own."""
        control = after.network.control
        if not isinstance(control, Pid):
            return None
        there = self._same_cup_rows(before, after, np.zeros((1, 2)))
        if not np.isfinite(there).all():
            return None
        moved = replace(after.network, control=replace(control, setpoint=there))
        return self._shot(before, Side(moved, self._alone(moved)))

    def _display(self, after: Side) -> Display:
        before = after.network.control.setpoint if isinstance(after.network.control, Pid) else after.study.display_high
        lowest = after.study.drinks[self.asked.served.main].lowest_sensor
        return Display(before_degc=self.make.celsius(before), lowest_degc=self.make.celsius(lowest))

    def _waiting(self, before: Study, after: Study) -> tuple[Waiting, ...]:
        def after_wait(side: Study, index: int) -> Shots[Rows]:
            return Shots(*(rows[:, index] for rows in side.second))

        return tuple(
            self.make.part_of_both(Waiting, after_wait(before, i), after_wait(after, i), wait_s=wait)
            for i, wait in enumerate(WAITS)
        )

    def _after_flush(self, before: Study, after: Study) -> AfterFlush:
        given = {"flush_g": rounded(FLUSH.mass * 1e3), "pause_s": FLUSH_PAUSE}
        return self.make.part_of_both(AfterFlush, before.after_flush, after.after_flush, **given)

    def _after_steam(self) -> AfterSteam:
        fitted, steam = self.asked.fitted, self.asked.values["steam.setpoint"]
        before, after = (self.studies.way_back(side, steam) for side in (self.asked.plain, fitted))
        return after_use.after_steam_part(self.make, before, after, fitted, self.asked.values)


def compute(asked: PairQuestion, studies: Studies) -> Numbers:
    """The numbers that answer a question. The same question has the same answer in every process."""
    return Computation(asked, studies, Figures(asked.values, len(asked.phase) - 1)).numbers()
