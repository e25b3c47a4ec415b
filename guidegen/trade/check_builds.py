"""Recorded builds against the rest of the catalogue: variants and kits that are there, and facts found otherwise."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.trade.builds import Builds, MeasuredFact, RecordedBuild
from guidegen.trade.contradiction import problem, unknown_fact, unknown_variant
from guidegen.trade.machine import Machine
from guidegen.units import UnitError, parse
from guidegen.workshop.base import Loc
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.facts import Choice, Fact


def check_builds(
    builds: Builds, variants: Collection[str], kits: Collection[str], table: FactTable
) -> Iterator[Problem]:
    """What a build names and nobody has: a variant, a kit, a fact, or a value of one."""
    for index, build in enumerate(builds.builds):
        loc: Loc = ("builds", index)
        if build.variant not in variants:
            yield unknown_variant(builds, (*loc, "variant"), build.variant, variants)
        if build.kit not in kits:
            near = nearest(build.kit, kits)
            fix = f"write {near}" if near else f"use one of {one_of(kits)}"
            yield problem(builds, (*loc, "kit"), Code.UNKNOWN_KIT, f'no kit "{build.kit}"', fix)
        for place, fact in enumerate(build.facts):
            here = (*loc, "facts", place)
            dimension = table.dimension(fact.fact)
            if fact.fact not in table:
                yield unknown_fact(builds, (*here, "fact"), fact.fact, table)
            elif dimension is not None:
                try:
                    parse(fact.is_, dimension)
                except UnitError as error:
                    yield problem(builds, (*here, "is"), error.code, error.message, error.fix)


def warnings(builds: Iterable[Builds], machines: Iterable[Machine]) -> Iterator[Problem]:
    """Facts that owners measured outside of what their variant states, with the builds that say so."""
    every = [one for many in builds for one in many.builds]
    for machine in machines:
        found: dict[str, list[tuple[RecordedBuild, MeasuredFact]]] = {}
        for build in every:
            for fact in build.facts if build.variant == machine.id else ():
                if contradicts(machine, fact):
                    found.setdefault(fact.fact, []).append((build, fact))
        for name, reports in found.items():
            stated = machine.fact(name)
            place = stated.place if stated is not None and stated.place is not None else machine.places[()]
            said = ", ".join(f"{fact.is_} in build {build.id} of {build.date}" for build, fact in reports)
            words = f"{name}: {machine.id} states {stated}, owners measured {said}"
            fix = "measure one more machine; then correct the value, widen its ±, or make a variant of its own"
            yield Problem(place.path, place.line, place.column, Code.FOUND_OTHERWISE, words, fix, "warning")


def contradicts(machine: Machine, found: MeasuredFact) -> bool:
    """Whether what was measured on one machine and what its variant states exclude each other.

    Quantities do where no value lies within both uncertainties; words where they differ. What nobody knows of the
    variant excludes nothing, nor does what cannot be read as the fact.
    """
    stated = machine.fact(found.fact)
    if isinstance(stated, Choice):
        return stated.known and found.is_ not in (stated.options or (stated.value,))
    if not isinstance(stated, Fact) or not stated.known:
        return False
    try:
        measured = parse(found.is_, stated.dimension)
    except UnitError:
        return False
    return measured.low > stated.high or measured.high < stated.low
