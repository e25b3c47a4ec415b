"""Which files make up a catalogue: found, named and placed as they must be, before anything is read."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from guidegen.problems import Code, Problem, nearest
from guidegen.workshop.base import ID

#: Files of content/ that are read when they are there; the first four must be.
REQUIRED = ("workshop", "drinks", "sources", "glossary")
OPTIONAL = ("hazards", "acts", "questions", "facts", "read", "pictures", "offers")
_MAX_DEPTH = 6


@dataclass
class Files:
    """Paths as messages print them (relative to the root, with slashes), by what they hold."""

    families: dict[str, str] = field(default_factory=dict)
    variants: dict[str, dict[str, str]] = field(default_factory=dict)
    builds: dict[str, str] = field(default_factory=dict)
    runs: list[str] = field(default_factory=list)
    content: dict[str, str] = field(default_factory=dict)
    kits: dict[str, str] = field(default_factory=dict)
    procedures: dict[str, str] = field(default_factory=dict)


def find(root: Path, problems: list[Problem], also: Iterable[str] = ()) -> Files:
    """Return the files of the workshop at `root`; what is wrong with names and places goes to `problems`.

    `also` are paths that count as there before anybody writes them.
    """
    files = Files()
    paths: list[str] = []
    for top in ("machines", "content"):
        if (root / top).is_symlink() and _leads_out(root / top, root.resolve()):
            words = "a symbolic link that leaves the workshop or leads nowhere"
            problems.append(_problem(Code.LINK_OUT, top, words, "copy the folder here instead"))
        elif (root / top).is_dir():
            _scan(root, root.resolve(), top, paths, problems, 0)
        else:
            problems.append(_problem(Code.FILE_MISSING, top, f"the folder {top}/ is missing", "make it"))
    for path in sorted({*paths, *also}):
        if path.endswith(".yaml"):
            fix = f"rename it to {path[:-5]}.yml"
            problems.append(_problem(Code.UNEXPECTED_FILE, path, "files of a catalogue end in .yml", fix))
        else:
            _sort_in(path, files, problems)
    for name in REQUIRED:
        if name not in files.content and (root / "content").is_dir():
            path = f"content/{name}.yml"
            problems.append(_problem(Code.FILE_MISSING, path, "the file is missing", "write it; see `guidegen schema`"))
    for family in sorted(set(files.variants) - set(files.families)):
        path = f"machines/{family}/family.yml"
        problems.append(_problem(Code.FAMILY_MISSING, path, "variants need a family file", "write it"))
    return files


def _scan(root: Path, real_root: Path, folder: str, paths: list[str], problems: list[Problem], depth: int) -> None:
    """Collect the YAML files below a folder; refuse links that lead out and names that clash."""
    seen: dict[str, str] = {}
    try:
        entries = sorted(os.scandir(root / folder), key=lambda entry: entry.name)
    except OSError as error:
        words = f"cannot be opened: {error.strerror}"
        problems.append(_problem(Code.UNREADABLE, folder, words, "look at its permissions"))
        return
    for entry in entries:
        if entry.name.startswith("."):
            continue
        path = f"{folder}/{entry.name}"
        printed = path.encode("utf-8", "backslashreplace").decode("utf-8")
        is_folder = entry.is_dir()
        if entry.is_symlink() and _leads_out(Path(entry.path), real_root):
            words = "a symbolic link that leaves the workshop or leads nowhere"
            problems.append(_problem(Code.LINK_OUT, printed, words, "copy the file here instead"))
            continue
        if not is_folder and not entry.name.lower().endswith((".yml", ".yaml")):
            continue
        if entry.name.lower().endswith((".yml", ".yaml")) and not entry.is_file():
            words = "has the name of a file, but is none"
            problems.append(_problem(Code.UNREADABLE, printed, words, "rename it"))
            continue
        lower = entry.name.lower()
        if lower in seen:
            words = f"{printed} and {seen[lower]} differ by case only"
            problems.append(_problem(Code.CASE_CLASH, printed, words, "rename one of them"))
        seen[lower] = printed
        if is_folder:
            # Hand-written pages bring files of their own; a link to a folder could lead in a ring.
            if path != "content/pages" and not entry.is_symlink() and depth < _MAX_DEPTH:
                _scan(root, real_root, path, paths, problems, depth + 1)
        else:
            paths.append(printed)


def _leads_out(link: Path, real_root: Path) -> bool:
    try:
        return not link.resolve(strict=True).is_relative_to(real_root)
    except (OSError, RuntimeError):
        return True


def _sort_in(path: str, files: Files, problems: list[Problem]) -> None:
    match path.removesuffix(".yml").split("/"):
        case ["machines", family, "family"]:
            files.families[family] = path
            files.variants.setdefault(family, {})
            _check_id(family, path, "folder", problems)
        case ["machines", family, "builds"]:
            files.builds[family] = path
        case ["machines", family, variant]:
            files.variants.setdefault(family, {})[variant] = path
            _check_id(variant, path, "file", problems)
            if len(f"{family}-{variant}") > 40:
                words = f'the variant id "{family}-{variant}" is longer than 40 characters'
                problems.append(_problem(Code.BAD_ID, path, words, "shorten the name of the file"))
        case ["machines", _, "runs", _]:
            files.runs.append(path)
        case ["content", "kits" | "procedures" as folder, name]:
            {"kits": files.kits, "procedures": files.procedures}[folder][name] = path
            _check_id(name, path, "file", problems)
        case ["content", "editions", *_]:
            pass
        case ["content", name] if name in (*REQUIRED, *OPTIONAL):
            files.content[name] = path
        case ["content", name]:
            near = nearest(name, (*REQUIRED, *OPTIONAL))
            fix = f"rename it to content/{near}.yml" if near else "move or delete it"
            problems.append(_problem(Code.UNEXPECTED_FILE, path, "nothing reads this file", fix))
        case _:
            problems.append(_problem(Code.UNEXPECTED_FILE, path, "nothing reads this file", "move or delete it"))


def _check_id(name: str, path: str, what: str, problems: list[Problem]) -> None:
    if not ID.fullmatch(name):
        words = f'the name of the {what}, "{name}", is no id'
        fix = "at most 40 small letters, digits and hyphens"
        problems.append(_problem(Code.BAD_ID, path, words, fix))


def _problem(code: Code, path: str, message: str, fix: str) -> Problem:
    return Problem(path, 1, 1, code, message, fix)
