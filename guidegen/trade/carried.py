"""What a record is made from, as bytes that can be carried to a machine that has no copy of the workshop.

A workshop goes in two kinds of parcels: what all variants share, once, and each family by itself. So a machine that is
asked for one variant reads no others. The same files make the same bytes.
"""

from __future__ import annotations

import io
import os
import zipfile
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from guidegen.reading import bytes_of
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.pictures import PAGES
from guidegen.workshop.pictures.written import FOLDER

MACHINES, CONTENT = "machines", "content"
LEFT_OUT = (PAGES, "content/editions", FOLDER)
"""Folders of content/ that no record is made from, but for the photographs that the workshop lists."""
READ = (".yml", ".po", ".learned.json")
"""How files end that are read because of where they lie; logs are read because a file names them."""
ALWAYS = (1980, 1, 1, 0, 0, 0)
"""When every file of a parcel was changed: what a parcel holds says what it is."""


def shared_parcel(known: Catalogue) -> bytes:
    """Pack what every variant's records are made from: `content/`, and families that photographs show."""
    listed = (f"{FOLDER}/{name}" for name in known.album.photographs)
    pictures = known.pictures.pictures if known.pictures else ()
    shown = (known.machines.get(name or "") for one in pictures for name in (one.taken_on, one.shows.variant))
    families = {one.family for one in shown if one is not None}
    inside = (path for family in families for path in _of_family(known, family))
    return _packed(known.root, {*_below(known.root, CONTENT), *listed, *inside})


def family_parcel(known: Catalogue, family: str) -> bytes:
    """Pack what the records of a family's variants are made from besides, its logged runs too."""
    return _packed(known.root, {*_of_family(known, family)})


def unpack(parcel: bytes, folder: Path) -> None:
    """Lay the files of a parcel down below a folder."""
    with zipfile.ZipFile(io.BytesIO(parcel)) as packed:
        packed.extractall(folder)


def _of_family(known: Catalogue, family: str) -> Iterator[str]:
    folder = f"{MACHINES}/{family}"
    yield from _below(known.root, folder)
    logged = ((PurePosixPath(path), run.file) for path, run in known.runs.items())
    yield from ((path.parent / file).as_posix() for path, file in logged if path.is_relative_to(folder))


def _below(root: Path, top: str) -> Iterator[str]:
    """The files below a folder that are read by their names; as everywhere, a link to a folder is not followed."""
    for folder, folders, files in os.walk(root / top):
        inside = Path(folder).relative_to(root)
        folders[:] = [one for one in folders if one[0] != "." and (inside / one).as_posix() not in LEFT_OUT]
        yield from ((inside / one).as_posix() for one in files if one[0] != "." and one.endswith(READ))


def _packed(root: Path, paths: set[str]) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as packed:
        for path in sorted(paths):
            packed.writestr(zipfile.ZipInfo(path, ALWAYS), bytes_of(root / path), zipfile.ZIP_DEFLATED)
    return whole.getvalue()
