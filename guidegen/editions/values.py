"""How values, torques, statements and limits of a record read in a list of changes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.record import Figure
from guidegen.site.charts.quantity import in_unit, shown_at
from guidegen.site.pages.sentences import signal
from guidegen.site.pages.step_words import SENSES

Data = Mapping[str, Any]

_FIGURE = {"value", "low", "high", "reason"}
"""The keys that every kept figure has; a newer one has more."""


def figures_of(part: Any, place: str = "") -> Iterator[tuple[str, Data]]:
    """Every figure of a record as plain data, with its place: names joined by dots."""
    if isinstance(part, Mapping):
        if part.keys() >= _FIGURE:
            yield place, part
            return
        for name, child in part.items():
            if not (place == "" and name in ("procedure", "inputs", "influence", "lint")):
                yield from figures_of(child, f"{place}.{name}" if place else name)
    elif isinstance(part, list | tuple):
        for index, child in enumerate(part):
            # Waits are distinguished by their length, as on the numbers page.
            mark = f"{child['wait_s']:g}" if isinstance(child, Mapping) and "wait_s" in child else str(index)
            yield from figures_of(child, f"{place}.{mark}")


def shown(place: str, data: Data) -> str:
    """A figure with its range, in metric units, as customers read it.

    >>> shown("drinks.double.with.sensor_drop_k", {"value": 5.4, "low": 5.0, "high": 5.9, "reason": None})
    '5.40\u202f°C (5.00 to 5.90\u202f°C)'
    >>> shown("waiting.60.sensor_drop_k.with", {"value": 5.4, "low": None, "high": None, "reason": None})
    '5.40\u202f°C'
    """
    figure = Figure.model_validate(dict(data))
    if figure.value is None:
        return figure.reason or gettext("no value")
    how = shown_at(place)
    value, ends = in_unit(figure, how, how.metric), in_unit(figure, how, how.metric, only_range=True)
    return f"{value} ({ends})" if ends else value


def torque_text(one: Data) -> str:
    """A tightening torque with its tolerance, thread and thread state."""
    spread = f" ± {one['plus_minus_n_m']:g}" if one["plus_minus_n_m"] else ""
    return f"{one['nominal_n_m']:g}{spread} N·m, {one['thread']}, {one['state']}"


def input_text(one: Data) -> str:
    """An input with its evidence and source."""
    source = f", {one['source']}" if one["source"] else ""
    return f"{one['text']} ({choice(one['evidence'])}{source})"


def statement_text(one: Data) -> str:
    """A hazard statement as it is printed."""
    word = signal(one["word"]) if one.get("word") else None
    parts = [word, one.get("type_of_hazard"), one.get("consequence"), *(one.get("how_to_avoid") or ())]
    return " · ".join(filter(None, parts))


def limit_text(hold: Data | None) -> str | None:
    """A hold point's acceptance: sense, limit, instrument."""
    accept = (hold or {}).get("accept")
    if not accept:
        return None
    sense = SENSES[accept["sense"]]
    words = gettext(sense)
    return f"{words} {accept['limit']}, {accept['instrument']}"


def step_torque_text(torque: Data | None) -> str | None:
    """The torque that a step prints."""
    return f"{torque['is']}, {torque['thread']}, {torque['state']}" if torque else None
