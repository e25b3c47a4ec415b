"""Walk every path through a step graph until nothing changes any more.

The state before a step is the join of all states that can lead to it. The chains are finite and a step moves a
worse state to a state that is no better, so the walk ends.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from guidegen.judge.safety.graph import Edge, Graph, graph_of
from guidegen.judge.safety.model import Course, ResolvedProcedure, ResolvedStep
from guidegen.judge.safety.state import SUSPENDED, Named, State, apply, at_most, join, night
from guidegen.judge.safety.volumes import Volumes, volumes_of

Test = Callable[[ResolvedStep], bool]


@dataclass(frozen=True)
class Run:
    """One course in one scenario with the state before and after every step, and on every failing side.

    `path` is what the water passes.
    """

    graph: Graph
    before: Mapping[str, State]
    after: Mapping[str, State]
    failed: Mapping[str, State]
    path: Volumes

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


def passed(state: State, step: ResolvedStep, path: Volumes) -> State:
    """Return the state after a step that succeeded; `path` is what the water passes."""
    if not (step.step.sets or step.removes or step.refits or step.step.disturbs or step.step.release
            or "close-tap" in step.step.acts):  # fmt: skip
        return state
    if step.step.disturbs is not None and step.step.disturbs.earth:
        state = at_most(state, "earth", "disturbed")
    permanent = step.step.removes is not None and step.step.removes.permanent
    after = apply(state, step.step.sets, step.removes, step.refits, permanent, step.disturbs)
    return _let_off(state, _restored(after, step), step, path)


def _restored(state: State, step: ResolvedStep) -> State:
    """With the mains off, what was let off before a night is let off where somebody's own padlock still holds.

    A plug that lies in sight may have been in meanwhile: there it takes the reading that nothing was heated.
    """
    isolate, cooling = step.step.isolate, step.step.cooling
    padlock = isolate is not None and isolate.guarded
    reading = cooling is not None and cooling.by == "measuring"
    if state.pressure == SUSPENDED and state.holds("mains", "off") and (padlock or reading):
        return replace(state, pressure="released")
    return state


def _let_off(before: State, after: State, step: ResolvedStep, path: Volumes) -> State:
    """With the sides of joints on which nothing presses after a step.

    A tap lets off what reaches it, and a closed one no more; a joint that is loosened, taken apart, or was apart until
    now, lets off what is on both of its sides.
    """
    if after.pressure == "unknown":
        return replace(after, vented=frozenset())
    apart = _joints((*step.removes, *({*step.refits} & before.out)))
    vented = after.vented
    if "close-tap" in step.step.acts or step.disturbs:  # whoever disturbs a tap may have closed it
        vented -= path.volume(path.sides({*step.step.names} & path.taps), _joints(after.out))
    freed = [*apart, *(step.step.names if step.step.release is not None else ())]
    if freed:
        vented |= path.volume(path.sides(freed), after.parted)
    return after if vented == after.vented else replace(after, vented=vented)


def _joints(names: Iterable[Named]) -> list[str]:
    return [name for kind, name in names if kind == "joints"]


def failing(state: State, step: ResolvedStep, path: Volumes) -> State:
    """Return the state on the failing side: nobody knows how far the step got, so the worse of both holds.

    Where proving dead fails, something is live that should not be.
    """
    worse = join(state, passed(state, step, path))
    return worse if step.step.prove is None else replace(worse, mains="unknown")


def runs_of(resolved: ResolvedProcedure) -> tuple[Run, ...]:
    """Return a run per course and scenario."""
    path = volumes_of(resolved.things)
    return tuple(run(course, index, path) for course in resolved.courses for index in range(resolved.scenarios))


def run(course: Course, scenario: int, path: Volumes) -> Run:
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
                state = (failing if edge.failing else passed)(before[key], step, path)
                if edge.kind == "night":
                    state = night(state)
                known = before.get(edge.target)
                joined = state if known is None else join(known, state)
                if joined != known:
                    before[edge.target] = joined
                    todo.append(edge.target)
    after = {key: passed(state, graph.steps[key], path) for key, state in before.items()}
    held = {key: state for key, state in before.items() if graph.steps[key].step.hold}
    failed = {key: failing(state, graph.steps[key], path) for key, state in held.items()}
    return Run(graph, before, after, failed, path)


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
