"""Two kits on one machine: in which order, what need not be done twice, who comes how often, and the way back.

Everything follows from the two instructions as they are resolved for the machine, each for a machine without the other
kit, or with it where it needs what that one brought. Nothing is left out of the second but what the walk over its
steps shows to be so already.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import reduce
from itertools import combinations
from typing import Any

from guidegen.assess import leaning
from guidegen.assess.guiding import kits_before, made_guide
from guidegen.assess.verdict import standing
from guidegen.judge.safety.flow import Run, run
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import Course, ResolvedStep
from guidegen.judge.safety.rules.base import moves_leads, opens
from guidegen.judge.safety.state import join
from guidegen.judge.safety.visits import visits
from guidegen.language import gettext, marked
from guidegen.record.together import Because, LeftOut, Together, Visits
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine

GOES_ON = ("fits", "fits-with-conditions")
EARTH = marked("Its step {number} opens the machine: earth test and signature of the first no longer count.")
WATER = marked("Its step {number} opens a joint: the leak tests of the first no longer count.")
"""What a later instruction undoes of an earlier one."""
CARRIED = ("mains", "temperature", "pressure", "water", "enclosure", "earth", "leak", "primed")
"""What of the state at the end of the first instruction the second begins with."""


@dataclass(frozen=True)
class _Side:
    """A kit on this machine, with its guide and the kits that it needs there first."""

    kit: Kit
    guide: Guide
    first: tuple[Kit, ...]

    @property
    def fitting(self) -> Course:
        return self.guide.resolved.fitting


def together(known: Catalogue, machine: Machine) -> dict[str, tuple[Together, ...]]:
    """By kit, what there is to say of each other that fits this machine as well."""
    sides = [side for kit in known.kits.values() if (side := _side(known, machine, kit)) is not None]
    found: dict[str, tuple[Together, ...]] = {}
    for one, two in combinations(sides, 2):
        made = _pair(known, machine, one, two)
        for own, other in ((one.kit, two.kit), (two.kit, one.kit)):
            named = made.model_copy(update={"other": other.id, "other_name": other.name})
            found[own.id] = (*found.get(own.id, ()), named)
    return found


def _side(known: Catalogue, machine: Machine, kit: Kit) -> _Side | None:
    stands = standing(known, machine, kit)
    if stands.fit.outcome not in GOES_ON:
        return None
    guide = made_guide(known, machine, kit, stands.fit, stands, {}, "")
    if guide is None or any(course.undecided for course in guide.resolved.courses):
        return None
    return _Side(kit, guide, kits_before(known, kit, stands.fit))


def _pair(known: Catalogue, machine: Machine, one: _Side, two: _Side) -> Together:
    other = two.kit
    ways = [way for way in ((one, two), (two, one)) if _follows(known, machine, *way)]
    if not ways:
        says = gettext("Not with these instructions: whichever comes second expects the machine's own parts where the "
                       "other has put its own.")  # fmt: skip
        because = gettext("Ask the workshop before you order the {one} and the {two} for one machine.")
        order = Because(says=says, because=because.format(one=one.kit.name, two=two.kit.name))
        return Together(other=other.id, other_name=other.name, first=None, second=None, order=order)
    first, second = next((way for way in ways if way[0].kit in way[1].first), ways[0])
    left_out, undone = _again(first.guide, second.guide)
    return Together(
        other=other.id,
        other_name=other.name,
        first=first.kit.id,
        second=second.kit.id,
        order=_order(first, second, len(ways) > 1),
        left_out=left_out,
        undone=undone,
        visits=_visits(first.fitting, second.fitting),
        computed_as=_computed_as(first.kit, second.kit),
        off=_off(first, second, len(ways) > 1),
    )


def _follows(known: Catalogue, machine: Machine, first: _Side, second: _Side) -> bool:
    """Whether the second instruction can be followed as it is written on a machine that has the first kit."""
    if first.kit in second.first or leaning.described(machine, first.kit):
        return True
    gone = {name for _, name in first.fitting.taken_for_good}
    named = {name for step in second.fitting.steps for name in step.step.names}
    near = [known.kits[name] for name in second.guide.resolved.near]
    return first.kit not in near and gone.isdisjoint(named)


def _order(first: _Side, second: _Side, either: bool) -> Because:
    names = {"first": first.kit.name, "second": second.kit.name}
    because = gettext("The other way round, the {first} would expect the machine's own parts where the {second} has "
                      "put its own.")  # fmt: skip
    if first.kit in second.first:
        because = gettext("The {second} needs what the {first} brings.")
    elif either:
        because = gettext("Neither needs the other; the other order will do too.")
    says = gettext("First the {first}, by its whole instruction, then the {second}.")
    return Because(says=says.format(**names), because=because.format(**names))


def _off(first: _Side, second: _Side, either: bool) -> Because:
    names = {"first": first.kit.name, "second": second.kit.name}
    says = gettext("First the {second}, then the {first}, each by its own restoring instruction.")
    because = gettext("What went on last comes off first.")
    if either:
        because = gettext("Neither needs the other, so either may come off alone.")
    return Because(says=says.format(**names), because=because)


def _again(first: Guide, second: Guide) -> tuple[tuple[LeftOut, ...], tuple[str, ...]]:
    """The steps of the second that change nothing any more, in every case, and what it undoes of the first."""
    left = reduce(join, (one.after[edge.source] for one in first.fitting_runs for edge in one.ends()))
    course = second.resolved.fitting
    start: dict[str, Any] = {name: left.get(name) for name in CARRIED}
    course = replace(course, start=replace(course.start, **start))
    walked = [run(course, case, one.path) for case, one in enumerate(second.fitting_runs)]
    steps = [step for step in course.steps if any(step.key in one.before for one in walked)]
    done = tuple(LeftOut(number=one.number, do=one.step.do) for one in steps if _is_done(one, walked))
    tests = ((EARTH, lambda one: opens(one) or moves_leads(one)), (WATER, opens_joint))
    firsts = ((words, next(filter(test, course.steps), None)) for words, test in tests)
    return done, tuple(gettext(words).format(number=one.number) for words, one in firsts if one is not None)


def _is_done(step: ResolvedStep, walked: list[Run]) -> bool:
    """Whether all that a step is for is so before it: it sets values, and neither tests nor touches anything."""
    one = step.step
    does = (one.hold, one.hazards, one.isolate, one.removes, one.refits, one.disturbs, one.acts, one.touches, one.cut,
            one.records, one.order.puts, one.order.takes, one.order.leaves)  # fmt: skip
    before = [made.before[step.key] for made in walked if step.key in made.before]
    return (
        bool(one.sets)
        and not any(does)
        and all(state.holds(name, value) for state in before for name, value in one.sets.items())
    )


def _visits(first: Course, second: Course) -> Visits:
    both = replace(first, phases=(*first.phases, *second.phases))
    return Visits(each=(len(visits(first)), len(visits(second))), both=len(visits(both)))


def _computed_as(first: Kit, second: Kit) -> str | None:
    """The kit whose figures are those of both: the other one changes nothing that is computed."""
    idle = [kit for kit in (first, second) if all(one.kind == "none" for one in kit.effects)]
    acting = [kit for kit in (second, first) if kit not in idle]
    return (acting or [first])[0].id if idle else None


def opens_joint(step: ResolvedStep) -> bool:
    """Whether a step opens a joint, makes one, or may have."""
    return any(kind == "joints" for kind, _ in (*step.removes, *step.refits, *step.disturbs))
