"""What nobody knows of a machine or kit, with the line where it would be written: `Gap`s beside unknown values."""

from __future__ import annotations

from guidegen.judge.safety.facts import Gap, Value
from guidegen.language import gettext, marked
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.workshop.base import Document, Loc
from guidegen.workshop.facts import Choice, Fact

OF_THE_OTHER_CONTROL = "control."
"""A setpoint is no gap of a thermostat's data: a step that prints it lacks a `when:`, and that is the author's."""
LOOK_FOR_IT = marked("look for it, unplugged and cold")


def gap(name: str, fact: Fact | Choice, owner: str = "") -> Gap:
    """The gap of a fact that is written as `unknown` or `some units`; `owner` is the thing it is a fact of."""
    title = gettext(fact.title) or name
    title = f"{owner}: {title[:1].lower()}{title[1:]}" if owner else title
    return Gap(name, title, gettext(fact.settles), str(fact.place) if fact.place else "")


def open_value(fact: Fact | Choice, name: str, owner: str = "") -> tuple[Gap, ...]:
    """The gaps of a fact: none where it is known, or where the factory's spread lists what it can be."""
    return () if fact.known or fact.options else (gap(name, fact, owner),)


def absent(machine: Machine, name: str) -> Value:
    """An unknown value of a fact that the machine's files do not speak of; without a gap where none is missing."""
    field = known_facts(type(machine)).get(name)
    if field is None or field.spec is None or name.startswith(OF_THE_OTHER_CONTROL):
        return Value("unknown", None)
    spec = field.spec
    return not_written(machine, name, gettext(spec.title), gettext(spec.settles))


def no_device(machine: Machine, title: str) -> Value:
    """An unknown value of a safety device that the machine's list does not name, or names more than once."""
    return not_written(machine, "safety_devices", title, gettext(LOOK_FOR_IT))


def not_written(machine: Document, name: str, title: str, settles: str) -> Value:
    """An unknown value whose gap is a line that is missing: the nearest place that was written."""
    loc: Loc = tuple(name.split("."))
    place = str(machine.places.key(loc))
    return Value("unknown", None, gaps=(Gap(name, title, settles, place, absent=True),))


def value_of(fact: Fact | Choice, name: str = "", owner: str = "") -> Value:
    """Return a fact of the catalogue as a plain value; its name and owner are those of the gap where it is unknown."""
    dimension = fact.dimension if isinstance(fact, Fact) else ""
    if not fact.known:
        options = tuple(option if isinstance(option, str) else option.text for option in fact.options)
        return Value(fact.text, None, dimension, "assumed", fact.source, options, gaps=open_value(fact, name, owner))
    ends = (fact.low, fact.high) if isinstance(fact, Fact) else None
    return Value(fact.text, fact.value, dimension, fact.evidence, fact.source, ends=ends, place=fact.place)
