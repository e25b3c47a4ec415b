"""Where the photographs of a workshop appear: on a variant, its marks, a kit, and the steps of an instruction.

Of several of the same thing those count that were taken on this very variant; where there are none, those of its
family, then any. The page says of each that was taken on another variant on which it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import groupby
from types import MappingProxyType

from guidegen.judge.acts.things import Things
from guidegen.judge.fit.marks import seen_marks
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import Course, ResolvedStep
from guidegen.judge.safety.record import anchor_of
from guidegen.record.pictures import Picture, PictureCallout
from guidegen.record.procedure import Instruction, InstructionCourse
from guidegen.record.stated import KitPart, VariantPart
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.named_things import first_name
from guidegen.workshop.pictures.written import PictureSubject, WrittenPicture

ITEM = "{item.id}"


def every(known: Catalogue) -> Mapping[str, Picture]:
    """All photographs that the workshop lists, by id."""
    listed = known.pictures.pictures if known.pictures else ()
    return MappingProxyType({one.id: recorded(known, one) for one in listed})


def recorded(known: Catalogue, one: WrittenPicture) -> Picture:
    """A photograph as the record keeps it."""
    photograph = known.album.photographs.get(one.file)
    taken_on = known.machines.get(one.taken_on or "")
    return Picture(
        id=one.id,
        digest=photograph.digest if photograph else "",
        words=one.words,
        caption=one.caption,
        by=one.by,
        date=one.date.isoformat() if one.date else None,
        taken_on=one.taken_on,
        taken_on_name=taken_on.name if taken_on else None,
        callouts=tuple(_callouts(known, one)),
    )


def _callouts(known: Catalogue, one: WrittenPicture) -> Iterator[PictureCallout]:
    """The numbers, counted in the order in which they are written."""
    names = [name for name in (one.taken_on, one.shows.variant) if name in known.machines]
    first = [known.machines[name] for name in names if name]
    documents: list[Machine | Kit] = [*first, *known.kits.values(), *known.machines.values()]
    for number, callout in enumerate(one.callouts, 1):
        says = callout.says or first_name(documents, callout.of or "") or callout.of or ""
        yield PictureCallout(number=number, at=callout.at, says=says, of=callout.of)


def with_variant(known: Catalogue, part: VariantPart, machine: Machine) -> VariantPart:
    """The variant with its photographs and those of its marks."""
    if not known.pictures:
        return part
    marks = tuple(
        mark.model_copy(update={"pictures": _chosen(known, machine, _of_mark(machine, written.id))})
        for mark, written in zip(part.marks, seen_marks(machine), strict=True)
    )
    whole = _chosen(known, machine, lambda one: one.is_whole and one.kit is None and one.variant == machine.id)
    return part.model_copy(update={"marks": marks, "pictures": whole})


def _of_mark(machine: Machine, mark: str) -> Callable[[PictureSubject], bool]:
    return lambda one: one.mark == mark and one.variant == machine.id


def with_kit(known: Catalogue, part: KitPart, kit: Kit, machine: Machine) -> KitPart:
    """The kit with its photographs, as they count for a variant."""

    def mine(one: PictureSubject) -> bool:
        return one.is_whole and one.kit == kit.id and one.variant in (None, machine.id)

    return part.model_copy(update={"pictures": _chosen(known, machine, mine)}) if known.pictures else part


def with_steps(known: Catalogue, machine: Machine, kit: Kit, made: Guide, instruction: Instruction) -> Instruction:
    """The instruction with photographs at its steps: each at the first step of a course that does or names it."""
    if not known.pictures:
        return instruction
    resolved = made.resolved
    update: dict[str, InstructionCourse] = {}
    for name, course in (("fitting", resolved.fitting), ("restoring", resolved.restoring)):
        printed: InstructionCourse | None = getattr(instruction, name)
        if course is not None and printed is not None:
            update[name] = _illustrated(printed, by_anchor(known, machine, kit, course, resolved.things))
    return instruction.model_copy(update=update)


def _illustrated(course: InstructionCourse, found: Mapping[str, tuple[Picture, ...]]) -> InstructionCourse:
    groups = {
        name: tuple(
            group.model_copy(
                update={
                    "steps": tuple(
                        step.model_copy(update={"pictures": found[step.anchor]}) if step.anchor in found else step
                        for step in group.steps
                    )
                }
            )
            for group in getattr(course, name)
        )
        for name in ("phases", "remedies")
    }
    return course.model_copy(update=groups)


def by_anchor(
    known: Catalogue, machine: Machine, kit: Kit, course: Course, things: Things
) -> Mapping[str, tuple[Picture, ...]]:
    """The photographs of a course by the anchor of the step that they stand at."""
    found: dict[str, list[Picture]] = {}
    steps = [*course.steps]
    for _, group in groupby(sorted(_of_work(known, machine, kit), key=_subject), key=_subject):
        chosen = _least(known, machine, group)
        step = next((one for one in steps if shows_step(chosen[0].shows, one, things)), None)
        if step is not None:
            found.setdefault(anchor_of(course, step), []).extend(recorded(known, one) for one in chosen)
    return {anchor: tuple(pictures) for anchor, pictures in found.items()}


def shows_step(shows: PictureSubject, step: ResolvedStep, things: Things) -> bool:
    """Whether a photograph of an act with its object, or of a part, is about a step."""
    named = names_in_step(step)
    if shows.part is not None:
        return {*_members(shows.part, things)} <= named
    return step.step.act == shows.act and all({*_members(one, things)} <= named for one in shows.of)


def names_in_step(step: ResolvedStep) -> set[str]:
    """The ids of all that a step names; of a repeated one its own item."""
    return {step.item if name == ITEM and step.item else name for name in step.step.names}


def _members(name: str, things: Things) -> tuple[str, ...]:
    thing = things.get(name)
    return thing.members if thing is not None else (name,)


def _of_work(known: Catalogue, machine: Machine, kit: Kit) -> list[WrittenPicture]:
    return [
        one
        for one in (known.pictures.pictures if known.pictures else ())
        if (one.shows.part is not None or one.shows.act is not None)
        and one.shows.variant in (None, machine.id)
        and one.shows.kit in (None, kit.id)
    ]


def _subject(one: WrittenPicture) -> tuple[str, str, tuple[str, ...]]:
    """What an act or a part is grouped by; whose it is only narrows where it counts."""
    return one.shows.part or "", one.shows.act or "", one.shows.of


def _chosen(known: Catalogue, machine: Machine, wanted: Callable[[PictureSubject], bool]) -> tuple[Picture, ...]:
    listed = known.pictures.pictures if known.pictures else ()
    chosen = _least(known, machine, (one for one in listed if wanted(one.shows)))
    return tuple(recorded(known, one) for one in chosen)


def _least(known: Catalogue, machine: Machine, pictures: Iterable[WrittenPicture]) -> list[WrittenPicture]:
    """Those that were taken nearest to a variant, in their order."""
    ranked = [(_distance(known, machine, one), one) for one in pictures]
    least = min((rank for rank, _ in ranked), default=0)
    return [one for rank, one in ranked if rank == least]


def _distance(known: Catalogue, machine: Machine, one: WrittenPicture) -> int:
    """0 on this variant or on none, 1 on another of its family, 2 on any other."""
    if one.taken_on in (None, machine.id):
        return 0
    other = known.machines.get(one.taken_on or "")
    return 1 if other is not None and other.family == machine.family else 2
