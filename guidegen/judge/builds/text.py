"""Read a build report that was received: what it says, and in which line and column each part of it stands.

A mail program may quote it, wrap a line or change a space. What stands before its title and behind its end is passed
over and kept nowhere.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from guidegen.judge.builds import report as words
from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.builds.private import looks_private
from guidegen.judge.builds.report import BuildReport, FailedReading, HoldReading
from guidegen.judge.letter import Line, Spot, lines_of
from guidegen.problems import CatalogueError, Problem
from guidegen.visible import visible

AGAIN = "ask for the report again, as it was written"
LONGEST, MOST = 500, 300
"""So many characters has a sentence of a report at most, and so many lines a section."""

_ID = r"[a-z0-9-]{1,40}"
_STEP = re.compile(r"([0-9A-Z]{1,3}\.[0-9]{1,3}) ([a-z0-9-]+(?:/[a-z0-9-]+)+) = (\S.*)")
_VALUE = re.compile(r"([a-z0-9_-]+(?:\.[a-z0-9_-]+)*) = (\S.*)")
_HEAD = {
    "machine": re.compile(rf"Machine: ({_ID})(?: \((.*)\))?"),
    "kit": re.compile(rf"Kit: ({_ID}), revision ([A-Za-z0-9.-]{{1,10}})(?: \((.*)\))?"),
    "edition": re.compile(r"Edition: ([A-Za-z0-9._-]{1,40})"),
    "case": re.compile(r"Case: (\S.*)"),
    "finished": re.compile(r"Finished on: ([0-9]{4}-[0-9]{2}-[0-9]{2})"),
    "doer": re.compile(r"Carried out by: (.*)"),
    "signer": re.compile(r"Signed before power came on by: (.*)"),
    "publish": re.compile(r"May be published: (.*)"),
}
_WRAPS = (words.HELPED, words.NOTICED, *(f"{one.pattern.partition(': ')[0]}: " for one in _HEAD.values()))
"""How a line begins that a mail program may have wrapped."""


@dataclass(frozen=True)
class ReceivedReport:
    """A report that was received, and the place of each of its parts."""

    path: str
    report: BuildReport
    spots: Mapping[str, Spot]

    def problem(self, code: BuildCode, part: str, message: str, fix: str = AGAIN) -> Problem:
        """Return what is wrong with a part, with its place."""
        return Problem(self.path, *self.spots.get(part, self.spots["end"]), code, message, fix)


def read(text: str, path: str = "the text") -> ReceivedReport:
    """Return what a received text says; raise `CatalogueError` with every line that cannot be."""
    lines = lines_of(text)
    start = next((place for place, line in enumerate(lines) if line.text == words.TITLE), None)
    if start is None:
        message = f"this is no build report: no line “{words.TITLE}”"
        raise CatalogueError([Problem(path, 1, 1, BuildCode.NO_REPORT, message, AGAIN)])
    end = next((place for place, line in enumerate(lines) if place > start and line.text == words.END), None)
    if end is None:
        message = f"the text ends before its line “{words.END}”"
        raise CatalogueError([Problem(path, *lines[-1].words[-1].spot, BuildCode.CUT_OFF, message, AGAIN)])
    reading = _ReportReader(path, lines[start].spot, lines[end].spot)
    reading.take(lines[start + 1 : end])
    if reading.problems:
        raise CatalogueError(reading.problems)
    return ReceivedReport(path, reading.report(), reading.spots)


@dataclass
class _ReportReader:
    """The lines of one report, taken one after the other."""

    path: str
    start: Spot
    end: Spot
    head: dict[str, Any] = field(default_factory=dict)
    case: list[str] = field(default_factory=list)
    readings: list[HoldReading] = field(default_factory=list)
    minutes: dict[str, int] = field(default_factory=dict)
    failures: list[FailedReading] = field(default_factory=list)
    facts: dict[str, str] = field(default_factory=dict)
    findings: list[str] = field(default_factory=list)
    spots: dict[str, Spot] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def take(self, lines: Sequence[Line]) -> None:
        """Read the lines between title and end."""
        self.spots |= {"start": self.start, "end": self.end}
        section = ""
        for line in _unwrapped(lines):
            shown, text = visible(line.text), line.text
            if shown != text:
                self._refuse(line, f"a character that cannot be seen in “{shown[:80]}”", "delete it")
            elif text in words.SECTIONS:
                if text in self.spots:
                    self._refuse(line, f"“{text}” stands twice", "keep one")
                section, self.spots[text] = text, line.spot
            else:
                self._takers()[section](line)
        self._whole()

    def _takers(self) -> dict[str, Callable[[Line], None]]:
        return {
            "": self._of_head,
            words.READINGS: self._of_readings,
            words.MINUTES: self._of_minutes,
            words.FAILED: self._of_failed,
            words.FACTS: self._of_facts,
            words.FOUND: self._of_found,
        }

    def _of_head(self, line: Line) -> None:
        name, match = next(
            ((name, match) for name, pattern in _HEAD.items() if (match := pattern.fullmatch(line.text))), ("", None)
        )
        if match is None:
            self._garbled(line)
        elif name == "case":
            self.case.append(match[1])
            self.spots[f"case {match[1]}"] = line.spot
        elif name in self.head:
            self._refuse(line, f"“{line.text[:60]}”: said a second time", "keep one report in a text")
        else:
            self.head[name], self.spots[name] = match.groups(), line.spot

    def _of_readings(self, line: Line) -> None:
        match = _STEP.fullmatch(line.text)
        found = _result(match[3]) if match else None
        if match is None or found is None:
            self._garbled(line, "write it as: 3.5 take-out/measure = 38 °C, passed (or failed, or not done)")
        elif self._once(line, f"hold {match[2]}"):
            self.readings.append(HoldReading(match[1], match[2], found[1], found[0]))

    def _of_minutes(self, line: Line) -> None:
        match = _VALUE.fullmatch(line.text)
        if match is None or not re.fullmatch("[1-9][0-9]{0,3}", match[2]):
            self._garbled(line, "write it in whole minutes, as: prepare = 12")
        elif self._once(line, f"phase {match[1]}"):
            self.minutes[match[1]] = int(match[2])

    def _of_failed(self, line: Line) -> None:
        if line.text.startswith(words.HELPED) and self.failures and not self.failures[-1].helped:
            last = self.failures[-1]
            helped = self._free(line, words.HELPED)
            self.failures[-1] = FailedReading(last.number, last.step, last.reading, helped)
            return
        match = _STEP.fullmatch(line.text)
        found = _result(match[3]) if match else None
        if match is None or found is None or found[1] != "failed":
            self._garbled(line, f"write it as: 8.27 cold-test/cold-look = failed, and below it {words.HELPED}…")
            return
        self.spots[f"failed {len(self.failures)}"] = line.spot
        self.failures.append(FailedReading(match[1], match[2], found[0], ""))

    def _of_facts(self, line: Line) -> None:
        match = _VALUE.fullmatch(line.text)
        if match is None:
            self._garbled(line, "write it as: boiler.clearance = 19 mm")
        elif self._once(line, f"fact {match[1]}"):
            self.facts[match[1]] = match[2]

    def _of_found(self, line: Line) -> None:
        if not line.text.startswith(words.NOTICED):
            self._garbled(line, f"begin the line with “{words.NOTICED}”")
            return
        self.findings.append(self._free(line, words.NOTICED))

    def _free(self, line: Line, mark: str) -> str:
        """A sentence in the owner's words: no longer than it may be, and nothing of a person in it."""
        text = line.text.removeprefix(mark)
        private = looks_private(text)
        if private is not None:
            message = f"“{text[:80]}” looks like {private}"
            fix = "take it out of the line and keep the rest; a serial number belongs in units/"
            self.problems.append(Problem(self.path, *line.spot, BuildCode.PRIVATE, message, fix))
        if len(text) > LONGEST:
            self._refuse(line, f"a sentence of {len(text)} characters", f"shorten it to {LONGEST}")
        return text

    def _once(self, line: Line, part: str) -> bool:
        if part in self.spots:
            self._refuse(line, f"{part.partition(' ')[2]} is said twice", "keep one line")
            return False
        self.spots[part] = line.spot
        return True

    def _whole(self) -> None:
        """What a report always says; and that nothing in it has more lines than anybody would read."""
        missing = [name for name in _HEAD if name != "case" and name not in self.head]
        if missing:
            message = f"the report has no line for {', '.join(missing)}"
            self.problems.append(Problem(self.path, *self.start, BuildCode.NO_REPORT, message, AGAIN))
        for many in (self.case, self.readings, self.minutes, self.failures, self.facts, self.findings):
            if len(many) > MOST:
                message = f"a section of {len(many)} lines; the most is {MOST}"
                self.problems.append(Problem(self.path, *self.start, BuildCode.GARBLED, message, AGAIN))
        for name, choices in (("doer", words.DOERS), ("signer", words.SIGNERS), ("publish", words.CONSENT)):
            if name in self.head and self.head[name][0] not in choices.values():
                message, fix = f"“{self.head[name][0][:60]}” is none of the answers", f"write {_either(choices)}"
                self.problems.append(Problem(self.path, *self.spots[name], BuildCode.GARBLED, message, fix))
        try:
            datetime.date.fromisoformat(self.head.get("finished", ("2026-01-01",))[0])
        except ValueError:
            message = f"there is no day {self.head['finished'][0]}"
            fix = "a date is written year-month-day"
            self.problems.append(Problem(self.path, *self.spots["finished"], BuildCode.GARBLED, message, fix))

    def report(self) -> BuildReport:
        """What was read, once nothing is wrong with it."""
        variant, variant_name = self.head["machine"]
        kit, revision, kit_name = self.head["kit"]
        return BuildReport(
            variant=variant,
            variant_name=variant_name or "",
            kit=kit,
            kit_name=kit_name or "",
            revision=revision,
            edition=self.head["edition"][0],
            finished=datetime.date.fromisoformat(self.head["finished"][0]),
            doer=_key(words.DOERS, self.head["doer"][0]),
            signer=_key(words.SIGNERS, self.head["signer"][0]),
            publish=_key(words.CONSENT, self.head["publish"][0]),
            case=tuple(self.case),
            readings=tuple(self.readings),
            minutes=self.minutes,
            failures=tuple(self.failures),
            facts=self.facts,
            findings=tuple(self.findings),
        )

    def _garbled(self, line: Line, fix: str = AGAIN) -> None:
        self._refuse(line, f"a build report has no line “{line.text[:80]}” here", fix)

    def _refuse(self, line: Line, message: str, fix: str) -> None:
        self.problems.append(Problem(self.path, *line.spot, BuildCode.GARBLED, message, fix))


def _unwrapped(lines: Sequence[Line]) -> list[Line]:
    """The lines as they were written: what a mail program wrapped of a sentence goes back to it."""
    found: list[Line] = []
    for line in lines:
        begins = _begins(line.text)
        if not begins and found and found[-1].text.startswith(_WRAPS):
            found[-1] = Line((*found[-1].words, *line.words))
        else:
            found.append(line)
    return found


def _begins(text: str) -> bool:
    return text in words.SECTIONS or text.startswith(_WRAPS) or any(one.fullmatch(text) for one in (_STEP, _VALUE))


def _result(text: str) -> tuple[str, words.Result] | None:
    """A reading and what came of it."""
    reading, _, result = text.rpartition(", ")
    found = next((key for key, said in words.RESULTS.items() if said == result), None)
    return None if found is None else (reading, found)


def _key(choices: Mapping[Any, str], said: str) -> Any:
    return next(key for key, text in choices.items() if text == said)


def _either(choices: Mapping[Any, str]) -> str:
    return " or ".join(choices.values())
