"""After-care, the table of faults and what stops the use, as plain data: what is printed, in printed order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from guidegen.judge.acts.sentence import started
from guidegen.judge.safety.model import ResolvedAct, ResolvedCare, ResolvedFault, ResolvedProcedure
from guidegen.language import gettext, marked

INSIDE = marked("This is for an electrically skilled person, with the mains cut off and the machine cool.")
INSIDE_TOO = marked("This too is for an electrically skilled person.")
EARTH = marked("Opening it disturbs its earth, which that person tests again.")
HOW = marked("Phase {number} says how.")
LOOKS_AGAIN = "press-tissues"
"""The act of the phase in which the machine is opened once more, and its earth tested."""


def around_record(resolved: ResolvedProcedure) -> dict[str, Any]:
    """Return what is printed behind the steps."""
    return {
        "aftercare": [_care(one, _phase(resolved)) for one in resolved.care],
        "faults": [_fault(one) for one in resolved.fault_table],
        "stop_use": [one.text for one in resolved.stop_use],
        "stop_signs": [one.symptom for one in resolved.stop_use],
    }


def _phase(resolved: ResolvedProcedure) -> str | None:
    phases = resolved.fitting.phases
    return next((one.number for one in phases if any(step.step.act == LOOKS_AGAIN for step in one.steps)), None)


def _care(one: ResolvedCare, phase: str | None) -> dict[str, Any]:
    step = one.act.step
    how = [gettext(HOW).format(number=phase)] if phase else []
    inside = [gettext(INSIDE), gettext(EARTH), *how] if one.act.inside else []
    accept = step.hold.accept if step.hold else None
    return {
        "id": one.id,
        "says": one.act.text,
        "because": " ".join(filter(None, (step.why, *inside))) or None,
        "source": accept.source if accept and accept.evidence == "standard" else None,
        "occasion": one.when,
        "act": one.act.act,
    }


def _fault(one: ResolvedFault) -> dict[str, Any]:
    causes = [cause.text for cause in one.causes]
    check = " ".join(_said(one.check, INSIDE))
    return {
        "symptom": started(one.symptom.text),
        "cause": started(gettext(", or ").join(causes)),
        "check": check or gettext("None by yourself."),
        "do": " ".join(_said(one.do, INSIDE_TOO if any(act.inside for act in one.check) else INSIDE)),
        "stop_use": one.stops,
        "sign": one.symptom.act,
    }


def _said(acts: Sequence[ResolvedAct], inside: str) -> Iterator[str]:
    """The texts of acts; behind those inside the machine, once, for whom they are."""
    for index, act in enumerate(acts):
        yield act.text
        if act.step.why:
            yield act.step.why
        if act.inside and not any(later.inside for later in acts[index + 1 :]):
            yield gettext(inside)
