"""The pictures that go with the links of an edition's guides: one for a kit on a family."""

from __future__ import annotations

import posixpath
from collections.abc import Iterable, Mapping
from dataclasses import replace

from guidegen.record import Assessment
from guidegen.site.drawings.preview import preview
from guidegen.site.pages.page import Page
from guidegen.site.pages.place import kit_path, pair_path
from guidegen.site.pages.shown_kit import caption, kit_view

FOLDER = "previews"


def previews(records: Iterable[Assessment]) -> Mapping[str, tuple[str, bytes]]:
    """By path, the words and the bytes of each picture that goes with a link.

    The variants of a family look alike at this size, so the first that has a view stands for all; its words name it.
    """
    made: dict[str, tuple[str, bytes]] = {}
    for record in records:
        path = _path(record)
        view = kit_view(record) if path not in made else None
        if view is not None:
            made[path] = (caption(record), preview(view))
    return made


def with_previews(pages: Iterable[Page], records: Iterable[Assessment]) -> tuple[tuple[Page, ...], dict[str, bytes]]:
    """The pages of these records with the picture that goes with their links, and the pictures' files."""
    listed = list(records)
    made = previews(listed)
    drawn = [one for one in listed if _path(one) in made]
    # The page of a kit has that of the first family.
    of_folder = {posixpath.dirname(kit_path(one.kit.id)): _path(one) for one in reversed(drawn)}
    of_folder |= {posixpath.dirname(pair_path(one.variant.id, one.kit.id)): _path(one) for one in drawn}
    shown = []
    for page in pages:
        path = of_folder.get(posixpath.dirname(page.path))
        shown.append(replace(page, image=path, image_words=made[path][0]) if path else page)
    return tuple(shown), {path: data for path, (_, data) in made.items()}


def _path(record: Assessment) -> str:
    return f"{FOLDER}/{record.variant.family}/{record.kit.id}.png"
