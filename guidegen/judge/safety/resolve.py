"""From the written procedure to the steps of one machine: what applies, in which order, with which numbers.

A `when:` whose fact is unknown never counts as true: the step is left out and reported as undecided, and the
lint refuses the guide (DOC02). A factory spread makes scenarios: a step that belongs to some of them is printed
with "only if", and every scenario is analysed by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidegen.judge.acts.compiled import ITEM, ActFault, compiled_once
from guidegen.judge.logic import Truth, all_of
from guidegen.judge.safety.around import Around, misplaced, printed
from guidegen.judge.safety.course_facts import on_course, printed_around
from guidegen.judge.safety.facts import Facts, Gap, holds, word
from guidegen.judge.safety.fill import Filler
from guidegen.judge.safety.hazard_kinds import announced
from guidegen.judge.safety.joints import with_joints
from guidegen.judge.safety.model import (
    Course,
    ResolvedAct,
    ResolvedPhase,
    ResolvedProcedure,
    ResolvedRemedy,
    ResolvedStep,
    Undecided,
    Where,
    overridden,
)
from guidegen.judge.safety.placed import before_changes, numbered
from guidegen.judge.safety.state import Named, State
from guidegen.judge.safety.surroundings import Surroundings
from guidegen.judge.safety.visits import visit_words, visits
from guidegen.language.forms import MissingForm
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.base import Loc
from guidegen.workshop.entries import Each, Entry, Include
from guidegen.workshop.procedures import FailingSide, NightStop, Phase, Procedure, SharedBlocks
from guidegen.workshop.steps import StatedNumber, Step, Way
from guidegen.workshop.when import names_in

BEFORE = {"fitting": "", "restoring": "R"}
"""What stands before the numbers of a course, so that no step of one is taken for a step of the other."""
MAXIMUM_SCENARIOS = 16
"""More combinations of factory spreads than this are no longer a guide."""


def resolve(procedure: Procedure, shared: SharedBlocks, facts: Facts) -> ResolvedProcedure:
    """Return the procedure of one machine with one kit.

    `facts` are those of the machine with the kit's computed ones added; see `guidegen.judge.safety.facts`.
    """
    scenarios = facts.scenarios()
    if len(scenarios) > MAXIMUM_SCENARIOS:
        raise ValueError(f"{len(scenarios)} combinations of factory spreads, at most {MAXIMUM_SCENARIOS}")
    restore, restoring = procedure.restore, None
    whole = on_course(facts, "fitting", procedure)
    makers = [_Maker(procedure, shared, whole)]
    brought = frozenset(facts.things.brought)
    fitting = makers[0].course("fitting", procedure.phases, procedure.remedies, brought, ())
    if restore is not None and restore.phases:
        makers.append(_Maker(procedure, shared, on_course(facts, "restoring", procedure)))
        lost = frozenset(fitting.taken_for_good)
        restoring = makers[1].course("restoring", restore.phases, restore.remedies, lost, ("restore",))
    whole = whole.having({"work.visits": word(visit_words(visits(fitting)))})
    source, filler, unstated = printed_around(procedure, shared, whole)
    behind, care, fault_table, stop_use = printed(procedure, whole, filler)
    return ResolvedProcedure(
        source=source,
        missing=tuple(dict.fromkeys((*filler.missing, *(name for one in makers for name in one.missing)))),
        unstated=unstated,
        where=Where(procedure.places, ()),
        fitting=fitting,
        restoring=restoring,
        brought=brought,
        things=facts.things,
        acts=facts.acts,
        near=facts.near,
        scenarios=len(scenarios),
        gaps=tuple(dict.fromkeys((*filler.gaps, *(gap for one in makers for gap in one.gaps)))),
        faults=tuple(dict.fromkeys((*overridden(facts.acts), *behind.faults,
                                    *(fault for one in makers for fault in one.faults)))),
        formless=tuple(dict.fromkeys((*filler.formless, *behind.formless,
                                      *(name for one in makers for name in one.formless)))),
        care=care,
        fault_table=fault_table,
        stop_use=stop_use,
        texts=tuple(Filler(whole, {**shared.values, **procedure.values}, {}).texts(procedure, shared)),
    )  # fmt: skip


def working_time(procedure: Procedure, shared: SharedBlocks, facts: Facts) -> float:
    """Return the minutes that fitting takes in the longest case; only which steps apply is looked at, no text."""
    return _Maker(procedure, shared, on_course(facts, "fitting", procedure), fill=False).longest(procedure.phases)


def named_in(procedure: Procedure, shared: SharedBlocks, facts: Facts) -> frozenset[str]:
    """Return the ids of all that the steps of fitting name on this machine."""
    maker = _Maker(procedure, shared, on_course(facts, "fitting", procedure), fill=False)
    steps = (step for one in procedure.phases for step in maker.applying(one, Where(procedure.places, ())))
    return frozenset(step.item if name == ITEM and step.item else name for step in steps for name in step.step.names)


class _Maker:
    """Makes courses; keeps what stayed undecided."""

    def __init__(self, procedure: Procedure, shared: SharedBlocks, facts: Facts, fill: bool = True) -> None:
        self._procedure, self._shared, self._facts, self._scenarios = procedure, shared, facts, facts.scenarios()
        self._values: dict[str, StatedNumber] = {**shared.values, **procedure.values}
        self._undecided: list[Undecided] = []
        self._fill, self._before = fill, ""
        self._dead = "proved_dead" if procedure.mains_work else "off"
        self.missing: list[str] = []
        self.gaps: list[tuple[str, Gap]] = []
        self.faults: list[tuple[Where, ActFault]] = []
        self.formless: list[MissingForm] = []

    def course(
        self, name: str, phases: Sequence[Phase], remedies: Sequence[FailingSide], out: frozenset[Named], loc: Loc
    ) -> Course:
        """Return the phases and remedies that apply; remedies only where something leads to them."""
        self._before = BEFORE[name]
        if self._fill:
            dry = _Maker(self._procedure, self._shared, self._facts, fill=False)
            steps = (step for one in phases for step in dry.applying(one, Where(self._procedure.places, loc)))
            self._facts = with_joints(self._facts, steps)
            self._scenarios = self._facts.scenarios()
        made = self._phases(phases, loc, self._facts.placed.get(name, ()))
        behind, cases = self._remedies(made, remedies, loc), self._facts.cases()
        return Course(name, tuple(made), tuple(behind), State(out=out), tuple(self._undecided), cases)

    def longest(self, phases: Sequence[Phase]) -> float:
        """Return the minutes of these phases in the case that takes longest."""
        minutes = [0.0] * len(self._scenarios)
        for phase in phases:
            for step in self.applying(phase, Where(self._procedure.places, ())):
                for case in step.scenarios:
                    minutes[case] += step.step.minutes
        return max(minutes)

    def _phases(self, phases: Sequence[Phase], loc: Loc, placed: Sequence[WrittenAct]) -> list[ResolvedPhase]:
        wheres = [Where(self._procedure.places, (*loc, "phases", index)) for index in range(len(phases))]
        found = [(phase, where, steps) for phase, where in zip(phases, wheres, strict=True)
                 if (steps := self._steps(phase, where))]  # fmt: skip
        if placed and found:
            at, index = before_changes([one[2] for one in found], len(self._scenarios))
            phase, where, steps = found[at]
            around = Surroundings((), self._facts, self._scenarios, f"{phase.id}/", phase.id)
            steps[index:index] = [step for act in placed for step in self._act(act, where, around)]
        return [
            ResolvedPhase(one.id, nr := f"{self._before}{index}", one.name, numbered(steps, nr), where,
                          self._filled(one.stop))
            for index, (one, where, steps) in enumerate(found, 1)
        ]  # fmt: skip

    def _remedies(
        self, phases: Sequence[ResolvedPhase], remedies: Sequence[FailingSide], loc: Loc
    ) -> list[ResolvedRemedy]:
        wanted = [(one, Where(self._procedure.places, (*loc, "remedies", index)))
                  for index, one in enumerate(remedies)]  # fmt: skip
        own = {one.id for one in remedies}
        wanted += [(one, Where(self._shared.places, ("remedies", index)))
                   for index, one in enumerate(self._shared.remedies) if one.id not in own]  # fmt: skip
        aims = {aim for phase in phases for aim in _aims(phase.steps)}
        made: dict[str, ResolvedRemedy] = {}
        seen: set[str] = set()  # also those that have no step on this machine
        todo = [(one, where) for one, where in wanted if one.id in aims]
        while todo:
            one, where = todo.pop(0)
            letter = self._before + "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[len(made)]
            steps = numbered(self._steps(one, where), letter)
            if steps:
                then, ends = self._end(one, where)
                made[one.id] = ResolvedRemedy(one.id, letter, one.name, steps, then, where, ends)
            aims |= {*_aims(steps), one.then.goto}
            seen |= {one.id, *(other.id for other, _ in todo)}
            todo += [(other, there) for other, there in wanted if other.id in aims and other.id not in seen]
        return list(made.values())

    def _filled(self, stop: NightStop | None) -> NightStop | None:
        """Return a stop for the night with its text complete."""
        filler = Filler(self._facts, self._values, {})
        filled: NightStop | None = filler.any(stop)
        self._keep(filler)
        return filled

    def _end(self, remedy: FailingSide, where: Where) -> tuple[Way, tuple[ResolvedAct, ...]]:
        """Return where a failing side leads, in words, and the acts that end it."""
        filler = Filler(self._facts, self._values, {})
        around = Around(self._facts, filler)
        made = around.end(remedy.then, where)
        self._keep(filler)
        self.faults += around.faults
        self.formless += around.formless
        return made

    def _keep(self, filler: Filler) -> None:
        self.missing += filler.missing
        self.gaps += filler.gaps
        self.formless += filler.formless

    def _wiring_role(self) -> str:
        corded = self._facts.get("mains.connection").value == "corded"
        return "hand-tools" if corded and not self._procedure.mains_work else "electrically-skilled"

    def _steps(self, part: Phase | FailingSide, where: Where) -> list[ResolvedStep]:
        return list(announced(self.applying(part, where)))

    def applying(self, part: Phase | FailingSide, where: Where) -> Iterator[ResolvedStep]:
        """Yield the steps of a phase or failing side that apply."""
        conditions = (part.when,) if part.when else ()
        only_if = part.only_if if isinstance(part, Phase) else None
        around = Surroundings(conditions, self._facts, self._scenarios, f"{part.id}/", part.id, only_if=only_if)
        return self._entries(part.steps, where.below("steps"), around)

    def _entries(self, entries: Sequence[Entry], where: Where, around: Surroundings) -> Iterator[ResolvedStep]:
        for index, entry in enumerate(entries):
            here = where.below(index)
            if isinstance(entry, Include):
                yield from self._include(entry, here, around)
            elif isinstance(entry, Each):
                yield from self._each(entry, here, around)
            elif isinstance(entry, WrittenAct):
                yield from self._act(entry, here, around)
            else:
                yield from self._step(entry, here, around)

    def _act(self, act: WrittenAct, where: Where, around: Surroundings) -> Iterator[ResolvedStep]:
        conditions = around.conditions + ((act.when,) if act.when else ())
        if all(all_of(holds(one, facts) for one in conditions) is Truth.FALSE for facts in around.scenarios):
            return
        facts = around.facts
        if fault := misplaced(act, facts.acts, "step"):
            self.faults.append((where, fault))
            return
        made = compiled_once(act, facts.things, around.item_kind, self._dead, facts.acts)
        self.faults += [(where, fault) for fault in made.faults]
        for step, formless in zip(made.steps, made.formless, strict=True):
            for one in self._step(step, where, around, around.facts.acts.fingerprint(act.act)):
                self.formless += formless
                yield one

    def _include(self, entry: Include, where: Where, around: Surroundings) -> Iterator[ResolvedStep]:
        block = self._shared.blocks.get(entry.include)
        if block is None:
            self._undecided.append(Undecided(f"there is no shared block `{entry.include}`", (), where))
            return
        there = Where(self._shared.places, ("blocks", entry.include, "steps"))
        yield from self._entries(block.steps, there, around.included(entry))

    def _each(self, entry: Each, where: Where, around: Surroundings) -> Iterator[ResolvedStep]:
        items = self._facts.lists.get(entry.each)
        if items is None:
            self._undecided.append(Undecided(f"steps for each of {entry.each}", (entry.each,), where))
            self.gaps += [(entry.each, gap) for gap in self._facts.get(entry.each).gaps]
            return
        for item in items:
            yield from self._entries(entry.steps, where.below("steps"), around.repeated(entry, item))

    def _step(self, step: Step, where: Where, around: Surroundings, row: str = "") -> Iterator[ResolvedStep]:
        conditions = around.conditions + ((step.when,) if step.when else ())
        truths = [all_of(holds(one, facts) for one in conditions) for facts in around.scenarios]
        if Truth.UNKNOWN in truths:
            asked = sorted({name for one in conditions for name in names_in(one)
                            if (value := around.facts.get(name)).value is None and not value.options})  # fmt: skip
            self._undecided.append(Undecided(f"step `{step.id}`", tuple(asked), where))
            self.gaps += [(name, gap) for name in asked for gap in around.facts.get(name).gaps]
            return
        chosen = frozenset(index for index, truth in enumerate(truths) if truth is Truth.TRUE)
        if not chosen:
            return
        if not self._fill:
            yield ResolvedStep(step.id, "", around.phase, step, where, chosen, item=around.item)
            return
        filler = Filler(around.facts, {**self._values, **step.values}, around.given)
        filled = filler.model(step)
        assert isinstance(filled, Step)
        if filled.role == "wiring":
            filled = filled.model_copy(update={"role": self._wiring_role()})
        self.gaps += filler.gaps
        self.formless += filler.formless
        partly = len(chosen) < len(truths)
        yield ResolvedStep(
            key=f"{around.prefix}{step.id}{around.suffix}",
            number="",
            phase=around.phase,
            step=filled,
            where=where,
            scenarios=chosen,
            only_if=(step.only_if or around.only_if) if partly else None,
            numbers=tuple(filler.numbers.values()),
            missing=tuple(filler.missing),
            authored=filler.authored(where.places.fingerprint(*where.loc) + row),
            item=around.item,
        )


def _aims(steps: Sequence[ResolvedStep]) -> set[str | None]:
    return {step.step.hold.on_fail.goto for step in steps if step.step.hold and step.step.hold.on_fail}
