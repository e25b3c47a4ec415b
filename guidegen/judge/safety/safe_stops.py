"""What a safe stop says: how the machine is left, from the state that every path leaves it in.

Nobody writes it, so it cannot contradict the steps before it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

from guidegen.judge.acts.sentence import listed
from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import Course, ResolvedPhase, ResolvedStep
from guidegen.judge.safety.state import State, join
from guidegen.language import gettext, marked

STAYS = {
    "open-tap": marked("The steam tap is open, and stays so."),
    "blind-filter": marked("The blind filter is in the group, and stays there until the pressure is off."),
}
"""What an act put in or opened and whoever stops has to leave so, by what `puts` of its row calls it.

It is said where every case of the course leaves it so.
"""


def stop_words(guide: Guide, course: Course, phase: ResolvedPhase) -> str:
    """The sentences of the stop at the end of a phase; what the author adds stands behind them."""
    lasts = _lasts(guide, course, phase)
    states = [run.after[last.key] for run, last in lasts]
    sentences = [
        *(_sentences(guide, course, reduce(join, states)) if states else ()),
        *(
            gettext(words)
            for name, words in STAYS.items()
            if lasts and all(_in(run, last, name) for run, last in lasts)
        ),
        *(_how_to_leave(guide, reduce(join, states)) if states else ()),
        (phase.stop and phase.stop.say) or "",
    ]
    return " ".join(filter(None, sentences))


def _lasts(guide: Guide, course: Course, phase: ResolvedPhase) -> list[tuple[Run, ResolvedStep]]:
    """Every case of the course with the last step of the phase that its paths reach."""
    runs = [run for run in guide.runs if run.graph.course is course]
    return [(run, step) for run in runs for step in [one for one in phase.steps if one.key in run.after][-1:]]


def _in(run: Run, last: ResolvedStep, name: str) -> bool:
    """Whether on some path it is still in, or open, behind a step."""
    orders = settled(run, lambda one: name in one.step.order.takes, lambda one: name in one.step.order.puts, start=True)
    order = last.step.order
    return name not in order.takes and (name in order.puts or not orders[last.key])


def _sentences(guide: Guide, course: Course, state: State) -> Iterator[str]:
    corded = not guide.machine.hard_wired
    is_open = state.enclosure == "open"
    how = [gettext("unplugged") if corded else gettext("locked off"), gettext("open") if is_open else gettext("closed")]
    how += [gettext("cool")] if state.temperature == "cool" else []
    how += [gettext("without pressure")] if state.pressure == "released" else []
    how += [gettext("drained")] if state.water == "drained" else []
    yield gettext("The machine is {how}.").format(how=listed(how))
    if state.temperature != "cool":
        pressed = state.pressure == "unknown"
        yield gettext("It may be hot inside, and under pressure.") if pressed else gettext("It may be hot inside.")
    away = sorted((state.out | state.unsure) - course.start.out)
    if away:
        names = dict.fromkeys(name for _, name in away)
        yield gettext("Not in place: {names}.").format(names=guide.resolved.things.listed(names))
    if state.leak == "cold_ok":
        yield gettext("The joints are tight when cold; nobody has looked at them after heating yet.")
    if state.earth == "tested" and not is_open:
        yield gettext("The protective earth is tested.")


def _how_to_leave(guide: Guide, state: State) -> Iterator[str]:
    corded = not guide.machine.hard_wired
    if state.enclosure == "open":
        yield gettext("Put the cover on loosely.")
    yield gettext("Leave the plug in sight.") if corded else gettext("Leave the padlock on.")
