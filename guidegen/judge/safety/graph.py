"""The step graph of one course in one scenario: what can come after what.

Edges: `next` from a step to the one below it; `fail` from a hold point to where its failing side leads; `night`
from the last step of a phase with a safe stop to the first step of the next phase; `end` after the last step;
`stop` where a failing side, or a remedy, says that the work ends there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

from guidegen.judge.safety.model import Course, ResolvedPhase, ResolvedStep
from guidegen.workshop.steps import Way

Kind = Literal["next", "fail", "night", "end", "stop", "lost"]


@dataclass(frozen=True)
class Edge:
    """One way on from a step. `target` is None where the work ends, or where the aim does not exist."""

    source: str
    target: str | None
    kind: Kind
    failing: bool = False
    says: str = ""


@dataclass(frozen=True)
class Graph:
    """Steps by key in printed order, and the edges between them."""

    course: Course
    scenario: int
    steps: Mapping[str, ResolvedStep]
    edges: tuple[Edge, ...]
    main: tuple[str, ...]

    @cached_property
    def ways(self) -> Mapping[str, tuple[Edge, ...]]:
        """Edges by the step they start from."""
        found: dict[str, list[Edge]] = {key: [] for key in self.steps}
        for edge in self.edges:
            found[edge.source].append(edge)
        return {key: tuple(edges) for key, edges in found.items()}

    @cached_property
    def rank(self) -> Mapping[str, int]:
        """Position of each step of the main line."""
        return {key: index for index, key in enumerate(self.main)}

    @property
    def first(self) -> str | None:
        """Key of the first step."""
        return self.main[0] if self.main else None

    def reached(self, starts: Iterable[str], avoiding: str) -> frozenset[str]:
        """Return every step that can be reached from the starts without passing through one step."""
        seen: set[str] = set()
        todo = [key for key in starts if key != avoiding]
        while todo:
            key = todo.pop()
            if key in seen:
                continue
            seen.add(key)
            todo += [e.target for e in self.ways[key] if e.target is not None and e.target != avoiding]
        return frozenset(seen)


def graph_of(course: Course, scenario: int) -> Graph:
    """Return the graph of the steps that belong to one scenario."""
    phases = [(phase, _chosen(phase.steps, scenario)) for phase in course.phases]
    phases = [(phase, steps) for phase, steps in phases if steps]
    remedies = [(remedy, _chosen(remedy.steps, scenario)) for remedy in course.remedies]
    aims = _Aims(phases, {remedy.id: steps for remedy, steps in remedies if steps})
    edges: list[Edge] = []
    for index, (phase, steps) in enumerate(phases):
        following = phases[index + 1][1][0].key if index + 1 < len(phases) else None
        edges += _line(steps, aims)
        last = steps[-1].key
        edges.append(Edge(last, following, "next" if following else "end"))
        if phase.stop is not None and following:
            edges.append(Edge(last, following, "night", says=phase.stop.id))
    for remedy, steps in remedies:
        if steps:
            edges += _line(steps, aims)
            edges.append(_way(steps[-1], remedy.then, aims, failing=False))
    main = tuple(step.key for _, steps in phases for step in steps)
    every = [step for _, steps in (*phases, *remedies) for step in steps]
    return Graph(course, scenario, {step.key: step for step in every}, tuple(edges), main)


def _chosen(steps: Sequence[ResolvedStep], scenario: int) -> tuple[ResolvedStep, ...]:
    return tuple(step for step in steps if scenario in step.scenarios)


def _line(steps: Sequence[ResolvedStep], aims: _Aims) -> list[Edge]:
    """Return the edges inside a phase or remedy, failing sides included."""
    edges = [Edge(one.key, two.key, "next") for one, two in pairwise(steps)]
    for step in steps:
        hold = step.step.hold
        if hold is not None and hold.on_fail is not None:
            edges.append(_way(step, hold.on_fail, aims, failing=True))
    return edges


def _way(step: ResolvedStep, way: Way, aims: _Aims, *, failing: bool) -> Edge:
    if way.goto is not None:
        target = aims.find(step, way.goto)
        kind: Kind = "lost" if target is None else "fail" if failing else "next"
        return Edge(step.key, target, kind, failing, way.goto)
    if way.stop is not None:
        return Edge(step.key, None, "stop", failing, way.stop)
    return Edge(step.key, None, "lost", failing)


class _Aims:
    """Finds the step that `goto` means: nearest first."""

    def __init__(
        self,
        phases: Sequence[tuple[ResolvedPhase, tuple[ResolvedStep, ...]]],
        remedies: Mapping[str, tuple[ResolvedStep, ...]],
    ) -> None:
        self._firsts = {phase.id: steps[0].key for phase, steps in phases}
        self._firsts |= {name: steps[0].key for name, steps in remedies.items()}
        self._keys = [step.key for _, steps in phases for step in steps]
        self._keys += [step.key for steps in remedies.values() for step in steps]

    def find(self, step: ResolvedStep, aim: str) -> str | None:
        """Return the key: a step of the same block, a phase or remedy, or the one step that ends in this name."""
        block, own = step.key.rsplit("/", 1)
        suffix = own.removeprefix(step.step.id)
        for beside in (f"{block}/{aim}{suffix}", f"{block}/{aim}"):
            if beside in self._keys:
                return beside
        if aim in self._firsts:
            return self._firsts[aim]
        ending = [key for key in self._keys if key == aim or key.endswith(f"/{aim}")]
        return ending[0] if len(ending) == 1 else None
