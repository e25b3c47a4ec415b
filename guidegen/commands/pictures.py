"""`guidegen pictures`: what to photograph at the bench, and which pictures are shown nowhere, too small or too dark."""

from __future__ import annotations

import argparse
import re
import textwrap
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import workshop_at
from guidegen.commands.terminal import out, progress_of

if TYPE_CHECKING:
    from guidegen.assess.pictures_wanted import WantedPicture, Worked
    from guidegen.record import Assessment
    from guidegen.record.pictures import Picture
    from guidegen.trade import Catalogue

OK = 0
WIDTH = 96
"""Columns: a sheet of paper."""
NAMED = 3
"""So many variants are named; of more the count is."""
HEAD = (
    "Pictures to take at the bench, most needed first. Take each square on, in daylight.",
    "Copy what stands under a picture into content/pictures.yml.",
)
DARK = 0.18 / 4
"""Two stops below the grey card of 18 % that exposure is metered by: the mean of a well exposed picture is near it."""
_IN_PAGE = re.compile(r"""picture\(\s*["']([a-z0-9-]+)["']""")
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    command(
        group,
        "pictures",
        run,
        "list what to photograph at the bench, and pictures shown nowhere, too small or too dark",
    )


def run(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen pictures`."""
    workshop_at(root)
    from guidegen import pipeline, trade

    known = trade.load(root)
    records = pipeline.assess_all(known, root, progress_of(arguments), draws=0)
    progress_of(arguments)("")
    out("\n".join(lines(known, root, records)).rstrip())
    return OK


def lines(known: Catalogue, root: Path, records: Sequence[Assessment]) -> Iterator[str]:
    """The whole list as text: what to take first, then what is wrong with what is there."""
    from guidegen.assess.pictures_wanted import wanted

    yield from HEAD
    for section in wanted(known, worked(known, records)):
        yield from ("", f"{section.title}: {len(section.pictures) or 'none is missing'}")
        for one in section.pictures:
            yield from _entry(one)
    for title, found in (
        ("Shown nowhere", unused(known, root, records)),
        ("In content/pictures/, but listed nowhere", unlisted(known, root)),
        ("Too small", small(known)),
        ("Too dark", dark(known)),
    ):
        if found:
            yield from ("", title, *(f"    {one}" for one in found))


def _entry(one: WantedPicture) -> Iterator[str]:
    first, *more = textwrap.wrap(one.words, WIDTH - 4) or [""]
    yield f"[ ] {first}"
    yield from (f"    {line}" for line in more)
    yield f"    shows: {one.shows}"
    for kit, names in one.by_kit.items():
        listed = ", ".join(names[:NAMED]) + (f" and {len(names) - NAMED} more" if len(names) > NAMED else "")
        yield from (f"    {line}" for line in textwrap.wrap(f"{kit} on {listed}" if kit else listed, WIDTH - 4))


def worked(known: Catalogue, records: Sequence[Assessment]) -> list[Worked]:
    """The resolved instruction of each pair that has one."""
    from guidegen.assess import guiding
    from guidegen.commands.states import parts_of

    found: list[Worked] = []
    for record in records:
        if record.procedure is None:
            continue
        machine, kit, *rest = parts_of(known, record)
        made = guiding.made_guide(known, machine, kit, *rest)
        if made is not None:
            found.append((machine, kit, made))
    return found


def unused(known: Catalogue, root: Path, records: Sequence[Assessment]) -> list[str]:
    """The pictures that are listed and that no page shows."""
    shown = {picture.id for record in records for picture in _shown(record)} | named_on_pages(root)
    listed = known.pictures.pictures if known.pictures else ()
    return [f"{one.id} ({one.file})" for one in listed if one.id not in shown]


def _shown(record: Assessment) -> Iterator[Picture]:
    yield from record.variant.pictures
    for mark in record.variant.marks:
        yield from mark.pictures
    yield from record.kit.pictures
    if record.procedure is not None:
        for course in (record.procedure.fitting, record.procedure.restoring):
            for step in course.steps if course is not None else ():
                yield from step.pictures


def named_on_pages(root: Path) -> set[str]:
    """The pictures that hand-written pages name."""
    from guidegen.reading import bytes_of

    folder = root / "content" / "pages"
    pages = folder.rglob("*.md") if folder.is_dir() else ()
    texts = (bytes_of(page).decode("utf-8", "replace") for page in pages if page.is_file())
    return {name for text in texts for name in _IN_PAGE.findall(text)}


def unlisted(known: Catalogue, root: Path) -> list[str]:
    """The files in the folder of pictures that content/pictures.yml does not list; they are not published."""
    from guidegen.trade.pictures import files_of

    listed = {one.file for one in known.pictures.pictures} if known.pictures else set()
    return [name for name in files_of(root) if name not in listed]


def small(known: Catalogue) -> list[str]:
    """The pictures that are narrower than what is printed."""
    from guidegen.workshop.pictures.album import MIDDLE

    found = sorted(known.album.photographs.values(), key=lambda one: one.file)
    return [f"{one.file}: {one.width} × {one.height} pixels; take it at least {MIDDLE} wide"
            for one in found if one.width < MIDDLE]  # fmt: skip


def dark(known: Catalogue) -> list[str]:
    """The pictures whose mean light is two stops or more below what is usual; they are read one at a time."""
    from guidegen.reading import bytes_of
    from guidegen.workshop.pictures.photograph import MOST_BYTES, luminance, pixels

    found = []
    for name, one in sorted(known.album.photographs.items()):
        light = luminance(pixels(bytes_of(one.path, MOST_BYTES), 64))
        if light < DARK:
            found.append(f"{name}: {light:.1%} of the light of white; take it again with more light")
    return found
