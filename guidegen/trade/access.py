"""Whether a boiler's bolts can be reached with a coil on: the room that a key needs over their heads, and what is left.

A bolt stands beside the foot of the straight wall, its axis half a bolt circle from the boiler's. A layer of the coil
is in the key's way where the key's edge reaches inside the layer's outside; then the room over the head ends at the
layer's lower edge. The key needs its own height, and the head comes up by the engaged thread while the bolt is undone.
Every length is an interval; a need that is not certain is an interval, too, and the requirement stays open inside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidegen.trade.cutting import Span
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Choice
from guidegen.workshop.inventory import InventoryJoint

NOTHING = Span(0.0, 0.0)
COIL_OFF = "coil-off-first"
"""The work that a kit's requirement names where the coil comes off before anybody gets at the bolts."""


def seal_keeps(machine: Machine) -> Choice:
    """Return whether the bolts are tightened once: not where a seal of the machine settles in the first heat."""
    joints = [one for one in machine.inventory.values() if isinstance(one, InventoryJoint)]
    word = "no" if any(one.settles for one in joints) else "yes"
    return Choice(text=word, word=word)


@dataclass(frozen=True)
class Layer:
    """One layer of a coil: its outside diameter, and its lower edge above that of the straight wall, in m."""

    outside: Span
    lower_edge: Span


@dataclass(frozen=True)
class BoltKey:
    """A key: what it needs over a head while it is put in or lifted off, and the wider of key and head, in m."""

    height: Span
    width: Span


def layers_of(boiler: Span, tube: Span, heights: Sequence[float], outer_layer: str | None) -> tuple[Layer, ...]:
    """Return the layers of a coil on a boiler.

    Parameters: boiler, its outside diameter, m; tube, its outside diameter, m; heights of the layers, innermost first,
        m; outer_layer, the end of the wall at which a shorter layer stands (`lower-end`, `upper-end`, or None).

    >>> second = layers_of(Span(0.07, 0.07), Span(0.008, 0.008), (0.040, 0.032), "upper-end")[1]
    >>> round(second.outside.high, 3), round(second.lower_edge.high, 3)
    (0.102, 0.008)
    """
    made = []
    for place, height in enumerate(heights, 1):
        outside = Span(boiler.low + 2 * place * tube.low, boiler.high + 2 * place * tube.high)
        above = max(0.0, heights[0] - height)
        edges = {"lower-end": NOTHING, "upper-end": Span(above, above)}
        made.append(Layer(outside, edges.get(outer_layer or "", Span(0.0, above))))
    return tuple(made)


def circle_needed(layers: Sequence[Layer], key: BoltKey) -> Span:
    """Return the diameter of a bolt circle from which on the coil leaves the key's way free over the whole height.

    >>> key = BoltKey(Span(0.025, 0.025), Span(0.005, 0.005))
    >>> round(circle_needed([Layer(Span(0.086, 0.086), NOTHING)], key).low, 3)
    0.091
    """
    low = max((layer.outside.low for layer in layers), default=0.0)
    high = max((layer.outside.high for layer in layers), default=0.0)
    return Span(low + key.width.low, high + key.width.high)


def room_needed(layers: Sequence[Layer], circle: Span | None, key: BoltKey, rise: Span) -> Span:
    """Return what must be free between a bolt's head and the straight wall's lower edge for the key to work.

    Parameters: the coil's layers; the bolt circle, None where nobody knows it; the key; by how much the head comes up
    until the bolt is out. Nothing is needed where no layer is in the key's way.

    A 25 mm key under a layer that begins at the wall's edge, with 8 mm of thread:

    >>> key = BoltKey(Span(0.025, 0.025), Span(0.005, 0.005))
    >>> room_needed([Layer(Span(0.086, 0.086), NOTHING)], Span(0.088, 0.088), key, Span(0.008, 0.008))
    Span(low=0.033, high=0.033)
    """
    tall = Span(key.height.low + rise.low, key.height.high + rise.high)
    edges = list(_lowest_edges(layers, circle, key))
    if not edges:
        return NOTHING
    return Span(
        min(0.0 if edge is None else max(0.0, tall.low - edge.high) for edge in edges),
        max(0.0 if edge is None else max(0.0, tall.high - edge.low) for edge in edges),
    )


def _lowest_edges(layers: Sequence[Layer], circle: Span | None, key: BoltKey) -> Iterator[Span | None]:
    """Yield the lower edge of what may be lowest in the key's way; None where it may be that nothing is.

    Layers lie on one another, so where an inner layer is in the way every outer one is as well.
    """
    for place, layer in enumerate(layers):
        truth = None if circle is None else _reaches_inside(circle, layer, key)
        if truth is not False:
            over = layers[place:]
            yield Span(min(one.lower_edge.low for one in over), min(one.lower_edge.high for one in over))
        if truth is True:
            return
    yield None


def _reaches_inside(circle: Span, layer: Layer, key: BoltKey) -> bool | None:
    """Whether the key's edge, half its width inside of the bolt's axis, is nearer to the boiler than the layer's.

    To the nanometre: what touches exactly does not reach inside.
    """
    if round(circle.high - key.width.low, 9) < round(layer.outside.low, 9):
        return True
    return False if round(circle.low - key.width.high, 9) >= round(layer.outside.high, 9) else None
