"""An instruction's drawings and photographs number the same thing alike, on the demonstration."""

from __future__ import annotations

import html
import re
from functools import cache
from pathlib import Path

import pytest

from guidegen.assess.pictures import with_steps
from guidegen.assess.scene import scene
from guidegen.assess.verdict import judged, protrusions
from guidegen.judge.safety.record import procedure_record
from guidegen.record.procedure import Instruction, InstructionCourse
from guidegen.site.drawings.bolts import torque_text
from guidegen.site.drawings.scene_views import SceneViews, scene_views
from guidegen.site.pages.cases import cases_of
from guidegen.site.pages.drawn import PageDrawings, drawings_of
from guidegen.site.pages.my_case import CaseMarks
from guidegen.trade import Catalogue, load
from tests.mutants.draft import draft

ROOT = Path(__file__).parents[4]
MARKED = re.compile(r'<li([^>]*)><span class="gd-ring">\d+</span> ([^<]+)')
LISTED = re.compile(r'<li[^>]*><span class="gd-ring">(\d+)</span> ([^<]+)')


@cache
def known() -> Catalogue:
    """The demonstration's catalogue."""
    return load(ROOT)


@cache
def of(variant: str, kit: str) -> tuple[SceneViews, InstructionCourse, PageDrawings]:
    """The views of a pair, its fitting with photographs, and what its page shows."""
    machine, chosen, guide = known().machines[variant], known().kits[kit], draft(variant, kit).guide()
    made = Instruction.model_validate(procedure_record(guide))
    course = with_steps(known(), machine, chosen, guide, made).fitting
    decided = tuple(protrusions(machine, chosen, judged(known(), machine, chosen, "next")))
    views = scene_views(scene(known(), machine, chosen), decided)
    return views, course, drawings_of(views, CaseMarks(course))


def test_a_photograph_has_the_numbers_of_the_drawings() -> None:
    """Hose, fitting and boiler, in the photograph of the nut that comes off: the numbers that the lists give them."""
    views, course, drawn = of("tamsin-mk2", "feed-preheater")
    by_name = {name: int(number) for figures in drawn.phases.values() for one in figures
               for number, name in LISTED.findall(one)}  # fmt: skip
    (step,) = (one for one in course.steps if any(shown.id == "feed-hose-off" for shown in one.pictures))
    (shown,) = drawn.pictures[step.anchor]
    assert {one.of for one in shown.callouts} == {"feed-hose", "straight-inlet", "boiler"}
    for one in shown.callouts:
        assert one.of is not None
        assert one.number == by_name[views.names[one.of]]
    assert [one.number for one in shown.callouts] == sorted(one.number for one in shown.callouts)


def test_what_a_photograph_shows_is_in_the_drawing_of_its_phase() -> None:
    """Where the drawing can show it: the boss that is sawn off, and the wall that it stands on."""
    _, course, drawn = of("tamsin-mk2", "feed-preheater")
    for phase in course.phases:
        there = {int(number) for one in drawn.phases.get(phase.id, []) for number, _ in LISTED.findall(one)}
        pictures = [one for step in phase.steps for one in drawn.pictures.get(step.anchor, ())]
        assert {one.number for shown in pictures for one in shown.callouts} <= there


@pytest.mark.parametrize("pair", [("tamsin-mk2", "feed-preheater"), ("bracken-c", "feed-preheater")])
def test_a_list_names_in_each_case_what_its_steps_are_done_to(pair: tuple[str, str]) -> None:
    """What is left of a phase's lists in a case, against the names of what that case's steps name in the phase."""
    views, course, drawn = of(*pair)
    left_out = 0
    for case in cases_of(course):
        for phase in course.phases:
            steps = [step for step in phase.steps if case.takes(step)]
            things = {one for step in steps for name in step.objects for one in views.spread(name)}
            shown = {callout.of for step in steps for picture in step.pictures for callout in picture.callouts}
            allowed = {views.names.get(one, one) for one in things | {one for one in shown if one}}
            listed = [one for figure in drawn.phases.get(phase.id, []) for one in MARKED.findall(figure)]
            kept = {html.unescape(name).strip() for mark, name in listed if not mark or case.id in mark}
            left_out += len(listed) - len(kept)
            assert not steps or kept <= allowed
    assert left_out > 0


def test_no_two_things_have_one_number() -> None:
    """On a whole page, in lists of drawings and photographs."""
    _, course, drawn = of("tamsin-mk2", "feed-preheater")
    things: dict[int, set[str]] = {}
    for figures in drawn.phases.values():
        for figure in figures:
            for number, name in LISTED.findall(figure):
                things.setdefault(int(number), set()).add(name)
    assert {number: names for number, names in things.items() if len(names) > 1} == {}
    assert {number: names for number, names in things.items() if number <= 4} == {
        number: {f"bolt {number}"} for number in range(1, 5)
    }
    assert course.phases


def test_bolts_are_drawn_where_they_are_undone_and_where_they_are_tightened() -> None:
    """Each phase with an act that turns them has their view, and its steps have their numbers."""
    _, course, drawn = of("tamsin-mk2", "feed-preheater")
    turning = {"undo-bolts", "start-bolts", "tighten-bolt", "tighten-again"}
    phases = [phase for phase in course.phases if any(step.act in turning for step in phase.steps)]
    assert len(phases) >= 2
    for phase in phases:
        assert any('href="#gd-bolts"' in one for one in drawn.phases[phase.id])
    undone = next(step for step in course.steps if step.act == "undo-bolts")
    assert {1, 2, 3, 4} <= {*drawn.numbers[undone.anchor]}
    third = next(step for step in course.steps if step.act == "tighten-bolt" and "bolt 3" in step.do)
    assert drawn.numbers[third.anchor] == [3]


def test_the_torque_that_is_drawn_is_the_one_that_is_printed() -> None:
    """The step takes it from the same fact."""
    views, course, _ = of("tamsin-mk2", "feed-preheater")
    torques = [step.torque for step in course.steps if step.torque and "bolt-1" in step.objects]
    printed = {one.is_.replace("\u202f", " ") for one in torques}
    assert views.scene.bolts is not None
    assert printed == {torque_text(views.scene.bolts, "N·m").replace("\u202f", " ")}
