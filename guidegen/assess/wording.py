"""The words of a pair's numbers, in the workshop's language: made anew for every record, whatever numbers were kept."""

from __future__ import annotations

from collections.abc import Mapping

from guidegen.assess.numbers import Numbers
from guidegen.assess.reasons import described
from guidegen.language import gettext, ngettext
from guidegen.record.computed import Budget, Energy, WarmUp
from guidegen.record.drinks import Drink
from guidegen.trade import Catalogue


def worded(numbers: Numbers, known: Catalogue, names: Mapping[str, str]) -> Numbers:
    """The numbers with every name, usage and reason in them; `names` are those of the budget's parts."""
    plain = described(numbers)
    return plain.model_copy(
        update={
            "budget": _budget(plain.budget, names),
            "drinks": _drinks(plain.drinks, known),
            "warm_up": _warm_up(plain.warm_up),
            "energy": _energy(plain.energy, known),
        }
    )


def _budget(budget: Budget, names: Mapping[str, str]) -> Budget:
    parts = tuple(one.model_copy(update={"name": names[one.id]}) for one in budget.parts)
    return budget.model_copy(update={"parts": parts})


def _drinks(drinks: dict[str, Drink], known: Catalogue) -> dict[str, Drink]:
    names = {one.id: one.name for one in known.drinks.drinks}
    return {name: one.model_copy(update={"name": names[name]}) for name, one in drinks.items()}


def _warm_up(warm_up: WarmUp) -> WarmUp:
    return warm_up.model_copy(update={"added_means": gettext(warm_up.added_means)})


def _energy(energy: Energy, known: Catalogue) -> Energy:
    return energy.model_copy(update={"usage": usage_words(known), "currency": known.workshop.currency})


def usage_words(known: Catalogue) -> str:
    """The usage that day energy stands for, in words."""
    usage = known.workshop.usage
    names = {one.id: one.name for one in known.drinks.drinks}
    pulled = ", ".join(names[name] for name in usage.drinks)
    words = ngettext(
        "once a day from cold, on for {time}, drinks: {drinks}",
        "{count} times a day from cold, on for {time}, drinks: {drinks}",
        usage.sessions_per_day,
    )
    return words.format(count=usage.sessions_per_day, time=usage.on_for.text, drinks=pulled or gettext("none"))
