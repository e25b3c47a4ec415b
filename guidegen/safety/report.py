"""`guidegen check --states`: what is true after every step, at every stop, on every failing side.

For a reviewer: the text is the same whenever the procedure is the same.
"""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.safety.flow import Run, runs_of
from guidegen.safety.graph import Edge
from guidegen.safety.model import Resolved
from guidegen.safety.state import CHAINS, KINDS, State, night


def states_report(resolved: Resolved, title: str = "") -> str:
    """Return the report for one machine with one kit."""
    lines = [title] if title else []
    for run in runs_of(resolved):
        lines += ["", f"{run.graph.course.name}, case {run.graph.scenario + 1} of {resolved.scenarios}"]
        lines += _run(run)
    return "\n".join(lines).strip() + "\n"


def told(state: State) -> str:
    """Return a state on one line: the chains in their order, then what is out or perhaps out."""
    words = [f"{name} {state.get(name)}" for name in CHAINS]
    for kind in KINDS:
        surely = sorted(name for found, name in state.out if found == kind)
        perhaps = sorted(f"{name}?" for found, name in state.unsure if found == kind)
        if surely or perhaps:
            words.append(f"{kind} out: {', '.join(surely + perhaps)}")
    return " · ".join(words)


def _run(run: Run) -> Iterator[str]:
    graph = run.graph
    yield f"start: {told(graph.course.start)}"
    parts = [(f"{phase.number} {phase.name}", phase.steps, phase.stop) for phase in graph.course.phases]
    parts += [(f"{remedy.letter} {remedy.name}", remedy.steps, None) for remedy in graph.course.remedies]
    for name, steps, stop in parts:
        if not any(step.key in run.before for step in steps):
            yield f"{name}: not in this case"
            continue
        yield name
        last = None
        for step in steps:
            if step.key not in run.before:
                continue
            last = step.key
            yield f"  {step.number} {step.key}: {told(run.after[step.key])}"
            yield from (f"      {_side(run, edge)}" for edge in graph.ways[step.key] if _told_apart(edge))
        if stop is not None and last is not None:
            yield f"  stop for the night ({stop.id}): {told(night(run.after[last]))}"


def _told_apart(edge: Edge) -> bool:
    return edge.kind in ("fail", "stop", "lost", "end")


def _side(run: Run, edge: Edge) -> str:
    state = told(run.at(edge))
    if edge.kind == "end":
        return f"end: {state}"
    if edge.kind == "lost":
        return f"leads nowhere: {state}"
    aim = f"to {run.graph.steps[edge.target].number}" if edge.target else "the work stops"
    return f"{'on fail' if edge.failing else 'then'} {aim}: {state}"
