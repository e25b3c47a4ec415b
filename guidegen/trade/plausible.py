"""Warnings: values that may be right, but are worth a second look before anyone trusts a guide."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import partial

from guidegen.problems import Code, Problem
from guidegen.trade import check_builds
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.kit import TIMES, Kit
from guidegen.trade.looked_at import Looks, seen_fix
from guidegen.trade.machine import Machine
from guidegen.units import metric
from guidegen.workshop.base import Document, Loc
from guidegen.workshop.facts import Fact
from guidegen.workshop.memory import Memory
from guidegen.workshop.walk import everything, name_of


def warnings(known: Catalogue, memory: Memory, *, whole: bool = True) -> Iterator[Problem]:
    """Yield every warning of a catalogue.

    What nothing uses, and what owners found otherwise, is reported only where the `whole` of it could be read.
    """
    cited: set[str] = set()
    for document in documents(known):
        sources, found = memory.of("plausible", (document,), partial(_of_document, document))
        cited |= sources
        yield from found
    if known.sources is not None and whole:
        for key in known.sources.sources:
            if key not in cited and known.machines:
                words = f"sources.{key}: nothing cites this source"
                yield _warning(known.sources, ("sources", key), Code.SOURCE_UNUSED, words, "cite it, or delete it")
    if known.workshop is not None and known.workshop.invented:
        made: tuple[Machine | Kit, ...] = (*known.machines.values(), *known.kits.values())
        for one in made:
            if not one.invented:
                words = "the workshop is marked as invented, this is not"
                yield _warning(one, (), Code.NOT_MARKED, words, "add invented: true")
    if whole:
        yield from check_builds.warnings(known.builds.values(), known.machines.values())


def _of_document(document: Document) -> tuple[set[str], list[Problem]]:
    """The sources that a document cites, and what is odd about its facts."""
    cited: set[str] = set()
    found: list[Problem] = []
    looked = Looks(document)
    for loc, value in everything(document):
        source = getattr(value, "source", None)
        if isinstance(source, str):
            cited.add(source)
        if isinstance(value, Fact):
            found.extend(looked.without(loc, value.text, _of_fact(document, loc, value)))
    if isinstance(document, Kit):
        found.extend(_said_twice(document))
        found.extend(_weighs(document, looked))
    found.extend(looked.idle())
    return cited, found


def _weighs(kit: Kit, looked: Looks) -> Iterator[Problem]:
    """Effects that say nothing of mass, where the kit puts something in."""
    if not any(effect.states_mass for effect in kit.effects):
        kinds = ", ".join(kit.kinds)
        words = f"effects: {kinds} says nothing of mass, so the guides say that the kit adds none"
        fix = seen_fix(kit, "weigh its parts and add {kind: add_mass, …}", "effects", kinds)
        place = kit.places.key(("effects",))
        found = Problem(place.path, place.line, place.column, Code.NO_MASS, words, fix, "warning")
        yield from looked.without(("effects",), kinds, [found])


_A_TIME = re.compile(
    r"\b(?:an?|half|whole|part of|few|several|one|two|three|four|[0-9]+)(?: an?)? "
    r"(?:minutes?|hours?|mornings?|afternoons?|evenings?|days?|weekends?|weeks?)\b",
    re.IGNORECASE,
)


def _said_twice(kit: Kit) -> Iterator[Problem]:
    """Downsides that say a time in words, beside the one that is computed of each variant."""
    for index, one in enumerate(kit.downsides):
        said = _A_TIME.search(one.what) if one.computed in TIMES else None
        if said is not None:
            words = f"“{said[0]}” stands beside the time that is computed of each variant"
            fix = "leave the time out of the sentence, or leave out computed:"
            yield _warning(kit, ("downsides", index, "what"), Code.SAID_TWICE, words, fix)


def documents(known: Catalogue) -> Iterator[Document]:
    """Yield every document that could be read."""
    frame = (known.workshop, known.drinks, known.sources, known.glossary, known.hazards, known.acts, known.questions,
             known.shared, known.pictures, known.offers)  # fmt: skip
    yield from (document for document in frame if document is not None)
    for group in (known.machines, known.kits, known.procedures, known.builds, known.runs):
        yield from group.values()


OUTER_SHARE = 0.1
"""A value so near to an end of its own range, as a share of it, stands in its outer part."""


def _of_fact(document: Document, loc: Loc, fact: Fact) -> Iterator[Problem]:
    yield from _of_range(document, loc, fact)
    if fact.quantity is None or fact.spec is None or fact.spec.plausible is None:
        return
    low, high = fact.plausible()
    name = name_of(document, loc)
    slack = 1e-9 * max(abs(low), abs(high))
    if not low - slack <= fact.quantity.value <= high + slack:
        first, last = fact.spec.plausible
        words = f"{name}: {fact.text}, such machines have {first} to {last}"
        yield _warning(document, loc, Code.IMPLAUSIBLE, words, seen_fix(document, "look again", name, fact.text))
    elif 0 < fact.quantity.value < fact.quantity.plus_minus and fact.dimension not in ("temperature", "count"):
        half = metric(fact.quantity.plus_minus, fact.dimension)
        words = f"{name}: ± {half} is more than the value itself"
        yield _warning(
            document, loc, Code.WIDE, words, seen_fix(document, "look again, or write unknown", name, fact.text)
        )


def _of_range(document: Document, loc: Loc, fact: Fact) -> Iterator[Problem]:
    """A value at the end of its own range; on the scale that it is drawn on."""
    if fact.quantity is None or fact.ends is None or fact.low >= fact.high:
        return
    scale = math.log if fact.distribution == "log-triangular" else float
    low, value, high = (scale(one) for one in (fact.low, fact.value, fact.high))
    if not low + OUTER_SHARE * (high - low) <= value <= high - OUTER_SHARE * (high - low):
        words = f"{name_of(document, loc)}: {fact.text} stands at the very end of its own range"
        fix = "state the value that is likeliest, or other ends; `unknown` if nobody knows it"
        yield _warning(document, (*loc, "is"), Code.OUTER, words, fix)


def _warning(document: Document, loc: Loc, code: Code, message: str, fix: str) -> Problem:
    place = document.places[loc]
    return Problem(place.path, place.line, place.column, code, message, fix, "warning")
