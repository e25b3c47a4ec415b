"""What each number of the record is called and what it means, in the language in use."""

from __future__ import annotations

from dataclasses import replace

from guidegen.language import gettext
from guidegen.record.outputs import Output
from guidegen.record.table import output_at, outputs


def term(place: str) -> Output:
    """The entry for a figure's place in the record, as `drinks.double.with.sensor_drop_k`."""
    return in_words(output_at(place))


def nomenclature() -> list[Output]:
    """Every entry once, by name."""
    return sorted(map(in_words, dict.fromkeys(outputs().values())), key=lambda one: one.name)


def in_words(one: Output) -> Output:
    """An entry in the language in use."""
    return replace(one, name=gettext(one.name), meaning=gettext(one.meaning))
