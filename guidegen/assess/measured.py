"""What logged runs say of a pair, beside what was computed of it: figures, before and after, curves, disagreement."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from pathlib import PurePosixPath
from typing import TypeVar

import numpy as np

from guidegen.assess import bands, logs
from guidegen.assess.bands import RangeQuestion, curve_range
from guidegen.assess.kept import Kept
from guidegen.assess.logged_side import MeasuredSide, error_of, mean_known
from guidegen.assess.logs import ReadRun, ReadRuns, ReadShot, digest_of, read_runs
from guidegen.assess.numbers import Numbers
from guidegen.assess.question import PairQuestion
from guidegen.heat import paired
from guidegen.record import places
from guidegen.record.base import Figure, Record, rounded
from guidegen.record.measured import BeforeAfter, LoggedFile, Measured, MeasuredInterval, Refusal
from guidegen.runs.codes import RunCode
from guidegen.runs.document import LoggedRun
from guidegen.trade import Catalogue
from guidegen.trade.blocks import Compared, Named, compared, configurations, of_one, shots_of

R = TypeVar("R", bound=Record)

REFUSALS: Mapping[str, Refusal] = {
    RunCode.UNPAIRED: "unpaired", RunCode.FEW_PAIRS: "few-pairs", RunCode.OTHER_MACHINE: "other-machine",
    RunCode.OTHER_FEED: "other-feed", RunCode.OTHER_PROBE: "other-probe", RunCode.OTHER_SETPOINT: "other-setpoint",
    RunCode.INVENTED_AND_REAL: "invented-and-real",
}  # fmt: skip


def measured(
    known: Catalogue, variant: str, kit: str, asked: PairQuestion, numbers: Numbers, kept: Kept | None
) -> Measured | None:
    """What runs say of a kit on a variant; None where nobody logged the machine with it."""
    found = configurations(known, variant, kit)
    if not found.with_:
        return None
    drink = asked.served.main
    pairs = compared(shots_of(found.without, drink), shots_of(found.with_, drink))
    meant = of_one(found, pairs)
    without, with_ = (
        _side(name, runs, known, asked, drink, kept)
        for name, runs in (("without", meant.without), ("with", meant.with_))
    )
    computed = dict(places.figures(numbers))
    before_after, refused = _before_after(pairs, without, with_, computed)
    aside = read_runs({path: run for path, run in found.every.items() if path not in meant.every}, known.root)
    read = {**without.read.runs, **with_.read.runs, **aside.runs}
    said = meant.every or found.every
    return Measured(
        invented=any(run.invented for run in said.values()),
        machine=next((run.machine for run in meant.every.values()), None),
        shots=len(without.firsts) + len(with_.firsts),
        before_after=before_after,
        refused=refused,
        figures=tuple(one for side in (without, with_) for one in side.figures(computed)),
        without=without.curve(),
        with_=with_.curve(),
        runs=tuple(_file(path, run, read[path]) for path, run in found.every.items()),
    )


def _side(name: str, runs: Named, known: Catalogue, asked: PairQuestion, drink: str, kept: Kept | None) -> MeasuredSide:
    read = _part(kept, ReadRuns, logs.MODULE, digest_of(runs), lambda: read_runs(runs, known.root))
    network = asked.plain if name == "without" else asked.fitted
    question = RangeQuestion(network, asked.served.pulls[drink], asked.phase, asked.habit, read.lag_s or 0.0)
    if not runs:
        return MeasuredSide(name, runs, read, drink, None)
    ends = _part(
        kept, bands.CurveAnswer, bands.MODULE, question.digest(), lambda: bands.CurveAnswer(found=curve_range(question))
    )
    return MeasuredSide(name, runs, read, drink, ends.found)


def _part(kept: Kept | None, model: type[R], module: str, digest: str, make: Callable[[], R]) -> R:
    return make() if kept is None else kept.part(model, module, digest, make)


def _before_after(
    pairs: Compared, without: MeasuredSide, with_: MeasuredSide, computed: Mapping[str, Figure]
) -> tuple[BeforeAfter | None, tuple[Refusal, ...]]:
    if pairs.refused:
        return None, tuple(dict.fromkeys(REFUSALS[one.code] for one in pairs.refused))
    whole = [(without.firsts[one], with_.firsts[other]) for one, other in pairs.pairs
             if one in without.firsts and other in with_.firsts]  # fmt: skip
    if len(whole) < paired.PAIRS.low:
        return None, ("few-pairs",)
    before, after = ([one.drop_k for one in side] for side in zip(*whole, strict=True))
    common, is_known = _shared(*zip(*whole, strict=True))
    turned = [(second, first) for first, second in common]
    less, ratio = paired.difference(after, before, turned), paired.ratio(before, after, common)
    chance = paired.exchange_probability(before, after) if len(whole) <= paired.EXACT.high else None
    kept_ratio, place = _interval(*ratio), f"drinks.{without.drink}.drop_ratio.sensor"
    error = error_of(kept_ratio.value, kept_ratio.low, kept_ratio.high, computed.get(place)) if is_known else None
    return (
        BeforeAfter(
            pairs=len(whole), less_k=_interval(less.mean, less.low, less.high), ratio=kept_ratio,
            by_chance=None if chance is None else rounded(chance), normalised_error=error,
        ),
        (),
    )  # fmt: skip


def _shared(before: Sequence[ReadShot], after: Sequence[ReadShot]) -> tuple[list[tuple[float, float]], bool]:
    """By how much probe, lag and reading may move the mean dips of both sides at once; and whether all are known.

    Probe and lag are the same on both sides and move both the same way; readings of one side say nothing of the other.
    """
    reading = [float(np.mean([one.drop_by_reading_k for one in side])) for side in (before, after)]
    sides = (
        (mean_known([one.drop_by_probe_k for one in side]) for side in (before, after)),
        (mean_known([one.drop_by_lag_k for one in side]) for side in (before, after)),
    )
    known = [(one, other) for one, other in sides if one is not None and other is not None]
    return [*known, (reading[0], 0.0), (0.0, reading[1])], len(known) == len(sides)


def _interval(value: float, low: float, high: float) -> MeasuredInterval:
    ends = (rounded(end) if math.isfinite(end) else None for end in (low, high))
    return MeasuredInterval(value=rounded(value), **dict(zip(("low", "high"), ends, strict=True)))


def _file(path: str, run: LoggedRun, read: ReadRun) -> LoggedFile:
    probe = next((one.probe for one in run.columns if one.place == logs.SEEN), None)
    return LoggedFile(
        id=PurePosixPath(path).stem, file=run.file, sha256=run.sha256, date=run.date.isoformat(),
        kits=run.kits, kind=run.kind,
        block=run.block, drink=run.drink, shots=len(run.shots), rows=read.rows, left_out=read.left_out,
        probe=probe.kind if probe else None, grade=probe.grade if probe else None, invented=run.invented,
        note=str(run.note) if run.note else None,
    )  # fmt: skip
