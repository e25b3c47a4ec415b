"""Directions as a clock seen from above shows them: 12:00 is the side away from whoever stands before the machine."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated

from guidegen.problems import Code
from guidegen.workshop.base import quoted, refused
from guidegen.workshop.facts import Choice
from guidegen.workshop.fields import Choices

_SHOWN = re.compile(r"(1[0-2]|[1-9]):([0-5][0-9])", re.ASCII)


def bearing(shown: str) -> float:
    """Return the angle of a direction, degrees clockwise from 12:00. Raises `ValueError` for what no clock shows.

    A clock's hand for hours passes 30° in an hour.

    >>> bearing("12:00"), bearing("3:00"), bearing("7:30")
    (0.0, 90.0, 225.0)
    """
    found = _SHOWN.fullmatch(shown)
    if found is None:
        raise ValueError(f"no clock shows {shown!r}")
    return (int(found[1]) % 12 + int(found[2]) / 60) * 30.0


@dataclass(frozen=True)
class ClockReader(Choices):
    """Makes a field read a direction as hours and minutes."""

    def example(self) -> str:
        """Return a direction, for a fix."""
        return "7:30"

    def _check(self, word: str, inner: tuple[str, ...] = ()) -> None:
        if _SHOWN.fullmatch(word) is None:
            words = f"got {quoted(word)}, a direction as a clock shows it is wanted"
            raise refused(Code.WRONG_CHOICE, words, "write it like 7:30, from 1:00 to 12:59", inner)


Clock = Annotated[Choice, ClockReader()]
