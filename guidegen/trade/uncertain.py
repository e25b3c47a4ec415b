"""Uncertain inputs: a fact with its ends and how it is drawn, and the values that were drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from guidegen.heat.network import Rows
from guidegen.heat.statistics import Distribution, LogTriangular, Normal, Rectangular, Triangular
from guidegen.language import gettext
from guidegen.workshop.facts import Drawn, Evidence, Fact

COVERAGE_FACTOR = 1.96
"""The ends of what is drawn as normal are read as its 95 % interval."""
TAKEN = {
    "mass": 0.05, "volume": 0.05, "length": 0.02, "power": 0.05, "time": 0.3, "heat_capacity": 0.2, "conductance": 0.3,
    "integral_gain": 0.3, "derivative_gain": 0.3,
}  # fmt: skip
"""The ± that is taken of a value which is assumed and states none, as a share of it, by its kind.

Nobody knows an assumed value exactly, and a range that it takes no part in would say so. Masses and volumes are weighed
and poured, conductances and gains are guessed; judgement, no source."""


@dataclass(frozen=True)
class Uncertain:
    """One input: where it stands, what it is called, its stated value and ends in SI, and its evidence."""

    id: str
    name: str
    value: float
    low: float
    high: float
    dimension: str
    text: str
    evidence: Evidence
    source: str | None = None
    settles: str | None = None
    place: str = ""
    stated: bool = True
    """False where nobody knows it, and the range of such machines stands in."""
    drawn: Drawn = "rectangular"

    @property
    def varies(self) -> bool:
        """Whether there is anything to draw."""
        return self.high > self.low

    @property
    def distribution(self) -> Distribution:
        """How it is drawn."""
        match self.drawn:
            case "normal":
                return Normal(self.value, (self.high - self.low) / 2 / COVERAGE_FACTOR)
            case "triangular":
                return Triangular(self.low, self.value, self.high)
            case "log-triangular":
                return LogTriangular(self.low, self.value, self.high)
            case _:
                return Rectangular(self.low, self.high)


def of_fact(name: str, fact: Fact, number: int = 1) -> Uncertain:
    """An input from a fact of the catalogue; the second and later ones of a name carry their number."""
    title = gettext(fact.title) or name
    taken = _taken(fact)
    return Uncertain(
        id=name,
        name=title if number == 1 else f"{title} ({number})",
        value=fact.value,
        low=fact.low - taken * abs(fact.value),
        high=fact.high + taken * abs(fact.value),
        dimension=fact.dimension,
        text=_text(fact, taken),
        evidence=fact.evidence if fact.known else "assumed",
        source=fact.source,
        settles=gettext(fact.settles),
        place=str(fact.place) if fact.place else "",
        stated=fact.known or bool(fact.options),
        drawn=fact.distribution,
    )


def _taken(fact: Fact) -> float:
    """The ± that is taken of a fact, as a share of its value; none where it states its own, or was looked up."""
    alone = fact.known and fact.evidence == "assumed" and fact.low == fact.high
    return TAKEN.get(fact.dimension, 0.0) if alone and fact.value else 0.0


def _text(fact: Fact, taken: float) -> str:
    if not fact.known:
        return gettext("not known; {range} stands in").format(range=_range_text(fact))
    if taken:
        return gettext("{value}, ± {percent} % assumed").format(value=fact.text, percent=f"{taken * 100:g}")
    return fact.text


def _range_text(fact: Fact) -> str:
    if fact.spec and fact.spec.plausible:
        return gettext("{low} to {high}").format(low=fact.spec.plausible[0], high=fact.spec.plausible[1])
    return gettext(" or ").join(option.text for option in fact.options) or fact.text


@dataclass(frozen=True)
class Values:
    """Values of the inputs, each of shape (n,): row 0 as stated, the others drawn."""

    rows: Mapping[str, Rows]
    phase: Rows

    def __getitem__(self, name: str) -> Rows:
        return self.rows[name]
