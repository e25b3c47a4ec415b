"""A build report: what one build of a kit on a machine came to, and the text that says it.

The text is for people first: an owner can read every line before sending it. It holds no name, no address and no
serial number. `text` reads it back, `received` holds it against its edition.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

TITLE = "Build report"
END = "End of the build report"
READINGS, MINUTES, FAILED, FACTS, FOUND = (
    "Hold points:", "Minutes of work in each phase:", "What failed, and what helped:", "Measured on this machine:",
    "Also noticed:",
)  # fmt: skip
SECTIONS = (READINGS, MINUTES, FAILED, FACTS, FOUND)
HELPED, NOTICED = "helped: ", "- "
NOTHING_HELPED = "nothing yet"

Result = Literal["passed", "failed", "not-done"]
RESULTS: dict[Result, str] = {"passed": "passed", "failed": "failed", "not-done": "not done"}
Doer = Literal["owner", "workshop", "maker"]
DOERS: dict[Doer, str] = {"owner": "the owner", "workshop": "a repair workshop", "maker": "the maker of the kit"}
Signer = Literal["electrically-skilled", "nobody"]
SIGNERS: dict[Signer, str] = {"electrically-skilled": "an electrically skilled person", "nobody": "nobody"}
CONSENT = {True: "yes", False: "no"}


@dataclass(frozen=True)
class HoldReading:
    """One hold point: its printed number, its step, the reading as written (empty where none), and the result."""

    number: str
    step: str
    result: Result
    reading: str = ""


@dataclass(frozen=True)
class FailedReading:
    """A hold point that failed once, with its reading, and what helped."""

    number: str
    step: str
    reading: str
    helped: str


@dataclass(frozen=True)
class BuildReport:
    """What a report says.

    `case` are the conditions of the instruction that applied, in its words. `minutes` are by phase, `facts` by dotted
    name, as written. `publish` is the owner's consent to publication.
    """

    variant: str
    variant_name: str
    kit: str
    kit_name: str
    revision: str
    edition: str
    finished: datetime.date
    doer: Doer
    signer: Signer
    publish: bool
    case: tuple[str, ...] = ()
    readings: tuple[HoldReading, ...] = ()
    minutes: Mapping[str, int] = field(default_factory=dict)
    failures: tuple[FailedReading, ...] = ()
    facts: Mapping[str, str] = field(default_factory=dict)
    findings: tuple[str, ...] = ()


def write(report: BuildReport) -> str:
    """Return the text of a report."""
    lines = [
        TITLE,
        f"Machine: {report.variant} ({report.variant_name})",
        f"Kit: {report.kit}, revision {report.revision} ({report.kit_name})",
        f"Edition: {report.edition}",
        *(f"Case: {one}" for one in report.case),
        f"Finished on: {report.finished.isoformat()}",
        f"Carried out by: {DOERS[report.doer]}",
        f"Signed before power came on by: {SIGNERS[report.signer]}",
        f"May be published: {CONSENT[report.publish]}",
    ]
    for title, body in zip(SECTIONS, _bodies(report), strict=True):
        if found := list(body):
            lines += ["", title, *found]
    return "\n".join((*lines, "", END)) + "\n"


def _bodies(report: BuildReport) -> Iterator[Iterator[str]]:
    yield (f"{one.number} {one.step} = {said(one.reading, one.result)}" for one in report.readings)
    yield (f"{phase} = {minutes}" for phase, minutes in report.minutes.items())
    yield (line for one in report.failures for line in (
        f"{one.number} {one.step} = {said(one.reading, 'failed')}", f"{HELPED}{one.helped or NOTHING_HELPED}"
    ))  # fmt: skip
    yield (f"{name} = {value}" for name, value in report.facts.items())
    yield (f"{NOTICED}{one}" for one in report.findings)


def said(reading: str, result: Result) -> str:
    """Return a reading and what came of it, as one text.

    >>> said("38 °C", "passed"), said("", "not-done")
    ('38 °C, passed', 'not done')
    """
    return ", ".join(filter(None, (reading, RESULTS[result])))
