"""Which facts can be asked of what a workshop describes: a name, and what stands behind it.

Whoever knows the models makes the table; everything that asks or judges a fact knows it by its name in here. A
requirement is validated against the table in the context of the validation (`FactTable.of`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationInfo

from guidegen.language import gettext
from guidegen.workshop.facts import Spec


@dataclass(frozen=True)
class FactKind:
    """What stands behind a name: a quantity of a dimension, or one of some words (any word where none are listed)."""

    dimension: str | None
    words: tuple[str, ...]
    spec: Spec | None


class FactTable(Mapping[str, FactKind]):
    """Every name that can be asked, with its kind.

    `computed` are names that a fact may be compared with, with their dimension. `chosen` are names that a `when:` may
    ask besides: what was chosen for the guide at hand, not what the machine is. `follows` are, of names that are worked
    out, the places of the machine that they follow from; a name with a dot at its end stands for all that begin so.
    `unread` is how names begin whose declaration cannot be read, so that nobody knows which there are.
    """

    def __init__(
        self,
        kinds: Mapping[str, FactKind],
        computed: Mapping[str, str] | None = None,
        chosen: tuple[str, ...] = (),
        follows: Mapping[str, tuple[str, ...]] | None = None,
        unread: str = "",
    ) -> None:
        """Keep the names."""
        self.unread = unread
        self._kinds, self.computed, self.chosen = dict(kinds), dict(computed or {}), chosen
        self._follows = dict(follows or {})

    def __getitem__(self, name: str) -> FactKind:
        """Return what stands behind a name."""
        return self._kinds[name]

    def __iter__(self) -> Iterator[str]:
        """Yield the names in the order of the model."""
        return iter(self._kinds)

    def __len__(self) -> int:
        """Return how many names there are."""
        return len(self._kinds)

    def dimension(self, name: str) -> str | None:
        """Return the dimension of a quantity; None of a word, and of a name that is not in the table."""
        kind = self.get(name)
        return kind.dimension if kind is not None else None

    def title(self, name: str) -> str:
        """Return what pages call a fact, starting small so that it stands in a sentence."""
        kind = self.get(name)
        if kind is None or kind.spec is None:
            return name.replace(".", " ").replace("_", " ")
        text = gettext(kind.spec.title)
        return text[:1].lower() + text[1:]

    def vital(self, name: str) -> bool:
        """Return whether life and limb hang on a fact, so that only sure evidence settles it."""
        kind = self.get(name)
        return kind is not None and kind.spec is not None and kind.spec.vital

    def within(self, name: str, place: str) -> bool:
        """Return whether a name says something of a place: it lies under it, or is worked out from what may.

        >>> table = FactTable({}, follows={"coil.": ("boiler.diameter",)})
        >>> table.within("boiler.diameter", "boiler"), table.within("coil.height", "boiler")
        (True, True)
        >>> table.within("boiler.diameter", "boil"), table.within("coil.height", "boiler.wall")
        (False, False)
        """
        if name == place or name.startswith(f"{place}."):
            return True
        origins = (of for begin, of in self._follows.items() if name == begin or name.startswith(begin))
        return any(self.within(one, place) or place.startswith(f"{one}.") for of in origins for one in of)

    def having(self, kinds: Mapping[str, FactKind]) -> FactTable:
        """Return a table that holds these names besides."""
        return FactTable(self._kinds | dict(kinds), self.computed, self.chosen, self._follows, self.unread)

    @classmethod
    def of(cls, info: ValidationInfo) -> FactTable:
        """Return the table that a document is validated against: `{"facts": table}` in the context."""
        context: dict[str, Any] = info.context or {}
        table = context.get("facts")
        if not isinstance(table, cls):
            raise LookupError('no table of facts to validate against: give context={"facts": table}')
        return table
