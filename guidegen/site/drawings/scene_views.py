"""Every view of a scene, and where in a view something is that the work names."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.scene import Scene, SceneThing
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.bolts import bolts
from guidegen.site.drawings.callouts import Listed
from guidegen.site.drawings.chain import chain
from guidegen.site.drawings.cut import cut
from guidegen.site.drawings.elevation import elevation
from guidegen.site.drawings.marks import Point
from guidegen.site.drawings.outside import marks, outside
from guidegen.site.drawings.picture import picture
from guidegen.site.drawings.plan import plan
from guidegen.site.drawings.view import STANDS_FOR, Drawing
from guidegen.site.drawings.water import water

BOLTS = "boiler-bolts"
"""Stands for every bolt of the boiler."""
FIRST = ("bolts", "outside", "plan", "elevation", "water", "chain")
"""The views in the order in which a hand finds its way in them."""
_BOLT = re.compile(r"bolt-([0-9]+)")


@dataclass(frozen=True)
class SceneViews:
    """The views of a record by name, in the order in which they are looked at; and the names of things."""

    scene: Scene
    views: Mapping[str, Drawing]
    names: Mapping[str, str]

    def known(self, thing: str) -> SceneThing | None:
        """What the scene says of a thing."""
        return next((one for one in self.scene.things if one.id == thing), None)

    def spread(self, thing: str) -> tuple[str, ...]:
        """The things that one name stands for: every bolt, every device with a seat; else itself."""
        known = self.known(thing)
        if thing == BOLTS and self.scene.bolts is not None:
            return tuple(f"bolt-{number}" for number in range(1, self.scene.bolts.count + 1))
        if known is not None and known.kind == "seat":
            return tuple(one.id for one in self.scene.things if one.kind == "device" and one.id in self.names)
        return (thing,)

    def place(self, view: Drawing, thing: str) -> Point | None:
        """Where a thing is in a view; None where the view has no place for it."""
        for name in self._called(thing):
            if name in view.targets:
                return view.targets[name]
        return None

    def unplaced(self, view: Drawing, thing: str) -> bool:
        """Whether a view would show a thing if anybody knew where it is."""
        return any(name in view.unplaced for name in self._called(thing))

    def _called(self, thing: str) -> Iterator[str]:
        """A thing, then what it is drawn as."""
        yield thing
        known = self.known(thing)
        if known is None:
            return
        if known.drawn_as is not None:
            yield known.drawn_as
        if known.kind in STANDS_FOR:
            yield STANDS_FOR[known.kind]
        if known.kind == "joint" and "boiler" in known.ends and "group-head" in known.ends:
            yield "seal"

    def numbered(self, things: Iterable[str]) -> dict[str, int]:
        """A number for each thing, in their order; bolts keep the number that they are counted by."""
        named = dict.fromkeys(one for thing in things for one in self.spread(thing))
        bolts = {one: int(found[1]) for one in named if (found := _BOLT.fullmatch(one))}
        others = (one for one in named if one not in bolts)
        return bolts | {one: number for number, one in enumerate(others, max(bolts.values(), default=0) + 1)}

    def shown_in(self, view: Drawing) -> list[str]:
        """The things that a view shows, or would if anybody knew where they are; but for what is not there."""
        named = dict.fromkeys((*view.targets, *view.unplaced))
        absent = {one.id for one in self.scene.things if not one.there}
        return [one for one in named if one in self.names and one not in absent]

    def listed(self, view: Drawing, numbers: Mapping[str, int]) -> list[Listed]:
        """What a view points out by its numbers, by thing."""
        ordered = sorted(numbers.items(), key=lambda one: one[1])
        return [Listed(number, self.names.get(thing, thing), self.place(view, thing)) for thing, number in ordered]

    def showing(self, things: Iterable[str]) -> list[tuple[Drawing, list[str]]]:
        """The fewest views that show all of the things that can be shown, with what each is to point out.

        They come in the order of the things. Of equally many the views count that a hand finds its way in first; bolts
        are in a view of their own.
        """
        named = [*dict.fromkeys(one for thing in things for one in self.spread(thing))]
        where = {one: found for one in named if (found := self._shown_by(one))}
        chosen = _fewest(where)
        taken = [next(view for view in chosen if view in found) for found in where.values()]
        return [
            (self.views[view], [one for one, in_view in zip(where, taken, strict=True) if in_view == view])
            for view in dict.fromkeys(taken)
        ]

    def _shown_by(self, thing: str) -> list[str]:
        """The views that show a thing; where none does, those that say that nobody knows where it is."""
        if _BOLT.fullmatch(thing) and "bolts" in self.views:
            return ["bolts"]
        ordered = [self.views[name] for name in (*FIRST, *self.views) if name in self.views]
        placed = [view.name for view in ordered if self.place(view, thing) is not None]
        return placed or [view.name for view in ordered if self.unplaced(view, thing)]


def _fewest(where: Mapping[str, Sequence[str]]) -> Sequence[str]:
    """The fewest views of which each thing has one; `where` are those of each thing, the better ones first.

    >>> _fewest({"tap": ["outside", "water"], "tank": ["outside", "water"], "coil": ["plan", "water"]})
    ('water',)
    >>> _fewest({"tap": ["outside", "water"], "switch": ["outside", "chain"], "coil": ["plan", "water"]})
    ('outside', 'plan')
    """
    every = dict.fromkeys(view for views in where.values() for view in views)
    ordered = sorted(every, key=lambda view: FIRST.index(view) if view in FIRST else len(FIRST))
    return next(
        some
        for count in range(len(ordered) + 1)
        for some in itertools.combinations(ordered, count)
        if all(any(view in some for view in views) for views in where.values())
    )


def views_of(record: Assessment) -> SceneViews | None:
    """The views of a record; None where it has no scene, as those of editions of before."""
    return None if record.scene is None else scene_views(record.scene, record.protrusions)


def scene_views(scene: Scene, protrusions: Sequence[Protrusion]) -> SceneViews:
    """The views of a scene, with what becomes of each protrusion."""
    decided = {one.id: one for one in protrusions}
    names = _names(scene) | {one.id: one.name for one in protrusions}
    names |= {"line": gettext("the line on the metal")}
    names |= {"wall": next((one.name for one in scene.things if one.kind == "wall"), gettext("straight wall"))}
    if scene.bolts is not None:
        for number in range(1, scene.bolts.count + 1):
            names[f"bolt-{number}"] = gettext("bolt {number}").format(number=number)
    made: list[Drawing | None] = [plan(scene, decided), elevation(scene, decided), bolts(scene)]
    made += [cut(scene, one, one.name) for one in protrusions]
    made += [water(scene, fitted=True), chain(scene), outside(scene), marks(scene), picture(scene, decided)]
    return SceneViews(scene, {view.name: view for view in made if view is not None}, names)


def _names(scene: Scene) -> dict[str, str]:
    """The name of each thing; a joint that is called as something else is named with what it leads to."""
    names = {one.id: one.name for one in scene.things}
    made = dict(names)
    for one in scene.things:
        if one.kind == "joint" and list(names.values()).count(one.name) > 1:
            other = next((names[end] for end in one.ends if names.get(end, one.name) != one.name), None)
            made[one.id] = f"{one.name} – {other}" if other else one.name
    return made
