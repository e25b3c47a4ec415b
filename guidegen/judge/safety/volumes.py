"""The water path, cut at everything that can close: which joints share a volume, and which taps let it off.

The sides of joints are what is followed: a joint connects its two sides unless it can close or is open, and a thing
connects all sides that end at it unless it can close (a pump, a tap, a valve, a relief valve, whatever nobody knows).
So between a check valve and the pump that it is screwed to there is a volume too, and no tap lets it off. The group
lets nothing off: nobody sees whether a filter closes it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from guidegen.judge.acts.things import Things

Side = tuple[str, str]
"""A joint, and one of the two things that it connects."""


@dataclass(frozen=True)
class Volumes:
    """The joints of a machine with a kit, each with its two ends; what can close; the taps; what is always open."""

    joints: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    closes: frozenset[str] = frozenset()
    taps: frozenset[str] = frozenset()
    tanks: frozenset[str] = frozenset()

    def sides(self, names: Iterable[str]) -> frozenset[Side]:
        """The sides of joints, and those that end at other things, by name.

        >>> path = Volumes({"inlet": ("hose", "boiler")})
        >>> sorted(path.sides(["inlet"])), sorted(path.sides(["hose"]))
        ([('inlet', 'boiler'), ('inlet', 'hose')], [('inlet', 'hose')])
        """
        wanted = {*names}
        return frozenset((joint, end) for joint, ends in self.joints.items() for end in ends if {joint, end} & wanted)

    def volume(self, sides: Iterable[Side], opened: Iterable[str] = ()) -> frozenset[Side]:
        """Every side that water reaches from these, while some joints are open.

        >>> path = Volumes({"pump-end": ("pump", "hose"), "inlet": ("hose", "boiler")}, frozenset({"pump"}))
        >>> sorted(joint for joint, _ in path.volume([("inlet", "boiler")]))
        ['inlet', 'inlet', 'pump-end', 'pump-end']
        >>> path.volume([("inlet", "boiler")], opened=["inlet"])
        frozenset({('inlet', 'boiler')})
        """
        asked = frozenset(sides), frozenset(opened)
        if asked not in self._volumes:
            self._volumes[asked] = self._reached(*asked)
        return self._volumes[asked]

    @cached_property
    def _volumes(self) -> dict[tuple[frozenset[Side], frozenset[str]], frozenset[Side]]:
        """Those that were asked for: of a few sides and joints, again and again while a guide is walked through."""
        return {}

    @cached_property
    def _ending_at(self) -> dict[str, frozenset[Side]]:
        """The sides of joints that end at each thing."""
        ends = {end for ends in self.joints.values() for end in ends}
        return {end: self.sides([end]) for end in ends}

    def _reached(self, sides: frozenset[Side], opened: frozenset[str]) -> frozenset[Side]:
        cut = self.closes | opened
        seen: set[Side] = set()
        todo = [*sides]
        while todo:
            side = todo.pop()
            if side in seen:
                continue
            seen.add(side)
            joint, end = side
            todo += [(joint, other) for other in self.joints[joint] if joint not in cut]
            todo += self._ending_at[end] if end not in self.closes else ()
        return frozenset(seen)

    def vents(self, volume: Iterable[Side]) -> tuple[str, ...]:
        """The taps that let a volume off, in order."""
        return tuple(sorted({end for _, end in volume} & self.taps))

    def is_open(self, volume: Iterable[Side]) -> bool:
        """Whether nothing can ever press on a volume: it ends in a tank."""
        return not self.tanks.isdisjoint(end for _, end in volume)


def volumes_of(things: Things) -> Volumes:
    """The water path of a machine with a kit; a joint of which nobody knows both ends is not in it."""
    plain = [one for one in things.by_id.values() if one.members == (one.id,)]
    joints = {one.id: one.ends for one in plain if one.kind == "joint" and len(one.ends) == 2}
    return Volumes(
        joints,
        frozenset(one.id for one in plain if one.closes),
        frozenset(one.id for one in plain if one.kind == "tap"),
        frozenset(one.id for one in plain if one.kind == "tank"),
    )
