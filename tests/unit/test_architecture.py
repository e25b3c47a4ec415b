"""Imports follow the flow of data, and what is heavy is loaded only where it is needed."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "guidegen"

GROUND = {"codes", "problems", "units", "unit_table", "language", "reading", "visible", "writing"}
"""What every room stands on: mistakes and places, units, the program's own words, how files are read and written."""
MAY_IMPORT = {
    "codes": set(),
    "problems": {"codes", "visible"},
    "visible": set(),
    "language": {"problems"},
    "unit_table": set(),
    "units": {"problems", "unit_table"},
    "reading": set(),
    "writing": {"problems", "reading"},
    "workshop": set(),
    "heat": set(),
    "runs": {"workshop"},
    "trade": {"heat", "runs", "workshop"},
    "judge": {"workshop"},
    "record": set(),
    "assess": {"heat", "judge", "record", "runs", "trade", "workshop"},
    "site": {"record"},
    "editions": {"record", "site", "workshop"},
    "pipeline": {"assess", "editions", "record", "site", "trade"},
    "commands": {"__init__", "assess", "editions", "judge", "pipeline", "record", "runs", "site", "trade", "workshop"},
    "__init__": {"commands"},
    "__main__": {"commands"},
}
"""What each room imports from beside the ground it stands on: exactly this, no more and no less."""
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
                found |= {(name.name if name.name in MAY_IMPORT else "__init__", node.lineno) for name in names}
            case ast.ImportFrom(module=str(module)) if module.startswith("guidegen."):
                found.add((module.split(".")[1], node.lineno))
            case ast.Import(names=names):
                found |= {(name.name.split(".")[1], node.lineno) for name in names if name.name.startswith("guidegen.")}
            case ast.ImportFrom(level=level) if level:
                found.add(("a relative import: write the full name", node.lineno))
    return found


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_module_imports_what_its_room_may(path: Path) -> None:
    """A room's row names every other room that it may import from; `heat` and `record` stand on nothing."""
    room = room_of(path)
    assert room in MAY_IMPORT, f"{room} has no row: give it one in this table and in DEVELOPERS.md"
    for other, line in imported_rooms(path):
        allowed = other == room or other in MAY_IMPORT[room] or (other in GROUND and room not in ("heat", "record"))
        assert allowed, f"{path.name}:{line}: {room} must not import from {other}"


def test_the_table_allows_nothing_that_no_module_needs() -> None:
    """A permission that nobody uses is a door left open."""
    used: dict[str, set[str]] = {room: set() for room in MAY_IMPORT}
    for path in MODULES:
        used[room_of(path)] |= {other for other, _ in imported_rooms(path)} - {room_of(path)}
    assert {room: others - GROUND for room, others in used.items() if room not in GROUND} == {
        room: others for room, others in MAY_IMPORT.items() if room not in GROUND
    }


def test_a_class_has_a_name_of_its_own() -> None:
    """Two classes of one name are taken for each other in an import, in a message, in a schema."""
    places: dict[str, set[str]] = {}
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name, set()).add(path.relative_to(PACKAGE).as_posix())
    assert {name: found for name, found in places.items() if len(found) > 1} == {}


def test_help_loads_no_heavy_library() -> None:
    """`guidegen --help` answers at once: numpy, scipy, numba, matplotlib, Pillow, typst and pydantic stay unloaded."""
    heavy = ("numpy", "scipy", "numba", "matplotlib", "pydantic", "jinja2", "mkdocs", "PIL", "typst")
    code = (
        "import sys\nfrom guidegen.commands import parser\nparser().format_help()\n"
        f"print(*[name for name in {heavy!r} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == []


def test_an_order_is_read_without_what_computes_and_draws() -> None:
    """`fit --read` judges and compares words; what it imports is half of its time, with these it was two seconds."""
    script = (
        "import sys\nimport guidegen.commands.orders\n"
        "print([m for m in ('matplotlib', 'numba', 'scipy', 'guidegen.pipeline') if m in sys.modules])"
    )
    loaded = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout
    assert loaded.strip() == "[]"


def test_the_engine_is_an_adapter() -> None:
    """No module imports the site engine: it is run as a program and can be exchanged."""
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            names += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                assert name.split(".")[0] not in ("mkdocs", "material", "properdocs", "zensical"), path


LETTER = r"[^\W\d_]"
"""What says a letter of any alphabet: it leaves the digits of every alphabet out, so it may say all of them."""
DIGITS_OF_ANY_ALPHABET = re.compile(r"\\d|\.is(?:digit|numeric|decimal)\(")


def digits_of_any_alphabet(source: str) -> list[int]:
    """The lines of a source that take digits of every alphabet for digits."""
    lines = source.replace(LETTER, "").splitlines()
    return [number for number, line in enumerate(lines, 1) if DIGITS_OF_ANY_ALPHABET.search(line)]


@pytest.mark.parametrize("line", [r're.compile(r"\d+")', "text.isdigit()", "sign.isnumeric()", r'rf"[\d.]+"'])
def test_digits_of_any_alphabet_are_seen(line: str) -> None:
    """So that the test below cannot be empty."""
    assert digits_of_any_alphabet(line) == [1]
    assert digits_of_any_alphabet('re.compile("[0-9]+")') == digits_of_any_alphabet(LETTER) == []


def test_digits_are_ascii() -> None:
    """A value with ٣ or ３ in it is refused as unreadable: nobody reads another number from it than a browser does."""
    found = {path.relative_to(PACKAGE): digits_of_any_alphabet(path.read_text(encoding="utf-8")) for path in MODULES}
    assert {path: lines for path, lines in found.items() if lines} == {}, r"write [0-9] in place of \d and isdigit()"
