"""`guidegen check --states`: what is true after every step, at every stop, on every failing side.

For a reviewer: a full state opens each part and stands at each stop for the night and at the end; a step tells
what it changes, a failing side how it differs from success. Where other ways join above a step, what they make
worse is told before it. The text is the same whenever the procedure is the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidegen.judge.safety.flow import Run, runs_of
from guidegen.judge.safety.graph import Edge
from guidegen.judge.safety.model import ResolvedProcedure, ResolvedStep
from guidegen.judge.safety.state import CHAINS, KINDS, State, night
from guidegen.workshop.procedures import NightStop


def states_report(resolved: ResolvedProcedure, title: str = "") -> str:
    """Return the report for one machine with one kit."""
    lines = [title] if title else []
    for run in runs_of(resolved):
        lines += ["", f"{run.graph.course.name}, case {run.graph.scenario + 1} of {resolved.scenarios}"]
        lines += _run(run)
    return "\n".join(lines).strip() + "\n"


def told(state: State) -> str:
    """Return a state on one line: the chains in their order, then what is out or perhaps out."""
    return " · ".join(f"{name} {value}" for name, value in _values(state).items() if value != "none")


def changed(old: State, new: State) -> str:
    """Return what differs, as it is in the new state; `=` where nothing does.

    >>> changed(State(), State(mains="off", out=frozenset({("leads", "heater-live")})))
    'mains off · leads out: heater-live'
    """
    before, after = _values(old), _values(new)
    return " · ".join(f"{name} {value}" for name, value in after.items() if before[name] != value) or "="


def _values(state: State) -> dict[str, str]:
    values = {name: state.get(name) for name in CHAINS}
    for kind in KINDS:
        surely = sorted(name for found, name in state.out if found == kind)
        perhaps = sorted(f"{name}?" for found, name in state.unsure if found == kind)
        values[f"{kind} out:"] = ", ".join(surely + perhaps) or "none"
    return values


def _run(run: Run) -> Iterator[str]:
    course = run.graph.course
    yield f"start: {told(course.start)}"
    for phase in course.phases:
        yield from _part(run, f"{phase.number} {phase.name}", phase.steps, phase.stop)
    for remedy in course.remedies:
        yield from _part(run, f"{remedy.letter} {remedy.name}", remedy.steps, None)


def _part(run: Run, name: str, steps: Sequence[ResolvedStep], stop: NightStop | None) -> Iterator[str]:
    reached = [step for step in steps if step.key in run.before]
    if not reached:
        yield f"{name}: not in this case"
        return
    yield name
    state = run.before[reached[0].key]
    yield f"  arrives: {told(state)}"
    for step in reached:
        before, after = run.before[step.key], run.after[step.key]
        if before != state:
            yield f"  other ways join: {changed(state, before)}"
        yield f"  {step.number} {step.key}: {changed(before, after)}"
        yield from (f"      {_side(run, edge)}" for edge in run.graph.ways[step.key] if _told_apart(edge))
        state = after
    if stop is not None:
        yield f"  stop for the night ({stop.id}): {told(night(state))}"


def _told_apart(edge: Edge) -> bool:
    return edge.kind in ("fail", "stop", "lost", "end")


def _side(run: Run, edge: Edge) -> str:
    state = run.at(edge)
    if edge.kind == "end":
        return f"end: {told(state)}"
    if edge.kind == "lost":
        return f"leads nowhere: {told(state)}"
    aim = f"to {run.graph.steps[edge.target].number}" if edge.target else "the work stops"
    if not edge.failing:
        return f"then {aim}: {told(state)}"
    differs = changed(run.after[edge.source], state)
    return f"on fail {aim}, mains {state.mains}" + ("" if differs == "=" else f", but {differs}")
