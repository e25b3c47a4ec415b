"""Heat: nobody touches the boiler before it is measured cool, or has waited long enough."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.measure import Measure, measured
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import (
    Found,
    Rule,
    acceptance_of,
    at_step,
    every_step,
    limit_of,
    touches_boiler,
    unmet,
)

TOUCH_LIMIT_DEGC = 40.0
SHORTEST_WAIT_H = 4.0
#: the computed fact that already is four times the upper bound of the cool-down, and never under four hours
WAIT = "cool_down.wait"
_HOURS = {"h": 1.0, "min": 1 / 60, "s": 1 / 3600}


def cool_before_touch(guide: Guide) -> Iterator[Found]:
    """THM01."""
    yield from unmet(guide, "temperature")
    for run, step in every_step(guide):
        if touches_boiler(step) and run.before[step.key].temperature != "cool":
            yield at_step(step, "touches the boiler, but a path reaches it with its temperature not known")
        if step.step.sets.get("temperature") == "cool":
            yield from _really_cool(guide, step)


def _really_cool(guide: Guide, step: ResolvedStep) -> Iterator[Found]:
    cooling = step.step.cooling
    if cooling is None:
        yield at_step(step, "says that the boiler is cool, but not how that is known", "sets")
    elif cooling.by == "waiting":
        wait = measured(cooling.wait.is_) if cooling.wait else None
        if wait is None or wait.unit not in _HOURS or wait.number * _HOURS[wait.unit] < SHORTEST_WAIT_H:
            yield at_step(step, "waits less than 4 h, or does not say how long", "cooling")
        elif not any(number.name == WAIT for number in step.numbers):
            yield at_step(step, f"its wait does not come from the computed cool-down ({{{WAIT}}})", "cooling")
    else:
        accept, limit = acceptance_of(step), limit_of(step, "at_most")
        if limit is None or not _within(limit):
            yield at_step(step, "measures, but accepts no temperature of 40 °C or less", "hold")
        elif accept is None or guide.kind_of(accept.instrument) != "contact-probe":
            yield at_step(step, "the temperature is not read by a contact probe; an infrared reading of bare metal "
                                "is far too low", "hold", "accept")  # fmt: skip


def _within(limit: Measure) -> bool:
    if limit.unit == "°F":
        return (limit.number - 32) * 5 / 9 <= TOUCH_LIMIT_DEGC
    return limit.unit == "°C" and limit.number <= TOUCH_LIMIT_DEGC


RULES = (
    Rule("THM01", "error", "Touching the boiler needs a measured 40 °C or less by a contact probe, or unplugged at "
         "least four times the computed upper bound of the cool-down and never under 4 h.",
         "include the block that cools down above this step", cool_before_touch),
)  # fmt: skip
