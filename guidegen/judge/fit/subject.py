"""What is judged, as far as judging sees it: a machine by its facts, a kit by what it asks and brings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from guidegen.workshop.base import HasPlaces
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.parts import Part
from guidegen.workshop.requirements import Requirement


class JudgedMachine(Protocol):
    """A machine: its names, and its facts by name."""

    @property
    def id(self) -> str:
        """Return what addresses call it."""

    @property
    def name(self) -> str:
        """Return what people call it."""

    def fact(self, path: str, /) -> Fact | Choice | None:
        """Return the fact of a name; None where this machine has none."""


class OutsideMark(Protocol):
    """What distinguishes a variant from its neighbours: where to look, and what is seen there."""

    @property
    def id(self) -> str:
        """Return the id that variants share which have something to see there."""

    @property
    def look(self) -> str:
        """Return where to look."""

    @property
    def see(self) -> str:
        """Return what is seen."""


class Candidate(JudgedMachine, Protocol):
    """One of several machines to distinguish."""

    @property
    def family(self) -> str:
        """Return the id of its family."""

    @property
    def family_name(self) -> str:
        """Return the name that the machine carries."""

    @property
    def marks(self) -> Sequence[OutsideMark]:
        """Return its outside marks."""


class JudgedKit(HasPlaces, Protocol):
    """A kit: what it asks of a machine, and the parts it brings."""

    @property
    def id(self) -> str:
        """Return what addresses call it."""

    @property
    def name(self) -> str:
        """Return what people call it."""

    @property
    def revision(self) -> str:
        """Return which revision it is."""

    @property
    def requirements(self) -> tuple[Requirement, ...]:
        """Return what it asks, in document order."""

    @property
    def parts(self) -> tuple[Part, ...]:
        """Return its parts."""

    @property
    def needs(self) -> str | None:
        """Return the id of the kit that it goes onto."""

    @property
    def kinds(self) -> tuple[str, ...]:
        """Return the kinds of its effects, each once."""

    @property
    def mains_work(self) -> bool:
        """Return whether fitting it is work on the mains."""
