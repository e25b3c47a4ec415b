"""Water and pressure: released and drained before a joint opens, tight before heat, relieved always."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import (
    Found,
    Rule,
    at_step,
    comes_too_early,
    energises,
    every_step,
    heats,
    never,
    unmet,
)
from guidegen.judge.safety.state import State
from guidegen.judge.safety.volumes import Side
from guidegen.workshop.steps import LeakTest

SETS_BY_RUNG = {"bench": "bench_ok", "cold": "cold_ok", "cooled": "hot_ok"}
#: what a leak test writes for all joints that the work made
EVERY = "every joint"
GAS = re.compile(r"\b(compressed air|air line|air pressure|nitrogen|gas|carbon dioxide|bicycle pump|tyre pump)\b",
                 re.IGNORECASE)  # fmt: skip


def joints(names: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """Return the names of the joints among things moved."""
    return tuple(name for kind, name in names if kind == "joints")


def opened(step: ResolvedStep) -> bool:
    """Return whether the step opens a joint, or may have."""
    return bool(joints((*step.removes, *step.disturbs)))


def pumps(step: ResolvedStep) -> bool:
    """Return whether the step lets a pump press on the joints: the machine's, or one that is worked by hand."""
    return energises(step) or "pump-by-hand" in step.step.acts


def released(guide: Guide) -> Iterator[Found]:
    """PRS01."""
    yield from unmet(guide, "pressure", "water")
    for run, step in every_step(guide):
        before = run.before[step.key]
        if names := joints(step.removes):
            for variable, wanted in (("pressure", "released"), ("water", "drained")):
                if not before.holds(variable, wanted):
                    yield at_step(step, f"opens {', '.join(names)}, but a path reaches it with {variable} "
                                        f"{before.get(variable)}")  # fmt: skip
        if step.step.sets.get("pressure") == "released":
            if step.step.release is None:
                yield at_step(step, "says that the pressure is released, but not by what action", "sets")
            elif not step.step.release.proof:
                yield at_step(step, "releases pressure without a visible proof that it is gone", "release")


def let_off(guide: Guide) -> Iterator[Found]:
    """PRS05."""
    for run, step in every_step(guide):
        before = run.before[step.key]
        if before.holds("pressure", "released"):  # PRS01 says so where it is not
            yield from _pressing(guide, run, step, before)


def _pressing(guide: Guide, run: Run, step: ResolvedStep, before: State) -> Iterator[Found]:
    """The joints that a step opens while something may press on a side; or loosens where a tap would let it off."""
    loosened = joints(step.disturbs) if step.step.release is not None else ()
    for name in (*joints(step.removes), *loosened):
        volumes = {run.path.volume([side], before.parted) for side in run.path.sides([name]) - before.vented}
        for volume in sorted(volumes, key=sorted):
            by_hand = name in loosened and not run.path.vents(volume)
            if not by_hand and not run.path.is_open(volume):
                yield _locked(guide, run, step, name, volume)


def _locked(guide: Guide, run: Run, step: ResolvedStep, name: str, volume: frozenset[Side]) -> Found:
    things = guide.resolved.things
    behind = things.listed(sorted({end for _, end in volume}))
    taps = run.path.vents(volume)
    if taps:
        fix = f"open {things.listed(taps)} above this step, after the last thing that presses on it"
        return at_step(step, f"opens {name}, but a path reaches it while the water at {behind} is not let off", fix=fix)
    words = f"opens {name}, but no tap lets off the water at {behind}"
    return at_step(step, words, fix=f"loosen it by hand first: {{act: loosen-joint, of: {name}}}")


def ladder(guide: Guide) -> Iterator[Found]:
    """PRS02."""
    yield from unmet(guide, "leak")
    for run in guide.runs:
        moved = {name for step in run.steps for name in joints((*step.removes, *step.refits, *step.disturbs))}
        made = {name for step in run.steps for name in joints((*step.refits, *step.disturbs))}
        pumped = settled(run, pumps, opened)
        heated = settled(run, heats, opened)
        for step in run.steps:
            yield from _rung(run, step, made, pumped[step.key], heated[step.key])
            if heats(step) and not run.before[step.key].holds("leak", "cold_ok"):
                yield at_step(step, f"heats with leak {run.before[step.key].leak}; no heat before the cold test")
        for edge in run.ends():
            if moved and run.at(edge).leak != "hot_ok":
                yield at_step(run.graph.steps[edge.source], f"the work ends with leak {run.at(edge).leak}: no look "
                                                            "at the joints after heat")  # fmt: skip


def _rung(run: Run, step: ResolvedStep, made: set[str], pumped: bool, heated: bool) -> Iterator[Found]:
    test, before = step.step.leak, run.before[step.key]
    yield from _reached(step, before)
    if test is None:
        return
    yield from _tested_with(step, test)
    if test.rung == "cold":
        yield from _cold(step, before, pumped)
    if test.rung in ("hot", "cooled") and not heated:
        yield at_step(step, f"the {test.rung} look comes before any heat", "leak")
    if test.rung in ("hot", "cooled") and not before.holds("leak", "cold_ok"):
        yield at_step(step, f"the {test.rung} test comes with leak {before.leak}; the cold test comes first", "leak")
    looked = made if EVERY in test.joints else set(test.joints)
    if test.rung in ("cold", "cooled") and (missing := made - looked):
        yield at_step(step, f"does not look at {', '.join(sorted(missing))}", "leak")


def _reached(step: ResolvedStep, before: State) -> Iterator[Found]:
    """A rung counts as reached by its test, or on a machine as found that nobody has opened."""
    test, reached = step.step.leak, step.step.sets.get("leak")
    if reached is None:
        return
    if not (step.step.as_found or (test and SETS_BY_RUNG.get(test.rung) == reached)):
        yield at_step(step, f"sets leak {reached} without the test of that rung", "sets")
    if step.step.as_found and (before.earth != "ok" or before.enclosure != "closed"):
        yield at_step(step, "takes the machine as found, but it was opened before", "as_found")


def _tested_with(step: ResolvedStep, test: LeakTest) -> Iterator[Found]:
    """Cold water only, and a hold point."""
    text = " ".join(filter(None, (step.step.do, step.step.hold.method if step.step.hold else "")))
    if test.medium != "cold water" and test.rung in ("bench", "cold"):
        yield at_step(step, f"tests with {test.medium}; cold water only, never air or gas", "leak")
    elif GAS.search(text):
        yield at_step(step, "speaks of air or gas in a leak test", "do")
    if step.step.hold is None:
        yield at_step(step, "a leak test that is no hold point", "leak")


def _cold(step: ResolvedStep, before: State, pumped: bool) -> Iterator[Found]:
    if not before.holds("leak", "bench_ok"):
        yield at_step(step, f"the cold test comes with leak {before.leak}; the bench test comes first", "leak")
    if not pumped:
        yield at_step(step, "looks for leaks, but the pump has not run since a joint was opened", "leak")
    if not before.holds("mains", "off") or before.enclosure != "open":
        yield at_step(step, "looks at the joints, but not unplugged with the enclosure open", "leak")


def relieved(guide: Guide) -> Iterator[Found]:
    """PRS03."""
    if not guide.is_wet:
        return
    for _, step in every_step(guide):
        relief = step.step.relief
        if relief is None:
            continue
        device = guide.machine.device(relief.device)
        if device is None or device.kind != "relief-valve":
            yield at_step(step, f"`{relief.device}` is not a relief valve of this machine", "relief")
        if relief.between:
            yield at_step(step, f"{', '.join(relief.between)} can close between the relief valve and "
                                f"{relief.protects}", "relief")  # fmt: skip
        if step.step.hold is None:
            yield at_step(step, "the relief valve is named, but its check is no hold point", "relief")
    for run in guide.runs:
        coil = guide.has_coil and run.graph.course is guide.resolved.fitting
        checked = settled(run, lambda step, coil=coil: _protects(step, coil), never)  # type: ignore[misc]
        message = "puts power on before the relief valve that protects the new water path is checked"
        yield from comes_too_early(run, energises, checked, message)


def _protects(step: ResolvedStep, coil: bool) -> bool:
    """Whether the step follows the way to the relief valve; once there is a coil, from the coil."""
    relief = step.step.relief
    return relief is not None and (not coil or relief.protects == "coil")


RULES = (
    Rule("PRS01", "error", "Opening a wet joint needs the pressure released, by an action with a visible proof, and "
         "the water drained.", "include the block that releases and drains above this step", released),
    Rule("PRS02", "error", "The leak ladder: bench, cold, hot, cooled. Cold water only, never air or gas; no heat "
         "before the cold test; the cold look is unplugged and open, at every joint.",
         "include the leak ladder, in its order, with every joint", ladder),
    Rule("PRS03", "error", "The relief device that protects the new water path is named, nothing between can close, "
         "and its check is a hold point before power.", "write a step with `relief:` and `hold:`", relieved),
    Rule("PRS05", "error", "A joint is opened when every volume on its two sides was let off, by its tap, or by hand "
         "where nothing else lets it off, after the last thing that pressed on it: pump, heat, a closed tap, a night "
         "that nobody watched.", "open the tap, or loosen the joint by hand, above this step", let_off),
)  # fmt: skip
