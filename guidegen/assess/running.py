"""What it takes to run the machine: warm-up and energy, without and with the kit, and what the kit adds."""

from __future__ import annotations

import numpy as np

from guidegen.assess.drinks import NO_COIL
from guidegen.assess.figures import Figures, Limit
from guidegen.heat import warming
from guidegen.heat.network import Rows
from guidegen.heat.study import Study
from guidegen.language import marked
from guidegen.record.computed import Energy, EnergySide, WarmUp, WarmUpSide

RELAY_SHOT_READY = marked("depends on when in the thermostat's cycle you pull")
BY_SHOT, BY_LAST = marked("shot ready"), marked("the last of boiler, group and coil")


def warm_up(make: Figures, before: Study, after: Study) -> WarmUp:
    """Times from cold, and what the kit adds: to shot ready, or to the last of the others where a thermostat rules.

    A side of which one part never gets there is not ready: nothing is added up of the others.
    """
    began, added = added_rows(before, after)
    # What takes longer than was watched adds at least what is left of that.
    left = warming.LONGEST - float(np.max(began[np.isfinite(began)], initial=0.0))
    return WarmUp(
        added_s=make.figure(added, limit=Limit(left, "time", "s")),
        added_means=BY_SHOT if by_shot(before, after) else BY_LAST,
        without=warm_up_side(make, before),
        with_=warm_up_side(make, after),
    )


def by_shot(before: Study, after: Study) -> bool:
    """Whether shot ready says when both sides are warm: a thermostat has no such moment."""
    return not any(is_relay(study) for study in (before, after))


def added_rows(before: Study, after: Study) -> tuple[Rows, Rows]:
    """By row, when the machine itself is warm, nan where it never is, and what a kit adds to that, s."""
    shot = by_shot(before, after)

    def ready(study: Study) -> Rows:
        if shot:
            return study.shot_ready
        last = np.maximum(study.boiler_ready, study.group_ready)
        return last if np.all(np.isnan(study.coil_settled)) else np.maximum(last, study.coil_settled)

    # Where the machine itself never gets there, nothing can be added to its time.
    began = np.where(np.isfinite(ready(before)), ready(before), np.nan)
    return began, ready(after) - began


def warm_up_side(make: Figures, study: Study) -> WarmUpSide:
    """Times from cold on one side."""
    missing = {}
    if is_relay(study):
        missing["shot_ready_s"] = RELAY_SHOT_READY
    if np.all(np.isnan(study.parked)):
        missing["coil_settled_s"] = NO_COIL
    return make.part(WarmUpSide, study, missing)


def is_relay(study: Study) -> bool:
    """Whether a thermostat rules the machine: it has a cycle."""
    return bool(np.any(study.period > 0))


JOULES_PER_WH = 3600.0


def energy(make: Figures, before: Study, after: Study, sessions: int, per_kwh: float) -> Energy:
    """Idle power, session and day, and what the kit makes of them; usage and currency are filled in with the words."""

    def side(study: Study) -> EnergySide:
        return make.part(
            EnergySide,
            study,
            day_wh=make.figure(study.session_energy, factor=sessions / JOULES_PER_WH),
            session_cost=make.figure(study.session_energy, factor=per_kwh / JOULES_PER_WH / 1000),
        )

    return Energy(
        usage="",
        currency="",
        without=side(before),
        with_=side(after),
        day_ratio=make.ratio(after.session_energy, before.session_energy),
        idle_added_w=make.figure(after.idle_power - before.idle_power),
        day_added_wh=make.figure(after.session_energy - before.session_energy, factor=sessions / JOULES_PER_WH),
    )
