"""Recorded builds as the record has them: those that may be published, with what they say of the variant's data."""

from __future__ import annotations

from guidegen.language import gettext, marked
from guidegen.record.stated import Build, BuildFact, BuildFailure, BuildPhase
from guidegen.trade import Catalogue
from guidegen.trade.builds import MeasuredFact, RecordedBuild
from guidegen.trade.check_builds import contradicts
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts

DOERS = {
    "owner": marked("the owner"),
    "workshop": marked("a repair workshop"),
    "maker": marked("the maker of the kit"),
}


def recorded(known: Catalogue, machine: Machine, kit: Kit) -> list[RecordedBuild]:
    """The builds of this kit on this variant that pages may speak of, oldest first."""
    builds = known.builds.get(machine.family)
    mine = [one for one in builds.builds if one.variant == machine.id and one.kit == kit.id] if builds else []
    return sorted((one for one in mine if one.is_public), key=lambda one: one.date)


def carried_out(known: Catalogue, machine: Machine, kit: Kit) -> int:
    """How many of them show that the instruction was carried out on this variant."""
    return sum(one.is_carried_out for one in recorded(known, machine, kit))


def builds(known: Catalogue, machine: Machine, kit: Kit) -> tuple[Build, ...]:
    """The builds of this kit on this variant, as the record has them."""
    return tuple(_build(one, machine) for one in recorded(known, machine, kit))


def _build(one: RecordedBuild, machine: Machine) -> Build:
    return Build(
        date=one.date.isoformat(),
        role=gettext(DOERS[one.role]),
        minutes=float(sum(phase.took for phase in one.minutes)) if one.minutes else None,
        findings=" ".join(one.findings),
        number=one.id,
        edition=one.edition,
        invented=one.invented,
        passed=one.is_carried_out,
        case=one.case,
        phases=tuple(BuildPhase(phase=phase.phase, took=float(phase.took)) for phase in one.minutes),
        failures=tuple(
            BuildFailure(step=fail.step, number=fail.number, reading=fail.reading, helped=fail.helped)
            for fail in one.failed
        ),
        facts=tuple(_fact(fact, machine) for fact in one.facts),
    )


def _fact(one: MeasuredFact, machine: Machine) -> BuildFact:
    stated = machine.fact(one.fact)
    return BuildFact(
        fact=one.fact,
        title=known_facts(type(machine)).title(one.fact),
        **{"is": one.is_},
        stated=stated.text if stated is not None and stated.known else None,
        outside=contradicts(machine, one),
    )
