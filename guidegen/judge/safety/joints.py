"""The joints of a course: which are made or opened, how each is closed, and the one that is found damp.

Which joint drips is known only at the bench. So an act on the damp joint counts as done to each that it may be, with
the tools of all of them, and prints how each is closed: what its own step says. Where water stands at one of them that
no tap lets off, `work.locked` is yes, and it is let off by hand first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from guidegen.judge.acts.sentence import started
from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.facts import Facts, word
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.volumes import volumes_of
from guidegen.language import gettext

DAMP = "damp-joint"
UNION_TURN = "{union_turn}"
"""How far a nut is turned whose ring has gripped once: a stated value of every procedure with such a joint."""


def with_joints(facts: Facts, steps: Iterable[ResolvedStep]) -> Facts:
    """The facts of a course, with the joints that its steps make, open or may disturb; braces in them stay."""
    taken = tuple(steps)
    moved = (name for step in taken for kind, name in (*step.refits, *step.disturbs) if kind == "joints")
    joints = tuple(dict.fromkeys(moved))
    candidates = tuple(name for name in joints if _sealing(facts.things, name) != "gasket")
    closings = _closings(facts.things, taken, candidates)
    named = facts.things.gathered(joints)
    said = replace(word(facts.things.listed(named)), names=facts.things.words(named))
    locked = word("yes" if any(_locks(facts.things, name) for name in candidates) else "no")
    found = facts.having({"work.joints": said, "work.closings": word(closings), "work.locked": locked})
    return replace(found, things=_with_damp(facts.things, taken, candidates))


def _locks(things: Things, name: str) -> bool:
    """Whether water stands at a joint that no tap lets off."""
    path = volumes_of(things)
    volumes = [path.volume([side]) for side in path.sides([name])]
    return any(not path.vents(one) and not path.is_open(one) for one in volumes)


def _with_damp(things: Things, steps: tuple[ResolvedStep, ...], candidates: tuple[str, ...]) -> Things:
    """The things with the damp joint as any of the candidates, and with the tools that close them."""
    damp = things.get(DAMP)
    if damp is None or not candidates:
        return things
    undone, closed = (dict.fromkeys(_tools(steps, candidates, kind)) for kind in ("removes", "refits"))
    added = tuple(tool for tool in closed if tool not in undone)
    joint = replace(damp, members=candidates, tools=tuple(undone) or damp.tools, closed_with=added)
    return things.having({DAMP: joint})


def _tools(steps: tuple[ResolvedStep, ...], joints: tuple[str, ...], moves: str) -> Iterator[str]:
    """What steps take in hand that open these joints, or that close them."""
    for step in steps:
        if {*joints} & {*step.step.names} and (getattr(step, moves) or (moves == "refits" and step.step.torque)):
            yield from step.step.uses.tools


def _closings(things: Things, steps: tuple[ResolvedStep, ...], candidates: tuple[str, ...]) -> str:
    """How each candidate is closed, those that are closed alike together."""
    alike: dict[str, list[str]] = {}
    for name in candidates:
        for how in _how(things.get(name), steps):
            alike.setdefault(how, []).append(name)
    sentence = gettext("{joints}: {how}.")
    return " ".join(
        started(sentence.format(joints=things.listed(things.gathered(names)), how=how)) for how, names in alike.items()
    )


def _how(joint: Thing | None, steps: tuple[ResolvedStep, ...]) -> Iterator[str]:
    if joint is None:
        return
    own = [step.step for step in steps if joint.id in step.step.names]
    torque = next((one.torque.is_ for one in own if one.torque), None)
    turn = next((one.turn for one in own if one.turn), None)
    if joint.sealing == "unknown":
        yield f"{{{joint.facts}.seals}}"  # it asks for what nobody knows, so that the instruction is withheld
    elif joint.sealing == "clamping-ring":
        yield gettext("on the ring that has gripped, by hand and {turn} more").format(turn=UNION_TURN)
    elif torque and joint.sealing == "two-seals":
        yield gettext("on two new seals, to {torque} with the torque wrench").format(torque=torque)
    elif torque:
        yield gettext("on a new seal, to {torque} with the torque wrench").format(torque=torque)
    elif turn:
        yield gettext("on a new seal, by hand and {turn} more").format(turn=turn)


def _sealing(things: Things, name: str) -> str:
    joint = things.get(name)
    return joint.sealing if joint is not None else ""
