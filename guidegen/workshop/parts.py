"""What a kit consists of and what the work takes: parts with their seals, tools, consumables.

`say` are the words of each in a sentence where they are not its name, up to a comma or bracket, behind an article.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated

from pydantic import Field

from guidegen.language import gettext, marked
from guidegen.workshop.any_quantity import QuantityText
from guidegen.workshop.base import Id, Line, Model
from guidegen.workshop.facts import Choice, Fact
from guidegen.workshop.fields import Length, Spec
from guidegen.workshop.inventory import Say, ScrewedEnd
from guidegen.workshop.when import Condition

_BRACES = re.compile(r"\{([^{}]*)\}")
GENDERS = {"male": marked("{thread} male (thread outside)"), "female": marked("{thread} female (thread inside)")}
"""How a list names the thread at an end of a part."""


class Seal(Model):
    """A seal, sold with the part that needs it. `size` may name a fact in braces: `{boiler.gasket}`."""

    id: Id
    name: Line
    size: Line
    material: Line
    count: int = Field(ge=1, le=99)


class Key(Model):
    """A key for the boiler's bolts: what it needs over a bolt's head while it is put in or lifted off."""

    height: Annotated[Length, Spec("Height of the key over the bolt's head", ("4 mm", "80 mm"), "calliper")]
    width: Annotated[Length, Spec("Outside diameter of the key", ("3 mm", "30 mm"), "calliper")]


class Part(Model):
    """A part of the kit; with `when` only for machines of which it holds. `size` may name a fact in braces.

    A part with `key` is a shortened key for the boiler's bolts, sold where the usual one does not reach. `threads` are
    those at its ends, each once, of a part that others are screwed to.
    """

    id: Id
    name: Line
    count: int = Field(ge=1, le=99)
    size: Line | None = None
    seals: tuple[Seal, ...] = ()
    when: Condition | None = None
    key: Key | None = None
    say: Say | None = None
    threads: tuple[ScrewedEnd, ...] = ()

    @property
    def listed_size(self) -> str | None:
        """What a list says of its size, with the threads at its ends; facts stand in braces."""
        ends = (gettext(GENDERS[end.gender]).format(thread=end.thread) for end in self.threads)
        return ", ".join(filter(None, (self.size, *ends))) or None


class ToolRange(Model):
    """The least and the most that a measuring tool shows or sets."""

    from_: Line = Field(alias="from")
    to: Line


class Tool(Model):
    """A tool that the work needs. A tool with `key` is the usual one for the boiler's bolts.

    `kind` is what acts call it where its id is another; `range` what it can be set to or shows, `resolution` the
    smallest step that it shows, `size` what it fits.
    """

    id: Id
    name: Line
    kind: Id | None = None
    size: Line | None = None
    range: ToolRange | None = None
    resolution: QuantityText | None = None
    when: Condition | None = None
    key: Key | None = None
    say: Say | None = None


class Consumable(Model):
    """What is used up."""

    id: Id
    name: Line
    amount: Line
    when: Condition | None = None
    say: Say | None = None


def names_in_size(size: str | None) -> tuple[str, ...]:
    """Return the facts that a size names in braces.

    >>> names_in_size("for a boiler of {boiler.diameter}")
    ('boiler.diameter',)
    """
    return tuple(_BRACES.findall(size or ""))


def size_with(fact_of: Callable[[str], Fact | Choice | None], size: str | None) -> str | None:
    """Return a size with the facts in braces filled in; what is not known says so."""

    def fill(match: re.Match[str]) -> str:
        fact = fact_of(match[1])
        return fact.text if fact is not None and fact.known else f"{match[1]}, still to be measured"

    return None if size is None else _BRACES.sub(fill, size)
