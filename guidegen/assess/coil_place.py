"""Where a kit's coil goes on a machine, with everything that is uncertain about it: for cutting, and for the bolts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import product

from guidegen.heat.coil import CoilDemand, Wound, layer_height, wind
from guidegen.judge.logic import Interval
from guidegen.judge.safety.facts import Value
from guidegen.trade.access import BoltKey, Layer, circle_needed, layers_of, room_needed
from guidegen.trade.cutting import STEP, CoilPlace, Span, span
from guidegen.trade.effects.feed_coil import FeedCoil
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Fact
from guidegen.workshop.parts import Key

RISE = Span(0.0, 20e-3)
"""m; by how much a head may come up where nobody knows the engaged thread."""
HEAD = Span(0.0, 20e-3)
"""m; how wide a head may be where nobody knows it."""
KEY = (Span(4e-3, 80e-3), Span(3e-3, 30e-3))
"""m; how high and how wide a key may be where nobody knows it: as wide as the fields of `Key` call plausible."""
LIVE = 8e-3
"""m; the least distance to live parts, as the table of acts bounds it; common practice, no source."""
_wound = lru_cache(maxsize=4096)(wind)


def place_of(machine: Machine, kit: Kit) -> CoilPlace | None:
    """Where the kit's coil lies and passes on this machine; None where the kit has none.

    Boiler, tube and volume are taken at both of their ends. A coil that the wall has no room for may reach anywhere.
    """
    effect = kit.coil
    if effect is None:
        return None
    put_on = effect.put_on.word if effect.put_on is not None and effect.put_on.known else None
    boiler = machine.boiler
    if not (boiler.diameter.known and boiler.straight_wall.known):
        return CoilPlace(Span(0.0, math.inf), put_on)
    coils = [_wound(demand) for demand in _demands(machine, effect)]
    tops = [coil.height if coil.fits else math.inf for coil in coils]
    return CoilPlace(Span(min(tops), max(tops)), put_on)


def _demands(machine: Machine, effect: FeedCoil) -> Iterator[CoilDemand]:
    """The coil at the ends of what its height depends on."""
    facts = (machine.boiler.diameter, machine.boiler.straight_wall, effect.tube.outside, effect.size, effect.gap)
    for diameter, wall, outside, size, gap in product(*(_ends(one) for one in facts)):
        yield effect.demand(diameter, wall, outside=outside, size=size, gap=max(0.0, gap))


def _ends(fact: Fact) -> tuple[float, ...]:
    return tuple(dict.fromkeys((fact.low, fact.high)))


def bolt_numbers(machine: Machine, kit: Kit, coils: tuple[Wound, ...]) -> dict[str, Interval]:
    """The computed names about the boiler's bolts, for the kit's usual key and for its short one, where it has them."""
    tool, part, effect = kit.key, kit.short_key, kit.coil
    if effect is None:
        return {}
    keys = {"key": tool.key if tool else None, "short_key": part.key if part else None}
    every = [_layers(machine, effect, coil) for coil in coils]
    made: dict[str, Interval] = {}
    for name, key in keys.items():
        if key is not None:
            made |= _of_key(machine, name, key, every)
    return made


def limits(numbers: Mapping[str, Interval]) -> dict[str, Value]:
    """The computed names about bolts and live parts as limits that a step prints: the safe end."""
    made = {name: _limit(float(number.high)) for name, number in numbers.items() if name.startswith("bolts.")}
    if build := numbers.get("coil.radial_build"):
        made["coil.live_room"] = _limit(float(build.high) + LIVE)
    return made


def _limit(least: float) -> Value:
    """A length that must be there, rounded up as a calliper shows it."""
    up = math.ceil(round(least / STEP, 6)) * STEP
    return Value(f"{round(up * 1e3, 1):g} mm", up, "length", "calculated")


def _of_key(machine: Machine, name: str, key: Key, every: list[tuple[Layer, ...]]) -> dict[str, Interval]:
    bolts = machine.boiler.bolts
    circle = span(bolts.circle) if bolts.circle is not None and bolts.circle.known else None
    rise = _span_or(bolts.engagement, RISE)
    # The head comes up while the bolt is undone, so the wider of key and head must pass.
    head, height, key_width = _span_or(bolts.head, HEAD), _span_or(key.height, KEY[0]), _span_or(key.width, KEY[1])
    sizes = BoltKey(height, Span(max(key_width.low, head.low), max(key_width.high, head.high)))
    rooms = [room_needed(layers, circle, sizes, rise) for layers in every]
    circles = [circle_needed(layers, sizes) for layers in every]
    return {f"bolts.{name}_room": _hull(rooms), f"bolts.{name}_circle": _hull(circles)}


def _span_or(fact: Fact | None, unknown: Span) -> Span:
    return span(fact) if fact is not None and fact.known else unknown


def _layers(machine: Machine, effect: FeedCoil, coil: Wound) -> tuple[Layer, ...]:
    tube, diameter = effect.tube.outside, machine.boiler.diameter
    heights = [float(layer_height(turns, tube.value, effect.gap.value)) for turns in coil.turns_per_layer]
    place = effect.outer_layer.word if effect.outer_layer is not None and effect.outer_layer.known else None
    return layers_of(Span(diameter.low, diameter.high), span(tube), heights, place)


def _hull(spans: list[Span]) -> Interval:
    return Interval.between(min(one.low for one in spans), max(one.high for one in spans))
