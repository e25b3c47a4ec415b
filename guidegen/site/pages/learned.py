"""What logged runs taught, in words: what was learned, what stayed open and what would settle it, what disagrees."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from guidegen.language import gettext, marked, ngettext
from guidegen.record import Assessment
from guidegen.record.learned import IN_MORE_RUNS, Learned, LearnedInput, OpenInput
from guidegen.site.charts.bars import input_names
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
    names = input_names(record)

    def name(one: LearnedInput | OpenInput) -> str:
        return sentence(names.get(one.id, one.name))

    return {
        "lead": _lead(found),
        "learned": [{"name": name(one), "before": one.before, "after": one.after} for one in found.learned],
        "open": [{"name": name(one), "why": _why(one, names), "settled_by": _settled(one)} for one in found.open],
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


def _why(one: OpenInput, names: Mapping[str, str]) -> str:
    return gettext(WHY[one.left_open]).format(other=names.get(one.tied.rpartition("/")[2], one.tied))


def _settled(one: OpenInput) -> str:
    probe, more, _ = one.settled_by.partition(IN_MORE_RUNS)
    return gettext("{probe}, in more runs than these").format(probe=gettext(probe)) if more else gettext(probe)
