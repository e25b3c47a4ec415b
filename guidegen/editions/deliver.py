"""Carrying the editions out of the workshop and back: to a branch of git or a plain folder, and from there.

Only what is verified goes out, and nothing that lies at the other end as an edition is ever changed but by a
withdrawal. Pages made anew go out too, marked as they are, so that no address of an old guide is dead; the draft stays
at home.
"""

from __future__ import annotations

import io
import shutil
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from guidegen.editions import around, history, kept, place, verify
from guidegen.editions.edition import ANEW, DRAFT, SUMS, Edition, in_line
from guidegen.editions.stops import KEPT
from guidegen.problems import EnvironmentProblem, RefusedProblem
from guidegen.site.output import OutputTree
from guidegen.writing import write_atomically

_MANIFEST = ".guidegen-files.json"
"""Which files of a plain folder are ours; beside it others may keep theirs, as a server's settings."""

_FILTER: dict[str, Any] = {"filter": "data"} if hasattr(tarfile, "data_filter") else {}
"""Only files are unpacked. Pythons before 3.11.4 have no such filter, and git itself holds no path that leads out."""


@dataclass(frozen=True)
class Delivered:
    """What went out, or came back."""

    editions: tuple[str, ...]
    files: int


def files_to_deliver(root: Path) -> dict[str, bytes]:
    """Every file that the public site has. Raises where an edition is not what was published."""
    around.refresh(root)
    faults = verify.verify(root)
    if faults:
        shown = "\n".join(f"  {fault}" for fault in faults[:8])
        raise RefusedProblem(f"not delivered, because an edition is not what was published:\n{shown}")
    site = place.site_of(root)
    names = place.published(site)
    if not names:
        raise RefusedProblem("no edition is published here; publish one, or `guidegen recover` what was")
    files = {}
    for path in sorted(path for path in site.rglob("*") if path.is_file()):
        top = path.relative_to(site).parts[0]
        if not top.startswith(".") and top != DRAFT:
            files[path.relative_to(site).as_posix()] = path.read_bytes()
    return {**files, **around.root_files(root, public=True), place.VERSIONS: around.versions(root, public=True)}


def to_folder(root: Path, folder: Path) -> Delivered:
    """Bring the editions into a plain folder, ready for upload."""
    files = files_to_deliver(root)
    names = place.published(place.site_of(root))
    for name in names:
        _refuse_change(folder / name / SUMS, files[f"{name}/{SUMS}"], name)
    _refuse_loss(place.published(folder), names, folder.as_posix())
    OutputTree(folder, folder / _MANIFEST).write(files)
    return Delivered(names, len(files))


def to_branch(root: Path, branch: str) -> Delivered:
    """Commit the editions to a branch that holds nothing but the public site."""
    files = files_to_deliver(root)
    names = place.published(place.site_of(root))
    for there in _branches(root, branch):
        with _unpacked(root, there) as before:
            for name in names:
                _refuse_change(before / name / SUMS, files[f"{name}/{SUMS}"], name)
            _refuse_loss(place.published(before), names, f"the branch {there}")
    work = root / ".guidegen" / "deliver"
    work.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=work) as made:
        for path, data in files.items():
            target = Path(made, path)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)
        command = [sys.executable, "-m", "ghp_import", "--no-jekyll", "--branch", branch]
        command += ["--message", f"Publish edition {names[0]}", made]
        done = subprocess.run(command, cwd=root, capture_output=True, text=True, check=False)
    if done.returncode:
        output = " ".join((done.stderr or done.stdout).split())
        raise EnvironmentProblem(f"the branch {branch} could not be written: {output}")
    return Delivered(names, len(files))


def recover(root: Path, branch: str | None, folder: Path | None) -> Delivered:
    """Bring all editions back from where they were delivered to, and verify every file before any is listed.

    What is here already and whole stays; pages that were made anew give way to the originals.
    """
    _repair_list(root)
    if folder is not None:
        return _recover_from(root, folder, folder.as_posix())
    assert branch is not None
    names = _branches(root, branch)
    if not names:
        raise EnvironmentProblem(f"there is no branch {branch} here; fetch it first: git fetch origin {branch}")
    done: list[Delivered] = []
    for name in names:
        with _unpacked(root, name) as held:
            done.append(_recover_from(root, held, f"the branch {name}"))
    return Delivered(tuple(name for one in done for name in one.editions), sum(one.files for one in done))


def _repair_list(root: Path) -> None:
    """Make a damaged list anew from the editions that lie here whole; without their seal none is known to be whole."""
    site = place.site_of(root)
    try:
        place.listed(site)
    except EnvironmentProblem:
        known = {name: place.edition_at(kept.folder_of(root, name)) for name in kept.names(root)}
        whole = [name for name in _newest_first(known) if _is_whole(root, name)]
        write_atomically(site / place.VERSIONS, place.versions_bytes(whole))


def _newest_first(known: Mapping[str, Edition]) -> list[str]:
    return [one.edition for one in reversed(in_line(known))]


def _is_whole(root: Path, name: str) -> bool:
    folder = place.site_of(root) / name
    return kept.seal(root, name) is not None and folder.is_dir() and not [*verify.of_edition(root, name, folder)]


def _recover_from(root: Path, source: Path, called: str) -> Delivered:
    names = place.published(source)
    if not names:
        raise EnvironmentProblem(f"{called} holds no {place.VERSIONS} that lists an edition")
    site = place.site_of(root)
    brought, count = [], 0
    for name in reversed(names):
        files = _original(root, name, source / name, called)
        if name in place.published(site) and not [*verify.of_edition(root, name, site / name)]:
            continue
        count += len(files)
        _unlist(root, name)
        place.commit(site, name, files, _versions(root, name))
        kept.keep(root, name)
        shutil.rmtree(site / f"{name}{ANEW}", ignore_errors=True)
        brought.append(name)
    around.refresh(root)
    return Delivered(tuple(brought), count)


def _versions(root: Path, name: str) -> bytes:
    """The list with the edition at its place in the line; before its facts are kept it counts as the newest."""
    folders = [folder for folder in around.here(root).values() if folder != f"{name}{ANEW}"]
    return place.versions_bytes([name, *sorted(folders, reverse=True)])


def _unlist(root: Path, name: str) -> None:
    """Take an edition that is damaged here out of the list, so that it can be brought back whole."""
    site = place.site_of(root)
    left = [str(one["version"]) for one in place.listed(site) if one["version"] != name]
    if site.is_dir() and (site / place.VERSIONS).is_file():
        write_atomically(site / place.VERSIONS, place.versions_bytes(left))


def _original(root: Path, name: str, folder: Path, called: str) -> dict[str, bytes]:
    """An edition's files as published: a withdrawn page's original is fetched from where it is kept by its hash."""
    sums = (folder / SUMS).read_bytes() if (folder / SUMS).is_file() else b""
    seal = kept.seal(root, name)
    if not sums or (seal and place.digest(sums) != seal):
        raise RefusedProblem(f"edition {name} in {called} is not the one that {kept.FOLDER}/{name} vouches for")
    files, wrong = {}, []
    for path, total in place.read_sums(sums).items():
        there = (one for one in (folder / path, folder / KEPT / total) if one.is_file() and not one.is_symlink())
        data = next((data for one in there if place.digest(data := one.read_bytes()) == total), None)
        if data is None:
            wrong.append(path)
        else:
            files[path] = data
    if wrong:
        shown = ", ".join(wrong[:4]) + (", …" if len(wrong) > 4 else "")
        raise RefusedProblem(f"edition {name} in {called} is damaged, nothing of it was taken: {shown}")
    return files


def _refuse_change(there: Path, sums: bytes, name: str) -> None:
    if there.is_file() and there.read_bytes() != sums:
        raise RefusedProblem(f"edition {name} was delivered with other bytes before; an edition never changes")


def _refuse_loss(before: tuple[str, ...], now: tuple[str, ...], called: str) -> None:
    lost = sorted({*before} - {*now})
    if lost:
        raise RefusedProblem(
            f"{called} holds editions that are not here: {', '.join(lost)}; bring them back with `guidegen recover`"
        )


def _branches(root: Path, branch: str) -> tuple[str, ...]:
    """The branch here and the one that was fetched, as far as there are any: either may know more editions."""
    return tuple(one for one in (branch, f"origin/{branch}") if _is_there(root, one))


@contextmanager
def _unpacked(root: Path, branch: str) -> Iterator[Path]:
    """The files of a branch in a folder of their own."""
    with tempfile.TemporaryDirectory() as made:
        with tarfile.open(fileobj=io.BytesIO(history.git(root, "archive", "--format=tar", branch))) as archive:
            archive.extractall(made, **_FILTER)
        yield Path(made)


def _is_there(root: Path, name: str) -> bool:
    try:
        history.git(root, "rev-parse", "--verify", "--quiet", f"{name}^{{commit}}")
    except EnvironmentProblem:
        return False
    return True
