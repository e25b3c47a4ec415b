"""The resolved procedure: what is left of the written one for one machine and one kit. Frozen and flat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from guidegen.judge.acts.compiled import ActFault
from guidegen.judge.acts.row import ActTable
from guidegen.judge.acts.things import Things
from guidegen.judge.safety.facts import Gap
from guidegen.judge.safety.state import KINDS, Named, State
from guidegen.language.forms import MissingForm
from guidegen.workshop.base import Loc, Place, Places
from guidegen.workshop.procedures import NightStop, Procedure
from guidegen.workshop.steps import Disturbed, Moves, Step, Way
from guidegen.workshop.texts import AuthorText


@dataclass(frozen=True)
class Number:
    """A number that the text prints: its name in braces, how it reads, where it comes from, where a file states it."""

    name: str
    text: str
    evidence: str | None
    source: str | None
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Authored:
    """Short hashes: of a step as its author wrote it, and of the stated values that fill it on this machine."""

    source: str
    filled: str


@dataclass(frozen=True)
class Where:
    """Where something was written, and where its fields were."""

    places: Places = field(repr=False, compare=False)
    loc: Loc

    def __contains__(self, name: str) -> bool:
        """Whether a field of that name was written."""
        return (*self.loc, name) in self.places

    def place(self, *inner: str | int) -> Place:
        """Return the place of the thing, or of a field in it."""
        return self.places.key((*self.loc, *inner)) if inner else self.places[self.loc]

    def below(self, *inner: str | int) -> Where:
        """Return where a part of the thing was written."""
        return Where(self.places, (*self.loc, *inner))


def overridden(table: ActTable) -> Iterator[tuple[Where, ActFault]]:
    """Yield the acts of a workshop that have a name of the program's, which keeps its meaning."""
    for name in table.clashes:
        words = f"`{name}` is an act of the program, which no workshop can write anew"
        yield Where(table.places, ("acts",)), ActFault(name, words, "give it another name")


@dataclass(frozen=True)
class ResolvedStep:
    """One step as this machine needs it, its text complete.

    `key` is unique (phase, name of the include, id, item); `scenarios` are the factory spreads it belongs to;
    `only_if` says so in words where it is not all of them; `missing` are braces that nothing could fill; `item` is the
    id of the thing for which it is repeated. `authored` shows a later edition what the step was made from.
    """

    key: str
    number: str
    phase: str
    step: Step
    where: Where
    scenarios: frozenset[int]
    only_if: str | None = None
    numbers: tuple[Number, ...] = ()
    missing: tuple[str, ...] = ()
    authored: Authored | None = None
    item: str | None = None

    @cached_property
    def removes(self) -> tuple[Named, ...]:
        """Return what the step takes off."""
        return named(self.step.removes)

    @cached_property
    def refits(self) -> tuple[Named, ...]:
        """Return what the step puts back."""
        return named(self.step.refits)

    @cached_property
    def disturbs(self) -> tuple[Named, ...]:
        """Return what the step may have disturbed."""
        return named(self.step.disturbs)

    @property
    def acts(self) -> bool:
        """Return whether it was written as an act, whose words and hazards are the program's."""
        return "act" in self.where and "do" not in self.where

    @property
    def warns_first(self) -> bool:
        """Return whether its hazards are written, and so printed, before its imperative."""
        if self.acts:
            return True
        warned, action = self.where.place("hazards"), self.where.place("do")
        return (warned.line, warned.column) < (action.line, action.column)


def named(moves: Moves | Disturbed | None) -> tuple[Named, ...]:
    """Return kind and name of everything that is moved or disturbed."""
    if moves is None:
        return ()
    return tuple((kind, name) for kind in KINDS for name in getattr(moves, kind))


@dataclass(frozen=True)
class ResolvedPhase:
    """A phase with the steps that are left of it, and its stop for the night."""

    id: str
    number: str
    name: str
    steps: tuple[ResolvedStep, ...]
    where: Where
    stop: NightStop | None = None

    @property
    def minutes(self) -> float:
        """Return the working time of its steps."""
        return sum(each.step.minutes for each in self.steps)


@dataclass(frozen=True)
class ResolvedAct:
    """An act that stands around the steps: as it compiles, its text complete, and where it was written.

    `inside`: the machine is opened for it, by an electrically skilled person. `live`: the machine is in use for it, or
    may be.
    """

    step: Step
    text: str
    inside: bool
    live: bool
    where: Where

    @property
    def act(self) -> str:
        """The name of the act."""
        return self.step.act or ""


@dataclass(frozen=True)
class ResolvedCare:
    """An act of after-care with its occasion, by name and in words."""

    id: str
    occasion: str
    when: str
    act: ResolvedAct


@dataclass(frozen=True)
class ResolvedFault:
    """A row of the table of faults; `stops`: nobody uses the machine on."""

    symptom: ResolvedAct
    causes: tuple[ResolvedAct, ...]
    check: tuple[ResolvedAct, ...]
    do: tuple[ResolvedAct, ...]
    stops: bool
    where: Where


@dataclass(frozen=True)
class ResolvedStopUse:
    """A symptom at which nobody uses the machine on, in words; `where` an author added it."""

    symptom: str
    text: str
    where: Where | None = None


@dataclass(frozen=True)
class ResolvedRemedy:
    """The steps of a failing side, where they lead, and the acts that end it if it leads nowhere."""

    id: str
    letter: str
    name: str
    steps: tuple[ResolvedStep, ...]
    then: Way
    where: Where
    ends: tuple[ResolvedAct, ...] = ()


@dataclass(frozen=True)
class Undecided:
    """Something that may or may not apply, because a fact is not known."""

    what: str
    facts: tuple[str, ...]
    where: Where


@dataclass(frozen=True)
class Course:
    """One way through the work: fitting the kit, or restoring the original."""

    name: str
    phases: tuple[ResolvedPhase, ...]
    remedies: tuple[ResolvedRemedy, ...]
    start: State
    undecided: tuple[Undecided, ...] = ()
    cases: tuple[str, ...] = ()

    @property
    def minutes(self) -> tuple[float, float]:
        """Return the working time of the shortest and of the longest case."""
        cases = {index for step in self.steps for index in step.scenarios}
        sums = [sum(step.step.minutes for phase in self.phases for step in phase.steps if index in step.scenarios)
                for index in sorted(cases)]  # fmt: skip
        return (min(sums), max(sums)) if sums else (0.0, 0.0)

    @property
    def taken_for_good(self) -> Iterator[Named]:
        """Yield what its steps take off and no step puts back."""
        for step in self.steps:
            if step.step.removes is not None and step.step.removes.permanent:
                yield from step.removes

    @property
    def parts(self) -> Iterator[tuple[ResolvedStep, ...]]:
        """Yield the steps of each phase, then of each remedy."""
        yield from (phase.steps for phase in self.phases)
        yield from (remedy.steps for remedy in self.remedies)

    @property
    def steps(self) -> Iterator[ResolvedStep]:
        """Yield every step, remedies last."""
        for steps in self.parts:
            yield from steps


@dataclass(frozen=True)
class FilledText:
    """A text beside acts and numbers: as its author wrote it, as this machine fills it, and where it stands."""

    written: AuthorText
    filled: str
    place: Place


@dataclass(frozen=True)
class ResolvedProcedure:
    """The procedure of one machine and one kit.

    `gaps` are the facts that nobody knows, and without which a step could not be chosen or written, each behind the
    name by which the procedure asks for it. `faults` are acts that cannot be done as written; `brought` what the kit
    brings, out at first; `formless` are names without the form that a sentence asks for; `texts` every text beside acts
    and numbers, of the shared blocks too; `things` what an act may name; `care` and the like follow the steps.
    """

    source: Procedure = field(repr=False)
    where: Where
    fitting: Course
    restoring: Course | None
    scenarios: int = 1
    missing: tuple[str, ...] = ()
    unstated: tuple[str, ...] = ()
    gaps: tuple[tuple[str, Gap], ...] = ()
    faults: tuple[tuple[Where, ActFault], ...] = ()
    formless: tuple[MissingForm, ...] = ()
    brought: frozenset[Named] = frozenset()
    texts: tuple[FilledText, ...] = ()
    care: tuple[ResolvedCare, ...] = ()
    fault_table: tuple[ResolvedFault, ...] = ()
    stop_use: tuple[ResolvedStopUse, ...] = ()
    things: Things = field(default_factory=Things, repr=False)
    acts: ActTable = field(default_factory=ActTable, repr=False)
    near: tuple[str, ...] = ()

    @property
    def acts_around(self) -> Iterator[ResolvedAct]:
        """Yield every act of the after-care and of the table of faults."""
        yield from (one.act for one in self.care)
        yield from (act for one in self.fault_table for act in (*one.check, *one.do))

    @property
    def courses(self) -> tuple[Course, ...]:
        """Return the fitting and, where there is one, the restoring."""
        return (self.fitting,) if self.restoring is None else (self.fitting, self.restoring)
