"""The bench sheet: one case of the work on both sides of one sheet, for whoever has read the instruction.

Acts in their short sentences, each hold point with a box to tick and a line for its reading, each hazard once a phase.
Where that does not fit at nine points, two sheets, the second beginning after a safe stop.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from guidegen.language import gettext
from guidegen.record.procedure import InstructionPhase, InstructionRemedy
from guidegen.record.step import Branch, HoldPoint, InstructionStep
from guidegen.site.drawings.files import svg_without_list
from guidegen.site.drawings.scene_views import scene_views
from guidegen.site.pages import sentences, step_words
from guidegen.site.pages.cases import WorkCase
from guidegen.site.pages.paper.frame import SheetOrder, frame
from guidegen.site.pages.paper.press import Data, Typeset

SIZES = (10.0, 9.5, 9.0)
"""Points; the largest that fits is taken."""
SIDES = 2
"""Pages of one sheet."""
TEMPLATE = "bench"


def bench_data(order: SheetOrder) -> dict[str, Any]:
    """What the template prints of a record with an instruction."""
    procedure = order.record.procedure
    assert procedure is not None
    groups = [one for group in order.course.groups if (one := _group(group, order.case))["steps"]]
    name = gettext("bench sheet of the way back") if order.back else gettext("bench sheet")
    return {
        **frame(order, name),
        "size": SIZES[0],
        "breaks": [],
        "note": gettext(
            "For those who have read the whole instruction: reasons, notes and how to look are there, and in doubt "
            "it counts."
        ),
        "read": gettext("The whole instruction, and what was corrected since:"),
        "groups": groups,
        "has_remedies": any(one["letter"] for one in groups),
        "remedies": sum(not one["letter"] for one in groups),
        "stop_use": list(procedure.stop_use),
        "picture": _picture(order),
        "words": {
            "only_if": gettext("Only if {condition}:"),
            "stop": gettext("Safe stop."),
            "stop_use": gettext("Stop using the machine when"),
            "fails": gettext("When a check fails"),
            "elsewhere": gettext("What is done when a check fails, A and on, is in the whole instruction."),
            "serial": gettext("Serial number of the machine"),
            "day": gettext("Day, name"),
        },
    }


def _group(group: InstructionPhase | InstructionRemedy, case: WorkCase) -> dict[str, Any]:
    steps = [one for one in group.steps if case.takes(one)]
    made: dict[str, Any] = {"name": group.name, "steps": list(_steps(steps))}
    if isinstance(group, InstructionPhase):
        time = ", ".join((sentences.minutes(sum(one.minutes for one in steps)), *group.waits))
        stop = group.stop.say if group.stop else ""
        return {**made, "number": group.number, "letter": "", "time": time, "stop": stop, "end": ""}
    letter = group.letter
    return {**made, "number": letter, "letter": letter, "time": "", "stop": "", "end": _then(group.then)}


def _steps(steps: Sequence[InstructionStep]) -> Iterator[dict[str, Any]]:
    """The steps of a phase; a hazard is named at the first that has it.

    A step of an older record says for whom it is, and not in which case; then the sheet says it, too.
    """
    named: set[str] = set()
    for step in steps:
        new = [one for one in step.hazards if one.id not in named and one.word and one.type_of_hazard]
        named |= {one.id for one in new}
        yield {
            "number": step.number,
            "only_if": step.only_if if step.only_if and not step.cases else "",
            "do": step.do,
            "hazards": [[sentences.signal(one.word).upper(), one.type_of_hazard] for one in new],
            "marks": list(_marks(step)),
            "torque": step.torque.is_ if step.torque else "",
            "hold": _hold(step.hold) if step.hold else None,
        }


def _marks(step: InstructionStep) -> Iterator[str]:
    if step.role in step_words.ROLES:
        yield gettext(step_words.ROLES[step.role])
    if not step.reversible:
        yield gettext("This cannot be undone.")
    if step.watched:
        yield gettext("Hands off, and do not leave it alone while it is on.")


def _hold(hold: HoldPoint) -> dict[str, Any]:
    """The looks, each with its box; a line where something is written down; where the work goes on if one fails."""
    return {
        "looks": list(hold.looks or (hold.criterion,)),
        "record": sentences.sentence(hold.record or ""),
        "fails": _fails(hold.on_fail),
    }


def _fails(way: Branch | None) -> str:
    if way is None:
        return ""
    return gettext("If not: {number}.").format(number=way.number) if way.number else gettext("If not: stop.")


def _then(way: Branch | None) -> str:
    if way is None:
        return ""
    return gettext("Then {number}.").format(number=way.number) if way.number else gettext("Then stop.")


def _picture(order: SheetOrder) -> dict[str, Any] | None:
    """The boiler with the coil, or the first view that there is; its numbers are those of the list beside it."""
    record = order.record
    if record.scene is None:
        return None
    steps = [one for one in order.course.steps if order.case.takes(one)]
    named = {name for step in steps for name in step.objects}
    # Where this boiler is exchanged nothing of it is cut, so nothing is hatched.
    stays = [one for one in record.protrusions if one.action != "trim" or one.id in named]
    kept = tuple(one for one in record.scene.protrusions if one.id in {each.id for each in stays})
    views = scene_views(record.scene.model_copy(update={"protrusions": kept}), stays)
    view = next((views.views[name] for name in ("picture", "plan", "water") if name in views.views), None)
    if view is None:
        return None
    things = dict.fromkeys(each for step in steps for name in step.objects for each in views.spread(name))
    shown = [one for one in things if views.place(view, one) is not None and one in views.names]
    listed = views.listed(view, {one: number for number, one in enumerate(shown, 1)})
    return {
        "svg": svg_without_list(view, listed, "paper"),
        "alt": f"{view.title}. {view.says}",
        "names": [[str(one.number), one.name] for one in listed],
    }


# --- fitting it onto the paper -----------------------------------------------------------------------


def bench_pdf(template: str, data: Data) -> bytes:
    """The sheet on as little paper, and then as large, as can be: one sheet, one without what is done when a check
    fails, two sheets split at a safe stop."""
    short = {**data, "groups": data["groups"][: data["remedies"]]}
    found = None
    for sheets in (1, 2):
        for content in (data, short):
            found = _largest(template, content, sheets)
            if found is not None:
                return found.pdf()
    return _split(template, {**short, "size": SIZES[-1]}).pdf()


def _largest(template: str, data: Data, sheets: int) -> Typeset | None:
    """The sheet at the largest size at which it takes so many sheets; none where even the smallest takes more.

    On one sheet the smallest is tried first: where that is too long, nothing else need be set.
    """
    for size in (SIZES[-1], *SIZES[:-1]) if sheets == 1 else SIZES:
        made = Typeset(template, {**data, "size": size}) if sheets == 1 else _split(template, {**data, "size": size})
        fits = made.asked("pages")[0] <= SIDES * sheets
        if sheets == 1 and size == SIZES[-1]:
            if not fits:
                return None
            smallest = made
        elif fits:
            return made
    return smallest if sheets == 1 else None


def _split(template: str, data: Data) -> Typeset:
    """A new sheet after the last phase that ends on the sheet before and has a safe stop, as often as it takes."""
    breaks: list[int] = []
    while True:
        setting = Typeset(template, {**data, "breaks": breaks})
        side = SIDES * (len(breaks) + 1)
        stops = [
            place
            for place, end in enumerate(setting.asked("end"))
            if end <= side and data["groups"][place]["stop"] and place > max(breaks, default=-1)
        ]
        if setting.asked("pages")[0] <= side or not stops:
            return setting
        breaks = [*breaks, stops[-1]]
