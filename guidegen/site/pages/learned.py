"""What logged runs taught, in words: what was learned, what stayed open and what would settle it, what disagrees."""

from __future__ import annotations

from typing import Any

from guidegen.language import gettext, marked, ngettext
from guidegen.record import Assessment
from guidegen.record.learned import Learned, OpenInput
from guidegen.site.pages.sentences import sentence

WHY = {
    "unseen": marked("no probe saw it by itself"),
    "tied": marked("these runs know it only together with: {other}"),
    "wide": marked("it is not known twice as well as before"),
    "leads": marked("the machine that is computed is switched by it, so these runs do not try it"),
    "lost": marked("the computation does not follow these runs well enough"),
}
STRAYS = {
    "sensor": marked("the sensor"),
    "boiler-wall": marked("the boiler's wall"),
    "group": marked("the group"),
    "outlet": marked("the water that leaves the group"),
    "coil-out": marked("the water that leaves the coil"),
    "coil-metal": marked("the coil's metal"),
    "heater": marked("the heater's power"),
}
"""Places of probes."""


def learned_values(record: Assessment) -> dict[str, Any] | None:
    """What the template prints; None where nobody let anything be learned."""
    found = record.learned
    if found is None:
        return None
    return {
        "lead": _lead(found),
        "learned": [{"name": sentence(one.name), "before": one.before, "after": one.after} for one in found.learned],
        "open": [
            {"name": sentence(one.name), "why": _why(record, one), "settled_by": one.settled_by} for one in found.open
        ],
        "straying": [gettext(STRAYS.get(one.place, one.place)) for one in found.straying],
        "stale": found.stale,
    }


def _lead(found: Learned) -> str:
    said = ngettext(
        "From one logged run of one machine.", "From {count} logged runs of one machine.", found.runs
    ).format(count=found.runs)
    if found.set_aside:
        more = ngettext(
            "One more could not be followed.", "{count} more could not be followed.", found.set_aside
        ).format(count=found.set_aside)
        said = f"{said} {more}"
    return " ".join((said, gettext("They are invented."))) if found.invented else said


def _why(record: Assessment, one: OpenInput) -> str:
    names = {put.id: put.name for put in record.inputs}
    other = names.get(one.tied.rpartition("/")[2], one.tied)
    return gettext(WHY[one.because]).format(other=other)
