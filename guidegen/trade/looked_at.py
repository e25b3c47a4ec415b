"""Warnings that somebody looked at: which of them a document has silenced, with a reason and a day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidegen.problems import Code, Problem
from guidegen.workshop.base import Document, Loc
from guidegen.workshop.looked_at import LookedAt
from guidegen.workshop.walk import name_of


def seen_fix(document: Document, first: str, name: str, text: str) -> str:
    """The fix of a warning: what to do, and what to write where the value is right as it stands."""
    if not hasattr(document, "looked_at"):
        return f"{first}; leave it if it is right"
    return f"{first}; if it is right, write looked_at: {{{name}: {{seen: {text}, because: …, date: 2026-03-31}}}}"


class Looks:
    """What is written under `looked_at` of a document, and which of it was of any use."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._looks: dict[str, LookedAt] = getattr(document, "looked_at", {})
        self._used: set[str] = set()

    def without(self, loc: Loc, text: str, found: Iterable[Problem]) -> Iterator[Problem]:
        """Yield the warnings about a value unless somebody looked at it as it stands."""
        name = name_of(self._document, loc)
        look = self._looks.get(name)
        for problem in found:
            if look is not None and look.seen == text:
                self._used.add(name)
            else:
                yield problem

    def idle(self) -> Iterator[Problem]:
        """Yield a warning for each look that silences nothing; those of a family serve some of its variants."""
        for name, look in self._looks.items():
            place = self._document.places.key(("looked_at", name))
            if name not in self._used and not place.path.endswith("/family.yml"):
                words = f"looked_at.{name}: there is no warning about {name} with {look.seen}"
                fix = "delete it, or look again and write seen: as the value stands now"
                yield Problem(place.path, place.line, place.column, Code.IDLE_LOOK, words, fix, "warning")
