"""What the logged runs of one machine taught, as `guidegen run learn` kept it."""

from __future__ import annotations

from typing import Literal

from guidegen.record.base import Record

WhyOpen = Literal["unseen", "tied", "wide", "leads", "lost"]
"""Why an input stayed open: no probe saw it by itself; it moves with another one; its interval did not halve; the
runs are led by it; the network does not follow the runs."""


IN_MORE_RUNS = ", in more runs than these"
"""So ends what would settle an input of which even with that probe these runs would be too few."""


class LearnedInput(Record):
    """An input that the runs pinned: its id, its kit (empty for the machine's own), what it was and what it is now."""

    id: str
    kit: str
    name: str
    before: str
    after: str


class OpenInput(Record):
    """An input that stayed open: why, what it is tied to where that is why, and what would settle it.

    Names and what would settle it are kept in the program's own words; pages say them in the site's language.
    """

    id: str
    kit: str
    name: str
    left_open: WhyOpen
    tied: str
    settled_by: str


class StrayingPlace(Record):
    """A place at which what is left over follows itself, so that the network lacks something: root mean square, K."""

    place: str
    off_k: float


class Learned(Record):
    """What one machine's runs taught of a pair.

    `runs` is how many it was learned from, `set_aside` how many could not be followed. `stale`: the runs that lie in
    the workshop are not those that it was learned from.
    """

    machine: str
    invented: bool
    runs: int
    set_aside: int
    learned: tuple[LearnedInput, ...]
    open: tuple[OpenInput, ...]
    straying: tuple[StrayingPlace, ...]
    stale: bool


class KeptLesson(Record):
    """The file beside the runs: the same of every kit, with the sums of what it came from, by path."""

    format: Literal[1] = 1
    variant: str
    machine: str
    invented: bool
    made_from: dict[str, str]
    set_aside: tuple[str, ...]
    learned: tuple[LearnedInput, ...]
    open: tuple[OpenInput, ...]
    straying: tuple[StrayingPlace, ...]
