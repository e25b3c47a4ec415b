"""The closed coil's part of the record: what its water pushes out as it warms up, and what if it were locked in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from guidegen.assess.figures import Figures
from guidegen.assess.reasons import reason
from guidegen.heat.closed import pressure_rise, pushed_out, stretch, warming_to, yield_pressure
from guidegen.heat.coil import bore_area
from guidegen.heat.materials import material
from guidegen.heat.network import Rows, set_to
from guidegen.heat.study import Study
from guidegen.heat.validity import ValidityError
from guidegen.heat.water import UNDER_PRESSURE
from guidegen.language import marked
from guidegen.record.base import Both, Figure
from guidegen.record.closed_coil import ClosedCoil

if TYPE_CHECKING:
    from guidegen.assess.question import PairQuestion

ML, BAR = 1e6, 1e-5
PATH_UNKNOWN = marked("not known whether anything can close between the coil and the relief valve")
OUT_OF_RANGE = marked("no value: {detail}")


def closed_coil_part(make: Figures, asked: PairQuestion, study: Study) -> ClosedCoil | None:
    """The water of a kit's coil on this machine; None where the kit has none or the boiler's size is not known."""
    if asked.wound is None or asked.tube is None or asked.tube_length is None:
        return None
    values = asked.values
    cold, metal = values["room"], material(asked.tube).elastic
    outside, wall = values["kit.tube.outside"], values["kit.tube.wall"]
    give = stretch(outside, wall, metal.young, metal.poisson)
    yields = weakest(asked)
    first, opens = _first(asked, yields)
    # Of a machine that never settles nobody can say how warm parked water is; formulas take numbers only.
    settled = np.isfinite(study.parked)
    parked = np.where(settled, study.parked, cold)
    rise = pressure_rise((cold + parked) / 2, UNDER_PRESSURE, give, metal.expansion)
    before = pushed_out(values["boiler.water"], cold, set_to(asked.plain.control))
    after = pushed_out(values["boiler.water"], cold, set_to(asked.fitted.control))
    coil = np.where(settled, pushed_out(asked.tube_length * bore_area(outside, wall), cold, parked), np.nan)

    def warming(pressure: Rows) -> Figure:
        try:
            return make.figure(warming_to(pressure, cold, give, metal.expansion))
        except ValidityError as error:
            return Figure(value=None, reason=reason(OUT_OF_RANGE, error))

    unknown = Figure(value=None, reason=PATH_UNKNOWN)
    return ClosedCoil(
        opens_first=first,
        pushed_out_ml=Both(without=make.figure(before, factor=ML), with_=make.figure(after + coil, factor=ML)),
        coil_pushed_out_ml=make.figure(coil, factor=ML),
        opens_bar=unknown if opens is None else make.figure(opens, factor=BAR),
        opens_after_k=unknown if opens is None else warming(opens),
        rise_bar=make.figure(np.where(settled, rise, np.nan), factor=BAR),
        yields_bar=make.figure(yields, factor=BAR),
        yields_after_k=warming(yields),
    )


def weakest(asked: PairQuestion) -> Rows:
    """The pressure at which the weakest part between two closed ends gives way, Pa: the yield of the coil's tube."""
    assert asked.tube is not None
    stress = material(asked.tube).elastic.yield_stress
    return yield_pressure(asked.values["kit.tube.outside"], asked.values["kit.tube.wall"], stress)


Opens = Literal["relief-valve", "tube", "unknown"]


def _first(asked: PairQuestion, yields: Rows) -> tuple[Opens, Rows | None]:
    """What opens first at the stated values, and at which pressure, Pa; no pressure where it is not known."""
    relief = asked.values["water_path.relief_opens"]
    if asked.relief_reached == "no" or yields[0] < relief[0]:
        return "tube", yields
    return ("relief-valve", relief) if asked.relief_reached == "yes" else ("unknown", None)
