"""A kit: parts, what it asks of a machine, what it costs, and the effects that it has on the network."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from guidegen.problems import Code
from guidegen.trade.effects import AnyEffect, numbered
from guidegen.trade.effects.feed_coil import FeedCoil
from guidegen.trade.uncertain import Uncertain
from guidegen.workshop.base import Document, Id, Line, Model, Prose, refused, shaped
from guidegen.workshop.downsides import About, OfEffects
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.fields import Choices, Pressure, Spec, Temperature
from guidegen.workshop.gains import WrittenGain
from guidegen.workshop.inventory import Inventory
from guidegen.workshop.looked_at import LookedAt
from guidegen.workshop.parts import Consumable, Part, Tool
from guidegen.workshop.requirements import Requirement

Figure = Literal[
    "mass.added", "energy.idle_added", "energy.day_added", "energy.ratio", "warm_up.added", "minutes", "cuts", "bolts",
    "coil.held", "coil.parked", "relief.pushed_out",
]  # fmt: skip
"""Figures that the assessment computes and a downside may show."""
TIMES: tuple[Figure, ...] = ("minutes", "warm_up.added")


class WettedSurface(Model):
    """A part that touches the water: filler and flux of its joints, and what its maker rates it for.

    `water` is the hottest that reaches it: `hot` is that of the boiler, `cold` that of the tank. `ways`
    are those of the water into one of them: two of a tube, three of a tee, one of what ends there.
    """

    part: Id
    material: Line
    filler: Line
    flux: Line
    source: Line | None = None
    water: Literal["hot", "cold"] = "hot"
    pressure: Annotated[Pressure, Spec("Rated pressure", ("10 bar", "200 bar"), "ask its maker")]
    temperature: Annotated[Temperature, Spec("Rated temperature", ("60 °C", "300 °C"), "ask its maker")]
    drinking_water: Annotated[
        Choice, Choices(("yes", "no")), Spec("Made for drinking water", settles="ask its maker for the declaration")
    ]
    ways: int = Field(default=2, ge=1)


class WrittenDownside(Model):
    """What a kit costs: shown before anything that could lead to an order.

    `likely: none` says that there is none about this, as where nothing is cut; then nothing can be done about it.
    """

    id: Id
    about: About
    what: Prose
    computed: Figure | None = None
    likely: Literal["certain", "likely", "possible", "rare", "none"]
    do: Prose | None = None

    @model_validator(mode="after")
    def _says_what_to_do(self) -> Self:
        if self.likely == "none" and self.do is not None:
            raise refused(
                Code.OUT_OF_BOUNDS, "something to do about a downside that there is not", "delete do", ("do",)
            )
        if self.likely != "none" and self.do is None:
            fix = "write do: with what the owner can do about it, or likely: none where there is no such downside"
            raise refused(Code.MISSING_KEY, "a downside says what to do about it", fix, ("do",))
        return self


class WayBack(Model):
    """The way back to the original, or why there is none."""

    possible: bool
    how: Prose


class Kit(Document):
    """A kit as written.

    `needs` is the kit that has to be on the machine before. `gives`: facts of the machine that are so once it is
    fitted, for kits that come after it.
    """

    name: Line
    invented: bool = False
    revision: Annotated[str, shaped(r"[A-Z0-9][A-Za-z0-9.-]{0,9}", "B")]
    summary: Prose
    reason: Prose
    status: Literal["draft", "prototype", "sold", "withdrawn"]
    effects: tuple[AnyEffect, ...] = Field(min_length=1)
    needs: Id | None = None
    gives: dict[str, Line] = Field(default_factory=dict)
    gains: tuple[WrittenGain, ...] = ()
    parts: tuple[Part, ...] = Field(min_length=1)
    tools: tuple[Tool, ...]
    consumables: tuple[Consumable, ...]
    wetted: tuple[WettedSurface, ...]
    requirements: tuple[Requirement, ...]
    downsides: tuple[WrittenDownside, ...] = Field(min_length=1)
    restore: WayBack
    inventory: Inventory = Field(default_factory=dict)
    looked_at: dict[Line, LookedAt] = Field(default_factory=dict)

    _id: str = ""

    @model_validator(mode="after")
    def _not_too_many_of_a_kind(self) -> Self:
        for index, (effect, number) in enumerate(numbered(self.effects)):
            if number > effect.most:
                words = f"effect {number} of this kind, where a kit has at most {effect.most}"
                raise refused(Code.OUT_OF_BOUNDS, words, "write them as one", ("effects", index, "kind"))
        return self

    @property
    def id(self) -> str:
        """Return the file's stem."""
        return self._id

    @property
    def coil(self) -> FeedCoil | None:
        """Return the coil that the kit brings, if it brings one."""
        return next((effect for effect in self.effects if isinstance(effect, FeedCoil)), None)

    @property
    def kinds(self) -> tuple[str, ...]:
        """Return the kinds of its effects, each once."""
        return tuple(dict.fromkeys(effect.kind for effect in self.effects))

    @property
    def called_for(self) -> tuple[str, ...]:
        """Return the kits that may have to be on a machine before it: what it needs, and its remedies."""
        remedies = (way.kit for one in self.requirements for way in one.unmet)
        return tuple(dict.fromkeys(name for name in (self.needs, *remedies) if name is not None))

    @property
    def mains_work(self) -> bool:
        """Return whether fitting it takes work on mains wiring."""
        return any(effect.mains_work for effect in self.effects)

    @property
    def speaks_of(self) -> tuple[OfEffects, ...]:
        """Return what its downsides have to name because of what it does, each once."""
        return tuple(dict.fromkeys(about for effect in self.effects for about in effect.speaks_of))

    def inputs(self, first: Sequence[Kit] = ()) -> Iterator[Uncertain]:
        """Yield the uncertain inputs that its effects bring, after those of the kits that are on the machine first."""
        for effect, number in numbered(effects_of((*first, self))):
            yield from effect.inputs(number)

    def facts(self) -> Iterator[tuple[str, Fact]]:
        """Yield the facts of its effects by the names of their inputs: what a procedure may print."""
        for effect, number in numbered(self.effects):
            yield from effect.facts(number)

    @property
    def key(self) -> Tool | None:
        """Return the tool for the boiler's bolts, where the kit says how large it is."""
        return next((tool for tool in self.tools if tool.key is not None), None)

    @property
    def short_key(self) -> Part | None:
        """Return the part that is a shortened key for the boiler's bolts."""
        return next((part for part in self.parts if part.key is not None), None)


def effects_of(kits: Iterable[Kit]) -> tuple[AnyEffect, ...]:
    """Return the effects of several kits in the order of fitting: a later one's are numbered after an earlier one's."""
    return tuple(effect for kit in kits for effect in kit.effects)
