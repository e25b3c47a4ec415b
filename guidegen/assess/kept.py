"""Numbers kept between runs, by a hash of the question that they answer and of the code that answered it.

The code is what `numbers` imports, followed through the package, and the versions of the numerical libraries. Where
any of it changed an entry is simply never found again. A damaged entry counts as absent. Words are kept elsewhere, with
whole records (`records_kept`).
"""

from __future__ import annotations

import ast
import contextlib
import hashlib
import logging
import os
import re
from collections.abc import Callable, Iterator
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from guidegen.assess.numbers import Numbers
from guidegen.assess.question import PairQuestion
from guidegen.reading import bytes_of
from guidegen.writing import write_atomically

PACKAGE = Path(__file__).parents[1]
COMPUTES = "guidegen.assess.numbers"
LIBRARIES = ("numpy", "scipy", "numba", "pydantic")
STATEMENTS = (ast.stmt, ast.ExceptHandler, ast.match_case)
"""What a statement can stand in: no import stands in an expression, which are most of a source."""
LEAST_KEPT, TIMES_KEPT = 1000, 4
"""So many entries always stay, and so many times those that a run used; one is some 50 kB."""

log = logging.getLogger(__name__)


def import_closure(start: str = COMPUTES, package: Path = PACKAGE) -> tuple[Path, ...]:
    """The modules of the package that a module imports, itself, and what those import, and so on; sorted.

    Imports for types alone do not run and do not count. A package's `__init__` counts where names are taken from it.
    """
    found: dict[Path, None] = {}
    waiting = [_file(start, package)]
    while waiting:
        path = waiting.pop()
        if path in found:
            continue
        found[path] = None
        waiting += _files_imported(path, package)
    return tuple(sorted(found))


def _file(module: str, package: Path) -> Path:
    place = package.joinpath(*module.split(".")[1:])
    return place.with_suffix(".py") if place.with_suffix(".py").is_file() else place / "__init__.py"


@cache
def _files_imported(path: Path, package: Path) -> tuple[Path, ...]:
    """What a module imports of the package; read once, as one process does not change."""
    return tuple(_imports(path, package))


def _imports(path: Path, package: Path) -> Iterator[Path]:
    for node in _running(ast.parse(path.read_bytes())):
        if isinstance(node, ast.Import):
            yield from (_file(one.name, package) for one in node.names if one.name.startswith("guidegen"))
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "guidegen":
            for one in node.names:
                inside = _file(f"{node.module}.{one.name}", package)
                yield inside if inside.is_file() else _file(node.module, package)


def _running(node: ast.AST) -> Iterator[ast.AST]:
    """Every statement below a node, but for what stands under `if TYPE_CHECKING`."""
    for child in ast.iter_child_nodes(node):
        if not isinstance(child, STATEMENTS):
            continue
        if isinstance(child, ast.If) and isinstance(child.test, ast.Name) and child.test.id == "TYPE_CHECKING":
            continue
        yield child
        yield from _running(child)


@cache
def code_hash(start: str = COMPUTES) -> str:
    """A hash of the sources and library versions that what a module makes depends on."""
    digest = hashlib.sha256()
    for path in import_closure(start):
        digest.update(path.relative_to(PACKAGE).as_posix().encode() + b"\0" + path.read_bytes())
    for library in LIBRARIES:
        digest.update(f"{library}=={metadata.version(library)}\n".encode())
    return digest.hexdigest()


R = TypeVar("R", bound=BaseModel)
NAME = re.compile("[0-9a-f]{32}")
"""What an entry is called."""


class Entries:
    """A folder of entries by name, one file each, written in one piece.

    A file lies in the folder of the first two letters of its name, and begins with a sum of its name and its content:
    one that was torn, edited or copied under another name counts as absent.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def read(self, name: str) -> bytes | None:
        """What is kept under a name; None where nothing is, or not what was written."""
        path = self._path(name)
        try:
            said, _, data = bytes_of(path).partition(b"\n")
        except OSError:
            return None
        if said != _sum(name, data):
            return None
        with contextlib.suppress(OSError):
            os.utime(path)
        return data

    def has(self, name: str) -> bool:
        """Whether there is an entry, be it damaged."""
        return self._path(name).is_file()

    def write(self, name: str, data: bytes) -> None:
        """Keep something under a name, where that can be."""
        # What cannot be kept is computed again; where the disk is full the site says so. And another run may take the
        # half written file for one that a killed run left.
        with contextlib.suppress(OSError):
            write_atomically(self._path(name), _sum(name, data) + b"\n" + data, durable=False)

    def any(self) -> bool:
        """Whether anything is kept here."""
        return next(self.folder.glob("??/*"), None) is not None

    def every(self) -> dict[str, bytes]:
        """All that is kept here whole, by its name."""
        names = sorted(path.parent.name + path.name for path in self.folder.glob("??/*") if path.is_file())
        found = ((name, self.read(name)) for name in names if NAME.fullmatch(name))
        return {name: data for name, data in found if data is not None}

    def prune(self, stay: int) -> None:
        """Remove what was not used for longest, what killed runs left half written, and what no version looks for here.

        Parameters:
            stay: how many entries may; some times what a run used, so that going back and forth makes nothing anew.
        """
        ages: dict[Path, int] = {}
        with contextlib.suppress(OSError):
            for path in [*self.folder.iterdir(), *self.folder.glob("??/*")]:
                if path.is_dir() and not path.is_symlink():
                    continue
                if path.parent == self.folder or path.name.endswith(".part"):
                    path.unlink()
                else:
                    ages[path] = path.stat().st_mtime_ns
            for path in sorted(ages, key=lambda one: -ages[one])[stay:]:
                path.unlink()

    def _path(self, name: str) -> Path:
        return self.folder / name[:2] / name[2:]


class Kept:
    """Numbers in `.guidegen/numbers/`; counts what was found and computed."""

    def __init__(self, root: Path) -> None:
        self.folder = root / ".guidegen" / "numbers"
        self.entries = Entries(self.folder)
        self.found, self.computed, self.parts = 0, 0, 0

    def find(self, asked: PairQuestion) -> Numbers | None:
        """The numbers of this question where they are kept."""
        return self._found(_name(asked.digest()), Numbers)

    def held(self, asked: PairQuestion) -> dict[str, bytes]:
        """The entry of this question by its name, to be handed on; empty where there is none."""
        name = _name(asked.digest())
        data = self.entries.read(name)
        return {} if data is None else {name: data}

    def get(self, asked: PairQuestion, make: Callable[[], Numbers], name: str) -> Numbers:
        """The numbers of this question: kept, or made and kept. The name is for the log."""
        found = self.find(asked)
        if found is not None:
            self.found += 1
            return found
        log.info("computing the numbers of %s", name)
        made = make()
        self.computed += 1
        self.keep(asked, made)
        return made

    def keep(self, asked: PairQuestion, made: Numbers) -> None:
        """Keep the numbers of a question, where that can be."""
        self._keep(_name(asked.digest()), made)

    def part(self, model: type[R], computes: str, digest: str, make: Callable[[], R]) -> R:
        """Something smaller than the numbers of a pair, made by another module: kept under its own code and digest."""
        name = _name(digest, computes)
        found = self._found(name, model)
        self.parts += 1
        if found is None:
            found = make()
            self._keep(name, found)
        return found

    def prune(self, besides: int = 0) -> None:
        """Remove what was not used for longest; `besides` is of how many pairs nobody had to ask, as all was known."""
        self.entries.prune(max(LEAST_KEPT, TIMES_KEPT * (self.found + self.computed + self.parts + besides)))

    def _found(self, name: str, model: type[R]) -> R | None:
        data = self.entries.read(name)
        try:
            return None if data is None else model.model_validate_json(data)
        except ValidationError:
            return None

    def _keep(self, name: str, made: BaseModel) -> None:
        self.entries.write(name, made.model_dump_json(by_alias=True).encode())


def _name(digest: str, computes: str = COMPUTES) -> str:
    return hashlib.sha256((code_hash(computes) + digest).encode()).hexdigest()[:32]


def _sum(name: str, data: bytes) -> bytes:
    return hashlib.sha256(f"{name}\n".encode() + data).hexdigest().encode()
