"""What a rule is, what it finds, and the questions that several rules ask."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from guidegen.judge.safety.flow import Run, Test
from guidegen.judge.safety.graph import Edge
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.measure import Measure, measured
from guidegen.judge.safety.model import ResolvedStep
from guidegen.workshop.base import Place
from guidegen.workshop.steps import Accept

Severity = Literal["error", "warning"]


@dataclass(frozen=True)
class Found:
    """One thing that a rule found: where, what, and how to fix it if that differs from the rule's own fix.

    `asks` are the facts that are not known, where that is all there is to find.
    """

    place: Place
    message: str
    step: str | None = None
    fix: str | None = None
    severity: Severity | None = None
    asks: tuple[str, ...] = ()


Check = Callable[[Guide], Iterator[Found]]


@dataclass(frozen=True)
class Rule:
    """A rule with what the rules page says of it.

    `waiver`: a warning that somebody may answer for in writing, and that refuses the guide until somebody does.
    `editorial`: a warning that stays on the terminal. `whatever_is_missing`: what it finds is so, however many steps
    are left out because a fact is not known.
    """

    id: str
    severity: Severity
    sentence: str
    fix: str
    check: Check
    waiver: bool = False
    editorial: bool = False
    whatever_is_missing: bool = False


def at_step(
    step: ResolvedStep, message: str, *inner: str | int, fix: str | None = None, asks: tuple[str, ...] = ()
) -> Found:
    """Return a finding at a step, or at a field of it."""
    words = f"step {step.number} ({step.step.id}): {message}"
    return Found(step.where.place(*inner), words, step.key, fix, asks=asks)


def at_value(step: ResolvedStep, text: str, message: str, *inner: str | int, fix: str | None = None) -> Found:
    """Return a finding about a number: where it was written, if a machine's file filled it in, else at the step.

    `fix` is for whoever wrote that value; the rule's own is for whoever wrote the step.
    """
    number = next((one for one in step.numbers if one.place is not None and one.text == text), None)
    if number is None or number.place is None:
        return at_step(step, message, *inner)
    named = message if message.startswith(number.name) else f"{number.name}: {message}"
    return Found(number.place, named, step.key, fix)


def every_step(guide: Guide) -> Iterator[tuple[Run, ResolvedStep]]:
    """Yield every step that a path reaches, in every run."""
    for run in guide.runs:
        for step in run.steps:
            yield run, step


def printed_steps(guide: Guide) -> Iterator[ResolvedStep]:
    """Yield every printed step once."""
    for course in guide.resolved.courses:
        yield from course.steps


def energises(step: ResolvedStep) -> bool:
    """Return whether the step puts power on."""
    return step.step.sets.get("mains") in ("live", "pump_only")


def heats(step: ResolvedStep) -> bool:
    """Return whether the step puts full power on."""
    return step.step.sets.get("mains") == "live"


def opens(step: ResolvedStep) -> bool:
    """Return whether the step opens the enclosure."""
    return step.step.sets.get("enclosure") == "open"


def moves_leads(step: ResolvedStep) -> bool:
    """Return whether the step takes a lead off or puts one on, or may have."""
    return any(kind == "leads" for kind, _ in (*step.removes, *step.refits, *step.disturbs))


def touches_conductors(step: ResolvedStep) -> bool:
    """Return whether a bare conductor is touched, stated or implied."""
    return "conductors" in step.step.touches or moves_leads(step)


def touches_boiler(step: ResolvedStep) -> bool:
    """Return whether the boiler or what sits on it is touched, stated or implied."""
    return "boiler" in step.step.touches or any(
        kind in ("joints", "devices") for kind, _ in (*step.removes, *step.refits, *step.disturbs)
    )


def never(step: ResolvedStep) -> bool:
    """Return False: nothing undoes it."""
    return False


def unmet(guide: Guide, *variables: str) -> Iterator[Found]:
    """Yield every declared requirement on these variables that does not hold on every path to its step."""
    for run, step in every_step(guide):
        for variable, wanted in step.step.requires.items():
            before = run.before[step.key]
            if variable in variables and not before.holds(variable, wanted):
                yield at_step(step, f"needs {variable} {wanted}, but a path reaches it with {variable} "
                                    f"{before.get(variable)}", "requires")  # fmt: skip


def comes_too_early(run: Run, moment: Test, done: Mapping[str, bool], message: str) -> Iterator[Found]:
    """Yield every step of a kind that some path reaches before something is done; `done` as `settled` returns it."""
    for step in run.steps:
        if moment(step) and not done[step.key]:
            yield at_step(step, message)


def ends_without(run: Run, done: Mapping[str, bool], message: str) -> Iterator[Found]:
    """Yield every end of the work that some path reaches before something is done."""
    for edge in run.ends():
        if not done[f"{edge.source}>end"]:
            yield at_step(run.graph.steps[edge.source], message)


def acceptance_of(step: ResolvedStep) -> Accept | None:
    """Return what a hold point accepts; None where the step is none, or accepts nothing."""
    return step.step.hold.accept if step.step.hold else None


def limit_of(step: ResolvedStep, sense: Literal["at_least", "at_most"]) -> Measure | None:
    """Return the limit that a hold point accepts in one sense, where it can be read."""
    accept = acceptance_of(step)
    text = getattr(accept, sense) if accept else None
    return measured(text) if text else None


def stops(run: Run) -> Iterator[Edge]:
    """Yield the edges on which the work rests or ends: nights, and stops of failing sides."""
    for edge in run.graph.edges:
        if edge.kind in ("night", "stop") and edge.source in run.before:
            yield edge
