"""Whether a computed figure may be claimed of a machine, or only of machines like it.

Where nobody knows an input, the range of such machines stands in. A figure that mostly follows from such stand-ins
says something about small machines and nothing about this one: then no page prints it as a result.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from guidegen.record import Assessment
from guidegen.record.places import ANY
from guidegen.record.stated import Input

MOST = 0.5
"""Of the inputs that are counted, or of what moves a figure: more than this share of stand-ins is most of it."""
COUNTED = (
    "boiler.mass", "boiler.water", "heater.power", "group.mass", "group.to_boiler", "group.to_room",
    "losses.boiler_to_case", "sensor.metal_share", "control.setpoint", "control.kp", "control.ki", "control.opens",
    "control.closes", "control.lag",
)  # fmt: skip
"""What the temperatures of a machine are computed from before all: what holds heat, what brings it, where it goes, and
what the control does with it. Each of them leads the ranking of some figure on a variant of which nothing is known
(tests/properties/test_claims.py holds that). A machine has those of one kind of control."""
OF_A_COIL = "kit.tube.outside"
"""An input that every kit with a coil has, also where the coil itself cannot be wound before a size is known."""
SETPOINTS = ("control.setpoint", "control.opens", "control.closes")
"""What a machine holds its temperature by; it has either the first or the others."""
OF_THE_KIT = ("budget.added_kg", "coil.dry_kg", "coil.filled_kg", "coil.held_ml", "cool_down.")
"""Figures that the kit alone decides, and bounds that hold for every such machine: the counting is not for them."""


def claimed(record: Assessment, *places: str) -> bool:
    """Whether the figures at these places, `*` for the main drink, may be printed as results for this variant.

    Not where most of the machine's inputs that count are stand-ins: what was computed is then another machine. Not of a
    coil that cannot be laid out before the boiler is measured: how much of it touches decides what it does. And not
    where most of what moves one of these figures is a stand-in: of the squares of its inputs' rank correlations, which
    share its spread out among them, more than half belongs to inputs that nobody knows. Without draws there are no
    correlations, and the counting alone decides. What is no input, as when in its cycle a thermostat is met, counts on
    neither side.
    """
    return all(_counted(record, place) and _moved(record, place) for place in _of_main(record, places))


def _of_main(record: Assessment, places: Iterable[str]) -> Iterator[str]:
    return (place.replace(ANY, record.main_drink) for place in places)


def brings_coil(record: Assessment) -> bool:
    """Whether the kit winds a coil round the boiler, known or not how it lies on this one."""
    # Of a kit that goes onto another, the coil may be the other's.
    return has_coil(record) and (not record.first or any(one.kit and one.id == "coil" for one in record.budget.parts))


def has_coil(record: Assessment) -> bool:
    """Whether there is a coil on the machine with the kit: its own, or that of a kit that it goes onto."""
    return record.coil is not None or any(one.id == OF_A_COIL for one in record.inputs)


def is_laid_out(record: Assessment) -> bool:
    """Whether it is known how the coil lies on this boiler; of a kit without one there is nothing to know."""
    return record.coil is not None or not has_coil(record)


def wanted(record: Assessment, *places: str) -> list[Input]:
    """The inputs that nobody knows, those first that move these figures most, then those that are counted."""
    ranks = [record.influence.get(place, {}) for place in _of_main(record, places)]
    weight = {one.id: sum(found.get(one.id, 0.0) ** 2 for found in ranks) for one in record.inputs}
    order = {name: index for index, name in enumerate(COUNTED)}
    unknown = (one for one in record.inputs if not one.stated)
    return sorted(unknown, key=lambda one: (-weight[one.id], order.get(one.id, len(order)), one.id))


def shares(ranks: Mapping[str, float]) -> dict[str, float]:
    """The weight of each input in a figure's spread: the squares of its rank correlations, as shares of their sum.

    >>> shares({"boiler.mass": 0.6, "room": -0.2})
    {'boiler.mass': 0.9, 'room': 0.1}
    """
    whole = sum(rho**2 for rho in ranks.values())
    return {name: round(rho**2 / whole, 6) for name, rho in ranks.items()} if whole else {}


def assumed_of(record: Assessment, weights: Mapping[str, float]) -> dict[str, float]:
    """Those of the weights that belong to inputs which are assumed."""
    assumed = {one.id for one in record.inputs if one.evidence == "assumed"}
    return {name: weight for name, weight in weights.items() if name in assumed}


def stated(record: Assessment, names: Iterable[str]) -> bool:
    """Whether somebody wrote a value for each of these inputs that the machine has."""
    asked = frozenset(names)
    return all(one.stated for one in record.inputs if one.id in asked)


def mostly_unknown(record: Assessment) -> bool:
    """Whether most of the machine's inputs that count are stand-ins."""
    counted = [one.stated for one in record.inputs if one.id in COUNTED]
    return counted.count(False) > MOST * len(counted)


def _counted(record: Assessment, place: str) -> bool:
    return place.startswith(OF_THE_KIT) or (is_laid_out(record) and not mostly_unknown(record))


def _moved(record: Assessment, place: str) -> bool:
    ranks = record.influence.get(place, {})
    shares = [(ranks[one.id] ** 2, one.stated) for one in record.inputs if one.id in ranks]
    unknown = sum(share for share, known in shares if not known)
    return unknown <= MOST * sum(share for share, _ in shares)
