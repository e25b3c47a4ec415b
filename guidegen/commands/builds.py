"""A build report that somebody sent, held against the edition that it names, and what the workshop keeps of it."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from guidegen.editions import kept
from guidegen.editions.days import latest
from guidegen.editions.edition import DRAFT, Edition
from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.builds.received import GuideRules, HoldRule, problems_of
from guidegen.judge.builds.report import BuildReport, HoldReading
from guidegen.judge.builds.text import ReceivedReport, read
from guidegen.judge.safety.measure import measured
from guidegen.problems import CatalogueError, RefusedProblem, UsageProblem, nearest, one_of
from guidegen.record import Assessment
from guidegen.record.procedure import InstructionPhase
from guidegen.record.step import HoldPoint
from guidegen.trade import Catalogue
from guidegen.trade.builds import RecordedBuild
from guidegen.workshop.editor import EditedFile
from guidegen.workshop.reader import bytes_of
from guidegen.workshop.write_yaml import Value

EMPTY = (
    b"# Builds that owners reported, each held against its edition; `guidegen fitted add` writes here.\nbuilds: []\n"
)


def receive(root: Path, known: Catalogue, text: str, path: str) -> ReceivedReport:
    """Read a report and hold it against its edition. Raises CatalogueError where the text is not sound."""
    received = read(text, path)
    problems = list(problems_of(received, rules_of(root, received), known.table, latest()))
    if problems:
        raise CatalogueError(problems)
    return received


def rules_of(root: Path, received: ReceivedReport) -> GuideRules:
    """The instruction of the guide and edition that a report names."""
    report = received.report
    line = {one.edition: one for one in kept.line(root)}
    edition = line.get(report.edition)
    if edition is None:
        near = nearest(report.edition, line)
        fix = f"did you mean {near}?" if near else f"the editions are {one_of(line) or 'none yet'}"
        words = "a draft is no edition" if report.edition == DRAFT else f"there is no edition {report.edition}"
        raise CatalogueError([received.problem(BuildCode.UNKNOWN_EDITION, "edition", words, fix)])
    guide = f"{report.variant}/{report.kit}"
    record = next(iter(kept.assessments(root, report.edition, guide)), None)
    if record is None or record.procedure is None:
        near = nearest(guide, edition.guides)
        fix = f"did you mean {near}?" if near and near != guide else f"its guides are {one_of(edition.guides)}"
        words = f"edition {report.edition} has no instruction for {guide}"
        raise CatalogueError([received.problem(BuildCode.UNKNOWN_PAIR, "machine", words, fix)])
    return rules(record, edition)


def rules(record: Assessment, edition: Edition) -> GuideRules:
    """What a report of this guide is held against."""
    if record.procedure is None:
        raise ValueError("a guide without an instruction has nothing that could be reported")
    course = record.procedure.fitting
    return GuideRules(
        revision=record.kit.revision,
        published=edition.date,
        phases={phase.id: phase.only_if for phase in course.phases},
        holds=tuple(
            _hold(step.number, step.key, step.only_if, step.hold, isinstance(group, InstructionPhase))
            for group in course.groups
            for step in group.steps
            if step.hold is not None
        ),
        conditions=frozenset(step.only_if for step in course.steps if step.only_if),
    )


def _hold(number: str, key: str, only_if: str | None, hold: HoldPoint, in_phase: bool) -> HoldRule:
    accept = hold.accept
    limit = measured(accept.limit) if accept is not None else None
    return HoldRule(
        number=number,
        step=key,
        only_if=only_if,
        sense=accept.sense if accept is not None else "",
        limit=accept.limit if accept is not None and limit is not None else "",
        wants_reading=hold.record is not None and limit is not None and limit.dimension != "count",
        in_phase=in_phase,
    )


def blank(root: Path, guide: str, name: str, case: tuple[str, ...]) -> BuildReport:
    """A report of a guide in which nothing was done yet, to be filled in from a sheet of paper."""
    edition = next((one for one in kept.line(root) if one.edition == name), None)
    record = next(iter(kept.assessments(root, name, guide)), None) if edition is not None else None
    if edition is None or record is None or record.procedure is None:
        raise UsageProblem(f"edition {name} has no instruction for {guide}; `guidegen editions` lists the editions")
    asked = rules(record, edition)
    for one in case:
        if one not in asked.conditions:
            raise UsageProblem(f"--case {one!r}: the conditions are {one_of(asked.conditions) or 'none'}")
    return BuildReport(
        variant=record.variant.id,
        variant_name=record.variant.name,
        kit=record.kit.id,
        kit_name=record.kit.name,
        revision=record.kit.revision,
        edition=name,
        finished=edition.date,
        doer="owner",
        signer="nobody",
        publish=False,
        case=case,
        readings=tuple(
            HoldReading(one.number, one.step, "not-done")
            for one in asked.holds
            if one.in_phase and asked.applies(one.only_if, case)
        ),
    )


# --- what is kept ------------------------------------------------------------------------------------


def entry(report: BuildReport, number: str, accepted: datetime.date | None, invented: bool) -> dict[str, Value]:
    """What `machines/<family>/builds.yml` says of a report; nothing that says who somebody is."""
    holds: list[Value] = [
        {"step": one.step, "result": one.result} | ({"reading": one.reading} if one.reading else {})
        for one in report.readings
    ]
    failed: list[Value] = [
        {"step": one.step, "number": one.number}
        | ({"reading": one.reading} if one.reading else {})
        | {"helped": one.helped or "nothing yet"}
        for one in report.failures
    ]
    always: dict[str, Value] = {
        "id": number,
        "variant": report.variant,
        "kit": report.kit,
        "revision": report.revision,
        "edition": report.edition,
        "date": report.finished.isoformat(),
        "role": report.doer,
        "signed": report.signer,
        "publish": "true" if report.publish else "false",
    }
    sometimes: dict[str, Value] = {
        "accepted": accepted.isoformat() if accepted else None,
        "invented": "true" if invented else None,
        "case": list(report.case),
        "minutes": [{"phase": name, "took": str(took)} for name, took in report.minutes.items()],
        "holds": holds,
        "failed": failed,
        "facts": [{"fact": name, "is": value} for name, value in report.facts.items()],
        "findings": list(report.findings),
    }
    return always | {key: value for key, value in sometimes.items() if value}


def every(known: Catalogue) -> list[RecordedBuild]:
    """All builds of a workshop, by their numbers."""
    found = (one for many in known.builds.values() for one in many.builds)
    return sorted(found, key=lambda one: (number_of(one), one.id))


def number_of(build: RecordedBuild) -> int:
    """The number of a build; 0 where somebody gave it a word for an id."""
    return int(build.id) if re.fullmatch("[0-9]{1,9}", build.id) else 0


def added(root: Path, known: Catalogue, report: BuildReport, accepted: datetime.date | None) -> tuple[EditedFile, str]:
    """The file of the family with the report in it, and its number there. The same report twice is refused."""
    builds = every(known)
    number = str(1 + max(map(number_of, builds), default=0))
    same = next((one for one in builds if _same(one, report)), None)
    if same is not None:
        raise RefusedProblem(f"this report is build {same.id} already; nothing was written")
    if report.variant not in known.machines:
        raise RefusedProblem(f"{report.variant} is no longer in the catalogue; nothing was written")
    path = f"machines/{known.machine(report.variant).family}/builds.yml"
    there = (root / path).exists()
    file = EditedFile.of(path, bytes_of(root / path, path)) if there else EditedFile.new(path, EMPTY)
    return file.append(("builds",), entry(report, number, accepted, known.workshop.invented)), number


def _same(one: RecordedBuild, report: BuildReport) -> bool:
    """Whether a build is this report: two machines are not fitted on one day with all readings alike."""
    return (one.variant, one.kit, one.edition, one.date) == (
        report.variant, report.kit, report.edition, report.finished
    ) and [(hold.step, hold.result, hold.reading or "") for hold in one.holds] == [
        (hold.step, hold.result, hold.reading) for hold in report.readings
    ]  # fmt: skip


def accepted(root: Path, known: Catalogue, number: str, day: datetime.date) -> EditedFile:
    """The file of a build's family with the day on which the maker accepted it."""
    for family, builds in known.builds.items():
        if any(one.id == number for one in builds.builds):
            path = f"machines/{family}/builds.yml"
            file = EditedFile.of(path, bytes_of(root / path, path))
            loc = ("builds", number)
            if file.has((*loc, "accepted")):
                return file.set((*loc, "accepted"), day.isoformat())
            return file.add(loc, "accepted", day.isoformat(), after="publish")
    numbers = one_of(one.id for one in every(known)) or "none yet"
    raise UsageProblem(f"there is no build {number}; the builds are {numbers}")


def as_plain(builds: list[RecordedBuild]) -> list[dict[str, Any]]:
    """The builds as JSON has them."""
    return [one.model_dump(mode="json", by_alias=True) | {"carried_out": one.is_carried_out} for one in builds]


def summary(report: BuildReport) -> Iterator[str]:
    """What a report comes to, for whoever decides whether to keep it."""
    done = sum(one.result == "passed" for one in report.readings)
    yield f"{report.variant} with {report.kit}, edition {report.edition}, finished on {report.finished}"
    yield f"hold points passed: {done} of {len(report.readings)}; failed on the way: {len(report.failures)}"
    if report.minutes:
        yield f"minutes of work: {sum(report.minutes.values())} in {len(report.minutes)} phases"
