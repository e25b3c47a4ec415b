"""The question that the numbers of a pair answer: every value that takes part in them, and no word.

The catalogue's words, the language, and whatever no number depends on have no place here, so the digest of a question
is what its answer can be kept by.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from guidegen.heat.coil import Wound
    from guidegen.heat.network import Network, Rows
    from guidegen.heat.pull import Pull, Usage


@dataclass(frozen=True)
class Served:
    """What is asked of every machine of a workshop, in SI: its drinks, its day, its price of energy."""

    pulls: Mapping[str, Pull]
    beverages: Mapping[str, float]
    """kg in the cup, by drink."""
    main: str
    """The drink that warm-up, waiting and the headline are about."""
    usage: Usage
    sessions_per_day: int
    per_kwh: float
    worth: Mapping[str, float]
    """From which change of a drop on a kit is worth something, by the names of `record.worth.WorthLimits`."""


@dataclass(frozen=True)
class Portion:
    """One part of the machine or of the kit in the budget: kg and J/K, each of shape (n,).

    `first`: whether it is of a kit that was on the machine before.
    """

    id: str
    kit: bool
    mass: Rows
    heat_capacity: Rows
    first: bool = False


@dataclass(frozen=True)
class PairQuestion:
    """The networks of a pair without and with the kit, row 0 as stated, and what is asked of them."""

    values: Mapping[str, Rows]
    """The inputs by their names, each of shape (n,): row 0 as stated, the others drawn."""
    phase: Rows
    habit: Rows
    """How each draw's drinks differ from what is stated, shape (n, 2), as in `Pull.rows`."""
    plain: Network
    fitted: Network
    shares: tuple[Portion, ...]
    wound: Wound | None
    """The coil, of the kit or of one that it goes onto, as wound on this boiler; None where its size is unknown."""
    tube_length: Rows | None
    """The tube of that coil, m, shape (n,)."""
    tube: str | None
    """The metal of that coil's tube, if it has one."""
    relief_reached: str
    """Whether water in the coil reaches the relief valve: `yes`, `no` or `unknown`."""
    slowest: tuple[Network, Network]
    """Without and with, rows with the ends of the inputs at which the machine cools slowest."""
    served: Served
    mixing: tuple[float, float]
    """The fewest and the most mixed cells that the boiler's water may have."""
    setpoint_changes: tuple[float, ...]
    hottest: float
    """K; the hottest that the coil gets."""

    def share(self, name: str) -> Portion | None:
        """The share of a name, if there is one."""
        return next((one for one in self.shares if one.id == name), None)

    def added_mass(self) -> Rows:
        """Mass of all that the kit brings, kg, shape (n,)."""
        return sum((one.mass for one in self.shares if one.kit), start=np.zeros(len(self.plain)))

    def digest(self) -> str:
        """A hash of every value, the same for the same question in every process."""
        return digest_of(self)


def digest_of(question: Any) -> str:
    """A hash of every value of a question, the same for the same question in every process."""
    whole = hashlib.sha256()
    for piece in _pieces(question):
        whole.update(len(piece).to_bytes(8, "little") + piece)
    return whole.hexdigest()


def _pieces(value: Any) -> Iterator[bytes]:
    """A value as pieces of bytes that no other value has; what is no plain value is refused."""
    yield type(value).__name__.encode()
    if is_dataclass(value):
        for one in fields(value):
            yield one.name.encode()
            yield from _pieces(getattr(value, one.name))
    elif isinstance(value, np.ndarray):
        yield f"{value.dtype.str}{value.shape}".encode()
        yield np.ascontiguousarray(value).tobytes()
    elif isinstance(value, Mapping):
        for key in sorted(value):
            yield from _pieces(key)
            yield from _pieces(value[key])
    elif isinstance(value, tuple):
        yield str(len(value)).encode()
        for one in value:
            yield from _pieces(one)
    elif value is None or isinstance(value, str | int | float | bool):
        yield repr(value).encode()
    else:
        raise TypeError(f"a question holds plain values only, not {type(value).__name__}")
