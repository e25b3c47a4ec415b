"""Hold a received build report against the instruction of its edition. No result in it is believed: each is judged."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.builds.reading import accepted, reads
from guidegen.judge.builds.report import RESULTS, BuildReport, FailedReading, HoldReading
from guidegen.judge.builds.text import ReceivedReport
from guidegen.problems import Problem, nearest, one_of
from guidegen.units import UnitError, parse
from guidegen.workshop.fact_table import FactTable

LISTED = 3
"""So many hold points are named where many are alike."""


@dataclass(frozen=True)
class HoldRule:
    """A hold point as the record of an edition has it. `limit` is empty where it has none."""

    number: str
    step: str
    only_if: str | None
    sense: str
    limit: str
    wants_reading: bool
    in_phase: bool
    """False in a remedy, where one only comes after something failed."""


@dataclass(frozen=True)
class GuideRules:
    """What a report is held against: the instruction of one guide in one edition.

    `phases` has, by id, the condition of each.
    """

    revision: str
    published: datetime.date
    phases: Mapping[str, str | None]
    holds: tuple[HoldRule, ...]
    conditions: frozenset[str]

    def applies(self, condition: str | None, case: tuple[str, ...]) -> bool:
        """Return whether what has a condition belongs to a case."""
        return condition is None or condition in case


def problems_of(
    received: ReceivedReport, rules: GuideRules, facts: FactTable, last_day: datetime.date
) -> Iterator[Problem]:
    """Yield what is wrong with a report by the rules of its edition; nothing of a report that is sound.

    Parameters: received the report with its places; rules those of its guide; facts every name that a machine may
    have; last_day the last day that can have come.
    """
    report = received.report
    if report.revision != rules.revision:
        words = f"edition {report.edition} has revision {rules.revision}, the report says {report.revision}"
        yield received.problem(BuildCode.UNKNOWN_PAIR, "kit", words)
    if not rules.published <= report.finished <= last_day:
        words = f"the work ended on {report.finished}; edition {report.edition} is of {rules.published}"
        yield received.problem(BuildCode.BAD_DAY, "finished", words, "ask for the day")
    yield from _case(received, rules)
    yield from _holds(received, rules)
    yield from _minutes(received, rules)
    for index, one in enumerate(report.failures):
        yield from _step(received, rules, f"failed {index}", one)
    yield from _facts(received, facts)


def unmet(report: BuildReport) -> list[str]:
    """Return why a build cannot stand for “carried out on this variant”, in words; nothing where it can."""
    found = []
    for result in ("failed", "not-done"):
        points = [f"{one.number} {one.step}" for one in report.readings if one.result == result]
        if points:
            more = f" and {len(points) - LISTED} more" if len(points) > LISTED else ""
            found.append(f"{RESULTS[result]}: {', '.join(points[:LISTED])}{more}")
    if report.signer != "electrically-skilled":
        found.append("nobody electrically skilled signed before the power came on")
    return found if report.publish else [*found, "the owner does not want it published"]


def _case(received: ReceivedReport, rules: GuideRules) -> Iterator[Problem]:
    for one in received.report.case:
        if one not in rules.conditions:
            words = f"edition {received.report.edition} has no condition “{one[:80]}”"
            fix = f"its conditions are: {'; '.join(sorted(rules.conditions)) or 'none'}"
            yield received.problem(BuildCode.OTHER_STEPS, f"case {one}", words, fix)


def _holds(received: ReceivedReport, rules: GuideRules) -> Iterator[Problem]:
    """Each line against its hold point, and each hold point of the case against the lines."""
    report = received.report
    said = {one.step for one in report.readings}
    for one in report.readings:
        yield from _step(received, rules, f"hold {one.step}", one)
    for rule in rules.holds:
        if rule.in_phase and rules.applies(rule.only_if, report.case) and rule.step not in said:
            words = f"hold point {rule.number} {rule.step} is left out"
            fix = f"ask, and write: {rule.number} {rule.step} = {RESULTS['not-done']} (or what it was)"
            yield received.problem(BuildCode.HOLD_MISSING, "Hold points:", words, fix)


def _step(
    received: ReceivedReport, rules: GuideRules, part: str, one: HoldReading | FailedReading
) -> Iterator[Problem]:
    """One hold point and what was read at it."""
    report = received.report
    rule = next((rule for rule in rules.holds if rule.step == one.step), None)
    if rule is None or not rules.applies(rule.only_if, report.case):
        steps = [rule.step for rule in rules.holds if rules.applies(rule.only_if, report.case)]
        near = nearest(one.step, steps)
        fix = f"did you mean {near}?" if near else "delete the line"
        yield received.problem(BuildCode.OTHER_STEPS, part, f"this case has no hold point {one.step}", fix)
        return
    if rule.number != one.number:
        words = f"{one.step} is step {rule.number} in edition {report.edition}, the report says {one.number}"
        yield received.problem(BuildCode.OTHER_STEPS, part, words)
    result = one.result if isinstance(one, HoldReading) else "failed"
    if result == "not-done" and one.reading:
        yield received.problem(BuildCode.NO_READING, part, "it has a reading and is called not done", "write which")
        return
    yield from _read(received, rule, part, one.reading, result)


def _read(received: ReceivedReport, rule: HoldRule, part: str, reading: str, result: str) -> Iterator[Problem]:
    if not reading:
        if rule.wants_reading and result == "passed":
            words = f"{rule.step} is called passed without its reading"
            yield received.problem(BuildCode.NO_READING, part, words, f"ask for it; its limit is {rule.limit}")
        return
    if reads(rule.limit, reading) is None:
        words = f"“{reading[:40]}” cannot be compared with {rule.limit or 'a hold point without a limit'}"
        fix = f"write a number as in {rule.limit}" if rule.limit else "leave the reading out"
        yield received.problem(BuildCode.NO_READING, part, words, fix)
        return
    found = "passed" if accepted(rule.sense, rule.limit, reading) else "failed"
    if found != result:
        words = f"{rule.step}: {reading} has {found}, the report says {result}; its limit is {rule.limit}"
        yield received.problem(BuildCode.NOT_SO, part, words, "ask what was read, and what was done about it")


def _minutes(received: ReceivedReport, rules: GuideRules) -> Iterator[Problem]:
    case = received.report.case
    phases = [name for name, condition in rules.phases.items() if rules.applies(condition, case)]
    for name in received.report.minutes:
        if name not in phases:
            near = nearest(name, phases)
            fix = f"did you mean {near}?" if near else f"its phases are {one_of(phases)}"
            yield received.problem(BuildCode.OTHER_STEPS, f"phase {name}", f"this case has no phase {name}", fix)


def _facts(received: ReceivedReport, facts: FactTable) -> Iterator[Problem]:
    for name, value in received.report.facts.items():
        kind = facts.get(name)
        if kind is None:
            near = nearest(name, facts)
            fix = f"write {near}" if near else "delete the line; `guidegen show` has the names of facts"
            yield received.problem(BuildCode.BAD_FACT, f"fact {name}", f"no machine has a fact {name[:60]}", fix)
        elif kind.dimension is not None:
            try:
                parse(value, kind.dimension)
            except UnitError as error:
                yield received.problem(BuildCode.BAD_FACT, f"fact {name}", f"{name}: {error.message}", error.fix)
        elif value not in kind.words:
            fix = f"write one of {one_of(kind.words)}" if kind.words else "delete the line"
            words = f"{name}: “{value[:40]}” is none of its words"
            yield received.problem(BuildCode.BAD_FACT, f"fact {name}", words, fix)
