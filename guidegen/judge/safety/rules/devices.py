"""Safety devices and the sensor: back in their seats, verified, unchanged; the coil clear of live parts."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import product

from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import (
    Found,
    Rule,
    acceptance_of,
    at_step,
    comes_too_early,
    energises,
    every_step,
    heats,
    limit_of,
    never,
    printed_steps,
)


def moved_devices(step: ResolvedStep) -> tuple[str, ...]:
    """Return the devices that a step takes off or puts on, or may have disturbed."""
    return tuple(name for kind, name in (*step.removes, *step.refits, *step.disturbs) if kind == "devices")


def refitted(guide: Guide) -> Iterator[Found]:
    """SFD01."""
    for step in printed_steps(guide):
        yield from _gone_for_good(guide, step)
    for run in guide.runs:
        for edge in run.ends():
            if missing := run.at(edge).missing("devices"):
                yield at_step(run.graph.steps[edge.source], f"the work ends with {', '.join(missing)} out")
        for name in sorted({name for step in run.steps for kind, name in (*step.refits, *step.disturbs)
                            if kind == "devices"}):  # fmt: skip
            verified = settled(
                run,
                lambda step, name=name: _verified(step, name) or _gone(step, name),  # type: ignore[misc]
                lambda step, name=name: name in moved_devices(step) and not _gone(step, name),  # type: ignore[misc]
                start=True,
            )
            message = f"heats, but {name} is not verified since it was put back or disturbed"
            yield from comes_too_early(run, heats, verified, message)


def _verified(step: ResolvedStep, name: str) -> bool:
    return name in step.step.verifies and step.step.hold is not None


def _gone(step: ResolvedStep, name: str) -> bool:
    """Whether a step takes a device off for good: there is nothing left to verify."""
    moves = step.step.removes
    return moves is not None and moves.permanent and name in moves.devices


def _gone_for_good(guide: Guide, step: ResolvedStep) -> Iterator[Found]:
    """What is taken off for good is what the kit brought, or a device that controls."""
    moves = step.step.removes
    for name in moves.devices if moves is not None and moves.permanent else ():
        device = guide.machine.device(name)
        duty = device.duty if device else "not listed"
        if ("devices", name) not in guide.resolved.brought and duty != "control":
            words = f"takes {name} off for good, but it is {duty}; only a control device may go"
            yield at_step(step, words, "removes")


def same_rating(guide: Guide) -> Iterator[Found]:
    """SFD02."""
    for step in printed_steps(guide):
        moves = step.step.refits
        for name in moves.devices if moves else ():
            device = guide.machine.device(name)
            if device is None or moves is None or moves.rating is None:
                continue
            if device.rating is None or " ".join(moves.rating.split()) != " ".join(device.rating.split()):
                yield at_step(step, f"fits {name} rated {moves.rating}; the machine's is {device.rating or 'unknown'}",
                              "refits")  # fmt: skip


def seats(guide: Guide) -> Iterator[Found]:
    """SFD03."""
    for run in guide.runs:
        for step in run.steps:
            for name in (name for kind, name in step.removes if kind == "devices"):
                pictured = settled(run, lambda one, name=name: name in one.step.records, never)  # type: ignore[misc]
                if not pictured[step.key]:
                    yield at_step(step, f"takes {name} off before its seat is photographed", "removes")
            for name in (name for kind, name in step.refits if kind == "devices"):
                seat = step.step.seat
                if seat is None or seat.device != name or not seat.position or not seat.clamp:
                    yield at_step(step, f"puts {name} on without saying its position and what clamps it", "refits")
                if not any(name in one.step.verifies for one in run.steps):
                    yield at_step(step, f"puts {name} on, and no step checks its seat afterwards", "refits")


def in_series(guide: Guide) -> Iterator[Found]:
    """SFD04."""
    for run in guide.runs:
        heated = [step for step in run.steps if heats(step)]
        for step in run.steps:
            for lead, guard in product(_rewired(guide, run, step), guide.machine.guards):
                proved = settled(
                    run,
                    lambda one, lead=lead, guard=guard: _proves(one, lead, guard),  # type: ignore[misc]
                    lambda one, step=step: one.key == step.key,  # type: ignore[misc]
                    start=True,
                )
                if any(not proved[one.key] for one in heated):
                    yield at_step(step, f"puts {lead} into the heater's circuit, and {guard} is not proved in series")


def _proves(step: ResolvedStep, lead: str, guard: str) -> bool:
    return guard in step.step.in_series and lead in step.step.names and step.step.hold is not None


def _rewired(guide: Guide, run: Run, step: ResolvedStep) -> Iterator[str]:
    """Leads of the heater that were not in the circuit when the work began."""
    for kind, name in step.refits:
        lead = guide.resolved.things.get(name)
        if (kind, name) in run.graph.course.start.out and lead is not None and lead.heats:
            yield name


def clear(guide: Guide) -> Iterator[Found]:
    """CLR01."""
    if not guide.has_coil:
        return
    for _, step in every_step(guide):
        if step.step.clearance is None:
            continue
        accept, limit = acceptance_of(step), limit_of(step, "at_least")
        if limit is None or limit.dimension != "length" or accept is None or accept.instrument is None:
            yield at_step(step, "the clearance is no hold point with a least distance and an instrument", "clearance")
        if not step.step.clearance.restraint:
            yield at_step(step, "nothing says what keeps the coil at its distance", "clearance")
    for run in guide.fitting_runs:
        measured_first = settled(run, lambda step: step.step.clearance is not None, never)
        message = "puts power on before the coil's clearance to live parts is measured"
        yield from comes_too_early(run, energises, measured_first, message)
        measured_on = settled(run, lambda step: step.step.clearance is not None, partial(_heater_on, guide), start=True)
        message = "puts full power on, but the coil's clearance was not measured since the heater's leads are on"
        yield from comes_too_early(run, heats, measured_on, message)


def _heater_on(guide: Guide, step: ResolvedStep) -> bool:
    """Whether a step puts leads of the heater on: with them its terminals reach further."""
    things = (guide.resolved.things.get(name) for kind, name in step.refits if kind == "leads")
    return any(thing is not None and thing.heats for thing in things)


RULES = (
    Rule("SFD01", "error", "Every safety device taken off is put back and verified; none ends out; only a control "
         "device, or what the kit brought, may go for good.",
         "add the step that refits it, and the hold point that verifies it", refitted),
    Rule("SFD02", "error", "No protective device is exchanged for one with another rating.",
         "fit the same type with the same ratings", same_rating),
    Rule("SFD03", "error", "A sensor's or device's seat: photograph first, position, clamp, check afterwards.",
         "write `records:` before, `seat:` at the refit, `verifies:` after", seats),
    Rule("SFD04", "error", "Where the heater's circuit is changed, every protective device is proved in series with it "
         "before the heater has power.", "add the act that proves it, for each of them", in_series),
    Rule("CLR01", "error", "Coil to live parts: value, unit, instrument, hold point, restraint; measured before any "
         "power, and once more with the heater's leads on.",
         "write a hold point with `clearance:` before power, and below the act that puts the heater's leads on", clear),
)  # fmt: skip
