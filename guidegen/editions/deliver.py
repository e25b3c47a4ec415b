"""Carrying the editions out of the workshop and back: to a branch of git or a plain folder, and from there.

What goes out is what the sums of the editions list and what the site's root derives from them; anything else that lies
there stops the delivery by its name. Only what is verified goes out, one file at a time, and nothing that lies at the
other end as an edition is ever changed but by a withdrawal. Pages made anew go out too, marked as they are, so that no
address of an old guide is dead; the draft stays at home.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from guidegen.editions import around, branch, kept, place, signing, verify
from guidegen.editions.about import in_language_of
from guidegen.editions.crawlers import ROBOTS
from guidegen.editions.edition import SUMS, in_line
from guidegen.editions.stops import KEPT
from guidegen.problems import EnvironmentProblem, FaultsFound, RefusedProblem, UsageProblem
from guidegen.reading import bytes_of
from guidegen.site.output import OutputTree
from guidegen.writing import write_atomically

_MANIFEST = ".guidegen-files.json"
"""Which files of a plain folder are ours; beside it others may keep theirs, as a server's settings."""


@dataclass(frozen=True)
class Delivered:
    """What went out, or came back."""

    editions: tuple[str, ...]
    files: int


class OtherEnd(Protocol):
    """Where a public site lies: what it is called, and what a file of it holds."""

    called: str

    def read(self, path: str) -> bytes | None:
        """What a plain file holds; None where there is none."""


class SiteFolder:
    """A public site in a plain folder."""

    def __init__(self, folder: Path) -> None:
        self.called, self._folder = folder.as_posix(), folder

    def read(self, path: str) -> bytes | None:
        """What a file holds; a link is none."""
        file = self._folder / path
        return bytes_of(file) if file.is_file() and not file.is_symlink() else None


class Outgoing(Mapping[str, bytes]):
    """The public site by path: each file of an edition is read when it is asked for, and held against its sum."""

    def __init__(self, site: Path, sums: Mapping[str, str], made: Mapping[str, bytes]) -> None:
        self._site, self._sums, self._made = site, sums, made

    def __getitem__(self, path: str) -> bytes:
        """What goes out at a path."""
        if path in self._made:
            return self._made[path]
        data = bytes_of(self._site / path) if path in self._sums else b""
        if place.digest(data) != self._sums[path]:
            raise FaultsFound(f"not delivered: {path} was changed meanwhile")
        return data

    def leaving_out(self, path: str) -> Outgoing:
        """The same without one of the files that are made."""
        return Outgoing(self._site, self._sums, {key: data for key, data in self._made.items() if key != path})

    def __iter__(self) -> Iterator[str]:
        """Every path."""
        return iter((*self._sums, *self._made))

    def __len__(self) -> int:
        """How many files go out."""
        return len(self._sums) + len(self._made)


def files_to_deliver(root: Path) -> Outgoing:
    """Every file that the public site has. Raises where anything here is not what was published."""
    _refuse_faults(root)
    site = place.site_of(root)
    if not place.published(site):
        raise RefusedProblem("no edition is published here; publish one, or `guidegen recover` what was")
    sums: dict[str, str] = {}
    with in_language_of(root):
        for name, folder in around.here(root).items():
            own = place.sums_at(site / folder)
            expected = verify.expected_of(root, name, site / folder, own)
            sums |= {f"{folder}/{path}": total for path, total in expected.items()}
            sums[f"{folder}/{SUMS}"] = place.digest_of(site / folder / SUMS)
    made = {**around.root_files(root, public=True), place.VERSIONS: around.versions(root, public=True)}
    return Outgoing(site, sums, made)


def _refuse_faults(root: Path) -> None:
    """Bring what is merely old up to date, then raise with the name of everything that is not as it should be."""
    lacking: EnvironmentProblem | None = None
    try:
        around.refresh(root)
    except EnvironmentProblem as error:
        lacking = error
    faults = verify.verify(root)
    if faults:
        shown = "\n".join(f"  {fault}" for fault in faults)
        raise FaultsFound(f"not delivered, because not all that lies here is what was published:\n{shown}")
    if lacking:
        raise lacking


def to_folder(root: Path, folder: Path) -> Delivered:
    """Bring the editions into a plain folder, ready for upload."""
    _refuse_inside(root, folder)
    files = files_to_deliver(root)
    there, tree = SiteFolder(folder), OutputTree(folder, folder / _MANIFEST)
    names = _refuse_change(root, there, files)
    if there.read(ROBOTS) is not None and not tree.owns(ROBOTS):
        # Whoever wrote one of his own means it for the whole server.
        files = files.leaving_out(ROBOTS)
    tree.write(files)
    return Delivered(names, len(files))


def to_branch(root: Path, name: str) -> Delivered:
    """Commit the editions to a branch that holds nothing but the public site."""
    # An older program copied the site there, and left it there when it was killed.
    shutil.rmtree(root / ".guidegen" / "deliver", ignore_errors=True)
    files = files_to_deliver(root)
    names = place.published(place.site_of(root))
    for there in _branches(root, name):
        with branch.SiteBranch(root, there) as before:
            _refuse_change(root, before, files)
    branch.write(root, name, files, f"Publish edition {names[0]}")
    return Delivered(names, len(files))


def _refuse_inside(root: Path, folder: Path) -> None:
    """The site is no place to deliver to, nor is what it lies in."""
    site, there = place.site_of(root).resolve(), folder.resolve()
    if there.is_relative_to(site) or site.is_relative_to(there):
        raise UsageProblem(f"{folder.as_posix()} holds the site or lies in it; deliver to another folder")


def recover(root: Path, name: str | None, folder: Path | None) -> Delivered:
    """Bring all editions back from where they were delivered to, and verify every file before any is listed.

    Only what `content/editions` knows is believed. What is here already and whole stays; pages that were made anew give
    way to the originals.
    """
    _repair_list(root)
    if folder is not None:
        return _recover_from(root, SiteFolder(folder))
    assert name is not None
    names = _branches(root, name)
    if not names:
        raise EnvironmentProblem(f"there is no branch {name} here; fetch it first: git fetch origin {name}")
    done: list[Delivered] = []
    for there in names:
        with branch.SiteBranch(root, there) as held:
            done.append(_recover_from(root, held))
    return Delivered(tuple(one for each in done for one in each.editions), sum(one.files for one in done))


def _repair_list(root: Path) -> None:
    """Make a damaged list anew from the editions that lie here whole; without their seal none is known to be whole."""
    site = place.site_of(root)
    try:
        place.listed(site)
    except EnvironmentProblem:
        known = {name: place.edition_at(kept.folder_of(root, name)) for name in kept.names(root)}
        newest_first = [one.edition for one in reversed(in_line(known))]
        whole = [name for name in newest_first if _is_whole(root, name)]
        write_atomically(site / place.VERSIONS, place.versions_bytes(whole))


def _is_whole(root: Path, name: str) -> bool:
    folder = place.site_of(root) / name
    if kept.seal(root, name) is None or not folder.is_dir():
        return False
    with in_language_of(root):
        return not [*verify.of_edition(root, name, folder)]


def _recover_from(root: Path, source: OtherEnd) -> Delivered:
    names = _names(source)
    if not names:
        raise EnvironmentProblem(f"{source.called} holds no {place.VERSIONS} that lists an edition")
    unknown = [name for name in names if kept.seal(root, name) is None]
    if unknown:
        raise RefusedProblem(
            f"{source.called} holds editions that nothing here vouches for: {', '.join(unknown)}. Their seal is kept "
            f"in {kept.FOLDER}/, in the workshop's history: bring that up to date (git pull), or ask who made them"
        )
    for name in names:
        if what := signing.wrong(root, name):
            raise RefusedProblem(f"edition {name} is {what}; nothing of it was taken")
    site = place.site_of(root)
    brought, count = [], 0
    for name in reversed(names):
        original = Original(root, name, source)
        if name in place.published(site) and _is_whole(root, name):
            continue
        count += len(original)
        _unlist(root, name)
        place.commit(site, name, original, around.versions(root, [name]), sums=original.sums)
        kept.keep(root, name)
        brought.append(name)
    around.refresh(root)
    return Delivered(tuple(brought), count)


def _unlist(root: Path, name: str) -> None:
    """Take an edition that is damaged here out of the list, so that it can be brought back whole."""
    site = place.site_of(root)
    left = [str(one["version"]) for one in place.listed(site) if one["version"] != name]
    if site.is_dir() and (site / place.VERSIONS).is_file():
        write_atomically(site / place.VERSIONS, place.versions_bytes(left))


class Original(Mapping[str, bytes]):
    """An edition's files as published, read one at a time and held against the seal in the workshop's history.

    The original of a withdrawn page is read from where it is kept by its hash. What is damaged is named before anything
    is taken.
    """

    def __init__(self, root: Path, name: str, source: OtherEnd) -> None:
        sums = source.read(f"{name}/{SUMS}") or b""
        if place.digest(sums) != kept.seal(root, name):
            words = f"edition {name} in {source.called} is not the one that {kept.FOLDER}/{name} vouches for"
            raise RefusedProblem(words)
        self.sums, self._name, self._source = sums, name, source
        self._totals = place.read_sums(sums)
        wrong = [path for path in self._totals if self._read(path) is None]
        if wrong:
            shown = ", ".join(wrong[:4]) + (", …" if len(wrong) > 4 else "")
            raise RefusedProblem(f"edition {name} in {source.called} is damaged, nothing of it was taken: {shown}")

    def _read(self, path: str) -> bytes | None:
        total = self._totals[path]
        for there in (path, f"{KEPT}/{total}"):
            data = self._source.read(f"{self._name}/{there}")
            if data is not None and place.digest(data) == total:
                return data
        return None

    def __getitem__(self, path: str) -> bytes:
        """What was published at a path."""
        data = self._read(path)
        if data is None:
            raise RefusedProblem(f"{path} of edition {self._name} was changed in {self._source.called} meanwhile")
        return data

    def __iter__(self) -> Iterator[str]:
        """Every path."""
        return iter(self._totals)

    def __len__(self) -> int:
        """How many files there are."""
        return len(self._totals)


def _names(source: OtherEnd) -> tuple[str, ...]:
    """The editions that lie at the other end, newest first."""
    data = source.read(place.VERSIONS)
    return place.names_in(place.list_of(data, f"{place.VERSIONS} in {source.called}")) if data is not None else ()


def _refuse_change(root: Path, there: OtherEnd, files: Mapping[str, bytes]) -> tuple[str, ...]:
    """The editions that are published here; raises where another of that name, or one more, lies at the other end."""
    names = place.published(place.site_of(root))
    for name in names:
        before = there.read(f"{name}/{SUMS}")
        if before is not None and before != files[f"{name}/{SUMS}"]:
            raise RefusedProblem(f"edition {name} was delivered with other bytes before; an edition never changes")
    lost = sorted({*_names(there)} - {*names})
    if lost:
        raise RefusedProblem(
            f"{there.called} holds editions that are not here: {', '.join(lost)}; bring them back with "
            "`guidegen recover`"
        )
    return names


def _branches(root: Path, name: str) -> tuple[str, ...]:
    """The branch here and the one that was fetched, as far as there are any: either may know more editions."""
    return tuple(one for one in (name, f"origin/{name}") if branch.is_there(root, one))
