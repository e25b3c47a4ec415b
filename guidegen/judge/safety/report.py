"""`guidegen check --states`: a table of every step, who does it, and what it changes.

For a reviewer: the whole state stands at the start and at every end; else only what changes is printed, after the
step that changes it, on a failing side, over a night, and where other ways join. A further case of the same course
prints only the rows in which it differs from the first. The text is the same whenever the procedure is the same.
"""

from __future__ import annotations

import difflib
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass

from guidegen.judge.safety.flow import Run, runs_of
from guidegen.judge.safety.graph import Edge
from guidegen.judge.safety.model import ResolvedProcedure, ResolvedStep
from guidegen.judge.safety.state import CHAINS, KINDS, Named, State, night
from guidegen.judge.safety.volumes import Side
from guidegen.workshop.procedures import NightStop

WORDS, WHO = 78, 11
"""Columns of the words and of the role; longer words push what follows to the right."""
ROLES = {"anyone": "anyone", "hand-tools": "hand tools", "electrically-skilled": "skilled"}
JOINED, NIGHT, START, END = "other ways join", "night", "start", "end"


@dataclass(frozen=True)
class StateRow:
    """One line of the table: a step, or what stands between two steps."""

    words: str
    number: str = ""
    who: str = ""
    changes: str = ""

    def line(self) -> str:
        """As the table prints it; the name of a phase or remedy stands apart."""
        if self.number and not self.who:
            return f"\n{self.number} {self.words}"
        return f"{self.number:>5}  {self.who:<{WHO}} {self.words:<{WORDS}} {self.changes}".rstrip()

    def unnumbered(self) -> str:
        """For comparing tables in which the numbers of steps differ."""
        return f"{self.who:<{WHO}} {self.words:<{WORDS}} {self.changes}".rstrip()


def states_report(resolved: ResolvedProcedure, title: str = "") -> str:
    """The table of one machine with one kit."""
    lines = [title] if title else []
    for name, rows in _tables(resolved):
        lines += ["", name, *(row.line() for row in rows)]
    return "\n".join(lines).strip() + "\n"


def state_rows(resolved: ResolvedProcedure) -> tuple[StateRow, ...]:
    """The rows of the table, its courses and cases among them, to compare with those of another."""
    return tuple(row for name, rows in _tables(resolved) for row in (StateRow(name), *rows))


def _tables(resolved: ResolvedProcedure) -> Iterator[tuple[str, tuple[StateRow, ...]]]:
    """Each course in each case with its name and rows; of a further case those that the first does not have."""
    first: dict[str, tuple[StateRow, ...]] = {}
    for run in runs_of(resolved):
        course, rows = run.graph.course.name, tuple(rows_of(run))
        name = f"{course}, case {run.graph.scenario + 1} of {resolved.scenarios}"
        if course in first:
            yield f"{name}: the rows that case 1 does not have", tuple(row for row in rows if row not in first[course])
        else:
            first[course] = rows
            yield name, rows


def difference(one: Sequence[StateRow], other: Sequence[StateRow], names: tuple[str, str]) -> str:
    """The rows in which two tables differ, with one unchanged row around each; empty where they do not."""
    before, after = ([row.unnumbered() for row in rows] for rows in (one, other))
    return "".join(f"{line}\n" for line in difflib.unified_diff(before, after, *names, n=1, lineterm=""))


def described(state: State) -> str:
    """A state on one line: the chains in their order, then what is out or perhaps out."""
    values = [f"{name} {state.get(name)}" for name in CHAINS]
    named = (*_named("out", state.out), *_named("perhaps out", state.unsure), *_sides("let off", state.vented))
    return " · ".join([*values, *named])


def changed(old: State, new: State) -> str:
    """What differs, as it is in the new state; nothing where nothing does.

    >>> changed(State(), State(mains="off", out=frozenset({("leads", "heater-live")})))
    'mains off · leads out: heater-live'
    """
    values = [f"{name} {new.get(name)}" for name in CHAINS if old.get(name) != new.get(name)]
    values += _named("out", new.out - old.out)
    values += _named("perhaps out", new.unsure - old.unsure)
    values += _named("in", (old.out | old.unsure) - (new.out | new.unsure))
    values += _sides("let off", new.vented - old.vented)
    values += _sides("let off no more", old.vented - new.vented)
    return " · ".join(values)


def _named(word: str, things: frozenset[Named]) -> Iterator[str]:
    """Things that are out, perhaps out or in, by kind: `leads out: boiler-earth, heater-live`."""
    for kind in KINDS:
        names = sorted(name for found, name in things if found == kind)
        if names:
            yield f"{kind} {word}: {', '.join(names)}"


def _sides(word: str, sides: frozenset[Side]) -> Iterator[str]:
    """Sides of joints, a joint with both of them by its name alone: `let off: inlet, check-valve at feed-hose`."""
    ends = {joint: sorted(end for one, end in sides if one == joint) for joint, _ in sorted(sides)}
    names = [joint if len(found) > 1 else f"{joint} at {found[0]}" for joint, found in ends.items()]
    if names:
        yield f"{word}: {', '.join(names)}"


def rows_of(run: Run) -> Iterator[StateRow]:
    """The table of one course in one case."""
    course = run.graph.course
    yield StateRow(START, changes=described(course.start))
    state: State | None = course.start
    for phase in course.phases:
        yield StateRow(phase.name, phase.number)
        state = yield from _part(run, phase.steps, state, phase.stop)
    for remedy in course.remedies:
        yield StateRow(remedy.name, remedy.letter)
        yield from _part(run, remedy.steps, None, None)


def _part(
    run: Run, steps: Sequence[ResolvedStep], state: State | None, stop: NightStop | None
) -> Generator[StateRow, None, State | None]:
    """The rows of a phase or remedy, reached in a state; returns the state that the next phase is reached in."""
    for step in steps:
        if step.key not in run.before:
            continue
        before, after = run.before[step.key], run.after[step.key]
        if state is None:
            yield StateRow("arrives", changes=described(before))
        elif before != state:
            yield StateRow(JOINED, changes=changed(state, before))
        who = ROLES.get(step.step.role, step.step.role)
        yield StateRow(step.step.do, step.number, who, changed(before, after))
        yield from (
            _side(run, edge) for edge in run.graph.ways[step.key] if edge.kind in ("fail", "stop", "lost", "end")
        )
        state = after
    if stop is not None and state is not None:
        rested = night(state)
        yield StateRow(f"{NIGHT} ({stop.id})", changes=changed(state, rested))
        # What another way to the next phase makes worse is printed there.
        return rested
    return state


def _side(run: Run, edge: Edge) -> StateRow:
    state = run.at(edge)
    if edge.kind == "end":
        return StateRow(END, changes=described(state))
    if edge.kind == "lost":
        return StateRow("leads nowhere", changes=described(state))
    aim = f"on to {run.graph.steps[edge.target].number}" if edge.target else "the work stops"
    if not edge.failing:
        return StateRow(f"then {aim}", changes=described(state))
    differs = changed(run.after[edge.source], state)
    mains = f"mains {state.mains}"
    return StateRow(f"  fails: {aim}", changes=mains if not differs or differs == mains else f"{mains}, {differs}")
