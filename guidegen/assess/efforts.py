"""What remedies take: minutes from the instruction that carries them out, so that fit and guide cannot differ.

A remedy that is a kit takes what its own instruction takes on this machine. One that the program knows a way for
takes what the instruction takes more that way than without. All others take what content/questions.yml says.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from guidegen.assess.adapt import facts_of
from guidegen.assess.fitted_first import questions_of
from guidegen.judge.safety.facts import Facts, Item, word
from guidegen.judge.safety.resolve import working_time
from guidegen.language import gettext, marked
from guidegen.trade import Catalogue
from guidegen.trade.access import COIL_OFF
from guidegen.trade.cutting import TRIM, Action, Decision
from guidegen.trade.kit import Kit
from guidegen.trade.known_remedies import PLAIN, USUAL, is_timed, way_of
from guidegen.trade.machine import Machine
from guidegen.trade.paths import SEAL_KEEPS, VALVE_MOVES, known_facts
from guidegen.trade.water_path import MOVE_VALVE
from guidegen.workshop.entries import Include
from guidegen.workshop.procedures import Procedure
from guidegen.workshop.questions import Effort, Questions
from guidegen.workshop.requirements import Requirement

MINUTES = 60.0
"""Where neither an instruction nor content/questions.yml says it; it only ranks."""


def priced(known: Catalogue, machine: Machine, kit: Kit, decisions: Sequence[Decision]) -> Questions:
    """The questions with the effort of every remedy that the kit may call for on this machine."""
    asked = questions_of(known)
    called = {one.id: one for one in _called_for(known, kit, ())}
    work = {name: _Work(known, machine, one, decisions) for name, one in called.items()}
    made = [_priced(one, work[one.kit].minutes_of(one)) if one.kit in work else one
            for one in _all_efforts(asked, kit)]  # fmt: skip
    return asked.model_copy(update={"remedies": tuple(made)})


def unpriced(known: Catalogue, kit: Kit) -> Questions:
    """The same without minutes, which take a second and decide no verdict."""
    asked = questions_of(known)
    called = {one.id for one in _called_for(known, kit, ())}
    made = [_priced(one, None) if one.kit in called else one for one in _all_efforts(asked, kit)]
    return asked.model_copy(update={"remedies": tuple(made)})


def _called_for(known: Catalogue, kit: Kit, above: tuple[str, ...]) -> Iterator[Kit]:
    """The kit and every kit that may serve as a remedy for it, or for one of those."""
    yield kit
    for name in kit.called_for:
        other = known.kits.get(name)
        if other is not None and other.id not in (*above, kit.id):
            yield from _called_for(known, other, (*above, kit.id))


def _all_efforts(asked: Questions, kit: Kit) -> Iterator[Effort]:
    """What is stated, and work whose needs the program says, whether it is stated or not."""
    yield from asked.remedies
    called = {way.fabrication for one in kit.requirements for way in one.unmet}
    for name in NEEDS:
        if name in called and asked.effort(kit.id, None, name) is None:
            yield Effort(kit=kit.id, fabrication=name, minutes=MINUTES)


def _priced(effort: Effort, minutes: float | None) -> Effort:
    changes: dict[str, object] = {}
    if minutes is not None:
        changes["minutes"] = minutes
    if effort.fabrication in NEEDS:
        changes["needs"] = (*effort.needs, _need(*NEEDS[effort.fabrication]))
    if effort.fabrication == TRIM:
        changes["cuts"] = True
    return effort.model_copy(update=changes)


NEEDS = {
    TRIM: (
        "can-be-trimmed",
        "protrusions.trimmable",
        marked("Everything in the coil's way has been measured, carries nothing, and leaves enough metal."),
        marked("A cut cannot be undone. What is not known is not cut."),
    ),
    MOVE_VALVE: (
        "can-be-moved",
        VALVE_MOVES,
        marked("The check valve has joints of its own, so that it can be moved."),
        marked("A valve that is part of a pump or a block stays where it is."),
    ),
    COIL_OFF: (
        "gasket-keeps",
        SEAL_KEEPS,
        marked("The boiler's gasket does not settle, so its bolts are tightened once, before the coil goes on."),
        marked("A gasket that settles is tightened again after the first heat, and the coil then covers the bolts."),
    ),
}
"""What the program asks of work that a kit's requirement names: id and fact of the need, its words, and why."""


def _need(name: str, fact: str, says: str, because: str) -> Requirement:
    words = {"id": name, "says": gettext(says), "because": gettext(because), "fact": fact, "is": "yes"}
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
    added_up: dict[tuple[tuple[str, str], ...], float] = field(default_factory=dict)
    """The minutes of each way that was asked for."""

    def minutes_of(self, effort: Effort) -> float | None:
        """The working time of a remedy as its instruction adds it up; None where no instruction carries it out."""
        if self.known.shared is None or not is_timed(self.known, effort):
            return None
        way = way_of(self.kit, effort)
        if way is None:
            return self._minutes(PLAIN)
        later = self._service() if effort.fabrication == COIL_OFF else 0.0
        return max(0.0, self._minutes({**USUAL, **way}) - self._minutes(USUAL)) + later

    def _minutes(self, ways: Mapping[str, str]) -> float:
        """The whole of it, these ways."""
        key = tuple(ways.items())
        if key not in self.added_up:
            self.added_up[key] = self._time(self.known.procedures[self.kit.id], ways)
        return self.added_up[key]

    def _service(self) -> float:
        """Taking the coil off and putting it on again once, which somebody does later who needs the bolts."""
        assert self.known.shared is not None
        procedure = self.known.procedures[self.kit.id]
        steps = tuple(Include.model_validate({"include": name}) for name in SERVICE if name in self.known.shared.blocks)
        if not steps or not procedure.phases:
            return 0.0
        phase = procedure.phases[0].model_copy(update={"when": None, "steps": steps})
        return self._time(procedure.model_copy(update={"phases": (phase,)}), {**PLAIN, "bolts.way": COIL_OFF})

    def _time(self, procedure: Procedure, ways: Mapping[str, str]) -> float:
        assert self.known.shared is not None
        chosen = {name: word(way) for name, way in ways.items()}
        first = self.known.first(self.kit.id)
        facts = facts_of(self.machine, self.kit, chosen, self.decisions, self.known.acts, first)
        trimmed = replace(facts, lists={**facts.lists, "boiler.protrusions": _as_if_trimmed(facts)})
        return working_time(procedure, self.known.shared, trimmed)


def _as_if_trimmed(facts: Facts) -> tuple[Item, ...]:
    """Those that are in the way as if they were trimmed; one of them where it is not known which there are."""
    trim = word(Action.TRIM.value)
    items = facts.lists["boiler.protrusions"]
    met = [one for one in items if one.values["action"].value != Action.LEAVE.value] or [*items[:1]]
    made = [replace(one, values={**one.values, "action": trim}) for one in met]
    return tuple(made or [Item("protrusion", "protrusion", {"action": trim}, "protrusion")])
