"""What the site's front shows: what the workshop makes, the kits with a line and a picture, and today's prices.

The newest edition's snapshot says it, as plain data, so that an edition of any age has a front; only what is drawn is
read as a record.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from guidegen.editions.lacking import lacking
from guidegen.editions.selling import PriceLine, Selling
from guidegen.editions.snapshot import Data
from guidegen.record import Assessment, Unreadable, read
from guidegen.record.stated import REFUSED
from guidegen.site.drawings.figure import plain_figure
from guidegen.site.drawings.preview import preview
from guidegen.site.pages.shown_kit import PICTURE, kit_figure, kit_view

MOST_TRIED = 6
"""So many guides of a kit are read for a picture of it."""
UNSURE = ("open", "hidden")
"""The styles of what is drawn though nobody has stated where it is."""


@dataclass(frozen=True)
class ShownKit:
    """A kit as the front shows it; `figure` and `image` are the same view, for the page and for its links."""

    id: str
    name: str
    summary: str
    price: PriceLine | None = None
    figure: Markup | None = None
    image: bytes | None = None
    is_picture: bool = False
    """Whether the view is the picture of the boiler with the kit on it."""

    @property
    def image_path(self) -> str:
        """Where its image lies, from the site's root; empty where it has none."""
        return f"assets/{self.id}.png" if self.image else ""


@dataclass(frozen=True)
class Front:
    """Everything that the front shows beside the editions themselves."""

    makes: str
    kits: tuple[ShownKit, ...]
    selling: Selling
    first: ShownKit | None
    """The kit whose picture stands at the top."""
    picture: Markup | None = None
    """That picture, under an id of its own."""

    @property
    def priced(self) -> bool:
        """Whether a price stands beside any kit."""
        return any(one.price for one in self.kits)

    def kit(self, name: str) -> ShownKit:
        """A kit by its id, also one that only older editions know."""
        return next((one for one in self.kits if one.id == name), ShownKit(name, name, ""))

    def files(self) -> Iterator[tuple[str, bytes]]:
        """The images, which pages name for whoever links to them."""
        yield from ((one.image_path, one.image) for one in self.kits if one.image)


def front_of(records: Sequence[Data], makes: str, selling: Selling, today: datetime.date) -> Front:
    """The front for the newest edition's records; `makes` is what the workshop says of itself, if it says it."""
    by_kit: dict[str, list[Data]] = {}
    for record in records:
        by_kit.setdefault(record["kit"]["id"], []).append(record)
    # What gains most comes first, for it is what the workshop is looked up for.
    order = sorted(by_kit, key=lambda kit: (_least(by_kit[kit]), kit))
    prices = {one.id: one for one in selling.lines} if holds(selling, today) else {}
    drawn = {kit: _drawn(by_kit[kit]) for kit in order}
    kits = tuple(_shown(by_kit[kit][0]["kit"], prices.get(kit), drawn[kit]) for kit in order)
    reasons = (str(by_kit[kit][0]["kit"].get("reason") or "") for kit in order)
    first = next((one for one in kits if one.is_picture), None)
    at_top = drawn[first.id] if first else None
    picture = kit_figure(at_top, "picture") if at_top else None
    return Front(makes or next(filter(None, reasons), ""), kits, selling, first, picture)


def holds(selling: Selling, today: datetime.date) -> bool:
    """Whether there are prices that hold on a day."""
    day = str(today)
    return bool(selling.lines) and (selling.valid_from or day) <= day <= selling.valid_until


def _least(records: Iterable[Data]) -> float:
    """The least part of the dip that a kit leaves in a drink on any variant that it fits; 1 where nobody knows."""
    found = [1.0]
    for record in records:
        drinks = record.get("drinks", {}) if record["fit"]["outcome"] not in REFUSED else {}
        ratios = (_at(drink, "drop_ratio", "sensor", "value") for drink in drinks.values())
        found += [ratio for ratio in ratios if isinstance(ratio, int | float)]
    return min(found)


def _at(part: Any, *path: str) -> Any:
    """What lies at a path; None where it does not."""
    for key in path:
        part = part.get(key) if isinstance(part, Mapping) else None
    return part


def _shown(kit: Data, price: PriceLine | None, record: Assessment | None) -> ShownKit:
    """A kit, and the view of the record that shows it."""
    shown = ShownKit(kit["id"], kit["name"], kit.get("summary") or "", price)
    view = kit_view(record) if record is not None else None
    if record is None or view is None:
        return shown
    figure = plain_figure(view, "", f"kit-{shown.id}", whole=view.name != PICTURE)
    return replace(shown, figure=figure, image=preview(view), is_picture=view.name == PICTURE)


def _drawn(records: Sequence[Data]) -> Assessment | None:
    """The guide whose view of the kit leaves least open, first among what fits as it is; None without any."""
    able = [one for one in records if one.get("scene") and one["fit"]["outcome"] not in REFUSED]
    able = sorted(able, key=lambda one: not one["fit"]["outcome"].startswith("fits"))[:MOST_TRIED]
    return min(filter(None, map(_drawable, able)), key=_open, default=None)


def _drawable(record: Data) -> Assessment | None:
    """The record, where today's program can read it and there is something to draw."""
    try:
        found = read(record, lacking())
    except Unreadable:
        return None
    return found if kit_view(found) is not None else None


def _open(record: Assessment) -> int:
    """How much of the view is dashed, since nobody has stated where it is."""
    view = kit_view(record)
    return sum(mark.style in UNSURE for mark in view.sheet.marks) if view is not None else 0
