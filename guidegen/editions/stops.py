"""Stop pages: what stands in place of a withdrawn guide, and the original, kept by its hash.

Everything here may be done twice, so that a command that died is finished by the next one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from guidegen.editions.edition import Edition
from guidegen.editions.place import digest, sums_at
from guidegen.editions.template import render
from guidegen.editions.withdrawals import Withdrawal, concerned
from guidegen.reading import bytes_of
from guidegen.writing import clear_unfinished, write_atomically

KEPT = "withdrawn"
"""The folder of an edition that holds the originals, each under its SHA-256."""


def stop_page(path: str, edition: Edition, one: Withdrawal, contact: str) -> bytes:
    """The page that stands at `path` of an edition instead of the guide.

    It leads to what is known of all guides, not to the short address, which may lead back here.
    """
    up = "../" * path.count("/")
    title = edition.title_of(one.guide)
    return render(
        "stop.html", title=title, edition=edition, one=one, contact=contact, which=f"{up}../which.html"
    ).encode()


def instead(
    sums: Mapping[str, str], edition: Edition, withdrawn: Mapping[str, Withdrawal], contact: str
) -> Iterator[tuple[str, str, bytes | None]]:
    """Each file that is withdrawn: its path, its original's hash, and what stands there instead; None for nothing."""
    for path, total in sums.items():
        guide = concerned(path, withdrawn)
        if guide is not None:
            page = stop_page(path, edition, withdrawn[guide], contact) if path.endswith(".html") else None
            yield path, total, page


def put(folder: Path, edition: Edition, withdrawn: Mapping[str, Withdrawal], contact: str) -> None:
    """Put the stop pages into an edition's folder, and keep the originals."""
    if not withdrawn:
        return
    every = tuple(instead(sums_at(folder), edition, withdrawn, contact))
    clear_unfinished((folder / KEPT, *((folder / path).parent for path, _, _ in every)))
    for path, total, page in every:
        place = folder / path
        held = bytes_of(place) if place.is_file() else None
        if held is not None and digest(held) == total:
            write_atomically(folder / KEPT / total, held)
        if page is None:
            place.unlink(missing_ok=True)
        elif held != page:
            write_atomically(place, page)
