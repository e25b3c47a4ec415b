"""What a change between two editions is, what caused it, and which owners who already fitted the kit must know."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from guidegen.language import gettext, marked

Kind = Literal[
    "guide",
    "verdict",
    "requirement",
    "torque",
    "limit",
    "step",
    "statement",
    "gain",
    "downside",
    "list",
    "picture",
    "input",
    "measured",
    "figure",
]
ORDER: dict[str, str] = {
    "guide": marked("Guides added or removed"),
    "verdict": marked("Verdicts"),
    "torque": marked("Torques"),
    "limit": marked("Acceptance limits"),
    "step": marked("Steps"),
    "statement": marked("Safety statements"),
    "requirement": marked("Requirements"),
    "gain": marked("Stated gains"),
    "downside": marked("Downsides"),
    "list": marked("Tools, parts and consumables"),
    "picture": marked("Pictures"),
    "input": marked("Values that went in"),
    "measured": marked("Measured values"),
    "figure": marked("Computed values"),
}
"""Kinds in the order in which they are listed, each with its heading."""

Cause = Literal["data", "text", "computation", "form", "unclear"]
CAUSES: dict[Cause, str] = {
    "data": marked("the data changed"),
    "text": marked("the authors changed the words"),
    "computation": marked("the program recomputed it"),
    "form": marked("the program reworded it"),
}
"""Why something reads otherwise, in words. What is `unclear` is of an edition that did not yet keep what its words were
made from."""
PROGRAM: frozenset[Cause] = frozenset({"computation", "form"})
"""Causes for which nobody is written to: what the guide is made from stayed."""


@dataclass(frozen=True)
class Moved:
    """By how much a figure moved: what it is called on every guide, its key, and the difference in the key's unit.

    The difference is None where one of the two was not computed.
    """

    what: str
    key: str
    by: float | None


@dataclass(frozen=True)
class Change:
    """One change of one guide. `old` or `new` is None where the thing is new or gone.

    `notifiable` says why whoever fitted by the older edition must be notified; None where nobody must.
    """

    kind: Kind
    about: str
    old: str | None
    new: str | None
    notifiable: str | None = None
    place: str = ""
    """Where it stands in the newer guide: `install.html#fitting-drain-open`; empty where it does not."""
    causes: tuple[Cause, ...] = ("data",)
    moved: Moved | None = None
    """Of a figure only."""
    thing: str = ""
    """The id, on every guide the same, of the step or statement that reads otherwise."""
    step: str = ""
    """The number in `about` of the step where it is, which guides need not have in common."""

    @property
    def by_program(self) -> bool:
        """Whether the program alone caused it, and nobody must be notified."""
        return PROGRAM.issuperset(self.causes) and not self.notifiable

    def why(self) -> str:
        """The causes in words; empty where they are unclear.

        >>> Change("figure", "mass", "1", "2", causes=("data", "computation")).why()
        'the data changed; the program recomputed it'
        """
        return "; ".join(gettext(CAUSES[one]) for one in self.causes if one in CAUSES)

    def sentence(self) -> str:
        """The change in one line of text.

        >>> Change("torque", "boiler bolts", "5 N·m", "4 N·m").sentence()
        'boiler bolts: 5 N·m → 4 N·m'
        """
        if self.old is None:
            words = marked("{what}: new, {value}") if self.new else marked("{what}: new")
            return gettext(words).format(what=self.about, value=self.new)
        if self.new is None:
            words = marked("{what}: gone, was {value}") if self.old else marked("{what}: gone")
            return gettext(words).format(what=self.about, value=self.old)
        return f"{self.about}: {self.old} → {self.new}"


@dataclass(frozen=True)
class GuideChanges:
    """Everything that changed in the guide of one variant with one kit."""

    variant: str
    kit: str
    title: str
    changes: tuple[Change, ...]

    @property
    def guide(self) -> str:
        """The guide's id: `tamsin-mk2/feed-preheater`."""
        return f"{self.variant}/{self.kit}"

    @property
    def own(self) -> tuple[Change, ...]:
        """The changes that the data or the authors caused, at least among others."""
        return tuple(one for one in self.changes if not one.by_program)

    @property
    def by_program(self) -> tuple[Change, ...]:
        """The changes that the program alone caused."""
        return tuple(one for one in self.changes if one.by_program)

    @property
    def notifiable(self) -> tuple[Change, ...]:
        """The changes of which owners must be notified."""
        return tuple(one for one in self.changes if one.notifiable)

    @property
    def is_new(self) -> bool:
        """Whether the older edition had no such guide."""
        return any(one.kind == "guide" and one.old is None for one in self.changes)


def notifiable(every: Sequence[GuideChanges]) -> tuple[GuideChanges, ...]:
    """The guides with at least one change of which owners must be notified."""
    return tuple(one for one in every if one.notifiable)
