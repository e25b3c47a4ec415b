"""A fact about a machine or kit: what is known, how well, on what evidence."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any, Literal

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from guidegen.units import Quantity, parse
from guidegen.workshop.base import Place

Evidence = Literal["measured", "maker-document", "standard", "calculated", "assumed"]
EVIDENCE: tuple[Evidence, ...] = ("measured", "maker-document", "standard", "calculated", "assumed")
SURE: tuple[Evidence, ...] = ("measured", "maker-document")
"""Evidence that settles a matter of life and limb: somebody looked at such a machine, or its maker did."""
Drawn = Literal["rectangular", "triangular", "log-triangular", "normal"]
DRAWN: tuple[Drawn, ...] = ("rectangular", "triangular", "log-triangular", "normal")
FAR_APART = 5.0
"""Ends of which one is more than so many times the other are drawn by their logarithms."""
UNKNOWN = "unknown"
SOME_UNITS = "some units"


class UnknownFact(LookupError):
    """Raised where a value is asked of a fact that nobody knows and that has no stand-in."""


@dataclass(frozen=True)
class Spec:
    """What is known about a field before anyone fills it in.

    `title` is what pages call it. `plausible` are the ends of what such machines have, written as quantities:
    a value outside gets a warning, and the middle stands in for `unknown`. `settles` is the measurement that
    would pin the value down. `stand_in` is the choice that stands in for an unknown choice. Of a matter of life and
    limb, `vital`, only evidence that is `SURE` settles anything; else the owner is asked.
    """

    title: str
    plausible: tuple[str, str] | None = None
    settles: str = ""
    stand_in: str | None = None
    vital: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Hang this on the fact after it was read."""
        return core_schema.no_info_after_validator_function(self._attach, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Give editors the title and the measurement that settles the value."""
        made = dict(handler(schema))
        made["title"] = self.title
        words = [f"Settled by: {self.settles}." if self.settles else ""]
        words.append(f"Such machines have {' to '.join(self.plausible)}." if self.plausible else "")
        made["description"] = " ".join(word for word in words if word) or self.title
        return made

    def _attach(self, fact: Any) -> Any:
        return replace(fact, spec=self) if isinstance(fact, Fact | Choice) else fact


@dataclass(frozen=True)
class Stated:
    """What both kinds of fact have in common: whether it is known, and on what evidence.

    `known` is False for `unknown` and for `some units`; `spread` is True for the latter. A fact that is not
    known counts as `assumed`, whatever the file's default says.
    """

    text: str
    evidence: Evidence = "assumed"
    source: str | None = None
    note: str | None = None
    known: bool = True
    spread: bool = False
    spec: Spec | None = None
    place: Place | None = field(default=None, compare=False)

    def __str__(self) -> str:
        """Return what was written."""
        return self.text

    @property
    def title(self) -> str:
        """Return what pages call this fact; empty where its field has no spec."""
        return self.spec.title if self.spec else ""

    @property
    def settles(self) -> str:
        """Return the measurement that would pin the value down."""
        return self.spec.settles if self.spec else ""


@dataclass(frozen=True)
class Fact(Stated):
    """A quantity of a machine or kit, in SI."""

    dimension: str = ""
    quantity: Quantity | None = None
    options: tuple[Quantity, ...] = ()
    ends: tuple[float, float] | None = None
    drawn: Drawn | None = None

    @property
    def distribution(self) -> Drawn:
        """Return how it is drawn: as written beside it, else as its evidence and its ends say (see `fields`)."""
        if self.drawn is not None:
            return self.drawn
        if self.known and self.evidence == "measured":
            return "normal"
        if self.quantity is None or self.ends is None:
            return "rectangular"
        return "log-triangular" if 0 < self.ends[0] * FAR_APART < self.ends[1] else "triangular"

    @property
    def value(self) -> float:
        """Return the value in SI; what stands in for it where nobody knows it."""
        return self._nominal()[0]

    @property
    def plus_minus(self) -> float:
        """Return the half-width in SI: what was written, or half the range that stands in."""
        return self._nominal()[1]

    @property
    def low(self) -> float:
        """Return the lower end in SI."""
        return self.ends[0] if self.ends else self.value - self.plus_minus

    @property
    def high(self) -> float:
        """Return the upper end in SI."""
        return self.ends[1] if self.ends else self.value + self.plus_minus

    def _nominal(self) -> tuple[float, float]:
        if self.quantity:
            if self.ends and not self.quantity.plus_minus:
                return self.quantity.value, (self.ends[1] - self.ends[0]) / 2
            return self.quantity.value, self.quantity.plus_minus
        if self.options:
            low, high = min(q.low for q in self.options), max(q.high for q in self.options)
        elif self.spec and self.spec.plausible:
            low, high = self.plausible()
        else:
            raise UnknownFact(f"{self.title or self.text}: not known, and nothing stands in for it")
        return (low + high) / 2, (high - low) / 2

    def plausible(self) -> tuple[float, float]:
        """Return the ends in SI of what such machines have."""
        if not (self.spec and self.spec.plausible):
            raise UnknownFact(f"{self.title or self.text}: no plausible range is stated")
        first, last = (parse(end, self.dimension).value for end in self.spec.plausible)
        return first, last


@dataclass(frozen=True)
class Choice(Stated):
    """A word about a machine or kit: a material, a kind, a thread."""

    word: str | None = None
    options: tuple[str, ...] = ()

    @property
    def value(self) -> str:
        """Return the word; what stands in for it where nobody knows it."""
        if self.word is not None:
            return self.word
        if self.options:
            return self.options[0]
        if self.spec and self.spec.stand_in is not None:
            return self.spec.stand_in
        raise UnknownFact(f"{self.title or self.text}: not known, and nothing stands in for it")
