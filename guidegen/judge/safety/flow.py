"""Walk every path through a step graph until nothing changes any more.

The state before a step is the join of all states that can lead to it. The chains are finite and a step moves a
worse state to a state that is no better, so the walk ends.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from guidegen.judge.safety.graph import Edge, Graph, graph_of
from guidegen.judge.safety.model import Course, ResolvedProcedure, ResolvedStep
from guidegen.judge.safety.state import State, apply, at_most, join, night

Test = Callable[[ResolvedStep], bool]


@dataclass(frozen=True)
class Run:
    """One course in one scenario with the state before and after every step, and on every failing side."""

    graph: Graph
    before: Mapping[str, State]
    after: Mapping[str, State]
    failed: Mapping[str, State]

    @cached_property
    def steps(self) -> tuple[ResolvedStep, ...]:
        """The steps that some path reaches, in printed order."""
        return tuple(step for key, step in self.graph.steps.items() if key in self.before)

    def at(self, edge: Edge) -> State:
        """Return the state on an edge."""
        state = self.failed[edge.source] if edge.failing else self.after[edge.source]
        return night(state) if edge.kind == "night" else state

    def ends(self) -> tuple[Edge, ...]:
        """Return the edges on which the work is finished."""
        return tuple(e for e in self.graph.edges if e.kind == "end" and e.source in self.before)


def passed(state: State, step: ResolvedStep) -> State:
    """Return the state after a step that succeeded."""
    if not (step.step.sets or step.removes or step.refits or step.step.disturbs):
        return state
    if step.step.disturbs is not None and step.step.disturbs.earth:
        state = at_most(state, "earth", "disturbed")
    permanent = step.step.removes is not None and step.step.removes.permanent
    return apply(state, step.step.sets, step.removes, step.refits, permanent, step.disturbs)


def failing(state: State, step: ResolvedStep) -> State:
    """Return the state on the failing side: nobody knows how far the step got, so the worse of both holds.

    Where proving dead fails, something is live that should not be.
    """
    worse = join(state, passed(state, step))
    return worse if step.step.prove is None else replace(worse, mains="unknown")


def runs_of(resolved: ResolvedProcedure) -> tuple[Run, ...]:
    """Return a run per course and scenario."""
    return tuple(run(course, index) for course in resolved.courses for index in range(resolved.scenarios))


def run(course: Course, scenario: int) -> Run:
    """Walk one course to the fixpoint."""
    graph = graph_of(course, scenario)
    before: dict[str, State] = {}
    if graph.first is not None:
        before[graph.first] = course.start
        todo = deque([graph.first])
        while todo:
            key = todo.popleft()
            step = graph.steps[key]
            for edge in graph.ways[key]:
                if edge.target is None:
                    continue
                state = failing(before[key], step) if edge.failing else passed(before[key], step)
                if edge.kind == "night":
                    state = night(state)
                known = before.get(edge.target)
                joined = state if known is None else join(known, state)
                if joined != known:
                    before[edge.target] = joined
                    todo.append(edge.target)
    after = {key: passed(state, graph.steps[key]) for key, state in before.items()}
    failed = {key: failing(state, graph.steps[key]) for key, state in before.items() if graph.steps[key].step.hold}
    return Run(graph, before, after, failed)


def settled(run: Run, good: Test, bad: Test, start: bool = False) -> Mapping[str, bool]:
    """Return, before each step, whether on every path something good came after the last thing that undoes it.

    A hold point that failed did no good, but the harm it did counts. `start` is the answer before the first step.
    Where the work ends, the answer stands under the key of the last step with `>` and the kind of the end.
    """
    graph = run.graph
    before: dict[str, bool] = {}
    if graph.first is None:
        return before
    before[graph.first] = start
    todo = deque([graph.first])
    edges: dict[str, bool] = {}
    while todo:
        key = todo.popleft()
        step = graph.steps[key]
        kept = before[key] and not bad(step)
        passing = kept or good(step)
        for edge in graph.ways[key]:
            value = kept if edge.failing else passing
            if edge.target is None:
                edges[f"{key}>{edge.kind}"] = value
                continue
            known = before.get(edge.target)
            joined = value if known is None else known and value
            if joined != known:
                before[edge.target] = joined
                todo.append(edge.target)
    return {**before, **edges}
