"""From what is written to what is judged: a kit's requirements as a tree, a machine's data as facts.

Computed names (`coil.height`) become numbers here, `not` is pushed down to the comparisons, and a kit that remedies an
unmet requirement brings its own requirements along.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from guidegen.judge.comparison import (
    Comparison,
    Connective,
    Known,
    OneOf,
    RequirementError,
    Test,
    Within,
    comparisons_of,
)
from guidegen.judge.fit.explained import wanted as in_words
from guidegen.judge.fit.needed import needed
from guidegen.judge.fit.requirements import Requirements
from guidegen.judge.fit.subject import JudgedKit, JudgedMachine
from guidegen.judge.fit.tree import Condition, Remedy, all_conditions
from guidegen.judge.logic import Interval, Truth, all_of, exact
from guidegen.judge.when import tree_of
from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.workshop import requirements as written
from guidegen.workshop.base import HasPlaces, Loc
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.facts import SURE, Choice, Evidence, Fact
from guidegen.workshop.parts import Part
from guidegen.workshop.questions import Effort, Questions
from guidegen.workshop.when import lines_of

Computed = Mapping[str, Interval]
MINUTES = 60.0
"""Effort of a remedy whose own effort nobody stated; it only ranks."""


def requirements_of(
    kit: JudgedKit,
    kits: Mapping[str, JudgedKit],
    computed: Computed,
    table: FactTable,
    efforts: Questions | None = None,
) -> Requirements:
    """Return what a kit asks of the machine for which `computed` was computed.

    `computed` holds the kit's own computed names as intervals in SI, `coil.height`; those of another kit that may
    serve as a remedy under its id, `banjo-feed:coil.height`. `efforts` say what remedies take.
    """
    return Requirements(_Builder(kits, computed, table, efforts or Questions()).of_kit(kit, "", ()))


def facts_of(machine: JudgedMachine, requirements: Requirements) -> dict[str, Known]:
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


def is_spread(machine: JudgedMachine, path: str) -> bool:
    """Return whether a fact differs from unit to unit of the variant, so that the data cannot answer for one."""
    fact = machine.fact(path)
    return fact is not None and fact.spread


def is_sure(machine: JudgedMachine, path: str, table: FactTable) -> bool:
    """Return whether the evidence of a fact settles what hangs on it: of life and limb nothing that is assumed does."""
    fact = machine.fact(path)
    return fact is None or fact.evidence in SURE or not table.vital(path)


def is_doubted(machine: JudgedMachine, path: str) -> bool:
    """Return whether an owner is better asked than the data: they are assumed, or were found on another variant."""
    fact = machine.fact(path)
    if fact is None or not fact.known:
        return False
    return fact.evidence == "assumed" or (fact.place is not None and _of_another(machine, fact.place.path))


def _of_another(machine: JudgedMachine, path: str) -> bool:
    """Return whether a file is that of another variant; what a family's file says holds for each of its variants."""
    *_, family, name = ("", "", *path.split("/"))
    return name not in ("family.yml", f"{machine.id.removeprefix(f'{family}-')}.yml")


def evidence_of(machine: JudgedMachine, path: str) -> tuple[Evidence | None, str | None]:
    """Return how a fact is known, and its source; None twice where nobody knows it."""
    fact = machine.fact(path)
    return (fact.evidence, fact.source) if fact is not None and (fact.known or fact.spread) else (None, None)


def applies(part: Part, machine: JudgedMachine, table: FactTable, kit: JudgedKit | None = None) -> Truth:
    """Return whether a part is made for this variant, by its `when`; mistakes are reported at their place."""
    conditions = _applicability(kit, part, table, "")
    facts = facts_of(machine, Requirements(conditions))
    return all_of(condition.judge(facts) for condition in conditions)


@dataclass(frozen=True)
class _Place:
    """Where something was written, to report what is wrong with it there."""

    document: HasPlaces | None
    loc: Loc

    def below(self, *more: str | int) -> _Place:
        return _Place(self.document, (*self.loc, *more))

    def error(self, message: str, fix: str = "") -> RequirementError:
        return RequirementError(message, self.document, self.loc, fix)


class _Builder:
    """Builds the conditions of one kit and of every kit that may serve as a remedy."""

    def __init__(self, kits: Mapping[str, JudgedKit], computed: Computed, table: FactTable, efforts: Questions) -> None:
        self._kits, self._computed, self._table, self._efforts = kits, computed, table, efforts

    def of_kit(self, kit: JudgedKit, prefix: str, within: tuple[str, ...]) -> tuple[Condition, ...]:
        """Return the kit's conditions; `within` are the kits for which it serves as a remedy."""
        if kit.id in within:
            ring = " needs ".join((*within[within.index(kit.id) :], kit.id))
            raise RequirementError(f"kits need each other in a ring: {ring}", kit, ("requirements",))
        deeper = (*within, kit.id)
        made = tuple(
            self._condition(requirement, kit, prefix, deeper, _Place(kit, ("requirements", index)))
            for index, requirement in enumerate(kit.requirements)
        )
        if kit.needs is None:
            return made
        return (needed(kit.needs, prefix, self._other_kit(kit.needs, kit, deeper, _Place(kit, ("needs",)))), *made)

    def _condition(
        self, requirement: written.Requirement, kit: JudgedKit, prefix: str, within: tuple[str, ...], place: _Place
    ) -> Condition:
        # Needs of a remedy of the kit's own are about the kit's own coil.
        computed_prefix = "" if kit.id == within[0] else f"{kit.id}:"
        return Condition(
            id=prefix + requirement.id,
            says=requirement.says,
            test=self._test(requirement, computed_prefix, False, place),
            because=requirement.because,
            remedies=tuple(self._remedy(unmet, kit, prefix, within, place) for unmet in requirement.unmet),
            has_already=requirement.has_already,
        )

    def _test(self, node: written.WrittenCondition, prefix: str, negated: bool, place: _Place) -> Test:
        if node.not_ is not None:
            return self._test(node.not_, prefix, not negated, place.below("not"))
        if node.fact is None:
            branch = "all" if node.all_ else "any"
            members = tuple(
                self._test(member, prefix, negated, place.below(branch, index))
                for index, member in enumerate(node.all_ or node.any_)
            )
            kind: Literal["all", "any"] = "all" if bool(node.all_) != negated else "any"
            return Connective(kind, members)
        place = place.below(node.comparison or "fact")
        bound = node.bound(self._table)
        if bound is None:
            raise place.error(f"{node.fact}: nothing to compare with")
        return Comparison(node.fact, self._bound(node, bound, node.fact, prefix, place), negated, bound.computed)

    def _bound(
        self, node: written.WrittenCondition, bound: written.Bound, fact: str, prefix: str, place: _Place
    ) -> Within | OneOf:
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
        dimension = self._table[fact].dimension or ""
        margin = exact(bound.margin)
        if node.comparison == "at_least":
            return Within(dimension, lowest=limit.moved(margin))
        return Within(dimension, highest=limit.moved(-margin))

    def _remedy(
        self, unmet: written.Unmet, kit: JudgedKit, prefix: str, within: tuple[str, ...], place: _Place
    ) -> Remedy:
        if unmet.kit is not None:
            return self._other_kit(unmet.kit, kit, within, place)
        kind: Literal["part", "fabrication"] = "part" if unmet.part is not None else "fabrication"
        name = unmet.part or unmet.fabrication or ""
        part = next((part for part in kit.parts if part.id == name), None)
        needs = _applicability(kit, part, self._table, prefix) if part is not None else ()
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

    def _other_kit(self, name: str, kit: JudgedKit, within: tuple[str, ...], place: _Place) -> Remedy:
        other = self._kits.get(name)
        if other is None:
            raise place.below("unmet").error(f"kit {kit.id} names kit {name} as a remedy, which does not exist")
        effort = self._efforts.effort(name)
        minutes = MINUTES if effort is None or effort.minutes is None else effort.minutes
        cuts = effort is not None and effort.cuts
        needs = self.of_kit(other, f"{name}/", within)
        return Remedy(f"kit:{name}", "kit", other.name, minutes, cuts, other.mains_work, needs)


def _applicability(kit: JudgedKit | None, part: Part, table: FactTable, prefix: str) -> tuple[Condition, ...]:
    """Return for which machines a part is made, from its `when`, line by line.

    What is chosen for a guide says nothing about the machine; a line that asks it is left out.
    """
    loc: Loc = ("parts", kit.parts.index(part), "when") if kit is not None else ()
    return tuple(
        Condition(
            id=f"{prefix}{part.id}/{name.replace('.', '-')}",
            test=(test := tree_of({name: wanted}, lambda fact: table[fact].dimension, kit, loc)),
            says=_made_for(part, name, wanted, test, table),
        )
        for name, wanted in (part.when or {}).items()
        if not any(fact in table.chosen for _, fact, _ in lines_of({name: wanted}))
    )


def _made_for(part: Part, name: str, wanted: Any, test: Test, table: FactTable) -> str:
    """Return for what a part is made: the values as they are written, else the whole test in words."""
    if name in ("any", "all", "not") or not _is_values(wanted):
        return f"{part.name}: {in_words(test, table)}"
    words = gettext("{part}: {fact} is {words}")
    return words.format(part=part.name, fact=_title(name, table), words=_in_words(wanted))


def _is_values(wanted: Any) -> bool:
    """Return whether a line lists values that are wanted, or not wanted."""
    if isinstance(wanted, Mapping):
        return set(wanted) == {"not"} and _is_values(wanted["not"])
    return isinstance(wanted, str) or all(isinstance(one, str) for one in wanted)


def _in_words(wanted: Any) -> str:
    if isinstance(wanted, Mapping):
        return gettext("not {words}").format(words=_in_words(wanted["not"]))
    return gettext(" or ").join(choice(str(one)) for one in _listed(wanted))


def _listed(wanted: Any) -> tuple[Any, ...]:
    return tuple(wanted) if isinstance(wanted, tuple | list) else (wanted,)


def _title(fact: str, table: FactTable) -> str:
    kind = table[fact]
    return table.title(fact) if kind.spec is not None else fact.rsplit(".", 1)[-1]
