"""The house rules that every file keeps: short files, short functions, docstrings that name what is there.

The docstring of a formula says, under `Parameters:`, each parameter of its signature, in the signature's order, with a
semicolon between two; a comma stays within one. And a name in backticks is a name that the code knows: who renames a
parameter renames it in the words too.
"""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[2]
LONGEST_FILE, LONGEST_FUNCTION = 300, 50
WRITTEN = (".py", ".css", ".js", ".html")

NO_CODE = {"if", "banjo"}
"""Words in backticks that no Python says: one of YAML's data, one of the language of requirements."""

Function = ast.FunctionDef | ast.AsyncFunctionDef


def files(*folders: str) -> list[str]:
    """The files that somebody wrote in some folders, by their path."""
    found = (path for folder in folders for path in (REPOSITORY / folder).rglob("*") if path.suffix in WRITTEN)
    return sorted(path.relative_to(REPOSITORY).as_posix() for path in found if "vendor" not in path.parts)


@cache
def tree(path: str) -> ast.Module:
    """The syntax of a module."""
    return ast.parse((REPOSITORY / path).read_text(encoding="utf-8"))


def functions(path: str) -> Iterator[Function]:
    """Every function of a module, inner ones too."""
    return (node for node in ast.walk(tree(path)) if isinstance(node, Function))


MODULES = [path for path in files("guidegen") if path.endswith(".py")]
TESTS = [path for path in files("tests") if path.endswith(".py")]


def test_files_stay_short() -> None:
    """A file of 300 lines has two duties."""
    paths = files("guidegen", "tests")
    assert len(paths) > 300
    long = {path for path in paths if len((REPOSITORY / path).read_text("utf-8").splitlines()) > LONGEST_FILE}
    assert long == set()


def test_functions_stay_short() -> None:
    """What does not fit on a screen is understood by nobody."""
    long = {
        f"{path} {one.name}"
        for path in (*MODULES, *TESTS)
        for one in functions(path)
        if (one.end_lineno or 0) - one.lineno + 1 > LONGEST_FUNCTION
    }
    assert long == set()


def parameters(one: Function) -> list[str]:
    """The names in a signature, without `self` and `cls`."""
    given = [*one.args.posonlyargs, *one.args.args, *one.args.kwonlyargs]
    given += [extra for extra in (one.args.vararg, one.args.kwarg) if extra]
    return [name.arg for name in given if name.arg not in ("self", "cls")]


def described(docstring: str) -> list[str] | None:
    """What the section `Parameters:` lists, or None where a docstring has none."""
    found = re.search(r"^Parameters: (.*?)(?=^[A-Z>]|^$|\Z)", docstring, re.MULTILINE | re.DOTALL)
    return [one.strip() for one in found[1].rstrip(".\n ").split(";")] if found else None


WITH_PARAMETERS = [
    (path, one) for path in MODULES for one in functions(path) if described(ast.get_docstring(one) or "") is not None
]


@pytest.mark.parametrize(("path", "one"), WITH_PARAMETERS, ids=lambda one: getattr(one, "name", None))
def test_a_docstring_describes_the_parameters_that_there_are(path: str, one: Function) -> None:
    """One entry for each, in their order; an entry that is a parameter's name alone stands where that one stands."""
    names = parameters(one)
    entries = described(ast.get_docstring(one) or "") or []
    assert len(entries) == len(names), f"{path}:{one.lineno}: {names} are described as {entries}"
    for place, entry in enumerate(entries):
        first = re.match(r"[a-z_]+", entry)
        if first and first[0] in names:
            assert names.index(first[0]) == place, f"{path}:{one.lineno}: {first[0]} is described out of its order"


def test_the_formulas_describe_their_parameters() -> None:
    """So that the test above is about something."""
    assert len(WITH_PARAMETERS) > 50


def test_parameters_are_read_up_to_the_next_section() -> None:
    """The reading itself, on a docstring of two entries, and on one without."""
    assert described("Give.\n\nParameters: flow Q, m³/s; bore d,\n    m.\nReturns: v.") == [
        "flow Q, m³/s",
        "bore d,\n    m",
    ]
    assert described("Give.\n\nReturns: v.") is None


def words_of_code(path: str) -> set[str]:
    """Every name and every word of a text in a module, docstrings left out."""
    found: set[str] = set()
    documentation = {id(node.value) for node in ast.walk(tree(path)) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree(path)):
        match node:
            case ast.Constant(value=str(text)) if id(node) not in documentation:
                found |= set(re.findall(r"\w+", text))
            case ast.Name(id=name) | ast.arg(arg=name) | ast.Attribute(attr=name) | ast.keyword(arg=str(name)):
                found.add(name)
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                found.add(name)
    return found


@cache
def all_words() -> frozenset[str]:
    """The words of the whole package, and the names of its modules."""
    words = set().union(*map(words_of_code, MODULES)) | {Path(path).stem for path in MODULES}
    return frozenset(words | {Path(path).parent.name for path in MODULES})


@pytest.mark.parametrize("path", MODULES)
def test_a_name_in_backticks_is_one_that_the_code_knows(path: str) -> None:
    """In the docstrings of functions and classes; a name of its parameters first of all."""
    own = words_of_code(path)
    for node in ast.walk(tree(path)):
        if not isinstance(node, Function | ast.ClassDef):
            continue
        text = inspect.cleandoc(ast.get_docstring(node, clean=False) or "")
        for name in set(re.findall(r"(?<!`)`([a-z]+(?:_[a-z]+)*)`(?!`)", text)) - own - NO_CODE:
            assert name in all_words(), f"{path}:{node.lineno}: {node.name} speaks of `{name}`, which is nowhere"
