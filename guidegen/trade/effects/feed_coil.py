"""The effect `feed_coil`: a coil of tube round the boiler, through which the feed water passes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, ClassVar, Literal

import numpy as np
from pydantic import Field

from guidegen.heat.coil import CoilDemand, Wound, bore_area, metal_area, tube_of_turns, wind
from guidegen.heat.heat_transfer import conductance_at_rest, conductance_in_flow
from guidegen.heat.materials import material
from guidegen.heat.network import WATER_SPECIFIC_HEAT, Coil, Rows, set_to
from guidegen.heat.surface import EMISSIVITY
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.water import COLD_WATER, enclosed
from guidegen.language import gettext, marked
from guidegen.trade.coil_tube import JOINED, SHIELDS, TO_CASE, Tails, Tube
from guidegen.trade.effects.base import Effect, Fitted, MassPart, Setting
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain
from guidegen.workshop.base import Loc
from guidegen.workshop.downsides import OfEffects
from guidegen.workshop.facts import Fact
from guidegen.workshop.fields import Choice, Choices, Conductivity, Count, Length, Mass, Ratio, Spec, Volume

HALF_WARM = ZERO_CELSIUS + 50.0
"""K, between feed and parked: where the water's properties are taken for heat transfer in the coil."""
TYPICAL_FLOW = 1.8e-6
"""m³/s of a drink. The conductance goes with about its square root, and drinks differ by a third."""

SIZES = ("holds", "length", "turns")
"""What states how much tube a coil is; one of them."""
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


class FeedCoil(Effect):
    """A coil of tube round the boiler, through which the feed water passes.

    How much tube is stated once, by what it `holds`, by its `length` or by its `turns`; the others are computed. What
    passes between boiler, coil and air is per metre of tube and by covered skin, so that one kit's data serve every
    boiler: `joined` says how the tube is held to the wall; `contact`, `to_case` and `shields` are written where
    somebody has measured them. `put_on`: a finished coil slides over the wall from above or from below and passes
    whatever stands there; one that is bent round the wall in place, or turned onto it with its turns opened, passes
    nothing. `outer_layer`: where a last layer of fewer turns stands.
    """

    draft: ClassVar[str] = "coil"
    states_mass: ClassVar[bool] = True
    # Water stands in the coil; and what it does to a drink is to take the fall of its temperature away.
    speaks_of: ClassVar[tuple[OfEffects, ...]] = ("frost", "stagnation", "profile")
    drawn: ClassVar[tuple[str, ...]] = (
        "tube.outside", "tube.wall", "holds", "length", "turns", "tails.inlet", "tails.outlet", "fittings_mass",
        "contact", "to_case", "shields",
    )  # fmt: skip
    beside: ClassVar[tuple[Uncertain, ...]] = (INSIDE,)

    kind: Literal["feed_coil"]
    tube: Tube
    holds: Annotated[Volume, Spec("Water in the coil", ("20 ml", "120 ml"), "weigh full minus empty")] | None = None
    length: Annotated[Length, Spec("Tube of the coil", ("0.5 m", "5 m"), "tape measure before winding")] | None = None
    turns: Annotated[Count, Spec("Turns of the coil", ("2", "20"), "count them")] | None = None
    layers_max: int = Field(ge=1, le=3)
    gap: Annotated[Length, Spec("Gap between turns", ("0 mm", "3 mm"), "feeler gauge")]
    tails: Tails
    fittings_mass: Annotated[Mass, Spec("Fittings", ("10 g", "200 g"), "weigh them")]
    joined: Annotated[
        Choice, Choices(tuple(JOINED)), Spec("How the coil is held to the wall", settles="look at the coil")
    ]
    contact: (
        Annotated[Conductivity, Spec(JOINED["clamped"].name, ("0.1 W/(m·K)", "20 W/(m·K)"), "the coil's time constant")]
        | None
    ) = None
    to_case: (
        Annotated[Conductivity, Spec(TO_CASE.name, ("0.1 W/(m·K)", "1.0 W/(m·K)"), "parked temperature")] | None
    ) = None
    shields: Annotated[Ratio, Spec(SHIELDS.name, ("30 %", "100 %"), "idle watts")] | None = None
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
        """A tube whose wall leaves no bore; a coil whose size is stated twice, or not at all."""
        if 2 * self.tube.wall.high >= self.tube.outside.low:
            words = f"a tube of {self.tube.outside.text} with a wall of {self.tube.wall.text} has no bore"
            yield ("tube", "wall"), words, "correct one of the two"
        stated = [name for name in SIZES if getattr(self, name) is not None]
        if len(stated) != 1:
            words = f"states {' and '.join(stated)}" if stated else "does not say how much tube it is"
            yield (
                (stated[1],) if stated else ("tube",),
                words,
                f"write one of {', '.join(SIZES)}; the others are computed",
            )

    def inputs(self, number: int) -> Iterator[Uncertain]:
        """Its uncertain inputs: what is not measured on the coil is taken by how it is held."""
        yield from super().inputs(number)
        for one in (JOINED.get(self.joined.value, JOINED["clamped"]), TO_CASE, SHIELDS):
            if getattr(self, one.id.rpartition(".")[2]) is None:
                yield replace(one, name=gettext(one.name), settles=gettext(one.settles) if one.settles else None)

    @property
    def size(self) -> Fact:
        """What states how much tube it is."""
        return next(one for one in (self.holds, self.length, self.turns) if one is not None)

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
        size: float | None = None,
        gap: float | None = None,
    ) -> CoilDemand:
        """What is asked of the winding on a boiler of a size, m; the tube and how much of it as stated, or as given."""
        asked = CoilDemand(
            boiler_diameter=diameter,
            straight_wall=wall,
            tube_outside=self.tube.outside.value if outside is None else outside,
            tube_wall=self.tube.wall.value,
            holds=0.0,
            layers_max=self.layers_max,
            gap=self.gap.value if gap is None else gap,
            tails=self.tails.length,
            fittings_mass=self.fittings_mass.value,
            tube_density=material(self.tube.material.value).density,
        )
        stated = self.size.value if size is None else size
        bore = float(bore_area(asked.tube_outside, asked.tube_wall))
        if self.turns is not None:
            stated = asked.tails + tube_of_turns(asked, stated)
        return replace(asked, holds=stated if self.holds is not None else stated * bore)

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """The coil's water and metal from its drawn sizes; contact and loss from the tube that touches, and is free."""
        if self.size.value == 0:
            return before
        metal, brass, wound = material(self.tube.material.value), material("brass"), self._wound(setting)
        area, bore = (of(setting.own("tube.outside"), setting.own("tube.wall")) for of in (metal_area, bore_area))
        length = self._length(setting, wound, bore)
        tube, fittings = area * length * metal.density, setting.own("fittings_mass")
        touching, free = self._lies(setting, wound, length)
        contact, to_case = setting.own("contact") * touching, setting.own("to_case") * free
        # The resting water's temperature decides its density; a kelvin more or less does not matter here.
        held_at = float(set_to(before.network.control)[0])
        parked = (contact[0] * held_at + to_case[0] * before.network.case[0]) / (contact[0] + to_case[0])
        inside = setting.values["model.inside"]
        coil = Coil(
            water_mass=bore * length * float(enclosed(parked)),
            metal_capacity=tube * metal.specific_heat + fittings * brass.specific_heat,
            to_boiler=contact,
            to_case=to_case,
            inside_at_rest=inside * conductance_at_rest(length, HALF_WARM),
            inside_in_flow=inside * self._in_flow(setting, wound, length),
            along=metal.conductivity * area / length,
            shields=setting.own("shields") * np.minimum(1.0, touching * setting.own("tube.outside") / wound.skin),
            bypass=_bypass(setting),
            emissivity=np.full(len(length), EMISSIVITY[metal.name]),
        )
        parts = (
            MassPart("coil", gettext("coil, tube and fittings"), tube + fittings, coil.metal_capacity, kit=True),
            MassPart(
                "coil-water", gettext("water in the coil"), coil.water_mass, coil.water_mass * WATER_SPECIFIC_HEAT,
                kit=True,
            ),
        )  # fmt: skip
        shape = self.wound(setting.machine)
        return replace(before.changed(coil=coil), wound=shape, tube_length=length).having(*parts)

    def _wound(self, setting: Setting) -> OnWall:
        """The coil on the boiler as stated; of one that nobody measured on each of the sizes that stand in for it.

        Such a coil has no published shape.
        """
        across, tall = (_size(setting, name) for name in ("diameter", "straight_wall"))
        asked = [self.demand(*one) for one in np.broadcast(across, tall)]
        coils = [wind(one) for one in asked]
        bore = float(bore_area(self.tube.outside.value, self.tube.wall.value))
        wanted = np.array([max(0.0, one.holds / bore - one.tails) for one in asked])
        on_wall, touching, facing, mean = (
            np.array([getattr(one, name) for one in coils])
            for name in ("length", "contact_length", "facing_length", "mean_diameter")
        )
        # What finds no place on the wall is free all round.
        beside = np.maximum(0.0, wanted - (on_wall - self.tails.length))
        skin = math.pi * across * (tall + across / 4)
        return OnWall(wanted, touching, facing / 2 + beside, mean, skin)

    def _length(self, setting: Setting, wound: OnWall, bore: Rows) -> Rows:
        """The coil's tube, m, shape (n,), from what states it."""
        if self.holds is not None:
            return setting.own("holds") / bore
        if self.length is not None:
            return setting.own("length")
        return self._tails(setting) + setting.own("turns") * wound.length / self.size.value

    def _lies(self, setting: Setting, wound: OnWall, length: Rows) -> tuple[Rows, Rows]:
        """The tube that touches the boiler, and that is free all round, m, each of shape (n,).

        Only the inner layer touches. Of the tube that is wound at most the outer half is free, and none under another
        layer; tails are free all round.
        """
        tails = np.minimum(self._tails(setting), length)
        share = (length - tails) / np.where(wound.length > 0, wound.length, np.inf)
        return wound.touching * share, tails + wound.free * share

    @staticmethod
    def _tails(setting: Setting) -> Rows:
        return setting.own("tails.inlet") + setting.own("tails.outlet")

    @staticmethod
    def _in_flow(setting: Setting, wound: OnWall, length: Rows) -> Rows:
        bore = setting.own("tube.outside") - 2 * setting.own("tube.wall")
        flow = np.full(len(length), TYPICAL_FLOW)
        return np.asarray(conductance_in_flow(flow, bore, wound.mean_diameter, length, HALF_WARM))


@dataclass(frozen=True)
class OnWall:
    """A coil's tube on a boiler's wall, each of shape (n,), or (1,) for all rows.

    length that is to be wound, of it touching, and free all round (half of what no other layer covers), m;
    mean_diameter of the turns, m; skin of the boiler's wall and lid, m²: its other end stands on the group.
    """

    length: Rows
    touching: Rows
    free: Rows
    mean_diameter: Rows
    skin: Rows


def _size(setting: Setting, name: str) -> Rows:
    """A size of the boiler, m: as stated, shape (1,), or what is drawn in its place, shape (n,)."""
    drawn = setting.values.rows.get(f"boiler.{name}")
    return np.array([getattr(setting.machine.boiler, name).value]) if drawn is None else drawn


def _bypass(setting: Setting) -> Rows:
    """Water that passes the coil and returns to the tank, kg/s: where the relief branch lies behind the coil."""
    flow = setting.values["water_path.bypass"]
    downstream = setting.machine.water_path.relief_branch.value == "downstream"
    return flow * COLD_WATER if downstream else np.zeros(len(flow))
