"""The whole guide as a book: contents, both courses with all that their pages print, the tables behind them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.procedure import CourseUses, Instruction, InstructionCourse, InstructionPhase
from guidegen.site.drawings.files import svg_without_list
from guidegen.site.drawings.scene_views import SceneViews, views_of
from guidegen.site.pages import sentences
from guidegen.site.pages.conduct import head_words
from guidegen.site.pages.instruction import reasons
from guidegen.site.pages.paper.blocks import Block, hazards, heading, listed, steps, table, text, way_words
from guidegen.site.pages.paper.frame import SheetOrder, frame


def book_data(order: SheetOrder) -> dict[str, Any]:
    """What the template prints, block by block."""
    record = order.record
    procedure = record.procedure
    assert procedure is not None
    blocks = [*_before(record, procedure), *_lay_out(gettext("Lay out"), procedure.uses)]
    blocks += _course(gettext("Procedure"), record, procedure.fitting)
    blocks += _after(procedure)
    if procedure.restoring is not None:
        uses = procedure.restoring_uses or procedure.uses
        blocks += _lay_out(gettext("Restoring the original: lay out"), uses)
        blocks += _course(gettext("Restoring the original"), record, procedure.restoring)
    return {
        **frame(order, gettext("whole guide")),
        "contents": gettext("Contents"),
        "hold": gettext("Hold point."),
        "blocks": [one for one in blocks if one.get("items", True)],
    }


def _before(record: Assessment, procedure: Instruction) -> Iterator[Block]:
    """Whom and what it is for, what it costs, and the hazards."""
    conduct, applies = head_words(record), procedure.effectivity
    yield text(
        gettext(
            "Local codes and licensed practice come first. Where they and this guide differ, follow them. Read it once "
            "as a whole before you start."
        )
    )
    if procedure.notice:
        yield text(procedure.notice)
    if applies is not None:
        yield heading(2, gettext("Which machine this is for"))
        yield text(applies.applies_to)
        yield listed(applies.does_not_apply)
        yield text(applies.how_to_tell)
        yield listed(f"{sentences.sentence(one.look)}: {one.see}" for one in record.variant.marks)
    yield heading(2, gettext("Who, how long, where"))
    yield text(" ".join((procedure.target_group, *conduct["person"])), gettext("Who"))
    yield text(sentences.minutes(procedure.minutes), gettext("Work"))
    yield text(" ".join((procedure.place, *conduct["place"])), gettext("Where"))
    yield text(conduct["intended"], gettext("Intended use."))
    yield heading(2, gettext("Hazards of this work"))
    yield hazards(procedure.hazards)
    yield listed(one.remains for one in procedure.residual)
    if procedure.preliminary or record.before_fitting:
        yield heading(2, gettext("Before you start"))
        said = [(one.says, one.because) for one in record.before_fitting]
        said += [(one.says, one.because) for one in procedure.preliminary]
        yield listed(" ".join(filter(None, one)) for one in said)


def _lay_out(title: str, uses: CourseUses) -> Iterator[Block]:
    yield heading(2, title)
    kinds = ((uses.parts, gettext("Parts and seals")), (uses.consumables, gettext("Consumables")))
    for items, name in (*kinds, (uses.tools, gettext("Tools"))):
        if items:
            yield heading(3, name)
            yield listed((_item(one.name, one.details, one.only_if) for one in items), ticks=True)


def _item(name: str, details: str | None, only_if: str | None) -> str:
    condition = gettext("only if {condition}").format(condition=only_if) if only_if else ""
    return ", ".join(filter(None, (sentences.sentence(name), details, condition)))


def _course(title: str, record: Assessment, course: InstructionCourse) -> Iterator[Block]:
    """Phases with their drawings, then what is done when a check fails."""
    why, views = reasons(course.steps), views_of(record)
    yield heading(2, title)
    for phase in course.phases:
        time = ", ".join((sentences.minutes(phase.minutes), *phase.waits))
        yield heading(3, f"{phase.number} {phase.name} ({time})")
        if views is not None:
            yield {"kind": "figures", "items": [*_figures(views, phase)]}
        yield from steps(phase.steps, why)
        if phase.stop:
            yield text(phase.stop.say, gettext("You can stop here."))
    if course.remedies:
        yield heading(2, gettext("When a check fails"))
    for remedy in course.remedies:
        yield heading(3, f"{remedy.letter} {remedy.name}")
        yield from steps(remedy.steps, why)
        if remedy.then:
            yield text(way_words(remedy.then), gettext("Then"))


def _figures(views: SceneViews, phase: InstructionPhase) -> Iterator[Block]:
    things = [*dict.fromkeys(one for step in phase.steps for one in step.objects)]
    for view, named in views.showing(things):
        listed = views.listed(view, {one: number for number, one in enumerate(named, 1)})
        yield {
            "svg": svg_without_list(view, listed, "paper"),
            "alt": f"{view.title}. {view.says}",
            "caption": f"{view.title}.",
            "names": [[str(one.number), one.name] for one in listed],
        }


def _after(procedure: Instruction) -> Iterator[Block]:
    """After-care, faults, and when to stop using the machine."""
    if procedure.aftercare:
        yield heading(2, gettext("After-care"))
        for one in procedure.aftercare:
            yield text(" ".join(filter(None, (one.says, one.because))), f"{one.occasion}." if one.occasion else "")
    if procedure.faults:
        yield heading(2, gettext("Finding faults"))
        head = (gettext("What you notice"), gettext("Likely cause"), gettext("Check"), gettext("Do"))
        stop = gettext("Stop using the machine.")
        rows = ((one.symptom, one.cause, one.check, f"{stop} {one.do}" if one.stop_use else one.do)
                for one in procedure.faults)  # fmt: skip
        yield table(head, rows)
    if procedure.stop_use:
        yield heading(2, gettext("Stop using the machine when"))
        yield listed(procedure.stop_use)
    if procedure.lasting:
        yield heading(2, gettext("What stays changed for good"))
        yield listed(procedure.lasting)
