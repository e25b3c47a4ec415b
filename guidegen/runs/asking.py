"""From the head of a file and what was answered to what each column is. What two readings are left of is asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from guidegen.problems import CatalogueError, Problem, nearest, one_of
from guidegen.runs.codes import RunCode
from guidegen.runs.dialect import CLOCK, STAMP, Head, is_number
from guidegen.runs.meaning import CLOCKS, IGNORED, PLACES, QUANTITIES, SWITCHED, TIME, named, unit_named, units_of
from guidegen.runs.table import OFF, ON

MEANINGS = (TIME, *PLACES, *QUANTITIES, IGNORED)


@dataclass(frozen=True)
class Answers:
    """What was said on the command line, by the names of columns: meaning and unit, probe, lag, uncertainty."""

    columns: Mapping[str, str] = field(default_factory=dict)
    probes: Mapping[str, str] = field(default_factory=dict)
    lags: Mapping[str, str] = field(default_factory=dict)
    uncertainties: Mapping[str, str] = field(default_factory=dict)
    zone: str = ""


@dataclass(frozen=True)
class Known:
    """What a column is: its place or quantity, and its unit; of the time how it is written. `said` where it was."""

    name: str
    at: int
    meaning: str
    unit: str
    said: bool


@dataclass
class Columns:
    """The columns of a file as far as they are known, and a problem for each question that is left."""

    path: str
    head: Head
    answers: Answers
    columns: list[Known] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    @property
    def time(self) -> Known:
        """The column of time."""
        return next(one for one in self.columns if one.meaning == TIME)

    @property
    def wanted(self) -> list[Known]:
        """The columns of places and quantities."""
        return [one for one in self.columns if one.meaning not in (TIME, IGNORED)]

    @property
    def has_zone(self) -> bool:
        """Whether every stamp that was looked at says its zone."""
        return all((found := STAMP.fullmatch(one)) is None or found["zone"] for one in self._cells(self.time.at))

    @property
    def day(self) -> str:
        """The day of the first stamp, empty where the time is no stamp."""
        found = next((one for cell in self._cells(self.time.at) if (one := STAMP.fullmatch(cell))), None)
        return found["day"] if found else ""

    def ask(self, at: int, words: str, fix: str, code: RunCode = RunCode.AMBIGUOUS) -> None:
        """Keep a question about a column."""
        line = self.head.written.names_in_line or self.head.written.values_from_line
        column = sum(len(name) + 1 for name in self.head.names[:at]) + 1 if self.head.written.names_in_line else at + 1
        self.problems.append(Problem(self.path, line, column, code.value, words, fix))

    def _cells(self, at: int) -> list[str]:
        return [row[at].strip() for row in self.head.rows]

    def shape_of(self, at: int) -> str:
        """What the cells of a column are: clock, stamp, number, switch, or text."""
        cells = [cell for cell in self._cells(at) if cell]
        decimal = self.head.written.decimal
        for name, fits in (
            ("hh:mm:ss", CLOCK.fullmatch), ("iso-8601", STAMP.fullmatch),
            ("number", lambda cell: is_number(cell, decimal)), ("switch", lambda cell: cell.lower() in (*ON, *OFF)),
        ):  # fmt: skip
            if sum(bool(fits(cell)) for cell in cells) > 0.5 * len(cells):
                return name
        return "text"

    def is_on_or_off(self, at: int) -> bool:
        """Whether a column holds nothing but 0 and 1, or words for them."""
        return all(cell.lower() in ("", "0", "1", *ON, *OFF) for cell in self._cells(at))


def asked(path: str, head: Head, answers: Answers) -> Columns:
    """What each column is.

    Raises CatalogueError with all questions that are left, each with the option that answers it.
    """
    made = Columns(path, head, answers)
    given = {**answers.columns, **answers.probes, **answers.lags, **answers.uncertainties}
    for name in given.keys() - set(head.names):
        near = nearest(name, head.names)
        made.ask(
            0, f'no column "{name}"', f"write {near}" if near else f"there are {one_of(head.names)}", RunCode.ANSWER
        )
    clocks = [at for at in range(len(head.names)) if made.shape_of(at) in CLOCKS]
    for at, name in enumerate(head.names):
        one = _column(made, at, name, clocks == [at])
        if one is not None:
            made.columns.append(one)
    _twice(made)
    if not made.problems:
        for one in made.wanted:
            if one.meaning in PLACES:
                _probe(made, one)
    if made.problems:
        raise CatalogueError(made.problems)
    return made


def _column(made: Columns, at: int, name: str, only_clock: bool) -> Known | None:
    text = made.answers.columns.get(name, "")
    word, _, unit_said = (part.strip() for part in text.partition(" "))
    if text and word not in MEANINGS:
        near = nearest(word, MEANINGS)
        fix = f"write {near}" if near else f"write one of {', '.join(MEANINGS)}"
        made.ask(at, f'"{word}" is no place and no quantity', fix, RunCode.ANSWER)
        return None
    from_name = named(name)
    shape = made.shape_of(at)
    meaning = word or from_name.meaning or (TIME if only_clock else "")
    if meaning == IGNORED or (not meaning and shape == "text"):
        return Known(name, at, IGNORED, "", bool(word))
    if not meaning:
        unit = unit_named(made.head.units[at]) or from_name.unit
        example = f"'{name}=sensor{'' if unit else ' °C'}'"
        fix = f"--column {example}, another place or quantity, or '{name}=ignored'"
        made.ask(at, f'"{name}": nobody can say where that was measured', fix)
        return None
    if meaning == TIME:
        return _time(made, at, name, unit_said, bool(word))
    unit = (
        unit_named(unit_said, meaning)
        or unit_named(made.head.units[at], meaning)
        or unit_named(from_name.unit, meaning)
    )
    if unit_said and not unit_named(unit_said, meaning):
        fix = f"write one of {', '.join(filter(None, units_of(meaning)))}"
        made.ask(at, f'"{unit_said}" is no unit of {meaning}', fix, RunCode.ANSWER)
        return None
    if not unit and not (meaning in SWITCHED and made.is_on_or_off(at)):
        units = " or ".join(f"'{name}={meaning} {one}'" for one in units_of(meaning)[:3] if one)
        made.ask(at, f'"{name}": nobody can say in which unit', f"--column {units}")
        return None
    return Known(name, at, meaning, unit, bool(word))


def _time(made: Columns, at: int, name: str, said: str, was_said: bool) -> Known | None:
    shape = made.shape_of(at)
    stamps = [found for row in made.head.rows if (found := STAMP.fullmatch(row[at].strip()))]
    if shape == "iso-8601" and not made.answers.zone and not all(one["zone"] for one in stamps):
        made.ask(at, f'"{name}": the stamps do not say their zone', "--zone +02:00, as the logger's clock was set")
        return None
    if shape in CLOCKS:
        return Known(name, at, TIME, shape, was_said)
    unit = unit_named(said, TIME) or unit_named(made.head.units[at], TIME) or unit_named(named(name).unit, TIME)
    if shape != "number":
        made.ask(at, f'"{name}": no time as s, ms, hh:mm:ss or ISO 8601', "export the time in one of them",
                 RunCode.UNREADABLE_TIME)  # fmt: skip
        return None
    if not unit:
        made.ask(at, f'"{name}": nobody can say whether seconds or milliseconds',
                 f"--column '{name}=time s' or --column '{name}=time ms'")  # fmt: skip
        return None
    return Known(name, at, TIME, unit, was_said)


def _twice(made: Columns) -> None:
    """One column for each meaning, and one time."""
    seen: dict[str, str] = {}
    for one in made.columns:
        if one.meaning != IGNORED and one.meaning in seen:
            words = f'"{seen[one.meaning]}" and "{one.name}" are both {one.meaning}'
            made.ask(one.at, words, f"--column '{one.name}=ignored', or say what it is")
        seen.setdefault(one.meaning, one.name)
    if TIME not in seen and not made.problems:
        made.ask(0, "no column of time", "--column 'NAME=time s'")
    if not set(seen) - {TIME, IGNORED} and not made.problems:
        made.ask(0, "all columns are ignored", f"--column '{made.head.names[-1]}=sensor °C'")


def _probe(made: Columns, one: Known) -> None:
    if one.name not in made.answers.probes:
        fix = f"--probe '{one.name}=type-k 1', kind and class as in IEC 60584-1 or IEC 60751, or '{one.name}=other'"
        made.ask(one.at, f'"{one.name}": nobody can say which probe that was', fix)
    if one.name not in made.answers.lags:
        made.ask(one.at, f'"{one.name}": nobody can say how late the probe is',
                 f"--lag '{one.name}=0.8 s ± 0.2 s', or '{one.name}=unknown'")  # fmt: skip
    is_other = made.answers.probes.get(one.name, "").split(" ")[0] == "other"
    if is_other and one.name not in made.answers.uncertainties:
        made.ask(one.at, f'"{one.name}": no class says how far the probe may be off',
                 f"--uncertainty '{one.name}=1 K'")  # fmt: skip
