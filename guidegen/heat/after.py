"""After use: coming back from steam."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from guidegen.heat import layout as k
from guidegen.heat.fleet import Fleet
from guidegen.heat.idle import settled
from guidegen.heat.network import Network, Rows
from guidegen.heat.pull import Pull
from guidegen.heat.steam import BY_FLUSHING, BY_WAITING, WAYS, back_rows


@dataclass(frozen=True)
class SteamRecovery:
    """The way back from steam, each of shape (n,): seconds of waiting, or kg of water to flush; infinite: too long."""

    wait: Rows
    flush: Rows


def after_steam(network: Network, steam: Rows, flush: Pull) -> SteamRecovery:
    """Give how each row comes back to within 2 K of its setpoint from a steady steam temperature.

    Parameters: network of n rows; steam temperature, K, shape (n,); flush, of which the flow counts.
    Returns: seconds of waiting, kg of water to flush; infinite where an hour or two minutes do not suffice.
    Valid for: what `network` says. Steam itself is not modelled: the boiler is taken as full of water at that
        temperature, so that the flush is an upper bound.
    Equation: those of `network`.
    Source: none; a balance of energy.

    >>> from guidegen.heat.example import example
    >>> back = after_steam(example(), np.array([273.15 + 130.0]), Pull(0.06, 15.0))
    >>> bool(0.02 < back.flush[0] < 0.2 and back.wait[0] > 120)
    True
    """
    if len(steam) != len(network):
        raise ValueError("steam: one temperature for each row")
    fleet = Fleet(network.parameters())
    mass_flow, flow, _ = flush.row()
    ways = np.full((len(fleet), WAYS), np.nan)

    def compute(start: int, stop: int) -> None:
        width = max(fleet.longest, k.LUMPED, fleet.cells + 1)
        work, nothing = np.zeros((k.WORK, width)), np.empty((0, k.COLUMNS))
        back_rows(start, stop, fleet.p, fleet.exact, steam, flow, ways, np.zeros(fleet.longest), nothing, work)

    fleet.share_out(compute, len(fleet))
    return SteamRecovery(ways[:, BY_WAITING], ways[:, BY_FLUSHING] * mass_flow)


def soaked_coil(network: Network, temperature: Rows) -> Rows:
    """Give how hot a coil gets that has long stood round a boiler.

    Parameters: network of n rows; temperature that the sensor sees, K, shape (n,).
    Returns: temperature of the coil's metal, K, shape (n,).
    Valid for: what `network` says; a network with a coil.
    Equation: those of `network`, with all rates zero.
    Source: none; a balance of energy.

    >>> from guidegen.heat.example import example
    >>> bool(293.15 < soaked_coil(example(), np.array([403.15]))[0] < 403.15)
    ... # warmer than the room, colder than the boiler
    True
    """
    if network.coil is None or len(temperature) != len(network):
        raise ValueError("soaked_coil: a network with a coil, and one temperature for each row")
    parameters, lumped, found = network.parameters(), np.zeros(k.LUMPED), np.empty(len(network))
    for row in range(len(network)):
        settled(parameters[row], temperature[row], lumped)
        found[row] = lumped[k.LUMPS + 2]
    return found
