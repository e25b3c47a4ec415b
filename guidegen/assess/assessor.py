"""One record per variant and kit, from the catalogue and everything that is computed."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from guidegen.assess import (
    after_use,
    budgeting,
    coils,
    curves,
    figures,
    guiding,
    inputs,
    setpoints,
    stated,
    verdict,
)
from guidegen.assess.inputs import Uncertain, Values
from guidegen.assess.network_of import with_kit, without_kit
from guidegen.heat.after import AfterSteam, after_steam
from guidegen.heat.network import Network, Pid, Rows
from guidegen.heat.study import FLUSH, FLUSH_PAUSE, WAITS, Pull, Study, Usage, setpoint_for, study
from guidegen.language import gettext, speech
from guidegen.record import Assessment, Figure, Outline, places, rounded
from guidegen.record.base import Both
from guidegen.record.computed import AfterFlush, Display, Shot, Waiting
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine

MAIN = "double"
"""The drink that warm-up, waiting and the headline speak of; every catalogue has it."""
DRAWS = 2048
"""Against 20,000 plain draws the ends of the ranges are off by up to 15 % of their width with 256 draws, by up to 6 %
with 1,024 and by less than 5 % with 2,048; tests/properties/test_network_ranges.py prints how far."""


@dataclass(frozen=True)
class Sided:
    """One side of the comparison: its network and what stepping through time gave."""

    network: Network
    study: Study


class Assessor:
    """Assesses pairs of one catalogue; what a variant is without a kit is computed once."""

    def __init__(self, known: Catalogue, edition: str, draws: int = DRAWS) -> None:
        self.known, self.edition, self.draws = known, edition, draws
        self.pulls = {
            one.id: Pull(one.beverage.value + one.puck_keeps.value + one.vented.value, one.time.value)
            for one in known.drinks.drinks
        }
        usage = known.workshop.usage
        spacing = usage.on_for.value / (len(usage.drinks) + 1)
        starts = tuple(spacing * (i + 1) for i in range(len(usage.drinks)))
        self.usage = Usage(usage.drinks, starts, usage.on_for.value)
        self._studies: dict[bytes, Study] = {}
        self._ways_back: dict[bytes, AfterSteam] = {}

    def assess(self, machine: Machine, kit: Kit) -> Assessment:
        """The record of one pair. Raises `CatalogueError` where its requirements cannot be judged."""
        checked = verdict.checked(self.known, machine, kit, self.edition)
        listed = [*inputs.of_machine(machine, self.known), *inputs.of_kit(kit)]
        values = inputs.draw(listed, self.draws)
        plain = without_kit(machine, values)
        fitted = with_kit(machine, kit, values, plain)
        before, after = self._side(plain, values), self._side(fitted.network, values)
        fit = verdict.fit_part(checked)
        make = figures.Figures(values)
        masses = {
            "boiler": values["boiler.mass"],
            "group": values["group.mass"],
            "water": plain.water_mass,
        }
        coil = coils.coil_part(make, machine, kit, fitted, after.study, values, self.pulls[MAIN])
        cooling = after_use.cool_down_part(machine, kit, listed)
        display = _display(make, after)
        warm_up = figures.warm_up(make, before.study, after.study)
        values_printed = dict(guiding.computed(coil, cooling.with_, display, warm_up))
        guided = guiding.guide(self.known, machine, kit, fit, values_printed, self.edition)
        mass = masses["boiler"] + masses["group"] + masses["water"]
        drinks = {}
        for one in self.known.drinks.drinks:
            shots = before.study.drinks[one.id], after.study.drinks[one.id]
            drinks[one.id] = figures.drink(make, one, *shots, plain, mass, self.pulls[one.id].mass)
        usage = self.known.workshop.usage
        same_cup = self._same_cup(make, before, after)
        made = Assessment(
            variant=stated.variant_part(machine),
            kit=stated.kit_part(kit),
            edition=self.edition,
            fit=fit,
            budget=figures.budget(
                make, plain, fitted.network, masses, fitted.added_mass, budgeting.parts(machine, masses, fitted, plain)
            ),
            drinks=drinks,
            shot=curves.shot_curves(
                MAIN,
                self.pulls[MAIN].duration,
                (before.study, *self._stirred(plain, machine)),
                (after.study, *self._stirred(fitted.network, machine)),
            ),
            same_cup_shot=self._same_cup_shot(machine, before, after, same_cup),
            from_cold=curves.from_cold((before.network, before.study), (after.network, after.study), self.pulls[MAIN]),
            what_if=curves.points(
                before.network,
                after.network,
                self.pulls,
                setpoints.changes(machine, (before.network, after.network)),
            ),
            waiting=_waiting(make, before.study, after.study),
            same_cup_degc=same_cup,
            after_flush=_after_flush(make, before.study, after.study),
            after_steam=after_use.after_steam_part(
                make, self._back(plain, values), self._back(fitted.network, values), fitted.network, values
            ),
            display=display,
            warm_up=warm_up,
            energy=figures.energy(
                make,
                before.study,
                after.study,
                usage.sessions_per_day,
                self.known.workshop.tariff.per_kwh,
                guiding.usage_words(self.known),
                self.known.workshop.currency,
            ),
            coil=coil,
            cool_down=cooling,
            torques=stated.torques(machine),
            protrusions=verdict.protrusions(machine, fitted.wound),
            downsides=stated.downsides(kit),
            restore=stated.restore(kit),
            self_check=dict(checked.payload),
            builds=stated.builds(self.known, machine, kit),
            inputs=tuple(one.record() for one in listed),
            procedure=guided.procedure,
            withheld=guided.withheld,
            missing=guided.missing,
            lint=guided.lint,
            basis="nominal",
        )
        influence = make.influence(places.figures(made))
        return made.model_copy(update={"influence": influence, "basis": _basis(listed, influence, self.draws)})

    def outline(self, machine: Machine, kit: Kit) -> Outline:
        """What takes no stepping through time: a few milliseconds."""
        fit = verdict.fit_part(verdict.checked(self.known, machine, kit, self.edition))
        return Outline(variant=stated.variant_part(machine), kit=stated.kit_part(kit), fit=fit)

    def key(self, machine: Machine, kit: Kit) -> bytes:
        """Everything that the record of a pair depends on, its language too, as bytes that change with it."""
        known = self.known
        procedure = known.procedures.get(kit.id)
        parts = [
            machine,
            kit,
            *known.kits.values(),
            known.workshop,
            known.drinks,
            known.glossary,
            known.hazards,
            known.questions,
            known.shared,
            procedure,
            known.builds.get(machine.family),
        ]
        # Places stand in the record: those of the inputs, and those of the steps.
        placed = [machine, kit, procedure, known.shared]
        names = f"{machine.id} {machine.family_name} {kit.id} {[*known.kits]}"
        named = f"{self.edition} {speech().fingerprint} {self.draws} {names}"
        digests = [one.digest if one else b"-" for one in parts]
        digests += [one.digest_of_places if one else b"-" for one in placed]
        return b"\0".join((named.encode(), *digests))

    def _side(self, network: Network, values: Values) -> Sided:
        return Sided(network, self._studied(network, values.phase))

    def _studied(self, network: Network, phase: Rows) -> Study:
        key = network.parameters().tobytes() + phase.tobytes()
        if key not in self._studies:
            self._studies[key] = study(network, self.pulls, MAIN, self.usage, phase)
        return self._studies[key]

    def _back(self, network: Network, values: Values) -> AfterSteam:
        key = network.parameters().tobytes() + values["steam.setpoint"].tobytes()
        if key not in self._ways_back:
            self._ways_back[key] = after_steam(network, values["steam.setpoint"], after_use.FLUSH)
        return self._ways_back[key]

    def _stirred(self, network: Network, machine: Machine) -> tuple[Study, Study]:
        """The stated machine with a boiler that mixes best and least: nobody knows how well it does."""
        plain = network.row(0)
        ends = (machine.mixing.low, machine.mixing.high)
        one, other = (replace(plain, mixing=np.array([max(1.0, round(end))])) for end in ends)
        phase = np.zeros(1)
        return self._studied(one, phase), self._studied(other, phase)

    def _same_cup(self, make: figures.Figures, before: Sided, after: Sided) -> Figure:
        if not isinstance(after.network.control, Pid):
            return Figure(value=None, reason=gettext("the thermostat has one temperature"))
        wanted = before.study.drinks[MAIN].mean_outlet
        return make.celsius(setpoint_for(after.network, self.pulls[MAIN], wanted))

    def _same_cup_shot(self, machine: Machine, before: Sided, after: Sided, same_cup: Figure) -> Shot | None:
        """The main drink with the kit at the setpoint for the same cup, beside the one without at the present one."""
        stated = after.network.row(0)
        if same_cup.value is None or not isinstance(stated.control, Pid):
            return None
        there = np.array([same_cup.value + figures.ZERO_CELSIUS])
        moved = replace(stated, control=replace(stated.control, setpoint=there))
        return curves.shot_curves(
            MAIN,
            self.pulls[MAIN].duration,
            (before.study, *self._stirred(before.network, machine)),
            (self._studied(moved, np.zeros(1)), *self._stirred(moved, machine)),
        )


def _display(make: figures.Figures, after: Sided) -> Display:
    before = after.network.control.setpoint if isinstance(after.network.control, Pid) else after.study.display_high
    return Display(before_degc=make.celsius(before), lowest_degc=make.celsius(after.study.drinks[MAIN].lowest_sensor))


def _waiting(make: figures.Figures, before: Study, after: Study) -> tuple[Waiting, ...]:
    def both(name: str, index: int) -> Both:
        return make.both(*(getattr(side.second, name)[:, index] for side in (before, after)))

    return tuple(
        Waiting(wait_s=wait, sensor_drop_k=both("sensor_drop", i), stability_band_k=both("stability_band", i))
        for i, wait in enumerate(WAITS)
    )


def _after_flush(make: figures.Figures, before: Study, after: Study) -> AfterFlush:
    one, other = before.after_flush, after.after_flush
    return AfterFlush(
        flush_g=rounded(FLUSH.mass * 1e3),
        pause_s=FLUSH_PAUSE,
        sensor_drop_k=make.both(one.sensor_drop, other.sensor_drop),
        stability_band_k=make.both(one.stability_band, other.stability_band),
    )


DOMINANT = 3


def _basis(listed: list[Uncertain], influence: dict[str, dict[str, float]], draws: int) -> str:
    """What the ranges may be called: while an input that matters most is assumed, not a confidence interval."""
    if not draws:
        return "nominal"
    evidence = {one.id: one.evidence for one in listed}
    leading = [name for place in places.HEADLINES for name in list(influence.get(place, {}))[:DOMINANT]]
    assumed = any(evidence.get(name, "assumed") == "assumed" for name in leading) or not leading
    return "range from our assumptions" if assumed else "95 % interval"
