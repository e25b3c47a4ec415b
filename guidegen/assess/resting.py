"""Verdicts that rest on what nobody measured and nobody is asked: each such fact once, at its line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidegen.problems import Code, Problem
from guidegen.record import Assessment
from guidegen.trade import Catalogue
from guidegen.trade.machine import Machine
from guidegen.workshop.base import Place

FIX = "measure it and write evidence: with a source, or ask for it in content/questions.yml"


def resting(known: Catalogue, records: Iterable[Assessment]) -> Iterator[Problem]:
    """What is assumed, decides that a kit fits, and is settled by no question."""
    return rested((known.machine(one.variant.id), one.kit.id, one.fit.rests_on) for one in records)


def rested(pairs: Iterable[tuple[Machine, str, tuple[str, ...]]]) -> Iterator[Problem]:
    """The same of machines, each with the id of a kit and the names of the facts that its verdict rests on."""
    found: dict[tuple[Place, str, str], list[str]] = {}
    for machine, kit, names in pairs:
        for name in names:
            fact = machine.fact(name)
            if fact is not None and fact.place is not None:
                found.setdefault((fact.place, name, fact.text), []).append(f"{machine.id} with {kit}")
    for (place, name, text), wanted in found.items():
        words = f"{name}: {text} is assumed and asked of nobody, but decides that it fits: {', '.join(wanted)}"
        yield Problem(place.path, place.line, place.column, Code.RESTS_ON_ASSUMED, words, FIX, "warning")
