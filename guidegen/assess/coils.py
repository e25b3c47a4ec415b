"""The coil's part of the record: as it is wound on this boiler, what it holds, and what it withstands."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from guidegen.assess.figures import Figures
from guidegen.assess.reasons import reason
from guidegen.heat.coil import bore_area
from guidegen.heat.hydraulics import pressure_loss
from guidegen.heat.network import Rows
from guidegen.heat.pressure import allowable_pressure
from guidegen.heat.study import Study
from guidegen.heat.validity import ValidityError
from guidegen.heat.water import COLD_WATER
from guidegen.language import marked
from guidegen.record.base import Figure, rounded
from guidegen.record.computed import CoilPart

if TYPE_CHECKING:
    from guidegen.assess.question import PairQuestion

PASCAL_PER_BAR = 1e5
SCALE = 0.5e-3
"""m; scale in a coil that is due for descaling; common practice, no source."""
NOT_PUBLISHED = marked("no published value: {detail}")


def coil_part(make: Figures, asked: PairQuestion, study: Study) -> CoilPart | None:
    """The coil of a kit on this machine; None where the kit has none or the boiler's size is not known."""
    metal, wound, coil, values = asked.share("coil"), asked.wound, asked.fitted.coil, asked.values
    if metal is None or wound is None or coil is None or asked.tube_length is None:
        return None
    pull = asked.served.pulls[asked.served.main]
    outside, wall = values["kit.tube.outside"], values["kit.tube.wall"]
    length = asked.tube_length
    held = length * bore_area(outside, wall)
    flow = pull.mass / pull.duration + coil.bypass
    bore, through = outside - 2 * wall, flow / COLD_WATER
    loss, scaled = (
        pressure_loss(through, open_, wound.mean_diameter, length, values["feed"]) for open_ in (bore, bore - 2 * SCALE)
    )
    return make.part(
        CoilPart,
        study,
        held_ml=make.figure(held, factor=1e6),
        preheated_ml=make.figure(study.preheated, factor=1e6 / COLD_WATER),
        length_m=make.figure(length),
        turns=Figure(value=rounded(wound.turns)),
        layers=wound.layers,
        height_mm=Figure(value=rounded(wound.height * 1e3)),
        dry_kg=make.figure(metal.mass),
        filled_kg=make.figure(metal.mass + coil.water_mass),
        pressure_loss_pa=make.figure(np.asarray(loss)),
        scaled_loss_pa=make.figure(np.asarray(scaled)),
        allowable_pressure_bar=_allowable(make, outside, wall, asked.hottest),
    )


def _allowable(make: Figures, outside: Rows, wall: Rows, hottest: float) -> Figure:
    """For straight new tube at the hottest the coil gets; no figure where no published value reaches so far."""
    try:
        return make.figure(np.asarray(allowable_pressure(outside, wall, hottest)), factor=1 / PASCAL_PER_BAR)
    except ValidityError as error:
        return Figure(value=None, reason=reason(NOT_PUBLISHED, error))
