"""`content/editions/`: each edition's snapshot and facts, kept in the workshop's own history.

The site's copy comes first; what is missing here is copied from there by the next command, and is then for the
workshop to commit.
"""

from __future__ import annotations

import re
from pathlib import Path

from guidegen.editions import place, snapshot
from guidegen.editions.edition import FILE, SUMS, Edition, in_line
from guidegen.editions.lacking import lacking
from guidegen.problems import EnvironmentProblem
from guidegen.reading import bytes_of
from guidegen.record import Assessment, Unreadable, read, upgraded
from guidegen.writing import clear_unfinished, write_atomically

FOLDER = "content/editions"
SNAPSHOT = "snapshot/"
"""Where the snapshot lies inside a published edition."""
SEAL = "SHA256SUMS.sha256"
"""The sum of the edition's own sums: kept in another place than the bytes that it vouches for."""

_VARIANT = re.compile(r"[a-z0-9-]{1,40}\.json")


def folder_of(root: Path, name: str) -> Path:
    """Where an edition is kept."""
    return root / FOLDER / name


def names(root: Path) -> tuple[str, ...]:
    """The editions that are kept."""
    return tuple(name for name in folders(root) if (folder_of(root, name) / FILE).is_file())


def folders(root: Path) -> tuple[str, ...]:
    """The folders in which editions are kept, or were."""
    top = root / FOLDER
    found = (path.name for path in top.iterdir() if path.is_dir()) if top.is_dir() else ()
    return tuple(sorted(found))


def line(root: Path) -> tuple[Edition, ...]:
    """Every edition that is kept or published, from the first to the newest."""
    site = place.site_of(root)
    known = {name: place.edition_at(folder_of(root, name)) for name in names(root)}
    for name in place.published(site):
        if name not in known:
            known[name] = place.edition_at(site / name)
    return in_line(known)


def assessments(root: Path, name: str, guide: str | None = None) -> tuple[Assessment, ...]:
    """The records of an edition, typed: all of them, or that of one guide. Raises where one cannot be read."""
    found = []
    for one in records(root, name):
        pair = f"{one['variant']['id']}/{one['kit']['id']}"
        if guide in (None, pair):
            try:
                found.append(read(one, lacking()))
            except Unreadable as error:
                raise EnvironmentProblem(f"edition {name}, {pair}: {error}") from error
    return tuple(found)


def records(root: Path, name: str, variant: str | None = None) -> tuple[snapshot.Data, ...]:
    """The records of an edition, from its snapshot, or those of one variant: plain data in today's format."""
    files = snapshot_files(folder_of(root, name))
    if not files:
        files = snapshot_files(place.site_of(root) / name / SNAPSHOT)
    if snapshot.SHARED not in files:
        raise EnvironmentProblem(f"there is no snapshot of edition {name}; the editions: {', '.join(names(root))}")
    if variant is not None:
        files = {path: data for path, data in files.items() if path in (f"{variant}.json", snapshot.SHARED)}
    try:
        return tuple(upgraded(one, lacking()) for one in snapshot.unpack(files, name))
    except Unreadable as error:
        raise EnvironmentProblem(f"edition {name}: {error}") from error
    except (ValueError, TypeError, LookupError, AttributeError) as error:
        words = (
            f"its snapshot is damaged ({type(error).__name__}: {place.reason(error)}); take it back from the history"
        )
        raise EnvironmentProblem(f"edition {name}: {words}") from error


def snapshot_files(folder: Path) -> dict[str, bytes]:
    """The files of a snapshot in a folder."""
    found = sorted(folder.glob("*.json")) if folder.is_dir() else []
    return {path.name: bytes_of(path) for path in found if _VARIANT.fullmatch(path.name) and path.name != FILE}


def keep(root: Path, name: str) -> bool:
    """Copy what is missing of a published edition; returns whether something was.

    What a command left half written that died goes.
    """
    source, target = place.site_of(root) / name, folder_of(root, name)
    clear_unfinished((target.parent, target))
    held = {**snapshot_files(source / SNAPSHOT), FILE: bytes_of(source / FILE)}
    seal = f"{place.digest_of(source / SUMS)}  {SUMS}\n".encode() + place.sums_of(held)
    files = {**held, SEAL: seal}
    missing = {path: data for path, data in files.items() if not (target / path).is_file()}
    # The facts come last: without them nothing here counts as an edition.
    for path in sorted(missing, key=lambda path: (path == FILE, path)):
        write_atomically(target / path, missing[path])
    return bool(missing)


def sealed(root: Path, name: str) -> dict[str, str]:
    """What the seal vouches for: the edition's own sums, and each file that is kept; only the first where it is old."""
    return _read_seal(folder_of(root, name) / SEAL)


def seal(root: Path, name: str) -> str | None:
    """The sum of an edition's sums, where it is kept."""
    return sealed(root, name).get(SUMS)


def seal_anew(root: Path, folder: str) -> str | None:
    """The sum of the sums of pages that were made anew here, where that was noted."""
    return _read_seal(path_of_seal_anew(root, folder)).get(SUMS)


def path_of_seal_anew(root: Path, folder: str) -> Path:
    """Where it is noted: not in the history, because another program makes other bytes of the same snapshot."""
    return root / ".guidegen" / "seals" / f"{folder}.sha256"


def _read_seal(path: Path) -> dict[str, str]:
    try:
        return place.read_sums(bytes_of(path))
    except FileNotFoundError:
        return {}
    except (OSError, ValueError) as error:
        raise EnvironmentProblem(f"{path.as_posix()} cannot be read: {place.reason(error)}") from error
