"""What a safe stop says: how the machine is left, from the state that every path leaves it in.

Nobody writes it, so it cannot contradict the steps before it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

from guidegen.judge.acts.sentence import listed
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import Course, ResolvedPhase
from guidegen.judge.safety.state import State, join
from guidegen.language import gettext


def stop_words(guide: Guide, course: Course, phase: ResolvedPhase) -> str:
    """The sentences of the stop at the end of a phase; what the author adds stands behind them."""
    state = _left(guide, course, phase)
    sentences = [
        *(_sentences(guide, course, state) if state is not None else ()),
        (phase.stop and phase.stop.say) or "",
    ]
    return " ".join(filter(None, sentences))


def _left(guide: Guide, course: Course, phase: ResolvedPhase) -> State | None:
    """The worst that any path and case leaves behind the last step of the phase."""
    runs = [run for run in guide.runs if run.graph.course is course]
    last = [[step.key for step in phase.steps if step.key in run.after][-1:] for run in runs]
    states = [run.after[key] for run, keys in zip(runs, last, strict=True) for key in keys]
    return reduce(join, states) if states else None


def _sentences(guide: Guide, course: Course, state: State) -> Iterator[str]:
    corded = not guide.machine.hard_wired
    is_open = state.enclosure == "open"
    how = [gettext("unplugged") if corded else gettext("locked off"), gettext("open") if is_open else gettext("closed")]
    how += [gettext("cool")] if state.temperature == "cool" else []
    how += [gettext("without pressure")] if state.pressure == "released" else []
    how += [gettext("drained")] if state.water == "drained" else []
    yield gettext("The machine is {how}.").format(how=listed(how))
    if state.temperature != "cool":
        yield gettext("It may be hot inside.")
    away = sorted((state.out | state.unsure) - course.start.out)
    if away:
        names = dict.fromkeys(name for _, name in away)
        yield gettext("Not in place: {names}.").format(names=guide.resolved.things.listed(names))
    if state.leak == "cold_ok":
        yield gettext("The joints are tight cold; nobody has looked at them after the heat yet.")
    if state.earth == "tested" and not is_open:
        yield gettext("The protective earth is tested.")
    if is_open:
        yield gettext("Lay the cover on loosely.")
    yield gettext("Leave the plug in sight.") if corded else gettext("Leave the padlock on.")
