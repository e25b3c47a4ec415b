"""When a thermostat switched the heater, read off the log of its own sensor, and a machine led by these switchings.

Which way a thermostat goes hangs on every switching before, so a machine that is computed by its own switching soon
does something else than the one that was logged, and jumps from valley to valley as its inputs change. Led by the log
it changes smoothly, and what it warms too much or too little is left over at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from guidegen.heat.layout import BETWEEN, CLOSES, MODE, ON, OPENS, TIME, Matrix, Vector

if TYPE_CHECKING:
    from guidegen.heat.fleet import Fleet
    from guidegen.heat.predicted import Draw

SWING = 1.5
"""K: a sensor that turns by less has not been switched."""
NEARLY = 1.5
"""K: a fall that ends so little above the lower threshold ended because the heater came on."""
SMOOTHED = 3.0
"""s to either side of each row through which a log is smoothed."""
TURNS_EARLY = SMOOTHED / 2
"""s by which a smoothed log turns before the heater came on that ended a slow fall: it shows some of the rise already.
Such a moment is read off the turn and not off a level, which single rows cross by chance, now earlier and now later."""
SLOW = 0.25
"""K/s: a machine at rest cools less quickly than that, and one that cold water comes into more quickly."""
NEVER, ALWAYS = 0.0, 1e4
"""K: thresholds that nothing reaches, so that the heater stays as it is put."""

Switching = tuple[float, bool]
"""From when, s, and whether the heater is on."""


def turns(seen: Vector, least: float = SWING) -> list[int]:
    """Where a curve turns by at least so much, valleys and peaks by turns, with its first and last place.

    >>> turns(np.array([3.0, 5.0, 4.5, 6.0, 1.0, 4.0]))
    [0, 3, 4, 5]
    """
    found, low, high = [0], 0, 0
    rising: bool | None = None
    for at in range(len(seen)):
        if seen[at] > seen[high]:
            high = at
        if seen[at] < seen[low]:
            low = at
        if rising is not False and seen[high] - seen[at] >= least:
            found, rising, low, high = [*found, high], False, at, at
        elif rising is not True and seen[at] - seen[low] >= least:
            found, rising, low, high = [*found, low], True, at, at
    return [*dict.fromkeys((*found, len(seen) - 1))]


def heatings(seen: Vector) -> int:
    """How often at most a thermostat switched on, by what it felt: before its first turn, and once in each valley."""
    places = turns(seen)
    return 1 + sum(bool(seen[at] < seen[before]) for before, at in pairwise(places))


def later(switched: Sequence[Switching], late: Sequence[float]) -> list[Switching]:
    """The same with each switching on behind the log's beginning so many s later, but never past its neighbours.

    >>> later([(0.0, False), (1.75, True), (4.5, False)], [0.5])  # = 1.75 + 0.5
    [(0.0, False), (2.25, True), (4.5, False)]
    """
    made, number = list(switched), 0
    for at in range(1, len(made)):
        moment, on = made[at]
        if on:
            end = made[at + 1][0] if at + 1 < len(made) else np.inf
            moved = moment + (late[number] if number < len(late) else 0.0)
            made[at], number = (float(min(max(moved, made[at - 1][0]), end)), True), number + 1
    return made


def switchings(time: Vector, seen: Vector, opens: float, closes: float) -> list[Switching]:
    """The switchings of a thermostat by what it felt, the first at the beginning of the log.

    time, s, and seen, K, of its own sensor, smoothed; opens, closes: its thresholds, K.

    >>> seen = np.array([9.0, 7.0, 4.0, 1.0, 0.0, 2.0, 6.0, 8.0, 6.0, 4.0])
    >>> switchings(5.0 * np.arange(10.0), seen, opens=7.0, closes=2.5)  # = 10 + 5 x 1.5 / 3, 30 + 5 / 2
    [(0.0, False), (12.5, True), (32.5, False)]
    """
    places = turns(seen)
    first = places[0]
    on = bool(seen[first] < opens and len(places) > 1 and seen[places[1]] > seen[first]) or bool(seen[first] <= closes)
    found: list[Switching] = [(float(time[first]), on)]
    for begin, end in pairwise(places):
        limb, last = slice(begin, end + 1), end == len(seen) - 1
        if seen[end] > seen[begin] and on:
            moment = _reached(time[limb], seen[limb], opens)
            # A peak that is none of a draw's end is one because the heater went off.
            on = moment is None and last
            if not on:
                found.append((float(time[end]) if moment is None else moment, False))
        elif seen[end] < seen[begin] and not on:
            moment = _reached(time[limb], -seen[limb], -closes)
            if moment is None and (last or seen[end] > closes + NEARLY):
                continue
            on = True
            if moment is None or _slow(time[limb], seen[limb]):
                moment = float(time[end]) + TURNS_EARLY
            found.append((moment, True))
    return found


def _reached(time: Vector, rising: Vector, level: float) -> float | None:
    """When a curve comes from below to a level, between two rows by a straight line.

    Where noise takes it there several times, the middle of the first and the last: the first alone would be too early.
    """
    above = rising >= level
    if not above.any():
        return None
    first, last = int(np.argmax(above)), len(above) - int(np.argmin(above[::-1]))
    return 0.5 * (_crossing(time, rising, level, first) + _crossing(time, rising, level, last))


def _slow(time: Vector, falling: Vector) -> bool:
    """Whether a fall ends as slowly as one at rest does, not as one that water makes."""
    return bool(np.interp(time[-1] - 2 * SMOOTHED, time, falling) - falling[-1] < SLOW * 2 * SMOOTHED)


def _crossing(time: Vector, rising: Vector, level: float, at: int) -> float:
    """When a curve crosses a level between a row and the one before."""
    if at == 0 or at == len(time):
        return float(time[min(at, len(time) - 1)])
    share = (level - rising[at - 1]) / (rising[at] - rising[at - 1])
    return float(time[at - 1] + share * (time[at] - time[at - 1]))


def unlagged(time: Vector, seen: Vector, lag: float, width: float = SMOOTHED) -> Matrix:
    """What a probe would have shown without its lag, by straight lines through so many seconds to either side.

    Parameters: time, s, (n,); seen, K, (n,); lag, s; width, s.
    Returns: (n, 3), s, K and K/s: the slope tells what each second more of a lag would have hidden.
    """
    made = np.empty((len(time), 3))
    for at, moment in enumerate(time):
        near = slice(int(np.searchsorted(time, moment - width)), int(np.searchsorted(time, moment + width, "right")))
        t, x = time[near] - moment, seen[near]
        slope = float(np.cov(t, x, bias=True)[0, 1] / np.var(t)) if len(t) > 1 and np.ptp(t) > 0 else 0.0
        made[at] = moment, float(np.mean(x)) - slope * float(np.mean(t)) + slope * lag, slope
    return made


def free(parameters: Matrix) -> Matrix:
    """The rows with thresholds that nothing reaches."""
    rows = parameters.copy()
    rows[:, OPENS], rows[:, CLOSES] = ALWAYS, NEVER
    return rows


def led(fleet: Fleet, row: int, state: Matrix, draws: Sequence[tuple[Draw, Matrix]], lasts: float,
        switched: Sequence[Switching]) -> Matrix:  # fmt: skip
    """The trace of a free row whose heater is switched from outside, from a full state on.

    draws: with their pulls, kg/s, W/K, s. lasts: s; switched: as `switchings` gives it.
    """
    pieces = []
    for begin, end, on, pull in _spans(draws, lasts, switched):
        state = state.copy()
        state[0, MODE] = ON if on else BETWEEN
        who, still = np.array([row]), np.zeros((1, 3))
        if pull is None:
            made = fleet.shots(state, still, who=who, follow=end - begin, show=True)
            state = fleet.shots(state, still, who=who, wait=end - begin, keep=True).begun
        else:
            part = pull.copy()
            part[0, 2] = end - begin
            made = fleet.shots(state, part, who=who, show=True, keep=True)
            state = made.drawn
        made.curve[:, TIME] += begin
        pieces.append(made.curve)
    return np.concatenate(pieces)


def _spans(
    draws: Sequence[tuple[Draw, Matrix]], lasts: float, switched: Sequence[Switching]
) -> Iterator[tuple[float, float, bool, Matrix | None]]:
    """From when until when the heater is on or off and one draw is made or none."""
    ends = [draw.begins + draw.duration for draw, _ in draws]
    cuts = {0.0, lasts, *(draw.begins for draw, _ in draws), *ends, *(moment for moment, _ in switched)}
    moments = sorted(one for one in cuts if 0.0 <= one <= lasts)
    for begin, end in pairwise(moments):
        middle = 0.5 * (begin + end)
        on = next((is_on for moment, is_on in reversed(switched) if moment <= middle), False)
        pull = next((pull for draw, pull in draws if draw.begins <= middle < draw.begins + draw.duration), None)
        yield begin, end, on, pull
