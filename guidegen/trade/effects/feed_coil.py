"""The effect `feed_coil`: a coil of tube round the boiler, through which the feed water passes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated, ClassVar, Literal

import numpy as np
from pydantic import Field

from guidegen.heat.coil import CoilDemand, Wound, bore_area, metal_area, wind
from guidegen.heat.heat_transfer import conductance_at_rest, conductance_in_flow
from guidegen.heat.materials import material
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Coil, Rows, set_to
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.water import COLD_WATER, enclosed
from guidegen.language import gettext, marked
from guidegen.trade.effects.base import Effect, Fitted, MassPart, Setting
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain
from guidegen.workshop.base import Loc, Model
from guidegen.workshop.downsides import OfEffects
from guidegen.workshop.fields import Choice, Choices, Conductance, Length, Mass, Material, Ratio, Spec, Volume

HALF_WARM = ZERO_CELSIUS + 50.0
"""K, between feed and parked: where the water's properties are taken for heat transfer in the coil."""
TYPICAL_FLOW = 1.8e-6
"""m³/s of a drink. The conductance goes with about its square root, and drinks differ by a third."""

INSIDE = Uncertain(
    id="model.inside",
    name=marked("Heat from tube to water, against the published correlations"),
    value=1.0,
    low=0.7,
    high=1.5,
    dimension="ratio",
    text="100 %, 70 % to 150 %",
    evidence="assumed",
    settles=marked("a long draw with the coil's outlet logged"),
    drawn="triangular",
)
"""Correlations for coiled tubes differ by a third, and water at rest is stirred by its own warmth."""


class Tube(Model):
    """The tube of a coil."""

    material: Annotated[Material, Spec("Tube material", settles="look", stand_in="copper")]
    outside: Annotated[Length, Spec("Tube, outside", ("4 mm", "12 mm"), "calliper")]
    wall: Annotated[Length, Spec("Tube wall", ("0.5 mm", "1.5 mm"), "micrometer at a cut end")]
    temper: Annotated[
        Choice,
        Choices(("annealed", "half-hard", "hard")),
        Spec("Temper", settles="the tube's certificate", stand_in="annealed"),
    ]


class FeedCoil(Effect):
    """A coil of tube round the boiler, through which the feed water passes.

    `put_on`: a finished coil slides over the wall from above or from below and passes whatever stands there; one that
    is bent round the wall in place, or turned onto it with its turns opened, passes nothing. `outer_layer`: where a
    last layer of fewer turns stands.
    """

    # Water stands in the coil; and what it does to a drink is to take the fall of its temperature away.
    speaks_of: ClassVar[tuple[OfEffects, ...]] = ("frost", "stagnation", "profile")
    drawn: ClassVar[tuple[str, ...]] = (
        "tube.outside", "tube.wall", "holds", "tails", "fittings_mass", "contact", "to_case", "shields",
    )  # fmt: skip
    beside: ClassVar[tuple[Uncertain, ...]] = (INSIDE,)

    kind: Literal["feed_coil"]
    tube: Tube
    holds: Annotated[Volume, Spec("Water in the coil", ("20 ml", "120 ml"), "weigh full minus empty")]
    layers_max: int = Field(ge=1, le=3)
    gap: Annotated[Length, Spec("Gap between turns", ("0 mm", "3 mm"), "feeler gauge")]
    tails: Annotated[Length, Spec("Both tails together", ("50 mm", "600 mm"), "tape measure")]
    fittings_mass: Annotated[Mass, Spec("Fittings", ("10 g", "200 g"), "weigh them")]
    contact: Annotated[Conductance, Spec("Boiler to coil", ("0.3 W/K", "6 W/K"), "the coil's time constant")]
    to_case: Annotated[Conductance, Spec("Coil to the case's air", ("0.15 W/K", "1.0 W/K"), "parked temperature")]
    shields: Annotated[Ratio, Spec("Share of the boiler's skin it shields", ("30 %", "90 %"), "idle watts")]
    put_on: (
        Annotated[
            Choice,
            Choices(("from-above", "from-below", "in-place")),
            Spec("How the coil comes onto the wall", settles="the kit's instruction"),
        ]
        | None
    ) = None
    outer_layer: (
        Annotated[
            Choice,
            Choices(("lower-end", "upper-end")),
            Spec("End of the wall at which a shorter outer layer stands", settles="look at the coil"),
        ]
        | None
    ) = None

    def contradictions(self) -> Iterator[tuple[Loc, str, str]]:
        """A tube whose wall leaves no bore."""
        if 2 * self.tube.wall.high >= self.tube.outside.low:
            words = f"a tube of {self.tube.outside.text} with a wall of {self.tube.wall.text} has no bore"
            yield ("tube", "wall"), words, "correct one of the two"

    def wound(self, machine: Machine) -> Wound | None:
        """The coil as it is wound on this boiler; None where the boiler's size is not known."""
        boiler = machine.boiler
        if not (boiler.diameter.known and boiler.straight_wall.known):
            return None
        return wind(self.demand(boiler.diameter.value, boiler.straight_wall.value))

    def possible(self, machine: Machine) -> tuple[Wound, ...]:
        """The coils that this boiler may come to carry: one where its size is known, else the ends of the plausible.

        On a wall that nobody measured the coil may stand in one layer or in as many as the kit allows.
        """
        boiler = machine.boiler
        known = boiler.diameter.known
        diameters = (boiler.diameter.value,) if known else (boiler.diameter.low, boiler.diameter.high)
        made = []
        for diameter in diameters:
            if boiler.straight_wall.known:
                made.append(wind(self.demand(diameter, boiler.straight_wall.value)))
                continue
            lowest = wind(self.demand(diameter, 0.0)).height_missing
            made += [wind(self.demand(diameter, wall)) for wall in (math.inf, lowest)]
        return tuple(made)

    def demand(
        self,
        diameter: float,
        wall: float,
        outside: float | None = None,
        holds: float | None = None,
        gap: float | None = None,
    ) -> CoilDemand:
        """What is asked of the winding on a boiler of a size, m; the tube and its volume as stated, or as given."""
        return CoilDemand(
            boiler_diameter=diameter,
            straight_wall=wall,
            tube_outside=self.tube.outside.value if outside is None else outside,
            tube_wall=self.tube.wall.value,
            holds=self.holds.value if holds is None else holds,
            layers_max=self.layers_max,
            gap=self.gap.value if gap is None else gap,
            tails=self.tails.value,
            fittings_mass=self.fittings_mass.value,
            tube_density=material(self.tube.material.value).density,
        )

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """The coil's water and metal from its drawn sizes; its contact from the share of the tube that touches."""
        machine, metal, brass = setting.machine, material(self.tube.material.value), material("brass")
        wound = self.wound(machine)
        area = metal_area(setting.own("tube.outside"), setting.own("tube.wall"))
        length = setting.own("holds") / bore_area(setting.own("tube.outside"), setting.own("tube.wall"))
        tube, fittings = area * length * metal.density, setting.own("fittings_mass")
        contact, to_case = setting.own("contact") * self._touching(wound), setting.own("to_case")
        # The resting water's temperature decides its density; a kelvin more or less does not matter here.
        boiler = float(set_to(before.network.control)[0])
        parked = (contact[0] * boiler + to_case[0] * before.network.case[0]) / (contact[0] + to_case[0])
        inside = setting.values["model.inside"]
        coil = Coil(
            water_mass=setting.own("holds") * float(enclosed(parked)),
            metal_capacity=tube * metal.specific_heat + fittings * brass.specific_heat,
            to_boiler=contact,
            to_case=to_case,
            inside_at_rest=inside * conductance_at_rest(length, HALF_WARM),
            inside_in_flow=inside * self._in_flow(setting, wound, length),
            along=metal.conductivity * area / length,
            shields=setting.own("shields"),
            bypass=_bypass(setting),
        )
        parts = (
            MassPart("coil", gettext("coil, tube and fittings"), tube + fittings, coil.metal_capacity, kit=True),
            MassPart(
                "coil-water", gettext("water in the coil"), coil.water_mass, coil.water_mass * WATER_SPECIFIC_HEAT,
                kit=True,
            ),
        )  # fmt: skip
        return replace(before.changed(coil=coil), wound=wound).having(*parts)

    def _touching(self, wound: Wound | None) -> float:
        """The share of the tube that touches the boiler: in an outer layer it does not.

        `contact` is stated for a coil that touches the boiler all along.
        """
        if wound is None or wound.length <= self.tails.value:
            return 1.0
        return wound.contact_length / (wound.length - self.tails.value)

    @staticmethod
    def _in_flow(setting: Setting, wound: Wound | None, length: Rows) -> Rows:
        bore = setting.own("tube.outside") - 2 * setting.own("tube.wall")
        bend = wound.mean_diameter if wound is not None else setting.machine.boiler.diameter.value
        flow = np.full(len(length), TYPICAL_FLOW)
        return np.asarray(conductance_in_flow(flow, bore, bend, length, HALF_WARM))


def _bypass(setting: Setting) -> Rows:
    """Water that passes the coil and returns to the tank, kg/s: where the relief branch lies behind the coil."""
    flow = setting.values["water_path.bypass"]
    downstream = setting.machine.water_path.relief_branch.value == "downstream"
    return flow * COLD_WATER if downstream else np.zeros(len(flow))
