"""Hold points and stops: a failing side never leads forward, and every stop is a safe one."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.flow import Run
from guidegen.judge.safety.graph import Edge
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.rules.base import Found, Rule, at_step, stops


def branches(guide: Guide) -> Iterator[Found]:
    """HLD01."""
    for run in guide.runs:
        for step in run.steps:
            hold = step.step.hold
            if hold is not None and hold.on_fail is None:
                yield at_step(step, "a hold point without a failing side", "hold")
        for edge in run.graph.edges:
            if edge.source not in run.before:
                continue
            step = run.graph.steps[edge.source]
            if edge.kind == "lost":
                yield at_step(step, f"leads to `{edge.says}`, which is no step, phase or remedy of this guide")
            elif edge.failing and edge.target is not None and (beyond := _forward(run, edge)):
                yield at_step(step, f"its failing side leads forward, to step {run.graph.steps[beyond].number}, "
                                    "without passing it again", "hold")  # fmt: skip
            elif edge.kind == "stop" and not _helped(run, edge):
                yield at_step(step, "the work stops here, but nobody is named who can help")


def _forward(run: Run, edge: Edge) -> str | None:
    """Return the first step beyond the hold point that its failing side reaches without passing it again."""
    graph, hold = run.graph, edge.source
    limits = [graph.rank[key] for key in _origins(run, hold)]
    if not limits or edge.target is None:
        return None
    reached = graph.reached([edge.target], avoiding=hold)
    beyond = [key for key in reached if key in graph.rank and graph.rank[key] > min(limits)]
    return min(beyond, key=graph.rank.__getitem__) if beyond else None


def _origins(run: Run, hold: str) -> set[str]:
    """Return the hold points of the main line that a hold belongs to: itself, or those that lead to its remedy."""
    graph = run.graph
    if hold in graph.rank:
        return {hold}
    found: set[str] = set()
    for edge in graph.edges:
        if edge.failing and edge.target and edge.source in graph.rank and edge.target not in graph.rank:
            beside = {key for key in graph.reached([edge.target], avoiding=edge.source) if key not in graph.rank}
            if hold in beside:
                found.add(edge.source)
    return found


def _helped(run: Run, edge: Edge) -> bool:
    step = run.graph.steps[edge.source]
    if edge.failing:
        hold = step.step.hold
        return bool(hold and hold.on_fail and hold.on_fail.who_can_help)
    return any(bool(one.then.who_can_help) for one in run.graph.course.remedies
               if one.steps and one.steps[-1].key == edge.source)  # fmt: skip


def night_stops(guide: Guide) -> Iterator[Found]:
    """HLD02."""
    for course in guide.resolved.courses:
        for phase in course.phases[:-1]:
            if phase.stop is None:
                yield Found(phase.where.place(), f"phase {phase.number} ({phase.id}) does not end in a named safe stop")


def safe_stops(guide: Guide) -> Iterator[Found]:
    """STP01."""
    for run in guide.runs:
        for edge in stops(run):
            step = run.graph.steps[edge.source]
            state = run.failed[edge.source] if edge.failing else run.after[edge.source]
            if not state.holds("mains", "off"):
                what = "the stop for the night" if edge.kind == "night" else "the end of a failing side"
                yield at_step(step, f"{what} leaves the machine with mains {state.mains}")
        for edge in run.ends():
            state = run.at(edge)
            step = run.graph.steps[edge.source]
            if state.enclosure != "closed":
                yield at_step(step, "the work ends with the enclosure open")
            for kind in ("joints", "leads"):
                if missing := state.missing(kind):
                    yield at_step(step, f"the work ends with {kind} out: {', '.join(missing)}")


RULES = (
    Rule("HLD01", "error", "A hold point has a passing and a failing side; the failing side never leads forward, and "
         "a stop says who can help.", "let on_fail lead back, to a remedy, or to a stop with who_can_help", branches),
    Rule("HLD02", "warning", "Each phase ends in a named safe stop.", "write stop: {id: a-name} at the phase's end",
         night_stops, editorial=True),
    Rule("STP01", "error", "Every stop, for the night or after a failed hold point, leaves the machine isolated; the "
         "end leaves it closed and complete.", "isolate before the stop", safe_stops),
)  # fmt: skip
