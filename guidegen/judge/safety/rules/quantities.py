"""Torques and acceptance limits: a number, a unit, a sense, a tolerance, an instrument, a source."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide, ScrewSide
from guidegen.judge.safety.measure import Measure, measured
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import Found, Rule, acceptance_of, at_step, at_value, printed_steps
from guidegen.workshop.steps import WrittenTorque

SENSES = ("at_most", "at_least", "within")
#: what nobody sees or feels as a number
READ_BY_AN_INSTRUMENT = frozenset({"resistance", "current", "pressure", "temperature"})
#: what is looked at without being taken in hand
SHOWN_BY = frozenset({"display", "controller"})
#: the smallest step of an instrument over a limit without a tolerance, at most: common practice, no source
FINEST = 0.1
_LUBRICATED = re.compile(r"greas|oil|lubric|past|wax|wet|not dry|anti", re.IGNORECASE)
#: what reads a limit without being a tool of the kit
SENSES_OF_THE_BODY = frozenset({"sight", "hand", "hearing"})


def torques(guide: Guide) -> Iterator[Found]:
    """QTY01."""
    for step in printed_steps(guide):
        torque = step.step.torque
        if torque is None:
            continue
        value = measured(torque.is_)
        if value is None and step.missing:
            continue  # DOC03 says so
        if value is None or value.dimension != "torque":
            words = f"the torque `{torque.is_}` has no number with a unit"
            yield at_value(step, torque.is_, words, "torque", fix="write it as 5 N·m ± 0.5 N·m")
        elif value.tolerance is None:
            words = f"the torque {torque.is_} has no tolerance"
            yield at_value(step, torque.is_, words, "torque", fix=f"write it as {torque.is_} ± 0.5 N·m")
        if not torque.thread or not torque.state:
            yield at_step(step, "the torque does not name the thread and its state", "torque")
        if not torque.source:
            words = f"the torque {torque.is_} names no source"
            fix = f"write it as {{is: {torque.is_}, evidence: measured, source: a key of content/sources.yml}}"
            yield at_value(step, torque.is_, words, "torque", fix=fix)


def in_reach(guide: Guide) -> Iterator[Found]:
    """QTY03."""
    for step in printed_steps(guide):
        torque = step.step.torque
        value = measured(torque.is_) if torque else None
        if torque is None or value is None or value.dimension != "torque":
            continue  # QTY01 says so
        reaches = [guide.kit.ranges[tool] for tool in step.step.uses.tools if tool in guide.kit.ranges]
        if not reaches:
            yield at_step(step, "no tool of this step says which torques it can be set to", "torque")
        for least, most in reaches:
            low, high = measured(least), measured(most)
            width = value.tolerance or 0.0
            if low is None or high is None or not low.number + width <= value.number <= high.number - width:
                words = f"the torque `{torque.is_}` lies outside of what the wrench can be set to, {least} to {most}"
                yield at_value(step, torque.is_, words, "torque", fix="correct it, or have the kit take another wrench")


def borne(guide: Guide) -> Iterator[Found]:
    """QTY04."""
    for step in printed_steps(guide):
        torque = step.step.torque
        value = measured(torque.is_) if torque else None
        if torque is None or value is None or value.dimension != "torque" or not (torque.thread and torque.state):
            continue  # QTY01 says so
        screws = [screw for name in step.step.names if (screw := guide.screw(name))]
        if not screws:
            yield at_step(step, "nothing says which screw this torque acts on", "torque",
                          fix="write screw: at the joint, earth or place in the inventory, with thread, metal, into "
                              "and engagement")  # fmt: skip
        for screw in screws:
            yield from _overloaded(step, torque, value, screw)


def _overloaded(step: ResolvedStep, torque: WrittenTorque, value: Measure, screw: ScrewSide) -> Iterator[Found]:
    thread = (torque.thread or "").partition(",")[0].strip()
    dry = "dry" in (torque.state or "") and not _LUBRICATED.search(torque.state or "")
    most, weakest = screw.dry if dry else screw.greased
    if screw.asks:
        yield at_step(step, f"nobody can say what this screw bears, {', '.join(screw.asks)} is not known", "torque",
                      asks=screw.asks)  # fmt: skip
    elif screw.fault:
        yield at_step(step, f"nobody can say what this screw bears: {screw.fault}", "torque",
                      fix="correct screw: in the inventory, or thread and class of the bolts")  # fmt: skip
    elif thread != screw.thread:
        yield at_step(step, f"the torque is for {thread or 'no thread'}, and the screw has {screw.thread}", "torque",
                      fix=f"write thread: {screw.thread}, and a torque for it")  # fmt: skip
    elif value.ends[1] > most:
        words = f"the torque `{torque.is_}` can be more than {most:.1f} N·m, the most that {weakest} bears"
        yield at_value(step, torque.is_, words, "torque", fix="correct it, or write it with a narrower tolerance")


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
            words = f"the limit `{limits[0]}` has no number with a unit"
            yield at_value(step, limits[0], words, "hold", "accept", fix="write it with its unit")
        elif accept.within and value.tolerance is None:
            words = f"a reading has to lie within {limits[0]}, which has no tolerance"
            yield at_value(step, limits[0], words, "hold", "accept", fix=f"write it with its ±, as {limits[0]} ± …")
        used = {*step.step.uses.tools, *step.step.uses.parts, *step.step.uses.consumables, *SENSES_OF_THE_BODY}
        used |= {name for name in step.step.names if _shows(guide, name)} | ({"display"} & {accept.instrument})
        if accept.instrument in SENSES_OF_THE_BODY and value and value.dimension in READ_BY_AN_INSTRUMENT:
            yield at_step(step, f"a {value.dimension} is never read by {accept.instrument}", "hold", "accept")
        if accept.instrument not in used:
            yield at_step(step, f"the limit is read with {accept.instrument or 'nothing'}, which the step does not "
                                "take in hand", "hold", "accept")  # fmt: skip
        if hold.on_fail is None:
            yield at_step(step, "does not say what to do when the limit is not met", "hold")


def _shows(guide: Guide, name: str) -> bool:
    thing = guide.resolved.things.get(name)
    return thing is not None and thing.kind in SHOWN_BY


def resolved(guide: Guide) -> Iterator[Found]:
    """QTY05."""
    for step in printed_steps(guide):
        accept = acceptance_of(step)
        limit = next((text for sense in SENSES if accept and (text := getattr(accept, sense))), "")
        value, thing = measured(limit), guide.resolved.things.get(accept.instrument or "") if accept else None
        if accept is None or value is None or value.dimension == "count":
            continue
        step_of_it = measured(thing.resolution) if thing is not None and thing.resolution else None
        if step_of_it is None:
            if accept.within:
                yield at_step(step, f"nothing says how finely {accept.instrument} shows what has to lie within "
                                    f"{accept.within}", "hold",
                              fix="write resolution: of that display or tool")  # fmt: skip
            continue
        finest = (value.ends[1] - value.in_si) if accept.within else FINEST * value.in_si
        if _width(step_of_it) > finest * (1 + 1e-9):
            yield at_step(step, f"{accept.instrument} shows steps of {thing.resolution if thing else ''}, which is too "
                                f"coarse for `{limit}`", "hold")  # fmt: skip


def _width(one: Measure) -> float:
    """A number as a difference: a degree is a kelvin."""
    zero = Measure(0.0, one.unit, one.dimension).in_si
    return one.in_si - zero


RULES = (
    Rule("QTY01", "error", "A torque has nominal value, unit, tolerance, thread, thread state and source.",
         "write torque: {is: 5 N·m ± 0.5 N·m, thread, state, evidence, source}", torques, whatever_is_missing=True),
    Rule("QTY03", "error", "A torque with its tolerance lies inside the range of the wrench that the step takes.",
         "write the range of the wrench in the kit, or take another wrench", in_reach),
    Rule("QTY04", "error", "A torque with its tolerance is no more than 90 % of the screw's yield, 75 % of what strips "
         "the hole, and 75 % of what twists a hollow neck off, at the low end of friction, engagement and strength.",
         "write a lower torque, or a narrower tolerance", borne),
    Rule("QTY05", "error", "An instrument shows steps no coarser than the tolerance that is asked, or a tenth of the "
         "limit.",
         "take a finer instrument, or ask for a wider tolerance", resolved),
    Rule("QTY02", "error", "An acceptance has number, unit, sense of the limit, instrument, and what to do on fail.",
         "write accept: {at_most: 0.3 Ω, instrument, evidence, source} and on_fail", acceptance),
)  # fmt: skip
