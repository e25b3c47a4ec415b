"""Numbers kept between runs, by a hash of the question that they answer and of the code that answered it.

The code is what `numbers` imports, followed through the package, and the versions of the numerical libraries. Where
any of it changed an entry is simply never found again. A damaged entry counts as absent. Words are never kept.
"""

from __future__ import annotations

import ast
import hashlib
import logging
import os
import tempfile
from collections.abc import Callable, Iterator
from functools import cache
from importlib import metadata
from pathlib import Path

from pydantic import ValidationError

from guidegen.assess.numbers import Numbers
from guidegen.assess.question import PairQuestion

PACKAGE = Path(__file__).parents[1]
COMPUTES = "guidegen.assess.numbers"
LIBRARIES = ("numpy", "scipy", "numba", "pydantic")

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
        waiting += _imports(path, package)
    return tuple(sorted(found))


def _file(module: str, package: Path) -> Path:
    place = package.joinpath(*module.split(".")[1:])
    return place.with_suffix(".py") if place.with_suffix(".py").is_file() else place / "__init__.py"


def _imports(path: Path, package: Path) -> Iterator[Path]:
    for node in _running(ast.parse(path.read_bytes())):
        if isinstance(node, ast.Import):
            yield from (_file(one.name, package) for one in node.names if one.name.startswith("guidegen"))
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "guidegen":
            for one in node.names:
                inside = _file(f"{node.module}.{one.name}", package)
                yield inside if inside.is_file() else _file(node.module, package)


def _running(node: ast.AST) -> Iterator[ast.AST]:
    """Every node below one, but for what stands under `if TYPE_CHECKING`."""
    for child in ast.iter_child_nodes(node):
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


class Kept:
    """Numbers in `.guidegen/numbers/`, one file each, written in one piece; counts what was found and computed."""

    def __init__(self, root: Path) -> None:
        self.folder = root / ".guidegen" / "numbers"
        self.found, self.computed = 0, 0

    def find(self, asked: PairQuestion) -> Numbers | None:
        """The numbers of this question where they are kept."""
        try:
            return Numbers.model_validate_json(self._path(asked).read_bytes())
        except (OSError, ValidationError):
            return None

    def get(self, asked: PairQuestion, make: Callable[[], Numbers], name: str) -> Numbers:
        """The numbers of this question: kept, or made and kept. The name is for the log."""
        found = self.find(asked)
        if found is not None:
            self.found += 1
            return found
        log.info("computing the numbers of %s", name)
        made, path = make(), self._path(asked)
        self.computed += 1
        self.folder.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=self.folder)
        with os.fdopen(handle, "wb") as file:
            file.write(made.model_dump_json(by_alias=True).encode())
        Path(temporary).replace(path)
        return made

    def _path(self, asked: PairQuestion) -> Path:
        return self.folder / f"{hashlib.sha256((code_hash() + asked.digest()).encode()).hexdigest()[:32]}.json"
