"""Which logged runs may be compared before and after: one of each configuration in a block, all else alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from guidegen.problems import Problem
from guidegen.runs.codes import RunCode
from guidegen.runs.document import LoggedRun
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.contradiction import problem
from guidegen.workshop.base import Loc

FEWEST = 5
"""Blocks; of fewer an exchange within pairs is never rarer than one in sixteen, so nothing could be shown."""
SAME_FEED = 1.0
"""K that the feed of two runs may differ by, beside the uncertainty of both: 1 K in 80 moves a dip by about 1 %."""
ROUNDING = 1e-6
"""K by which the same setpoint may differ in two units."""
Named = Mapping[str, LoggedRun]
"""Runs by the path of their description."""


@dataclass(frozen=True)
class Configurations:
    """The runs of a variant without any kit, and with one kit and nothing else."""

    without: Named
    with_: Named

    @property
    def every(self) -> Named:
        """All of them."""
        return {**self.without, **self.with_}


@dataclass(frozen=True)
class Compared:
    """The pairs of paths, without and with, in the order of their blocks; and why there are none."""

    pairs: tuple[tuple[str, str], ...]
    refused: tuple[Problem, ...]


def configurations(known: Catalogue, variant: str, kit: str) -> Configurations:
    """The runs that say something of a kit on a variant: without it are those of a machine with what it needs."""
    first = sorted(one.id for one in known.first(kit))
    mine = {path: run for path, run in known.runs.items() if run.variant == variant}
    return Configurations(
        {path: run for path, run in mine.items() if sorted(run.kits) == first},
        {path: run for path, run in mine.items() if sorted(run.kits) == sorted((*first, kit))},
    )


def shots_of(runs: Named, drink: str) -> Named:
    """Those in which this drink was made on a warm machine at rest."""
    return {path: run for path, run in runs.items() if run.kind == "shot" and run.drink == drink and run.shots}


def compared(without: Named, with_: Named) -> Compared:
    """The pairs of shots before and after; where anything speaks against comparing them there are none."""
    blocks = {
        number: ([*_of_block(without, number)], [*_of_block(with_, number)])
        for number in sorted({run.block for run in chain(without.values(), with_.values()) if run.block})
    }
    whole = {number: (one[0], other[0]) for number, (one, other) in blocks.items() if len(one) == len(other) == 1}
    pairs = tuple((one[0], other[0]) for one, other in whole.values())
    runs = {**without, **with_}
    refused = [
        *_unpaired(runs, set(whole)),
        *_machines([*runs.values()]),
        *_invented([*runs.values()]),
        *(found for one, other in whole.values() for asked in ALIKE for found in asked(one[1], other[1])),
    ]
    if len(pairs) < FEWEST and runs:
        words = f"{len(pairs)} whole {'block' if len(pairs) == 1 else 'blocks'} of shots without and with the kit"
        last = [*runs.values()][-1]
        refused.append(_refusal(last, ("block",), RunCode.FEW_PAIRS, words, f"log {FEWEST - len(pairs)} more"))
    return Compared(() if refused else pairs, tuple(sorted(set(refused))))


def of_one(found: Configurations, pairs: Compared) -> Configurations:
    """The runs that may be averaged: those of the machine of the pairs, or of the only one; none where it is several.

    Runs that nobody measured are another machine's than measured ones.
    """
    every = {path: (run.machine, run.invented) for path, run in found.every.items()}
    meant = {every[one] for pair in pairs.pairs for one in pair} or set(every.values())
    kept = [path for path, one in every.items() if len(meant) == 1 and one in meant]
    return Configurations(*({path: run for path, run in side.items() if path in kept}
                            for side in (found.without, found.with_)))  # fmt: skip


def _of_block(runs: Named, number: int | None) -> Iterator[tuple[str, LoggedRun]]:
    return ((path, run) for path, run in runs.items() if run.block == number)


def _unpaired(runs: Named, whole: set[int]) -> Iterator[Problem]:
    """Runs without a block, or in one that lacks the other configuration or has one twice."""
    for run in runs.values():
        if run.block is None:
            words = "a shot of no block"
            yield _refusal(run, (), RunCode.UNPAIRED, words, "write block: with the number that its partner has")
        elif run.block not in whole:
            words = f"block {run.block} has no run of the other configuration, or one of them twice"
            yield _refusal(run, ("block",), RunCode.UNPAIRED, words, "log the missing one, or number the blocks anew")


def _machines(runs: Sequence[LoggedRun]) -> Iterator[Problem]:
    """Runs of another machine than the first, or of one that nobody named."""
    first = next((run.machine for run in runs if run.machine), None)
    for run in runs:
        if run.machine is None:
            fix = f"write machine: {first}" if first else "write machine: with its serial number"
            yield _refusal(run, (), RunCode.OTHER_MACHINE, "nobody wrote which machine it was", fix)
        elif run.machine != first:
            words = f"{run.machine}, where other runs are of {first}"
            yield _refusal(run, ("machine",), RunCode.OTHER_MACHINE, words, "compare runs of one machine")


def _feeds(before: LoggedRun, after: LoggedRun) -> Iterator[Problem]:
    """A pair whose feeds differ by more than what is known of them."""
    for run in (before, after):
        if run.feed is None or not run.feed.known:
            words = "nobody wrote how warm the feed was"
            yield _refusal(run, (), RunCode.OTHER_FEED, words, "write feed: with the temperature in the tank")
            return
    assert before.feed is not None
    assert after.feed is not None
    allowed = SAME_FEED + before.feed.plus_minus + after.feed.plus_minus
    if abs(before.feed.value - after.feed.value) > allowed:
        words = f"{after.feed.text}, where block {after.block} was drawn from {before.feed.text} without the kit"
        yield _refusal(after, ("feed",), RunCode.OTHER_FEED, words, f"log it again within {allowed:.1f} K")


def _probes(before: LoggedRun, after: LoggedRun) -> Iterator[Problem]:
    """A pair that two kinds or classes of probe read."""
    (_, one), (at, other) = (_read_by(run) for run in (before, after))
    if one != other:
        words = f"{other}, where block {after.block} was read by {one} without the kit"
        yield _refusal(after, ("columns", at, "probe"), RunCode.OTHER_PROBE, words, "log it again with the same probe")


def _read_by(run: LoggedRun) -> tuple[int, str]:
    """The column of the sensor, and what reads it, in words."""
    at, column = next(((at, one) for at, one in enumerate(run.columns) if one.place == "sensor"), (0, None))
    probe = column.probe if column else None
    if probe is None:
        return at, "a probe that nobody stated"
    return at, f"{probe.kind} of class {probe.grade}" if probe.grade else probe.kind


def _setpoints(before: LoggedRun, after: LoggedRun) -> Iterator[Problem]:
    """A pair with two stated setpoints that differ by more than what is known of them."""
    one, other = before.setpoint, after.setpoint
    if one is None or other is None or not (one.known and other.known):
        return
    if abs(one.value - other.value) > one.plus_minus + other.plus_minus + ROUNDING:
        words = f"{other.text}, where block {after.block} was held at {one.text} without the kit"
        yield _refusal(after, ("setpoint",), RunCode.OTHER_SETPOINT, words, f"log it again at {one.text}")


def _invented(runs: Sequence[LoggedRun]) -> Iterator[Problem]:
    """Runs that nobody measured beside some that somebody did."""
    if len({run.invented for run in runs}) > 1:
        words = "nobody measured this one, but others are real"
        yield from (_refusal(run, ("invented",), RunCode.INVENTED_AND_REAL, words, "compare real runs alone")
                    for run in runs if run.invented)  # fmt: skip


ALIKE = (_feeds, _probes, _setpoints)
"""What asks two runs of a pair whether anything but the kit differs."""


def _refusal(run: LoggedRun, loc: Loc, code: RunCode, words: str, fix: str) -> Problem:
    """Why nothing is compared: no mistake of the data, so a warning wherever data are checked."""
    return replace(problem(run, loc, code, words, fix), severity="warning")
