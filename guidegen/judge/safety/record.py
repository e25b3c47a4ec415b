"""The resolved procedure as plain data for pages, bench sheet and JSON: what is printed, in printed order."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.hazard_kinds import avoidances
from guidegen.judge.safety.lint import Finding
from guidegen.judge.safety.model import Course, ResolvedPhase, ResolvedRemedy, ResolvedStep
from guidegen.judge.safety.nights import after_nights
from guidegen.judge.safety.record_around import around_record
from guidegen.judge.safety.rules.quantities import SENSES
from guidegen.judge.safety.safe_stops import stop_words
from guidegen.judge.safety.signal_words import ORDER
from guidegen.judge.safety.visits import visits
from guidegen.language import gettext
from guidegen.language.forms import sentence
from guidegen.workshop.procedures import Note
from guidegen.workshop.steps import Hold, Way

WHOLE_KIT = "kit:"
"""So begins the name of another kit as a whole, which is no thing."""
FITTING, RESTORING = "fitting", "restoring"
UNSTATED = "assumed"
"""Stands for the evidence of a number that states none: the lint refuses that, in words that need a record."""
AUTHORED = ("preliminary", "aftercare", "faults", "stop_use", "phases", "remedies", "restore")
"""Parts of the written procedure of which the record keeps a hash, so that a later edition knows who changed them."""


def procedure_record(guide: Guide) -> dict[str, Any]:
    """Return everything that an install page prints."""
    source, fitting = guide.resolved.source, guide.resolved.fitting
    effectivity = source.effectivity
    return {
        # What is missing is found by the lint, which lets nobody publish without it.
        "title": source.title or "",
        "version": source.version,
        "supersedes": source.supersedes,
        "target_group": source.target_group or "",
        "place": source.place or "",
        "role": source.role,
        "mains_work": source.mains_work,
        "effectivity": effectivity and {
            "applies_to": effectivity.applies_to,
            "does_not_apply": list(effectivity.does_not_apply),
            "how_to_tell": effectivity.how_to_tell,
        },
        "notice": guide.paper.notice if guide.paper.builds == 0 else None,
        "minutes": fitting.minutes[1],
        "shortest_minutes": fitting.minutes[0],
        "preliminary": _notes(source.preliminary),
        **around_record(guide.resolved),
        "waivers": [
            {"rule": one.rule, "step": one.step, "because": one.because, "role": one.role, "date": str(one.date)}
            for one in source.waivers
        ],
        "hazards": [hazard_record(guide, name) for name in _worst_first(guide, guide.used_hazards)],
        "residual": [
            {"hazard": one.hazard, "remains": one.remains}
            for one in source.residual if one.hazard in guide.used_hazards
        ],
        "uses": uses_record(guide, fitting),
        "restoring_uses": guide.resolved.restoring and uses_record(guide, guide.resolved.restoring),
        "wetted": [
            {"part": guide.kit.parts.get(one.part, one.part), "material": one.material, "filler": one.filler,
             "flux": one.flux, "source": one.source}
            for one in guide.kit.wetted
        ],
        "contact": guide.paper.contact,
        FITTING: course_record(guide, fitting),
        RESTORING: guide.resolved.restoring and course_record(guide, guide.resolved.restoring),
        "lasting": list(source.restore.lasting if source.restore else ()),
        "visits": [list(one) for one in visits(fitting)],
        "authored": {name: guide.resolved.where.places.fingerprint(name) for name in AUTHORED},
    }  # fmt: skip


def finding_record(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain data."""
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "blocks": finding.blocks,
        "waived": finding.waived,
        "message": finding.message,
        "fix": finding.fix,
        "step": finding.step,
        "place": str(finding.place),
    }


def hazard_record(guide: Guide, name: str) -> dict[str, Any]:
    """Return one statement with its derived word."""
    hazard = guide.hazard(name)
    if hazard is None:
        return {"id": name, "word": None}
    return {
        "id": name,
        "kind": hazard.kind,
        "word": guide.word(name),
        "type_of_hazard": hazard.type_of_hazard,
        "consequence": hazard.consequence,
        "how_to_avoid": [gettext(text) for text in avoidances(name, hazard)],
        "sign": hazard.sign and {"id": hazard.sign.id, "alt": hazard.sign.alt},
        "designed_out": hazard.designed_out,
        "authored": guide.hazards.places.fingerprint("hazards", name),
    }


def uses_record(guide: Guide, course: Course) -> dict[str, list[dict[str, Any]]]:
    """Return tools, parts and consumables of a course, each with the steps that take it in hand.

    `only_if` says for whom it is, where all of these steps are for the same readers.
    """
    found: dict[str, list[dict[str, Any]]] = {}
    for kind in ("tools", "parts", "consumables"):
        names: Mapping[str, str] = getattr(guide.kit, kind)
        steps: dict[str, list[ResolvedStep]] = {name: [] for name in names}
        for step in course.steps:
            for name in getattr(step.step.uses, kind):
                steps.setdefault(name, []).append(step)
        found[kind] = [
            {"id": name, "name": names.get(name, name), "details": guide.kit.details.get(name),
             "only_if": _same_condition(taking), "steps": [step.number for step in taking]}
            for name, taking in steps.items() if taking
        ]  # fmt: skip
    return found


def _same_condition(steps: Iterable[ResolvedStep]) -> str | None:
    words = {step.only_if for step in steps}
    return words.pop() if len(words) == 1 else None


def course_record(guide: Guide, course: Course) -> dict[str, Any]:
    """Return phases and remedies with their steps."""
    numbers = _Numbers(guide, course)
    return {
        "minutes": course.minutes[1],
        "phases": [_phase(guide, course, phase, numbers) for phase in course.phases],
        "remedies": [_remedy(guide, remedy, numbers) for remedy in course.remedies],
    }


class _Numbers:
    """Finds the printed number of what a branch leads to, and what comes again after a night."""

    def __init__(self, guide: Guide, course: Course) -> None:
        from guidegen.judge.safety.graph import graph_of

        self.nights = after_nights([run for run in guide.runs if run.graph.course is course])
        self.cases = course.cases
        self.numbers = {step.key: step.number for step in course.steps}
        self.anchors = {step.key: anchor_of(course, step) for step in course.steps}
        scenarios = {index for step in course.steps for index in step.scenarios}
        self._targets = {(edge.source, edge.failing, edge.says): edge.target
                         for index in sorted(scenarios, reverse=True)
                         for edge in graph_of(course, index).edges if edge.says}  # fmt: skip

    def way(self, step: ResolvedStep, way: Way | None, failing: bool) -> dict[str, Any] | None:
        """Return a branch as plain data."""
        if way is None:
            return None
        key = self._targets.get((step.key, failing, way.goto or way.stop or ""))
        return {
            "stop": way.stop,
            "who_can_help": way.who_can_help,
            "number": self.numbers.get(key) if key else None,
            "anchor": self.anchors.get(key) if key else None,
        }


def anchor_of(course: Course, step: ResolvedStep) -> str:
    """Return the id of a step in the page: stable against other steps that come and go."""
    return f"{course.name}-{step.key.replace('/', '-')}"


def _phase(guide: Guide, course: Course, phase: ResolvedPhase, numbers: _Numbers) -> dict[str, Any]:
    return {
        "id": phase.id,
        "number": phase.number,
        "name": phase.name,
        "minutes": phase.minutes,
        "only_if": _same_condition(phase.steps),
        "waits": [step.step.cooling.wait.is_ for step in phase.steps if step.step.cooling and step.step.cooling.wait],
        "stop": phase.stop and {"id": phase.stop.id, "say": stop_words(guide, course, phase)},
        "steps": [step_record(guide, step, numbers) for step in phase.steps],
    }


def _remedy(guide: Guide, remedy: ResolvedRemedy, numbers: _Numbers) -> dict[str, Any]:
    return {
        "id": remedy.id,
        "letter": remedy.letter,
        "name": remedy.name,
        "steps": [step_record(guide, step, numbers) for step in remedy.steps],
        "then": numbers.way(remedy.steps[-1], remedy.then, failing=False),
        "ends": [one.act for one in remedy.ends],
    }


def step_record(guide: Guide, step: ResolvedStep, numbers: _Numbers) -> dict[str, Any]:
    """Return one step as plain data."""
    written, torque = step.step, step.step.torque
    return {
        "key": step.key,
        "anchor": numbers.anchors[step.key],
        "number": step.number,
        "do": written.do,
        "why": written.why,
        "only_if": step.only_if,
        "cases": [numbers.cases[index] for index in sorted(step.scenarios)] if step.only_if else [],
        "after_night": None if (again := numbers.nights.get(step.key)) is None else list(again),
        "role": written.role,
        "minutes": written.minutes,
        "reversible": written.reversible,
        "figure": written.figure,
        "hazards": [hazard_record(guide, name) for name in _worst_first(guide, written.hazards)],
        "notes": list(written.notes),
        "keeps_control": written.isolate.control if written.isolate else None,
        "release": written.release and {"by": written.release.by, "proof": written.release.proof},
        "seat": written.seat and {"position": written.seat.position, "clamp": written.seat.clamp},
        "restraint": written.clearance and written.clearance.restraint,
        "watched": bool(written.supply and written.supply.watched and written.supply.hands_off),
        "uses": {kind: [getattr(guide.kit, kind).get(name, name) for name in getattr(written.uses, kind)]
                 for kind in ("tools", "parts", "consumables")},
        "numbers": [
            {"name": one.name, "text": one.text, "evidence": one.evidence or UNSTATED, "source": one.source}
            for one in step.numbers
        ],
        "torque": torque and {"is": torque.is_, "thread": torque.thread, "state": torque.state,
                              "evidence": torque.evidence or UNSTATED, "source": torque.source},
        "hold": written.hold and _hold(guide, step, written.hold, numbers),
        "place": str(step.where.place()),
        "act": written.act,
        "objects": list(objects_of((*written.names, *written.shows))),
        "authored": step.authored and {"source": step.authored.source, "filled": step.authored.filled},
        # Which photographs stand at a step is nothing to be judged; `assess` puts them in.
        "pictures": [],
    }  # fmt: skip


def objects_of(names: Iterable[str]) -> Iterator[str]:
    """Return the things that a step is done to or shows, each once; whole kits are none."""
    for name in dict.fromkeys(names):
        if not name.startswith(WHOLE_KIT):
            yield f"bolt-{name}" if re.fullmatch("[0-9]+", name) else name


def _hold(guide: Guide, step: ResolvedStep, hold: Hold, numbers: _Numbers) -> dict[str, Any]:
    accept = hold.accept
    limit = next(((sense, text) for sense in SENSES if accept and (text := getattr(accept, sense))), None)
    return {
        "criterion": hold.criterion,
        "looks": list(hold.looks),
        "method": hold.method,
        "accept": accept and limit and {
            "sense": limit[0], "limit": sentence(limit[1]) or limit[1], "instrument": accept.instrument,
            "read_with": _read_with(guide, accept.instrument),
            "evidence": accept.evidence or UNSTATED, "source": accept.source,
        },
        "record": hold.record,
        "on_fail": numbers.way(step, hold.on_fail, failing=True),
    }  # fmt: skip


def _read_with(guide: Guide, instrument: str | None) -> str | None:
    """Return what a limit is read with as the kit's lists name it, without the additions of the list."""
    for listed in (guide.kit.tools, guide.kit.parts, guide.kit.consumables):
        if instrument is not None and instrument in listed:
            return listed[instrument].split(",")[0].split(" (")[0]
    return instrument


def _notes(notes: Iterable[Note]) -> list[dict[str, Any]]:
    return [{"id": one.id, "says": one.says, "because": one.because, "source": one.source} for one in notes]


def _worst_first(guide: Guide, names: Iterable[str]) -> list[str]:
    def rank(name: str) -> int:
        word = guide.word(name)
        return ORDER.index(word) if word else len(ORDER)

    return sorted(names, key=rank)
