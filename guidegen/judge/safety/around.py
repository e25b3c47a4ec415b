"""What stands around the steps, for one machine: how failing sides end, after-care, the table of faults.

Each is acts of the table; so who does what, and whether anybody uses the machine meanwhile, is known of each.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from guidegen.judge.acts.compiled import ActFault, compiled
from guidegen.judge.acts.effects import ActPlace
from guidegen.judge.acts.row import ActTable, TableRow, rows
from guidegen.judge.acts.sentence import SentenceWords, started
from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import Facts, holds
from guidegen.judge.safety.fill import Filler
from guidegen.judge.safety.model import ResolvedAct, ResolvedCare, ResolvedFault, ResolvedStopUse, Where
from guidegen.language import gettext
from guidegen.language.forms import MissingForm
from guidegen.workshop.acts import PlainAct
from guidegen.workshop.around import OCCASIONS, Care, FaultEntry, RemedyEnd, StopUse, as_step
from guidegen.workshop.procedures import Procedure
from guidegen.workshop.steps import Step, Way

STANDS: dict[ActPlace, str] = {
    "step": "a step",
    "stop": "the end of a failing side",
    "care": "after-care, or check or remedy of a fault",
    "symptom": "something that somebody notices",
    "cause": "the cause of a fault",
}
DEAD = ("off", "proved_dead")


def misplaced(act: PlainAct, table: ActTable, place: ActPlace) -> ActFault | None:
    """What is wrong with an act where it stands; a workshop's own may stand among the steps and in the after-care."""
    row = table.rows.get(act.act)
    own = table.own is not None and act.act in table.own.acts and act.act not in rows()
    if row is None or row.place == place or (own and place == "care"):
        return None
    fix = f"`guidegen check --acts` lists what can be {STANDS[place]}"
    return ActFault("act", f"`{act.act}` is {STANDS[row.place]}, and stands here as {STANDS[place]}", fix)


@dataclass
class Around:
    """Makes what stands around the steps out of what is written; keeps what was wrong with it."""

    facts: Facts
    filler: Filler
    faults: list[tuple[Where, ActFault]] = field(default_factory=list)
    formless: list[MissingForm] = field(default_factory=list)

    def end(self, written: RemedyEnd, where: Where) -> tuple[Way, tuple[ResolvedAct, ...]]:
        """Where a failing side leads, in words, and the acts that end it."""
        if written.goto:
            return Way(goto=self.filler.text(written.goto)), ()
        acts = tuple(self._acts(written.stop, "stop", where.below("then", "stop")))
        helps = (self.facts.acts.rows[one.act].help for one in acts)
        who = next((self.filler.text(SentenceWords({}).fill(text)) for text in helps if text), None)
        texts = (text for one in acts for text in (one.text, one.step.why) if text)
        return Way(stop=" ".join(texts) or None, who_can_help=who), acts

    def care(self, written: Sequence[Care], where: Where) -> Iterator[ResolvedCare]:
        """The acts of after-care that apply, or may apply."""
        for index, one in enumerate(written):
            for act in self._one(one, "care", where.below(index)):
                yield ResolvedCare(one.id, one.occasion, gettext(OCCASIONS[one.occasion]), act)

    def fault_table(self, written: Sequence[FaultEntry], where: Where) -> Iterator[ResolvedFault]:
        """The rows of the table of faults that apply, or may apply.

        What is done whatever the cause stands before the check, and where there is none before what to do.
        """
        for index, one in enumerate(written):
            here = where.below(index)
            symptoms = () if self._is_out(one) else tuple(self._one(one.symptom, "symptom", here.below("symptom")))
            for symptom in symptoms:
                row = self.facts.acts.rows[symptom.act]
                first = tuple(self._acts((PlainAct(act=name) for name in row.first), "care", here))
                check = tuple(self._acts(one.check, "care", here.below("check")))
                do = tuple(self._acts(one.do, "care", here.below("do")))
                yield ResolvedFault(
                    symptom,
                    tuple(self._acts(one.cause, "cause", here.below("cause"))),
                    (*first, *check) if check else (),
                    do if check else (*first, *do),
                    row.effect == "symptom-stops",
                    here,
                )

    def stop_use(self, written: Sequence[StopUse], where: Where) -> Iterator[ResolvedStopUse]:
        """At what nobody uses the machine on: what the table lists for every guide, then what the author adds."""
        always = [name for name, row in rows().items() if row.listed]
        for name in always:
            yield ResolvedStopUse(name, SentenceWords({}).fill(rows()[name].listed or ""))
        for one in self._acts(written, "symptom", where):
            if one.act not in always:
                yield ResolvedStopUse(one.act, started(one.text) + ".", one.where)

    def _is_out(self, part: PlainAct | FaultEntry) -> bool:
        """A precaution that may apply is printed: leaving it out would be the unsafe side."""
        return holds(part.when, self.facts) is Truth.FALSE

    def _acts(self, written: Iterable[PlainAct], place: ActPlace, where: Where) -> Iterator[ResolvedAct]:
        """Acts that may stand at a place, in the order of a list."""
        for index, act in enumerate(written):
            yield from self._one(act, place, where.below(index))

    def _one(self, act: PlainAct, place: ActPlace, where: Where) -> Iterator[ResolvedAct]:
        """An act in each way that this machine has; none where it does not apply, or may not stand there."""
        if self._is_out(act):
            return
        fault = misplaced(act, self.facts.acts, place)
        made = compiled(as_step(act), self.facts.things, table=self.facts.acts)
        self.faults += [(where, one) for one in ((fault,) if fault else made.faults)]
        for step, formless in zip(made.steps if fault is None else (), made.formless, strict=False):
            if holds(step.when, self.facts) is not Truth.FALSE:
                self.formless += formless
                yield self._said(step, self.facts.acts.rows[act.act], where)

    def _said(self, written: Step, row: TableRow, where: Where) -> ResolvedAct:
        step = self.filler.model(written)
        assert isinstance(step, Step)
        # A cause may stand behind another one: it begins with a small letter, and so does the name of its thing.
        text = _small(step.do) if row.place == "cause" and (row.say or "").startswith("{") else step.do
        says = [text, *step.notes]
        if step.hold is not None:
            fails = step.hold.on_fail.stop if step.hold.on_fail else None
            says[1:1] = [step.hold.criterion, *([fails] if fails else [])]
        inside = step.role in ("wiring", "electrically-skilled") or step.disturbs is not None
        live = not inside and row.effect != "care" and step.requires.get("mains") not in DEAD
        return ResolvedAct(step, " ".join(says), inside, live, where)


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]


def printed(procedure: Procedure, facts: Facts, filler: Filler) -> tuple[
    Around, tuple[ResolvedCare, ...], tuple[ResolvedFault, ...], tuple[ResolvedStopUse, ...]
]:  # fmt: skip
    """What a procedure says around its steps, and what made it."""
    made = Around(facts, filler)
    top = Where(procedure.places, ())
    return (
        made,
        tuple(made.care(procedure.aftercare, top.below("aftercare"))),
        tuple(made.fault_table(procedure.faults, top.below("faults"))),
        tuple(made.stop_use(procedure.stop_use, top.below("stop_use"))),
    )
