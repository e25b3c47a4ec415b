"""Which photographs are missing, in order of need: what somebody would want to have seen before doing it.

An act that cannot be undone comes first, then a check by sight, then a part where it is first named, then the marks by
which a variant is told from its neighbours. What one photograph shows is asked for once, whichever variants it serves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from guidegen.assess.pictures import names_in_step, shows_step
from guidegen.judge.acts.things import Things
from guidegen.judge.fit.marks import seen_marks
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.named_things import names_of
from guidegen.workshop.pictures.written import WrittenPicture

SIGHT = "sight"
"""What a hold point is read with where nothing but eyes is needed."""
TAKEN_IN_HAND = ("tool", "consumable", "unknown")
"""Kinds of things of which nobody needs a photograph, or of which nobody knows enough."""
Worked = tuple[Machine, Kit, Guide]


@dataclass
class WantedPicture:
    """One photograph to take: what it shows in words and as `shows:` has it, and for which kits and variants."""

    words: str
    shows: str
    by_kit: dict[str, list[str]] = field(default_factory=dict)

    def serves(self, machine: Machine, kit: str) -> None:
        """Note a variant, and the kit that it is for."""
        names = self.by_kit.setdefault(kit, [])
        if machine.name not in names:
            names.append(machine.name)


@dataclass(frozen=True)
class WantedSection:
    """Photographs of one kind of need."""

    title: str
    pictures: tuple[WantedPicture, ...]


def wanted(known: Catalogue, guides: Sequence[Worked]) -> tuple[WantedSection, ...]:
    """Every photograph that is missing, most needed first."""
    undone = _of_steps(known, guides, lambda step: not step.step.reversible)
    seen = {one.shows for one in undone}
    sight = [one for one in _of_steps(known, guides, _by_sight) if one.shows not in seen]
    seen |= {one.shows for one in sight}
    return (
        WantedSection("Acts that cannot be undone", tuple(undone)),
        WantedSection("Checks by sight", tuple(sight)),
        WantedSection("Parts, where they are first named", tuple(_parts(known, guides, seen))),
        WantedSection("Outside marks", tuple(_marks(known))),
    )


def is_written(step: ResolvedStep) -> bool:
    """Whether a procedure has the step; looks for other kits are the program's own."""
    return not any(":" in name for name in step.step.names)


def _by_sight(step: ResolvedStep) -> bool:
    accept = step.step.hold.accept if step.step.hold else None
    return accept is not None and accept.instrument == SIGHT


def _of_steps(known: Catalogue, guides: Iterable[Worked], asked: Callable[[ResolvedStep], bool]) -> list[WantedPicture]:
    """A photograph for each act with its object that is asked for and has none."""
    found: dict[str, WantedPicture] = {}
    for machine, kit, guide in guides:
        things = guide.resolved.things
        for step in _steps(guide):
            if (
                step.step.act is None
                or not is_written(step)
                or not asked(step)
                or _pictured(known, machine, kit, step, things)
            ):
                continue
            shows = _shows(step, things)
            found.setdefault(shows, WantedPicture(step.step.do, shows)).serves(machine, kit.name)
    return list(found.values())


def _parts(known: Catalogue, guides: Iterable[Worked], asked_for: set[str]) -> Iterator[WantedPicture]:
    """A photograph for each thing that no photograph shows, nor one that is asked for already."""
    found: dict[str, WantedPicture] = {}
    for machine, kit, guide in guides:
        things, met = guide.resolved.things, set[str]()
        # What is no thing of its own, as the joint that is found damp, nobody can photograph.
        named = {*names_of(machine), *names_of(kit)} - {one.shows.part for one in _of_pair(known, machine, kit)}
        for step in guide.resolved.fitting.steps:
            is_shown = _pictured(known, machine, kit, step, things) or _shows(step, things) in asked_for
            for name in sorted(names_in_step(step) - met):
                met.add(name)
                thing = things.get(name)
                if is_shown or name not in named or thing is None or thing.kind in TAKEN_IN_HAND:
                    continue
                shows = f"{{part: {name}}}"
                words = f"{thing.name[:1].upper()}{thing.name[1:]}"
                found.setdefault(shows, WantedPicture(words, shows)).serves(machine, kit.name)
    yield from found.values()


def _marks(known: Catalogue) -> Iterator[WantedPicture]:
    """A photograph for each outside mark that has none."""
    listed = known.pictures.pictures if known.pictures else ()
    there = {(one.shows.variant, one.shows.mark) for one in listed}
    for machine in known.machines.values():
        for mark in seen_marks(machine):
            if (machine.id, mark.id) not in there:
                words = f"{mark.look[:1].upper()}{mark.look[1:]}: {mark.see}"
                one = WantedPicture(words, f"{{variant: {machine.id}, mark: {mark.id}}}")
                one.serves(machine, "")
                yield one


def _steps(guide: Guide) -> Iterator[ResolvedStep]:
    yield from guide.resolved.fitting.steps
    if guide.resolved.restoring is not None:
        yield from guide.resolved.restoring.steps


def _pictured(known: Catalogue, machine: Machine, kit: Kit, step: ResolvedStep, things: Things) -> bool:
    """Whether a photograph shows the act with its object, or the only thing that it names."""
    return any(_about(one, step, things) for one in _of_pair(known, machine, kit))


def _of_pair(known: Catalogue, machine: Machine, kit: Kit) -> Iterator[WrittenPicture]:
    """The pictures that count for a variant with a kit."""
    listed = known.pictures.pictures if known.pictures else ()
    yield from (one for one in listed if one.shows.variant in (None, machine.id) and one.shows.kit in (None, kit.id))


def _about(one: WrittenPicture, step: ResolvedStep, things: Things) -> bool:
    if one.shows.act is not None:
        return shows_step(one.shows, step, things)
    return one.shows.part is not None and [one.shows.part] == list(things.gathered(sorted(names_in_step(step))))


def _shows(step: ResolvedStep, things: Things) -> str:
    """What the picture would be listed with: the act, and the first thing that it names."""
    names = [step.item if "{" in name and step.item else name for name in step.step.names]
    gathered = things.gathered(dict.fromkeys(names))
    return f"{{act: {step.step.act}, of: {gathered[0]}}}" if gathered else f"{{act: {step.step.act}}}"
