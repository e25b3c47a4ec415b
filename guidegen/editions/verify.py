"""Whether the editions are what was published: every file against its sum, and the sums against the seal.

Looking writes nothing, so it works on a disk that can only be read, and mends nothing before it has seen it. Whatever
is damaged becomes a fault with its name: what is looked for here is what a disk or a stranger does to files.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import TypeVar

from guidegen.editions import around, kept, lines, place, signing, stops, withdrawals
from guidegen.editions.about import contact_of, in_language_of
from guidegen.editions.edition import DRAFT, FILE, SUMS
from guidegen.problems import CatalogueError, EnvironmentProblem
from guidegen.reading import bytes_of
from guidegen.site.output import EMPTY, LINK, PLAIN, walked
from guidegen.visible import visible

T = TypeVar("T")

CHANGED = "changed"
OLD = "changed or old; `guidegen deliver` makes it anew"
STRAY = ("the edition has no such file", "neither of an edition nor made from them")
ROOT = "the root of the site"
GITKEEP = ".gitkeep"
"""What keeps the site's folder in a history that holds nothing of it."""


@dataclass(frozen=True, order=True)
class Fault:
    """One file that is not as it should be. `path` starts at the site's folder, or with `content/`."""

    path: str
    what: str

    def __str__(self) -> str:
        """Return the line that the terminal shows."""
        return f"{visible(self.path)}: {visible(self.what)}"


def verify(root: Path) -> tuple[Fault, ...]:
    """Every fault of every edition that the site has, of what is kept of it, and of the site's root."""
    site = place.site_of(root)
    with in_language_of(root), place.each_read_once():
        found = [*_looked(place.VERSIONS, _of_list(root))]
        folders = _or(dict[str, str](), lambda: around.here(root))
        for name, folder in folders.items():
            found += _looked(folder, of_edition(root, name, site / folder))
        found += _looked(signing.SIGNERS, _of_signatures(root))
        for name in sorted({*kept.folders(root), *folders}):
            found += _looked(f"{kept.FOLDER}/{name}", _of_kept(root, name, folders))
        at_root = _looked(ROOT, _of_root(root, folders))
        # What follows from the editions is old where one of them is damaged, and nobody has to be told twice.
        found += [one for one in at_root if not found or (one.path != ROOT and one.what != OLD)]
    return tuple(sorted({*found}))


def _looked(path: str, faults: Iterator[Fault]) -> list[Fault]:
    """The faults; what keeps them from being found is one."""
    found: list[Fault] = []
    try:
        found += faults
    except (EnvironmentProblem, CatalogueError) as error:
        found.append(Fault(path, f"cannot be judged: {' '.join(str(error).split())}"))
    return found


def _or(other: T, ask: Callable[[], T]) -> T:
    """The answer, or another one where what is asked about is a fault that is named elsewhere."""
    try:
        return ask()
    except EnvironmentProblem:
        return other


def _of_list(root: Path) -> Iterator[Fault]:
    """The faults of `versions.json`, by itself and against the folders that are there."""
    site = place.site_of(root)
    try:
        listed = place.listed(site)
    except EnvironmentProblem as error:
        yield Fault(place.VERSIONS, str(error).removeprefix(f"{(site / place.VERSIONS).as_posix()} "))
        return
    missing = [one["version"] for one in listed if one["version"] != DRAFT and not (site / one["version"]).is_dir()]
    yield from (Fault(name, "missing: versions.json lists it, and there is no such folder") for name in missing)
    wanted = lines.loads(around.versions(root, public=True))
    if not missing and wanted != [one for one in listed if one["version"] != DRAFT]:
        yield Fault(place.VERSIONS, CHANGED)


def of_edition(root: Path, name: str, folder: Path) -> Iterator[Fault]:
    """The faults of one edition that lies in `folder`."""
    if folder.is_symlink():
        yield Fault(folder.name, "a link stands in the place of the edition's folder")
        return
    try:
        data = bytes_of(folder / SUMS)
        sums = place.read_sums(data)
    except (OSError, ValueError) as error:
        what = "missing" if isinstance(error, FileNotFoundError) else place.reason(error)
        yield Fault(f"{folder.name}/{SUMS}", f"{what}, so nothing can be said about this edition")
        return
    seal = kept.seal(root, name) if folder.name == name else kept.seal_anew(root, folder.name)
    if seal and place.digest(data) != seal:
        vouches = f"{kept.FOLDER}/{name}/{kept.SEAL}" if folder.name == name else "its seal"
        yield Fault(f"{folder.name}/{SUMS}", f"changed: it is not what {vouches} vouches for")
    expected = expected_of(root, name, folder, sums)
    replaced = {path for path in sums if expected.get(path) != sums[path]}
    for path, what in _compared(folder, dict(walked(folder)), {**expected, SUMS: place.digest(data)}, sums):
        is_old = what == CHANGED and path in replaced and not around.is_fresh(root)
        yield Fault(f"{folder.name}/{path}", OLD if is_old else what)


def expected_of(root: Path, name: str, folder: Path, sums: dict[str, str]) -> dict[str, str]:
    """The sum of each file that an edition's folder must hold but its list of sums; withdrawn pages are replaced."""
    expected = dict(sums)
    called_back = withdrawals.of_edition(withdrawals.read(root), name)
    if called_back:
        edition = place.edition_at(folder)
        for path, total, page in stops.instead(sums, edition, called_back, contact_of(root)):
            expected[f"{stops.KEPT}/{total}"] = total
            del expected[path]
            if page is not None:
                expected[path] = place.digest(page)
    return expected


def _compared(
    folder: Path, found: Mapping[str, str], expected: Mapping[str, str], once: Iterable[str] = ()
) -> Iterator[tuple[str, str]]:
    """Each path of a folder that is not as expected, and what is wrong with it; nothing but whole files is right.

    `found` is what lies there, by path; a folder in which something lay `once` may be empty.
    """
    emptied = {str(above) for path in (*expected, *once) for above in PurePosixPath(path).parents}
    for path in sorted({*expected, *found}):
        what = found.get(path)
        if what is None:
            yield path, "missing"
        elif path not in expected:
            if not (what == EMPTY and path in emptied):
                yield path, f"extra: {what if what != PLAIN else 'the edition has no such file'}"
        elif what != PLAIN or _changed(folder / path, expected[path]):
            yield path, CHANGED


def _changed(path: Path, total: str) -> bool:
    try:
        return place.digest_of(path) != total
    except OSError:
        return True


def _of_kept(root: Path, name: str, folders: dict[str, str]) -> Iterator[Fault]:
    """The faults of an edition's snapshot and facts in the workshop, from which changes are computed."""
    held, where = kept.folder_of(root, name), f"{kept.FOLDER}/{name}"
    if not held.is_dir():
        return
    expected = _expected_of_kept(root, name, folders)
    if expected is None:
        # Nothing here vouches for it but the workshop's history; it can still be seen whether it can be read.
        place.edition_at(held)
        kept.records(root, name)
        return
    found = {path: what for path, what in walked(held) if path not in (kept.SEAL, signing.SIGNATURE)}
    for path, what in _compared(held, found, expected):
        yield Fault(f"{where}/{path}", what)


def _of_signatures(root: Path) -> Iterator[Fault]:
    """Signatures that are not good, and editions without one that follow a signed one."""
    for name in kept.folders(root):
        what = signing.wrong(root, name)
        if what:
            yield Fault(f"{kept.FOLDER}/{name}/{signing.SIGNATURE}", what)
    if any(signing.path_of(root, name).is_file() for name in kept.folders(root)):
        for name in signing.unsigned(root, [one.edition for one in kept.line(root)]):
            yield Fault(f"{kept.FOLDER}/{name}", "not signed, and an edition before it is")


def _expected_of_kept(root: Path, name: str, folders: dict[str, str]) -> dict[str, str] | None:
    """The sum of each file that is kept: by the seal beside them, else by the sums of the pages that are here."""
    sealed = {path: total for path, total in kept.sealed(root, name).items() if path != SUMS}
    if sealed or name not in folders:
        return sealed or None
    try:
        sums = place.read_sums(bytes_of(place.site_of(root) / folders[name] / SUMS))
    except (OSError, ValueError):
        return None
    expected = {
        path.removeprefix(kept.SNAPSHOT): total for path, total in sums.items() if path.startswith(kept.SNAPSHOT)
    }
    # Pages that an older program made anew hold no snapshot.
    return {**expected, FILE: sums[FILE]} if expected and FILE in sums else None


def _of_root(root: Path, folders: dict[str, str]) -> Iterator[Fault]:
    """What the site holds beside its editions: what follows from them and nothing else."""
    site = place.site_of(root)
    if not site.is_dir():
        return
    is_fresh = around.is_fresh(root)
    before = set() if is_fresh else around.made_before(root)
    found = dict(_beside(site, {*folders.values(), DRAFT, GITKEEP, place.VERSIONS}))
    # Where nothing was built or brought back yet, as on a fresh clone, nothing is missing; a stray file is one even so.
    expected = around.sums_of_root(root) if (site / place.VERSIONS).is_file() else {}
    for path, what in _compared(site, found, expected):
        is_old = not is_fresh and (what == CHANGED or (path in before and found.get(path) == PLAIN))
        yield Fault(path, OLD if is_old else what.replace(*STRAY))


def _beside(site: Path, own: set[str]) -> Iterator[tuple[str, str]]:
    """What lies in the site's folder beside its `own` entries and the rests of commands that died."""
    for entry in sorted(os.scandir(site), key=lambda one: one.name):
        if entry.name in own or place.is_rest(entry.name):
            continue
        if entry.is_symlink() or not entry.is_dir():
            yield entry.name, LINK if entry.is_symlink() else PLAIN
        elif (site / entry.name / SUMS).is_file():
            yield entry.name, "versions.json does not list this edition"
        else:
            below = [(f"{entry.name}/{path}", what) for path, what in walked(site / entry.name)]
            yield from below or [(entry.name, EMPTY)]
