"""What remedies take: minutes from the instruction that carries them out, so that fit and guide cannot differ.

A remedy that is a kit takes what its own instruction takes on this machine. One that the program knows a way for
takes what the instruction takes more that way than without. All others take what content/questions.yml says.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

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
from guidegen.workshop.procedures import Procedure, SharedBlocks
from guidegen.workshop.questions import Effort, Questions
from guidegen.workshop.requirements import Requirement
from guidegen.workshop.rows import OwnActs

MINUTES = 60.0
"""Where neither an instruction nor content/questions.yml says it; it only ranks."""


def priced(known: Catalogue, machine: Machine, kit: Kit, decisions: Sequence[Decision]) -> Questions:
    """The questions with the effort of every remedy that the kit may call for on this machine."""
    asked = known.questions or Questions()
    wanted = {one.id for one in _called_for(known, kit, ())}
    made = [_priced(known, machine, one, decisions) if one.kit in wanted else one for one in _all_efforts(asked, kit)]
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


def _priced(known: Catalogue, machine: Machine, effort: Effort, decisions: Sequence[Decision]) -> Effort:
    changes: dict[str, object] = {}
    minutes = minutes_of(known, machine, effort, decisions)
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


def minutes_of(known: Catalogue, machine: Machine, effort: Effort, decisions: Sequence[Decision]) -> float | None:
    """The working time of a remedy as its instruction adds it up; None where no instruction carries it out."""
    kit = known.kits.get(effort.kit)
    if kit is None or known.shared is None or not is_timed(known, effort):
        return None
    work = _Work(known.procedures[kit.id], known.shared, machine, kit, decisions, known.acts)
    way = way_of(kit, effort)
    if way is None:
        return work.minutes(*PLAIN)
    later = work.service() if effort.fabrication == COIL_OFF else 0.0
    return max(0.0, work.minutes(*way) - work.minutes(*PLAIN)) + later


SERVICE = ("coil-off", "coil-on")
"""The shared blocks of steps that whoever gets at the bolts later goes through, where the coil comes off first."""


@dataclass(frozen=True)
class _Work:
    """The instruction of a kit on one machine, for adding up its minutes."""

    procedure: Procedure
    shared: SharedBlocks
    machine: Machine
    kit: Kit
    decisions: Sequence[Decision]
    acts: OwnActs | None

    def minutes(self, wall: str, bolts: str) -> float:
        """The whole of it, that way."""
        return working_time(self.procedure, self.shared, self._facts(wall, bolts))

    def service(self) -> float:
        """Taking the coil off and putting it on again once, which somebody does later who needs the bolts."""
        blocks = [name for name in SERVICE if name in self.shared.blocks]
        steps = tuple(Include.model_validate({"include": name}) for name in blocks)
        if not steps or not self.procedure.phases:
            return 0.0
        phase = self.procedure.phases[0].model_copy(update={"when": None, "steps": steps})
        once = self.procedure.model_copy(update={"phases": (phase,)})
        return working_time(once, self.shared, self._facts("smooth", COIL_OFF))

    def _facts(self, wall: str, bolts: str) -> Facts:
        ways = {"wall.way": word(wall), "bolts.way": word(bolts)}
        facts = facts_of(self.machine, self.kit, ways, self.decisions, self.acts)
        return replace(facts, lists={**facts.lists, "boiler.protrusions": _as_if_trimmed(facts)})


def _as_if_trimmed(facts: Facts) -> tuple[Item, ...]:
    """Those that are in the way as if they were trimmed; one of them where it is not known which there are."""
    trim = word(Action.TRIM.value)
    items = facts.lists["boiler.protrusions"]
    met = [one for one in items if one.values["action"].value != Action.LEAVE.value] or [*items[:1]]
    made = [Item(one.id, one.name, {**one.values, "action": trim}) for one in met]
    return tuple(made or [Item("protrusion", "protrusion", {"action": trim})])
