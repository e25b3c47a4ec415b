"""Parts that water touches: rated for its pressure and temperature, and made for drinking water."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide, Wetted
from guidegen.judge.safety.measure import Measure
from guidegen.judge.safety.rules.base import Found, Rule

BAR, ZERO_CELSIUS = 1e5, Measure(0.0, "°C", "temperature").in_si
LOADS = {
    "water_path.relief_opens": "at which the relief valve may open",
    "water_path.pump_pressure": "that the pump may make",
}
"""Facts of the machine that say what presses on a wetted part, and how a finding calls them."""


def rated(guide: Guide) -> Iterator[Found]:
    """PRS04."""
    if not guide.is_wet:
        return
    for one in guide.kit.wetted:
        yield from _pressed(guide, one)
        yield from _heated(guide, one)
        if one.drinking_water is None:
            yield _unknown(guide, one, "drinking_water", "whether it is made for drinking water")
        elif one.drinking_water != "yes":
            yield _found(guide, one, "is not made for drinking water")


def _pressed(guide: Guide, one: Wetted) -> Iterator[Found]:
    if one.pressure is None:
        yield _unknown(guide, one, "pressure", "for which pressure it is rated")
        return
    for name, load in guide.machine.loads.items():
        if load is None:
            yield _found(guide, one, f"has to bear the pressure {LOADS[name]}, which is not known", name)
        elif load > one.pressure * (1 + 1e-9):
            yield _found(guide, one, f"is rated for {one.pressure / BAR:g} bar, less than the {load / BAR:g} bar "
                                     f"{LOADS[name]}")  # fmt: skip


def _heated(guide: Guide, one: Wetted) -> Iterator[Found]:
    hottest = guide.machine.hottest
    if not one.hot:
        return
    if one.temperature is None:
        yield _unknown(guide, one, "temperature", "for which temperature it is rated")
    elif isinstance(hottest, tuple):
        yield _found(guide, one, "stands in the boiler's water, and how hot that gets is not known", *hottest)
    elif hottest > one.temperature + 1e-6:
        yield _found(guide, one, f"is rated for {one.temperature - ZERO_CELSIUS:.0f} °C, and the boiler's water gets "
                                 f"{hottest - ZERO_CELSIUS:.0f} °C hot")  # fmt: skip


def _unknown(guide: Guide, one: Wetted, field: str, what: str) -> Found:
    return _found(guide, one, f"does not say {what}", f"wetted.{one.part}.{field}")


def _found(guide: Guide, one: Wetted, words: str, *asks: str) -> Found:
    return Found(one.place or guide.kit.place, f"the wetted part {one.part} {words}", asks=asks)


RULES = (
    Rule("PRS04", "error", "Every wetted part is rated for what relief valve and pump can press, in hot water for the "
         "hottest of the boiler, and made for drinking water.",
         "take a part that is rated for it, or write under wetted: what its maker states", rated),
)  # fmt: skip
