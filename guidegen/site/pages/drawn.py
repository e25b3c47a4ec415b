"""Which drawings a page shows, and the numbers of things in them: one number for a thing on the whole page.

A photograph of the page numbers what it shows as the drawings do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from markupsafe import Markup

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.pictures import Picture, PictureCallout
from guidegen.record.procedure import InstructionCourse, InstructionPhase
from guidegen.record.step import InstructionStep
from guidegen.site.drawings.figure import figure, plain_figure, store
from guidegen.site.drawings.scene_views import SceneViews, views_of
from guidegen.site.drawings.view import Drawing
from guidegen.site.drawings.water import water
from guidegen.site.pages.my_case import CaseMarks

SIZES = ("plan", "elevation")
"""Views to scale of the whole boiler."""


@dataclass(frozen=True)
class PageDrawings:
    """The drawings of an instruction: the views that are stored, and figures by phase; by step its numbers, and its
    photographs with the same numbers.
    """

    store: str = ""
    phases: Mapping[str, list[Markup]] = field(default_factory=dict)
    numbers: Mapping[str, list[int]] = field(default_factory=dict)
    pictures: Mapping[str, tuple[Picture, ...]] = field(default_factory=dict)


def pictured(record: Assessment) -> Markup | None:
    """The picture of an overview, which says in words what is copper and what is hatched.

    None without the boiler's sizes, and for a kit that does not fit, which is nowhere to be seen as if it did.
    """
    views = None if record.fit.refused else views_of(record)
    view = views.views.get("picture") if views is not None else None
    if view is None:
        return None
    return plain_figure(view, " ".join(legend(record)), "picture")


def legend(record: Assessment) -> list[str]:
    """What is copper and what is hatched in the picture."""
    says = [gettext("Copper: what the kit brings.")] if record.scene is not None and record.scene.coil else []
    cuts = [one.name for one in record.protrusions if one.action == "trim"]
    return says + [gettext("Hatched: {name}, cut off.").format(name=name) for name in cuts]


def sized(record: Assessment) -> list[Markup]:
    """Plan, elevation and cuts of a machine with the coil, for who checks whether it fits; none where it does not."""
    views = None if record.fit.refused else views_of(record)
    if views is None:
        return []
    shown = [(name, view, views.shown_in(view)) for name, view in views.views.items()
             if name in SIZES or name.startswith("cut-")]  # fmt: skip
    numbers = views.numbered(one for _, _, things in shown for one in things)
    return [figure(views, view, {one: numbers[one] for one in things}, name) for name, view, things in shown]


def of_variant(record: Assessment) -> dict[str, Markup]:
    """The drawings of a machine alone: where its outside marks are, and the water's way as it was made."""
    scene, views = record.scene, views_of(record)
    if scene is None or views is None:
        return {}
    made = {}
    marks = {f"mark-{one.id}": words for one, words in zip(scene.marks, record.variant.marks, strict=True)}
    outside = views.views.get("marks")
    if outside is not None:
        named = {name: f"{words.look}: {words.see}" for name, words in marks.items()}
        shown = replace(views, names={**views.names, **named})
        seen = {name: number for number, name in enumerate(marks, 1) if name in outside.targets}
        made["marks"] = figure(shown, outside, seen, "marks")
    way = water(scene, fitted=False)
    if way is not None:
        made["water"] = figure(views, way, views.numbered(views.shown_in(way)), "water-drawn")
    return made


def drawings_of(views: SceneViews | None, mine: CaseMarks) -> PageDrawings:
    """The drawings of a course: of each phase the fewest views that show what its steps are done to.

    A view, and what it points out, is marked where not every case has a step of the phase with that.
    """
    course = mine.course
    if views is None:
        return PageDrawings()
    numbers = views.numbered(_named(views, course))
    shown: dict[str, list[Markup]] = {}
    used: dict[str, Drawing] = {}
    said: set[tuple[str, str]] = set()
    for phase in course.phases:
        steps = _steps_by_thing(views, phase)
        for place, (view, named) in enumerate(_views(views, phase), 1):
            found = {one: numbers[one] for one in named}
            mark = mine.of(step for one in named for step in steps[one])
            marks = {numbers[one]: mine.of(steps[one]) for one in named if mine.of(steps[one]) != mark}
            name, again = f"drawing-{phase.id}-{place}", not said.isdisjoint({(view.name, ""), (view.name, mark)})
            used[view.name] = view
            said.add((view.name, mark))
            own = "" if mark == mine.of(phase.steps) else mark
            made = figure(views, view, found, name, stored=True, again=again, mark=own, marks=marks)
            shown.setdefault(phase.id, []).append(made)
    every = {step.anchor: list(_numbers(views, step, numbers)) for phase in course.phases for step in phase.steps}
    pictures = {step.anchor: tuple(_renumbered(views, one, numbers) for one in step.pictures)
                for step in course.steps if step.pictures}  # fmt: skip
    return PageDrawings(store([*used.values()]), shown, every, pictures)


def _steps_by_thing(views: SceneViews, phase: InstructionPhase) -> Mapping[str, list[InstructionStep]]:
    """The steps of a phase by what they are done to, and by what their photographs number."""
    found: dict[str, list[InstructionStep]] = {}
    for step in phase.steps:
        things = [one for name in step.objects for one in views.spread(name)]
        things += [_called(views, one, callout) for one in step.pictures for callout in one.callouts]
        for thing in dict.fromkeys(things):
            found.setdefault(thing, []).append(step)
    return found


def _named(views: SceneViews, course: InstructionCourse) -> Iterator[str]:
    """What has a number on the page, in the order in which it is come across."""
    for phase in course.phases:
        for step in phase.steps:
            yield from step.objects
    for step in course.steps:
        yield from (_called(views, one, callout) for one in step.pictures for callout in one.callouts)


def _views(views: SceneViews, phase: InstructionPhase) -> Iterator[tuple[Drawing, list[str]]]:
    """The views of a phase with what each points out; where something is cut for good, its section first."""
    things = [*dict.fromkeys(one for step in phase.steps for one in step.objects)]
    cut = dict.fromkeys(one for step in phase.steps if not step.reversible for one in step.objects)
    sections = [(views.views[f"cut-{one}"], [one]) for one in cut if f"cut-{one}" in views.views]
    found = [*sections, *views.showing(things)]
    left = dict.fromkeys(_called(views, one, callout)
                         for step in phase.steps for one in step.pictures for callout in one.callouts)  # fmt: skip
    for view, named in found:
        more = [one for one in left if not any(one in others for _, others in found) and views.place(view, one)]
        yield view, [*named, *more]
        left = {one: None for one in left if one not in more}


def _called(views: SceneViews, picture: Picture, callout: PictureCallout) -> str:
    """What a number of a photograph is about: a thing that a drawing may show as well, or something of its own."""
    alone = callout.of is not None and len(views.spread(callout.of)) == 1
    return callout.of if callout.of and alone else f"{picture.id} {callout.number}"


def _renumbered(views: SceneViews, picture: Picture, numbers: Mapping[str, int]) -> Picture:
    """A photograph with the page's numbers in place of its own."""
    callouts = (one.model_copy(update={"number": numbers[_called(views, picture, one)]}) for one in picture.callouts)
    return picture.model_copy(update={"callouts": tuple(sorted(callouts, key=lambda one: one.number))})


def _numbers(views: SceneViews, step: InstructionStep, numbers: Mapping[str, int]) -> Iterator[int]:
    found = {numbers[one] for name in step.objects for one in views.spread(name) if one in numbers}
    yield from sorted(found)
