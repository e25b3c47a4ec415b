"""Torques and acceptance limits: a number, a unit, a sense, a tolerance, an instrument, a source."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.measure import measured
from guidegen.judge.safety.rules.base import Found, Rule, at_step, printed_steps

SENSES = ("at_most", "at_least", "within")
#: what reads a limit without being a tool of the kit
SENSES_OF_THE_BODY = frozenset({"sight", "hand", "hearing"})


def torques(guide: Guide) -> Iterator[Found]:
    """QTY01."""
    for step in printed_steps(guide):
        torque = step.step.torque
        if torque is None:
            continue
        value = measured(torque.is_)
        if value is None or value.dimension != "torque":
            yield at_step(step, f"the torque `{torque.is_}` has no number with a unit", "torque")
        elif value.tolerance is None:
            yield at_step(step, "the torque has no tolerance", "torque")
        if not torque.thread or not torque.state:
            yield at_step(step, "the torque does not name the thread and its state", "torque")
        if not torque.source:
            yield at_step(step, "the torque names no source", "torque")


def in_reach(guide: Guide) -> Iterator[Found]:
    """QTY03."""
    for step in printed_steps(guide):
        value = measured(step.step.torque.is_) if step.step.torque else None
        if value is None or value.dimension != "torque":
            continue  # QTY01 says so
        reaches = [guide.kit.ranges[tool] for tool in step.step.uses.tools if tool in guide.kit.ranges]
        if not reaches:
            yield at_step(step, "no tool of this step says which torques it can be set to", "torque")
        for least, most in reaches:
            low, high = measured(least), measured(most)
            width = value.tolerance or 0.0
            if low is None or high is None or not low.number + width <= value.number <= high.number - width:
                yield at_step(step, f"the torque `{step.step.torque.is_}` lies outside of what the wrench can be set "  # type: ignore[union-attr]
                                    f"to, {least} to {most}", "torque")  # fmt: skip


def acceptance(guide: Guide) -> Iterator[Found]:
    """QTY02."""
    for step in printed_steps(guide):
        hold = step.step.hold
        if hold is None:
            continue
        accept = hold.accept
        limits = [limit for sense in SENSES if accept and (limit := getattr(accept, sense))]
        if accept is None or len(limits) != 1:
            yield at_step(step, "the hold point has no limit, or more than one", "hold")
            continue
        value = measured(limits[0])
        if value is None:
            yield at_step(step, f"the limit `{limits[0]}` has no number with a unit", "hold", "accept")
        elif accept.within and value.tolerance is None:
            yield at_step(step, "`within` needs a tolerance", "hold", "accept")
        used = {*step.step.uses.tools, *step.step.uses.parts, *step.step.uses.consumables, *SENSES_OF_THE_BODY}
        if accept.instrument not in used:
            yield at_step(step, f"the limit is read with {accept.instrument or 'nothing'}, which the step does not "
                                "take in hand", "hold", "accept")  # fmt: skip
        if hold.on_fail is None:
            yield at_step(step, "does not say what to do when the limit is not met", "hold")


RULES = (
    Rule("QTY01", "error", "A torque has nominal value, unit, tolerance, thread, thread state and source.",
         "write torque: {is: 5 N·m ± 0.5 N·m, thread, state, evidence, source}", torques),
    Rule("QTY03", "error", "A torque with its tolerance lies inside the range of the wrench that the step takes.",
         "write the range of the wrench in the kit, or take another wrench", in_reach),
    Rule("QTY02", "error", "An acceptance has number, unit, sense of the limit, instrument, and what to do on fail.",
         "write accept: {at_most: 0.3 Ω, instrument, evidence, source} and on_fail", acceptance),
)  # fmt: skip
