"""`guidegen run show` and `guidegen run compare`: what logged runs say, with how sure that is."""

from __future__ import annotations

import argparse
import math
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from guidegen.commands.actions import workshop_at
from guidegen.commands.terminal import out
from guidegen.problems import CatalogueError

if TYPE_CHECKING:
    from guidegen.record.base import Figure
    from guidegen.record.measured import Measured, MeasuredFigure
    from guidegen.runs.document import LoggedRun


def print_figures(path: str, run: LoggedRun, root: Path) -> None:
    """The dip and the recovery of each shot of one run, with standard uncertainties."""
    from guidegen.assess.logs import read_runs

    read = read_runs({path: run}, root)
    for shot in read.runs[path].shots:
        parts = {"probe": shot.drop_by_probe_k, "lag": shot.drop_by_lag_k, "reading": shot.drop_by_reading_k}
        known = {name: one for name, one in parts.items() if one is not None}
        words = ", ".join(f"{name} {one:.2f}" for name, one in known.items())
        unknown = (
            "; not known of " + " and ".join(name for name in parts if name not in known) if len(known) < 3 else ""
        )
        back = "not in this log" if shot.recovery_s is None else f"{shot.recovery_s:.0f} s"
        dip = f"dip {shot.number + 1}: {shot.drop_k:.2f} K from {shot.start_degc:.1f} °C"
        out(f"{dip}, u = {math.hypot(*known.values()):.2f} K ({words}{unknown}); back at idle after: {back}")
    if (ready := read.runs[path].ready) is not None:
        out(f"boiler ready after {ready.after_s:.0f} s")


def compare(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen run compare VARIANT KIT`."""
    workshop_at(root)
    from guidegen import pipeline, trade
    from guidegen.record.places import figures
    from guidegen.trade.blocks import compared, configurations, shots_of

    with trade.opened(root) as known:
        runs = configurations(known, known.machine(arguments.variant).id, known.kit(arguments.kit).id)
        if not runs.with_:
            out(f"nobody logged {arguments.variant} with {arguments.kit} yet")
            return 0
        drink = known.workshop.main_drink
        record = pipeline.assess_kept(known, root, arguments.variant, arguments.kit, arguments.draws)
        found = compared(shots_of(runs.without, drink), shots_of(runs.with_, drink))
    assert record.measured is not None
    _print(record.measured, dict(figures(record)))
    if found.refused:
        raise CatalogueError([replace(one, severity="error") for one in found.refused])
    return 0


def _print(measured: Measured, computed: dict[str, Figure]) -> None:
    if any(one.invented for one in measured.runs):
        out(f"{'all' if measured.all_invented else 'some'} of these logs are invented: nobody measured them")
    for one in measured.figures:
        out(f"{one.place}: {_measured(one)}; computed {_ranged(computed[one.place])}{_error(one.normalised_error)}")
    if (both := measured.before_after) is not None:
        out(f"before and after, {both.pairs} pairs: the dip is {_ranged(both.less_k)} K smaller with the kit"
            f"{_by_chance(both.by_chance)}")  # fmt: skip
        out(f"ratio {_ranged(both.ratio)}{_error(both.normalised_error)}")
    for side, curve in (("without", measured.without), ("with the kit", measured.with_)):
        if curve is not None and curve.inside is not None:
            out(f"{side}: {100 * curve.inside:.0f} % of the logged points lie in the computed range")
    if measured.disagreeing:
        out(f"measured and computed disagree in {', '.join(measured.disagreeing)}")


def _by_chance(chance: float | None) -> str:
    if chance is None:
        return ""
    return f"; exchanges as extreme: {'below 0.1' if chance < 0.0005 else f'{100 * chance:.1f}'} %"


def _measured(one: MeasuredFigure) -> str:
    shots = "one shot" if one.shots == 1 else f"{one.shots} shots"
    return f"{one.reason or _ranged(one)} ({shots})"


def _ranged(one: object) -> str:
    """A value with the ends that there are."""
    value, low, high = (getattr(one, name) for name in ("value", "low", "high"))
    if value is None:
        return getattr(one, "reason", None) or "no value"
    ends = " to ".join("…" if end is None else f"{end:.4g}" for end in (low, high))
    return f"{value:.4g} ({ends})" if low is not None or high is not None else f"{value:.4g}"


def _error(error: float | None) -> str:
    return "" if error is None else f", normalised error {error:+.2f}"
