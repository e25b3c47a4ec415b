"""What the record repeats from the catalogue: the variant, the kit, torques, downsides."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.judge.fit.marks import seen_marks
from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.record import rounded
from guidegen.record.gains import Gain, GainSide
from guidegen.record.stated import Downside, KitPart, Mark, Restore, Torque, VariantPart
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine, ThermostatControl
from guidegen.units import in_unit, written_unit
from guidegen.workshop.facts import UNKNOWN, Fact
from guidegen.workshop.gains import WrittenGain

FIGURES = {
    "mass.added": "budget.added_kg",
    "energy.idle_added": "energy.idle_added_w",
    "energy.day_added": "energy.day_added_wh",
    "energy.ratio": "energy.day_ratio",
    "warm_up.added": "warm_up.added_s",
    "minutes": "procedure.minutes",
    "cuts": "protrusions",
    "bolts": "bolts",
    "coil.held": "coil.held_ml",
    "relief.pushed_out": "closed_coil.pushed_out_ml.with",
    "coil.parked": "coil.parked_degc",
}
"""Where the figure that a downside may name lies in the record."""


def setpoint(machine: Machine) -> float:
    """The temperature the machine is set to, in kelvin; of a thermostat the middle between opening and closing."""
    control = machine.control
    if isinstance(control, ThermostatControl):
        return (control.opens.value + control.closes.value) / 2
    return control.setpoint.value


def variant_part(machine: Machine) -> VariantPart:
    """Which machine this is: what the record words otherwise than the machine, and every other field as it is there."""
    last = machine.years.to
    worded = {
        "years": f"{machine.years.from_}–{last}" if last else gettext("from {year}").format(year=machine.years.from_),
        "voltage_v": rounded(machine.mains.voltage.value) if machine.mains.voltage.known else None,
        "connection": machine.mains.connection.value if machine.mains.connection.known else UNKNOWN,
        "boiler_material": machine.boiler.material.value if machine.boiler.material.known else UNKNOWN,
        "control": machine.control.kind,
        "setpoint_degc": rounded(setpoint(machine) - ZERO_CELSIUS),
        "marks": tuple(Mark(look=mark.look, see=mark.see) for mark in seen_marks(machine)),
        "water_path": tuple(water_path(machine)),
        "pictures": (),
    }
    same: dict[str, Any] = {name: getattr(machine, name) for name in VariantPart.model_fields if name not in worded}
    return VariantPart(**same | worded)


def water_path(machine: Machine) -> Iterable[str]:
    """The parts that the feed water passes, in order, with the place where a feed coil goes.

    What stands in for something unknown in the computation is no fact about the machine, and is not stated as one.
    """
    path = machine.water_path
    yield gettext("water tank")
    yield path.pump.value if path.pump.known else gettext("a pump, not known which")
    valve = path.check_valve.value if path.check_valve.known else None
    if valve == "before-relief":
        yield gettext("check valve")
    relief = gettext("relief branch, opens at {pressure}").format(pressure=path.relief_opens.text)
    if not path.relief_opens.known:
        relief = gettext("relief branch, not known at what pressure it opens")
    coil = gettext("place for a feed coil")
    if path.relief_branch.known:
        yield from (relief, coil) if path.relief_branch.value == "upstream" else (coil, relief)
    else:
        yield gettext("{one} and {other}, not known in which order").format(one=relief, other=coil)
    if valve == "after-relief":
        yield gettext("check valve")
    if valve is None:
        yield gettext("not known whether there is a check valve, and where")
    fitting = path.inlet.fitting
    thread = path.inlet.thread.text if path.inlet.thread.known else gettext("thread not known")
    if fitting.known:
        yield gettext("{kind} fitting, {thread}").format(kind=choice(fitting.value), thread=thread)
    else:
        yield gettext("inlet fitting, not known which kind, {thread}").format(thread=thread)
    yield gettext("boiler")
    yield gettext("group")


def kit_part(kit: Kit) -> KitPart:
    """Which kit this is."""
    return KitPart(
        id=kit.id,
        name=kit.name,
        revision=kit.revision,
        summary=kit.summary,
        reason=kit.reason,
        invented=kit.invented,
        parts={one.id: one.name for one in kit.parts},
    )


def torques(machine: Machine) -> tuple[Torque, ...]:
    """The boiler bolts' torque, where it and the bolts are known."""
    bolts = machine.boiler.bolts
    if not all(one.known for one in (bolts.torque, bolts.count, bolts.thread, bolts.class_)):
        return ()
    return (
        Torque(
            id="boiler-bolts",
            what=gettext("{count} boiler bolts, {thread}, class {strength}").format(
                count=bolts.count.text, thread=bolts.thread.text, strength=bolts.class_.text
            ),
            nominal_n_m=rounded(bolts.torque.value),
            plus_minus_n_m=rounded(bolts.torque.plus_minus),
            thread=bolts.thread.text,
            state=gettext("dry"),
            source=bolts.torque.source or bolts.torque.evidence,
        ),
    )


def gains(written: Iterable[WrittenGain]) -> tuple[Gain, ...]:
    """What a kit gains beside heat, as its author states it."""
    return tuple(map(_gain, written))


def _gain(one: WrittenGain) -> Gain:
    dimension = one.before.dimension
    unit = written_unit(one.before.text, dimension)
    return Gain(
        id=one.id,
        title=one.title,
        dimension=dimension,
        unit=unit,
        without=_side(one.before, unit),
        with_=_side(one.after, unit),
        how=one.how,
        about=one.about,
    )


def _side(fact: Fact, unit: str) -> GainSide:
    value, low, high = (rounded(in_unit(one, fact.dimension, unit)) for one in (fact.value, fact.low, fact.high))
    return GainSide(text=fact.text, value=value, low=low, high=high, evidence=fact.evidence, source=fact.source)


def downsides(kit: Kit) -> tuple[Downside, ...]:
    """The kit's downsides in the author's order, each with the place of its computed figure."""
    return tuple(
        Downside(
            id=one.id,
            about=one.about,
            what=one.what,
            figure=FIGURES[one.computed] if one.computed else None,
            likely=one.likely,
            do=one.do or "",
        )
        for one in kit.downsides
    )


def restore(kit: Kit) -> Restore:
    """Whether the original can be restored."""
    return Restore(possible=kit.restore.possible, how=kit.restore.how)
