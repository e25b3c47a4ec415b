"""Kits that a kit goes onto: what figures are compared with, and what comes on top for whoever has neither."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.first import FirstKit
from guidegen.site.pages import cost_lines, downsides
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import path_of
from guidegen.site.pages.quoted import Quoted
from guidegen.site.pages.sentences import compared_with, sentence
from guidegen.site.pages.site import Site


def values(record: Assessment, site: Site, path: str) -> dict[str, Any]:
    """What the overview needs: each with its own costs and downsides on this variant; none of a kit that is refused."""
    shown = [] if record.fit.refused else [_shown(one, record, site, path) for one in record.first]
    return {"first": shown, "compared_with": compared_with(record)}


def _shown(one: FirstKit, record: Assessment, site: Site, path: str) -> dict[str, Any]:
    own = site.records.get((record.variant.id, one.id))
    if own is None:
        return {"name": one.name, "href": "", "costs": [], "downsides": [*_as_written(one)]}
    numbers = ShownNumbers(own, rel(path, path_of(own, "numbers")))
    return {
        "name": one.name,
        "href": rel(path, path_of(own, "overview")),
        "costs": [*cost_lines.lines(Quoted(own))],
        "downsides": downsides.shown(own, numbers)["downsides"],
    }


def _as_written(one: FirstKit) -> Iterator[dict[str, Any]]:
    """Its downsides where its own record is not here."""
    for down in one.downsides:
        if down.likely != downsides.NONE:
            yield {"what": down.what, "amount": None, "likely": down.likely, "do": down.do}


def lines(record: Assessment, *about: str) -> Iterator[str]:
    """What comes on top for whoever has neither, as sentences of a letter: the downsides about something."""
    message = gettext("Of the {kit}, which goes on first: {what} What you can do: {do}")
    for one in record.first:
        for down in one.downsides:
            if down.about in about and down.likely != downsides.NONE:
                yield message.format(kit=one.name, what=sentence(down.what), do=down.do)


def on_top(record: Assessment) -> Iterator[str]:
    """That its costs come on top, as a sentence of a letter."""
    for one in record.first:
        words = gettext("If you do not have the {kit} yet, its price, work and downsides come on top: see its guide.")
        yield words.format(kit=one.name)
