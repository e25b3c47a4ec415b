"""What remedies take: minutes from the instruction that carries them out, so that fit and guide cannot differ.

A remedy that is a kit takes what its own instruction takes on this machine. One that the program knows a way for
takes what the instruction takes more that way than without. All others take what content/questions.yml says.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from guidegen.assess.adapt import facts_of
from guidegen.judge.safety.facts import Facts, Item, word
from guidegen.judge.safety.resolve import working_time
from guidegen.language import gettext
from guidegen.trade import Catalogue
from guidegen.trade.access import COIL_OFF
from guidegen.trade.cutting import TRIM, Action, Decision
from guidegen.trade.kit import Kit
from guidegen.trade.known_remedies import PLAIN, is_timed, way_of
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.workshop.entries import Include
from guidegen.workshop.procedures import Procedure
from guidegen.workshop.questions import Effort, Questions
from guidegen.workshop.requirements import Requirement

MINUTES = 60.0
"""Where neither an instruction nor content/questions.yml says it; it only ranks."""


def priced(known: Catalogue, machine: Machine, kit: Kit, decisions: Sequence[Decision]) -> Questions:
    """The questions with the effort of every remedy that the kit may call for on this machine."""
    asked = known.questions or Questions()
    called = {one.id: one for one in _called_for(known, kit, ())}
    work = {name: _Work(known, machine, one, decisions) for name, one in called.items()}
    made = [_priced(work[one.kit], one) if one.kit in work else one for one in _all_efforts(asked, kit)]
    return asked.model_copy(update={"remedies": tuple(made)})


def _called_for(known: Catalogue, kit: Kit, above: tuple[str, ...]) -> Iterator[Kit]:
    """The kit and every kit that may serve as a remedy for it, or for one of those."""
    yield kit
    for requirement in kit.requirements:
        for way in requirement.unmet:
            other = known.kits.get(way.kit or "")
            if other is not None and other.id not in (*above, kit.id):
                yield from _called_for(known, other, (*above, kit.id))


def _all_efforts(asked: Questions, kit: Kit) -> Iterator[Effort]:
    """What is stated, and trimming, whether it is stated or not: what it needs is for the program to say."""
    yield from asked.remedies
    trims = any(way.fabrication == TRIM for one in kit.requirements for way in one.unmet)
    if trims and asked.effort(kit.id, None, TRIM) is None:
        yield Effort(kit=kit.id, fabrication=TRIM, minutes=MINUTES)


def _priced(work: _Work, effort: Effort) -> Effort:
    changes: dict[str, object] = {}
    minutes = work.minutes_of(effort)
    if minutes is not None:
        changes["minutes"] = minutes
    if effort.fabrication == TRIM:
        changes |= {"cuts": True, "needs": (*effort.needs, _can_be_trimmed())}
    return effort.model_copy(update=changes)


def _can_be_trimmed() -> Requirement:
    words = {
        "id": "can-be-trimmed",
        "says": gettext("Everything in the coil's way is measured, carries nothing, and leaves metal enough."),
        "because": gettext("A cut cannot be undone. What is not known is not cut."),
        "fact": "protrusions.trimmable",
        "is": "yes",
    }
    return Requirement.model_validate(words, context={"facts": known_facts()})


SERVICE = ("coil-off", "coil-on")
"""The shared blocks of steps that whoever gets at the bolts later goes through, where the coil comes off first."""


@dataclass(frozen=True)
class _Work:
    """The instruction of a kit on one machine, for adding up its minutes."""

    known: Catalogue
    machine: Machine
    kit: Kit
    decisions: Sequence[Decision]
    added_up: dict[tuple[str, str], float] = field(default_factory=dict)
    """The minutes of each way that was asked for."""

    def minutes_of(self, effort: Effort) -> float | None:
        """The working time of a remedy as its instruction adds it up; None where no instruction carries it out."""
        if self.known.shared is None or not is_timed(self.known, effort):
            return None
        way = way_of(self.kit, effort)
        if way is None:
            return self._minutes(*PLAIN)
        later = self._service() if effort.fabrication == COIL_OFF else 0.0
        return max(0.0, self._minutes(*way) - self._minutes(*PLAIN)) + later

    def _minutes(self, wall: str, bolts: str) -> float:
        """The whole of it, that way."""
        if (wall, bolts) not in self.added_up:
            self.added_up[wall, bolts] = self._time(self.known.procedures[self.kit.id], wall, bolts)
        return self.added_up[wall, bolts]

    def _service(self) -> float:
        """Taking the coil off and putting it on again once, which somebody does later who needs the bolts."""
        assert self.known.shared is not None
        procedure = self.known.procedures[self.kit.id]
        steps = tuple(Include.model_validate({"include": name}) for name in SERVICE if name in self.known.shared.blocks)
        if not steps or not procedure.phases:
            return 0.0
        phase = procedure.phases[0].model_copy(update={"when": None, "steps": steps})
        return self._time(procedure.model_copy(update={"phases": (phase,)}), "smooth", COIL_OFF)

    def _time(self, procedure: Procedure, wall: str, bolts: str) -> float:
        assert self.known.shared is not None
        facts = facts_of(self.machine, self.kit, {"wall.way": word(wall), "bolts.way": word(bolts)}, self.decisions)
        trimmed = replace(facts, lists={**facts.lists, "boiler.protrusions": _as_if_trimmed(facts)})
        return working_time(procedure, self.known.shared, trimmed)


def _as_if_trimmed(facts: Facts) -> tuple[Item, ...]:
    """Those that are in the way as if they were trimmed; one of them where it is not known which there are."""
    trim = word(Action.TRIM.value)
    items = facts.lists["boiler.protrusions"]
    met = [one for one in items if one.values["action"].value != Action.LEAVE.value] or [*items[:1]]
    made = [replace(one, values={**one.values, "action": trim}) for one in met]
    return tuple(made or [Item("protrusion", "protrusion", {"action": trim}, "protrusion")])
