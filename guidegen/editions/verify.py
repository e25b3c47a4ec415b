"""Whether the editions are what was published: every file against its sum, and the sums against the seal."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from guidegen.editions import around, kept, place, stops, withdrawals
from guidegen.editions.edition import DRAFT, FILE, SUMS
from guidegen.problems import EnvironmentProblem, RefusedProblem


@dataclass(frozen=True, order=True)
class Fault:
    """One file that is not as it should be. `path` starts at the site's folder, or with `content/`."""

    path: str
    what: str

    def __str__(self) -> str:
        """Return the line that the terminal shows."""
        return f"{self.path}: {self.what}"


def verify(root: Path) -> tuple[Fault, ...]:
    """Every fault of every edition that the site has, of what is kept of it, and of the site's root."""
    site = place.site_of(root)
    faults = [fault for name, folder in around.here(root).items() for fault in of_edition(root, name, site / folder)]
    folders = {*around.here(root).values(), DRAFT}
    for entry in place.listed(site):
        if entry["version"] != DRAFT and not (site / str(entry["version"])).is_dir():
            faults.append(Fault(str(entry["version"]), "missing: versions.json lists it, and there is no such folder"))
    for path in sorted(site.iterdir()) if site.is_dir() else ():
        # What begins with a dot is the rest of a command that died, and goes with the next one.
        if path.is_dir() and path.name not in folders and path.name[0] != "." and (path / SUMS).is_file():
            faults.append(Fault(path.name, "extra: versions.json does not list this edition"))
    for name in place.published(site):
        faults += _of_kept(root, name, site / name)
    if around.is_fresh(root):
        faults += [Fault(path, what) for path, what in around.damaged(root).items()]
    if not any(fault.path == str(one["version"]) for fault in faults for one in place.listed(site)):
        wanted = json.loads(around.versions(root, public=True))
        if wanted != [one for one in place.listed(site) if one["version"] != DRAFT]:
            faults.append(Fault(place.VERSIONS, "changed"))
    return tuple(sorted(faults))


def _of_kept(root: Path, name: str, folder: Path) -> Iterator[Fault]:
    """The faults of an edition's snapshot and facts in the workshop, from which changes are computed."""
    held = kept.folder_of(root, name)
    if not held.is_dir() or not (folder / SUMS).is_file():
        return
    sums = place.read_sums((folder / SUMS).read_bytes())
    expected = {
        path.removeprefix(kept.SNAPSHOT): total for path, total in sums.items() if path.startswith(kept.SNAPSHOT)
    }
    expected[FILE] = sums[FILE]
    found = {path.name for path in held.iterdir() if path.is_file()} - {kept.SEAL}
    for path in sorted({*expected, *found}):
        where = f"{kept.FOLDER}/{name}/{path}"
        if path not in found:
            yield Fault(where, "missing")
        elif path not in expected:
            yield Fault(where, "extra: the edition has no such file")
        elif place.digest((held / path).read_bytes()) != expected[path]:
            yield Fault(where, "changed")


def of_edition(root: Path, name: str, folder: Path) -> Iterator[Fault]:
    """The faults of one edition that lies in `folder`."""
    try:
        data = (folder / SUMS).read_bytes()
        sums = place.read_sums(data)
    except (OSError, ValueError):
        yield Fault(f"{folder.name}/{SUMS}", "missing or unreadable, so nothing can be said about this edition")
        return
    seal = kept.seal(root, name) if folder.name == name else None
    if seal and place.digest(data) != seal:
        yield Fault(f"{folder.name}/{SUMS}", f"changed: it is not what {kept.FOLDER}/{name}/{kept.SEAL} vouches for")
    expected = dict(sums)
    called_back = withdrawals.of_edition(withdrawals.read(root), name)
    if called_back:
        edition = place.edition_at(folder)
        for path, total, page in stops.instead(sums, edition, called_back, around.contact_of(root)):
            expected[f"{stops.KEPT}/{total}"] = total
            del expected[path]
            if page is not None:
                expected[path] = place.digest(page)
    found = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file() or path.is_symlink()}
    for path in sorted({*expected, *found} - {SUMS}):
        if path not in found:
            yield Fault(f"{folder.name}/{path}", "missing")
        elif path not in expected:
            yield Fault(f"{folder.name}/{path}", "extra: the edition has no such file")
        elif (folder / path).is_symlink() or place.digest((folder / path).read_bytes()) != expected[path]:
            yield Fault(f"{folder.name}/{path}", "changed")


def tidy(root: Path) -> None:
    """Take away the rests of a command that died, and make the root anew where it is merely old.

    What is left is for `verify` to name.
    """
    place.clear(place.site_of(root))
    if not around.is_fresh(root):
        with contextlib.suppress(EnvironmentProblem, RefusedProblem):
            around.refresh(root)
