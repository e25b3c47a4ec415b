"""From the catalogue to what is judged: a kit's requirements as a tree, a machine's data as facts.

Computed names (`coil.height`) become numbers here, `not` is pushed down to the comparisons, and a kit that mends an
unmet requirement brings its own requirements along.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from guidegen.judge.fit.logic import Interval, Truth, all_of, exact
from guidegen.judge.fit.requirements import Requirements
from guidegen.judge.fit.tree import (
    Comparison,
    Condition,
    Facts,
    Group,
    Known,
    OneOf,
    Remedy,
    RequirementError,
    Test,
    Within,
    all_conditions,
    comparisons_of,
)
from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.trade.kit import Kit, Part
from guidegen.trade.machine import Machine
from guidegen.trade.paths import CHOSEN, known_facts
from guidegen.units import UnitError, parse
from guidegen.workshop import requirements as written
from guidegen.workshop.base import Document, Loc
from guidegen.workshop.fields import Choice, Fact
from guidegen.workshop.questions import Effort, Questions

Computed = Mapping[str, Interval]
MINUTES = 60.0
"""Effort of a remedy whose own effort nobody stated; it only ranks."""


def requirements_of(
    kit: Kit, kits: Mapping[str, Kit], computed: Computed, efforts: Questions | None = None
) -> Requirements:
    """Return what a kit asks of the machine for which `computed` was computed.

    `computed` holds the kit's own computed names as intervals in SI, `coil.height`; those of another kit that may
    serve as a remedy under its id, `banjo-feed:coil.height`. `efforts` say what remedies take.
    """
    return Requirements(_Builder(kits, computed, efforts or Questions()).of_kit(kit, "", ()))


def facts_of(machine: Machine, requirements: Requirements) -> dict[str, Known]:
    """Return what the variant's data know of the facts that the requirements ask for.

    What is unknown stays out. Of a fact that differs from unit to unit the listed possibilities count, all of them.
    """
    paths = {
        comparison.fact
        for condition in all_conditions(requirements.roots)
        for comparison in comparisons_of(condition.test)
    }
    found = {path: known_of(machine.fact(path)) for path in sorted(paths)}
    return {path: known for path, known in found.items() if known is not None}


def known_of(fact: Fact | Choice | None) -> Known | None:
    """Return what a fact of the catalogue says; None where it says nothing."""
    if isinstance(fact, Choice):
        if fact.known and fact.word is not None:
            return frozenset({fact.word})
        return frozenset(fact.options) or None
    if isinstance(fact, Fact):
        if fact.known and fact.quantity is not None:
            return Interval.between(fact.low, fact.high)
        if fact.options:
            low, high = min(option.low for option in fact.options), max(option.high for option in fact.options)
            return Interval.between(low, high)
    return None


def judged_facts(machine: Machine, requirements: Requirements) -> Facts:
    """Return the facts that the variant's data settle: known, and the same on every unit."""
    known = facts_of(machine, requirements)
    return {path: value for path, value in known.items() if not is_spread(machine, path)}


def is_spread(machine: Machine, path: str) -> bool:
    """Return whether a fact differs from unit to unit of the variant, so that the data cannot answer for one."""
    fact = machine.fact(path)
    return fact is not None and fact.spread


def applies(part: Part, machine: Machine, kit: Kit | None = None) -> Truth:
    """Return whether a part is made for this variant, by its `when`; a mistake is told with its place in the kit."""
    conditions = _applicability(kit, part, "")
    facts = facts_of(machine, Requirements(conditions))
    return all_of(condition.judge(facts) for condition in conditions)


@dataclass(frozen=True)
class _Place:
    """Where something was written, to be told with what is wrong with it."""

    document: Document | None
    loc: Loc

    def below(self, *more: str | int) -> _Place:
        return _Place(self.document, (*self.loc, *more))

    def error(self, message: str, fix: str = "") -> RequirementError:
        return RequirementError(message, self.document, self.loc, fix)


class _Builder:
    """Builds the conditions of one kit and of every kit that may serve as a remedy."""

    def __init__(self, kits: Mapping[str, Kit], computed: Computed, efforts: Questions) -> None:
        self._kits, self._computed, self._efforts = kits, computed, efforts

    def of_kit(self, kit: Kit, prefix: str, within: tuple[str, ...]) -> tuple[Condition, ...]:
        """Return the kit's conditions; `within` are the kits for which it serves as a remedy."""
        if kit.id in within:
            ring = " needs ".join((*within[within.index(kit.id) :], kit.id))
            raise RequirementError(f"kits need each other in a ring: {ring}", kit, ("requirements",))
        deeper = (*within, kit.id)
        return tuple(
            self._condition(requirement, kit, prefix, deeper, _Place(kit, ("requirements", index)))
            for index, requirement in enumerate(kit.requirements)
        )

    def _condition(
        self, requirement: written.Requirement, kit: Kit, prefix: str, within: tuple[str, ...], place: _Place
    ) -> Condition:
        # Needs of a remedy of the kit's own are about the kit's own coil.
        computed_prefix = "" if kit.id == within[0] else f"{kit.id}:"
        return Condition(
            id=prefix + requirement.id,
            says=requirement.says,
            test=self._test(requirement, computed_prefix, False, place),
            because=requirement.because,
            remedies=tuple(self._remedy(unmet, kit, prefix, within, place) for unmet in requirement.unmet),
        )

    def _test(self, node: written.Condition, prefix: str, negated: bool, place: _Place) -> Test:
        if node.not_ is not None:
            return self._test(node.not_, prefix, not negated, place.below("not"))
        if node.fact is None:
            branch = "all" if node.all_ else "any"
            members = tuple(
                self._test(member, prefix, negated, place.below(branch, index))
                for index, member in enumerate(node.all_ or node.any_)
            )
            kind: Literal["all", "any"] = "all" if bool(node.all_) != negated else "any"
            return Group(kind, members)
        place = place.below(node.comparison or "fact")
        return Comparison(node.fact, self._bound(node, node.fact, prefix, place), negated)

    def _bound(self, node: written.Condition, fact: str, prefix: str, place: _Place) -> Within | OneOf:
        bound = node.bound()
        if bound is None:
            raise place.error(f"{fact}: nothing to compare with")
        if bound.words:
            return OneOf(frozenset(bound.words))
        if bound.computed is not None:
            limit = self._computed.get(prefix + bound.computed)
            if limit is None:
                message = f"{fact} is compared with {bound.computed}, which was not computed"
                lacks = "a key to a tool or part" if bound.computed.startswith("bolts.") else "the kit a feed_coil"
                raise place.error(message, f"give {lacks}, or compare with a quantity")
        elif bound.quantity is not None:
            limit = Interval.around(bound.quantity.value, bound.quantity.plus_minus)
        else:
            raise place.error(f"{fact}: nothing to compare with")
        dimension = known_facts()[fact].dimension or ""
        margin = exact(bound.margin)
        if node.comparison == "at_least":
            return Within(dimension, lowest=limit.moved(margin))
        return Within(dimension, highest=limit.moved(-margin))

    def _remedy(self, unmet: written.Unmet, kit: Kit, prefix: str, within: tuple[str, ...], place: _Place) -> Remedy:
        if unmet.kit is not None:
            return self._other_kit(unmet.kit, kit, within, place)
        kind: Literal["part", "fabrication"] = "part" if unmet.part is not None else "fabrication"
        name = unmet.part or unmet.fabrication or ""
        part = next((part for part in kit.parts if part.id == name), None)
        needs = _applicability(kit, part, prefix) if part is not None else ()
        effort = self._efforts.effort(kit.id, unmet.part, unmet.fabrication)
        if effort is None:
            title = part.name if part is not None else name.replace("-", " ")
            return Remedy(f"{kind}:{prefix}{name}", kind, title, MINUTES, kind == "fabrication", needs=needs)
        needs += tuple(
            self._condition(need, kit, f"{prefix}{name}/", within, self._place_of(effort).below("needs", index))
            for index, need in enumerate(effort.needs)
        )
        title = effort.name or (part.name if part is not None else name.replace("-", " "))
        minutes = MINUTES if effort.minutes is None else effort.minutes
        return Remedy(f"{kind}:{prefix}{name}", kind, title, minutes, effort.cuts, effort.mains_work, needs)

    def _place_of(self, effort: Effort) -> _Place:
        return _Place(self._efforts, ("remedies", self._efforts.remedies.index(effort)))

    def _other_kit(self, name: str, kit: Kit, within: tuple[str, ...], place: _Place) -> Remedy:
        other = self._kits.get(name)
        if other is None:
            raise place.below("unmet").error(f"kit {kit.id} is mended by kit {name}, which does not exist")
        effort = self._efforts.effort(name)
        minutes = MINUTES if effort is None or effort.minutes is None else effort.minutes
        cuts = effort is not None and effort.cuts
        mains_work = any(effect.kind in ("set_control", "set_heater") for effect in other.effects)
        return Remedy(
            f"kit:{name}", "kit", other.name, minutes, cuts, mains_work, self.of_kit(other, f"{name}/", within)
        )


def _applicability(kit: Kit | None, part: Part, prefix: str) -> tuple[Condition, ...]:
    """Return for which machines a part is made, from its `when`: a fact and the value, or one of the values.

    What is chosen for a guide says nothing about the machine and is left out.
    """
    place = _Place(kit, ("parts", kit.parts.index(part), "when") if kit is not None else ())
    return tuple(
        Condition(
            id=f"{prefix}{part.id}/{fact.replace('.', '-')}",
            test=_one_of(fact, wanted, place.below(fact)),
            says=gettext("{part}: {fact} is {words}").format(
                part=part.name, fact=_title(fact), words=_in_words(wanted)
            ),
        )
        for fact, wanted in (part.when or {}).items()
        if fact not in CHOSEN
    )


def _one_of(fact: str, wanted: Any, place: _Place) -> Test:
    """Return the test behind `value`, `[values]` or `{not: value or values}`."""
    if isinstance(wanted, Mapping):
        if set(wanted) != {"not"}:
            raise place.error("a mapping here has the one key not", "write {not: value}")
        return Group("all", tuple(_equal(fact, str(one), place, negated=True) for one in _listed(wanted["not"])))
    return Group("any", tuple(_equal(fact, str(one), place) for one in _listed(wanted)))


def _in_words(wanted: Any) -> str:
    if isinstance(wanted, Mapping):
        return gettext("not {words}").format(words=_in_words(wanted["not"]))
    return gettext(" or ").join(choice(str(one)) for one in _listed(wanted))


def _equal(fact: str, wanted: str, place: _Place, negated: bool = False) -> Comparison:
    field = known_facts().get(fact)
    if field is None:
        raise place.error(f"no machine has a fact {fact}")
    if field.dimension is None:
        return Comparison(fact, OneOf(frozenset({wanted})), negated)
    try:
        value = parse(wanted, field.dimension)
    except UnitError as error:
        raise place.error(error.message, error.fix) from None
    low, high = Interval.around(value.low), Interval.around(value.high)
    return Comparison(fact, Within(field.dimension, lowest=low, highest=high), negated)


def _listed(wanted: Any) -> tuple[Any, ...]:
    return tuple(wanted) if isinstance(wanted, tuple | list) else (wanted,)


def _title(fact: str) -> str:
    field = known_facts().get(fact)
    title = gettext(field.spec.title) if field is not None and field.spec is not None else fact.rsplit(".", 1)[-1]
    return title[:1].lower() + title[1:]
