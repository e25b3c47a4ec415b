"""Points of the stated machine: what the sensor drop becomes when feed, setpoint, drink or waiting are others.

One row, no draws: these are the answers to "what if", and the drop of a first drink so many minutes after switching on.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from guidegen.heat import program, warming
from guidegen.heat.fleet import Fleet
from guidegen.heat.layout import FEED, RELAY_CONTROL, SETPOINT
from guidegen.heat.network import Network
from guidegen.heat.pull import Pull
from guidegen.heat.shot import AT, WATCHED_AFTER

_Numbers = NDArray[np.float64]


def what_if(
    network: Network, pulls: Sequence[Pull], feeds: Sequence[float], changes: Sequence[float], waits: Sequence[float]
) -> _Numbers:
    """Give the sensor drop of row 0 by drink, change of the setpoint, feed and wait since the last such drink.

    Parameters: network; pulls, the drinks; feeds, K; changes of the setpoint, K, without effect on a thermostat; waits,
        s, rising.
    Returns: K, shape (drinks, changes, feeds, 1 + waits): first of a machine at rest, then after each wait. Of a
        thermostat each is the mean over the start phases of its cycle.
    Valid for: what `network` says.
    Equation: those of `network`; the drop as in `shot`.
    Source: none; balances of energy.

    >>> from guidegen.heat.example import example
    >>> drops = what_if(example(), [Pull(0.05, 28.0)], [283.15, 303.15], [0.0], [60.0])[0, 0]
    >>> bool(drops[0, 0] > drops[1, 0]), bool(drops[0, 1] > drops[0, 0])
    (True, True)
    """
    stated = network.row(0).parameters()[0]
    if stated[RELAY_CONTROL] > 0.0 and len(changes) > 1:
        return np.repeat(what_if(network, pulls, feeds, changes[:1], waits), len(changes), axis=1)
    rows = np.tile(stated, (len(changes) * len(feeds), 1))
    rows[:, FEED] = np.tile(np.asarray(feeds, dtype=float), len(changes))
    if stated[RELAY_CONTROL] == 0.0:
        rows[:, SETPOINT] += np.repeat(np.asarray(changes, dtype=float), len(feeds))
    begin = program.starts(Fleet(rows), np.zeros(len(rows)), every=range(len(rows)))
    drops = []
    for pull in pulls:
        first = program.drinks(begin, pull, WATCHED_AFTER)
        second = program.again(begin, first, pull, waits)[:, :, AT.sensor_drop]
        drops.append(begin.mean(np.column_stack((first.results[:, AT.sensor_drop], second))))
    return np.array(drops).reshape(len(pulls), len(changes), len(feeds), 1 + len(waits))


def drops_from_cold(network: Network, pull: Pull, minutes: int) -> _Numbers:
    """Give the sensor drop of row 0 in a first drink so many whole minutes after switching on.

    Parameters: network; pull, the drink; minutes, how many.
    Returns: K, shape (minutes,); nan until the sensor has first been within 2 K of its setpoint, and for a thermostat,
        where the moment in its cycle decides.
    Valid for: what `network` says.
    Equation: those of `network`; the drop as in `shot`.
    Source: none; balances of energy.

    >>> from guidegen.heat.example import example
    >>> [bool(drop > 0) for drop in drops_from_cold(example(), Pull(0.05, 28.0), 3)]
    [False, True, True]
    """
    fleet = Fleet(network.row(0).parameters())
    if fleet.p[0, RELAY_CONTROL] > 0.0:
        return np.full(minutes, np.nan)
    facts = fleet.idle()[1]
    ready = float(fleet.from_cold(facts, shown=False)[0][0, warming.BOILER_READY])
    return program.drop_by_start(fleet, pull, minutes, ready if np.isfinite(ready) else np.inf)
