"""The house rules that a reader relies on: imports follow the flow of data, and modules stay small."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "guidegen"

# Each room may import from its own row and from rows above it, never from below.
FLOW = (
    ("__init__", "problems", "language", "site_codes"),
    ("unit_table",),
    ("units",),
    ("physics",),
    ("catalogue",),
    ("fit", "safety"),
    ("record",),
    ("assessment",),
    ("cache",),
    ("charts", "drawings"),
    ("pages",),
    ("press",),
    ("web", "output"),
    ("handwritten",),
    ("engine", "bind", "finish"),
    ("serve", "starting", "editions"),
    ("orders",),
    ("pipeline",),
    ("api",),
    ("cli",),
    ("__main__",),
)
ROW = {room: row for row, rooms in enumerate(FLOW) for room in rooms}
MODULES = sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str:
    """The room of a module: the first part of its path inside the package, without the ending."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported_rooms(path: Path) -> set[tuple[str, int]]:
    """The rooms that a module imports from, each with the line; imports for types alone count too."""
    found: set[tuple[str, int]] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        match node:
            case ast.ImportFrom(module="guidegen", names=names):
                found |= {(name.name if name.name in ROW else "__init__", node.lineno) for name in names}
            case ast.ImportFrom(module=str(module)) if module.startswith("guidegen."):
                found.add((module.split(".")[1], node.lineno))
            case ast.Import(names=names):
                found |= {(name.name.split(".")[1], node.lineno) for name in names if name.name.startswith("guidegen.")}
            case ast.ImportFrom(level=level) if level:
                found.add(("a relative import: write the full name", node.lineno))
    return found


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_imports_follow_the_flow_of_data(path: Path) -> None:
    """A stage never imports from a later one, and physics imports nothing of the project but units."""
    room = room_of(path)
    assert room in ROW, f"{room} has no place in the flow: give it one in this table and in DEVELOPERS.md"
    for other, line in imported_rooms(path):
        if (room, other) == ("__init__", "api"):
            continue  # The interface's names are imported when they are first used, see there.
        assert ROW.get(other, 99) <= ROW[room], f"{path.name}:{line}: {room} must not import from {other}"
        if room == "physics":
            assert other in ("physics", "units"), f"{path.name}:{line}: physics stays pure, it imports {other}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_modules_stay_small(path: Path) -> None:
    """A module of 300 lines has two duties."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 300


def test_help_loads_no_heavy_library() -> None:
    """`guidegen --help` answers at once: numpy, scipy, numba, matplotlib and pydantic stay unloaded."""
    heavy = ("numpy", "scipy", "numba", "matplotlib", "pydantic", "jinja2", "mkdocs")
    code = (
        "import sys\nfrom guidegen.cli import parser\nparser().format_help()\n"
        f"print(*[name for name in {heavy!r} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == []


def test_the_engine_is_an_adapter() -> None:
    """No module imports the site engine: it is run as a program and can be exchanged."""
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            names += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                assert name.split(".")[0] not in ("mkdocs", "material", "properdocs", "zensical"), path
