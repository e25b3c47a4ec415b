"""Cutting: nothing is cut that carries a function, nothing on an assumed number, and nothing is left behind."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.flow import Test, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.measure import measured
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import (
    Found,
    Rule,
    at_step,
    comes_too_early,
    ends_without,
    energises,
    never,
    printed_steps,
)
from guidegen.units import UnitError, parse
from guidegen.workshop.steps import WrittenCut

#: act that must come before a cut -> how a finding calls it, and the act that undoes it
BEFORE = {
    "part-out": ("the part is not out of the machine", None),
    "identify": ("the function of what is cut is not identified", None),
    "plug-ports": ("the ports are not plugged", "unplug-ports"),
    "hold-work": ("the work is not held", None),
}
#: act that must come after a cut, before power -> how a finding calls it
AFTER = {
    "deburr": "the cut is not deburred",
    "unplug-ports": "the ports are not unplugged",
    "flush": "the part is not flushed",
    "swarf-check": "nobody looked for swarf",
}
#: cutting tool -> what protects whoever uses it
EQUIPMENT: dict[str, frozenset[str]] = {
    "hand-saw": frozenset({"eye-protection"}),
    "flat-file": frozenset({"eye-protection"}),
    "rotary-tool": frozenset({"eye-protection", "face-shield", "ffp2-mask", "hearing-protection"}),
}
DISCOURAGED = "angle-grinder"
ROUNDING = 5e-6
"""m; a limit is printed to a hundredth of a millimetre."""


def is_cut(step: ResolvedStep) -> bool:
    """Return whether the step cuts."""
    return step.step.cut is not None


def prepared(guide: Guide) -> Iterator[Found]:
    """CUT01."""
    for run in guide.runs:
        cuts = [step for step in run.steps if is_cut(step)]
        if not cuts:
            continue
        for act, (missing, undo) in BEFORE.items():
            done = settled(run, _does(act), _does(undo) if undo else never)
            yield from comes_too_early(run, is_cut, done, f"cuts, but {missing}")
        held = settled(run, lambda step: step.step.hold is not None and "identify" in step.step.acts, never)
        yield from comes_too_early(run, is_cut, held, "cuts without a hold point before it")
        for step in cuts:
            yield from _dimensioned(step)


def _dimensioned(step: ResolvedStep) -> Iterator[Found]:
    cut = step.step.cut
    if step.step.reversible:
        yield at_step(step, "cuts, but is not marked irreversible", "reversible")
    line = measured(cut.line.is_) if cut and cut.line else None
    leaves = measured(cut.leaves.is_) if cut and cut.leaves else None
    if line is None or line.tolerance is None or line.dimension != "length":
        yield at_step(step, "the cut line has no dimension with a tolerance", "cut")
    if leaves is None or leaves.dimension != "length":
        yield at_step(step, "nothing says how much metal must remain", "cut")


def cleaned(guide: Guide) -> Iterator[Found]:
    """CUT02."""
    for run in guide.runs:
        if not any(is_cut(step) for step in run.steps):
            continue
        for act, missing in AFTER.items():
            undo = _does("plug-ports") if act == "unplug-ports" else is_cut
            done = settled(run, _does(act), undo, start=True)
            yield from comes_too_early(run, energises, done, f"puts power on, but after a cut {missing}")
        tested = settled(run, lambda step: step.step.leak is not None, is_cut, start=True)
        yield from ends_without(run, tested, "the work ends without a leak test after a cut")


def _does(act: str) -> Test:
    return lambda step: act in step.step.acts


def protected(guide: Guide) -> Iterator[Found]:
    """CUT03."""
    for step in printed_steps(guide):
        tools = {guide.kind_of(tool) for tool in step.step.uses.tools}
        for tool in sorted(tools & set(EQUIPMENT)):
            if missing := EQUIPMENT[tool] - tools:
                yield at_step(step, f"uses {tool} without {', '.join(sorted(missing))}", "uses")
        if DISCOURAGED in tools:
            yield at_step(step, "uses an angle grinder: hand saw and file come first", "uses")
        if "rotary-tool" in tools and "disc-check" not in step.step.acts:
            yield at_step(step, "does not check that the disc is rated above the tool's speed", "acts")
        if step.step.cut is not None:
            yield from _cut_with(guide, step, step.step.cut)


def _cut_with(guide: Guide, step: ResolvedStep, cut: WrittenCut) -> Iterator[Found]:
    if cut.tool not in EQUIPMENT:
        yield at_step(step, f"cuts with {cut.tool}: nothing is known of what protects whoever uses it", "cut")
    if cut.tool not in step.step.uses.tools:
        yield at_step(step, f"cuts with {cut.tool}, but does not take it in hand", "uses")
    if cut.material == "aluminium":
        if "catch-dust" not in step.step.acts:
            yield at_step(step, "cuts aluminium without catching the dust damp", "acts")
        if not any(hazard.kind == "dust" for name in step.step.hazards if (hazard := guide.hazard(name))):
            yield at_step(step, "cuts aluminium without a statement about its dust", "hazards")


def carries_nothing(guide: Guide) -> Iterator[Found]:
    """CUT04."""
    for step in printed_steps(guide):
        cut = step.step.cut
        if cut is None:
            continue
        if cut.carries != "nothing":
            seat = cut.seat
            device = guide.machine.device(cut.carries)
            if seat is None or not seat.photo or not seat.gauge:
                yield at_step(step, f"cuts what carries {cut.carries}; its seat is not dimensioned, gauged and "
                                    "photographed", "cut")  # fmt: skip
            elif any(measured(one.is_) is None for one in (seat.face, seat.thread_left)):
                yield at_step(step, f"cuts what carries {cut.carries} without the size of face and thread left", "cut")
            if device is None or device.duty == "unknown":
                yield at_step(step, f"nobody knows whether {cut.carries} controls or protects", "cut")
        for device in guide.machine.devices:
            if device.kind == "thermostat" and device.duty == "unknown":
                yield at_step(step, f"the thermostat {device.id} is not classed control or protective", "cut")


def nothing_assumed(guide: Guide) -> Iterator[Found]:
    """CUT05."""
    for step in printed_steps(guide):
        cut = step.step.cut
        for name in ("line", "leaves", "template"):
            stated = getattr(cut, name, None)
            if stated is not None and stated.evidence in (None, "assumed"):
                yield at_step(step, f"the cut's {name} is an assumed value", "cut")
        if step.step.torque is not None and step.step.torque.evidence == "assumed":
            yield at_step(step, "the torque is an assumed value", "torque")
    for run in guide.runs:
        gauged = settled(run, _gauges, is_cut, start=True)
        message = "puts power on, but no ring gauge has passed the whole band after a cut"
        yield from comes_too_early(run, energises, gauged, message)


def decided(guide: Guide) -> Iterator[Found]:
    """CUT06."""
    cuts = [step for step in printed_steps(guide) if is_cut(step)]
    for step in cuts:
        one = guide.machine.protrusion(step.item)
        if one is None:
            yield at_step(step, "cuts what is no protrusion of the boiler's wall", "cut")
        elif one.action != "trim":
            yield at_step(step, f"cuts {one.id}, which is not to be cut", "cut")
        elif (short := _too_little(step, one.keeps)) is not None:
            yield at_step(step, f"{short} of metal is not what must remain of {one.id}", "cut")
    done = {step.item for step in cuts}
    for one in guide.machine.protrusions:
        if one.action == "trim" and one.id not in done and guide.has_coil:
            yield Found(guide.resolved.where.place(), f"nothing trims {one.id}, which stands in the coil's way")


def _too_little(step: ResolvedStep, keeps: float | None) -> str | None:
    """What the step says must remain, where that is less than what must, or no length at all."""
    cut = step.step.cut
    if cut is None or cut.leaves is None:
        return None
    try:
        stated = parse(cut.leaves.is_, "length")
    except UnitError:
        return cut.leaves.is_
    return None if keeps is not None and stated.low >= keeps - ROUNDING else cut.leaves.is_


def _gauges(step: ResolvedStep) -> bool:
    hold = step.step.hold
    return hold is not None and hold.accept is not None and hold.accept.instrument == "ring-gauge"


RULES = (
    Rule("CUT01", "error", "Before a cut: part out, function identified, line with tolerance and remaining metal, "
         "ports plugged, work held, a hold point, marked irreversible.", "add what is missing above the cut", prepared),
    Rule("CUT02", "error", "After a cut: deburr, unplug, flush, look for swarf, leak test.",
         "add what is missing below the cut", cleaned),
    Rule("CUT03", "error", "Each cutting tool brings its protective equipment; aluminium dust is caught damp; a disc "
         "is rated above the tool's speed.", "add the equipment to `uses:`", protected),
    Rule("CUT04", "error", "What carries a protective device is not cut unless seat face and remaining thread are "
         "dimensioned, gauged and photographed; each thermostat is classed control or protective.",
         "leave it uncut, or write `cut.seat`", carries_nothing),
    Rule("CUT06", "error", "Only a protrusion that the program decided to trim is cut, none of them is forgotten, and "
         "at least the metal that must remain does.",
         "repeat the cut over boiler.protrusions where item.action is trim, and leave {item.keeps}", decided),
    Rule("CUT05", "error", "No cut line, template or torque from an assumed value; trimming is finished when the ring "
         "gauge passes the whole band.", "measure it, or end with the ring gauge", nothing_assumed),
)  # fmt: skip
