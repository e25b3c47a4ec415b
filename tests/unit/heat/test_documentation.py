"""The physics documents itself: examples run, formulas say what they must, modules name the methods page."""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import pkgutil
from pathlib import Path
from types import FunctionType, ModuleType

import pytest

import guidegen.heat
from guidegen.heat.formula import Formula

LEAVES = (
    "bend", "burns", "calibration", "closed", "coil", "cuts", "evaluation", "friction", "heat_transfer",
    "hydraulics", "learning", "logged", "mixing", "paired", "planning", "pressure", "repeats", "residuals",
    "sensors", "statistics", "surface", "threads", "tightening", "vessel", "water", "water_transport",
)  # fmt: skip
SECTIONS = ("Parameters:", "Returns:", "Valid for:", "Equation:", "Source:", ">>>")
MODULES = sorted(
    one.name.removeprefix("guidegen.heat.") for one in pkgutil.walk_packages(guidegen.heat.__path__, "guidegen.heat.")
)


def _module(name: str) -> ModuleType:
    return importlib.import_module(f"guidegen.heat.{name}")


def _formulas(module: ModuleType) -> list[FunctionType]:
    return [
        one
        for name, one in vars(module).items()
        if isinstance(one, FunctionType) and one.__module__ == module.__name__ and not name.startswith("_")
    ]


# An example with its own arithmetic is no formula: it looks a name up.
LOOKUPS = {"named", "nominal_diameter"}
FORMULAS = [(one.__module__.rsplit(".", 1)[-1], one) for name in LEAVES for one in _formulas(_module(name))]


@pytest.mark.parametrize("name", MODULES)
def test_examples_run(name: str) -> None:
    """Every example in a docstring gives what it says."""
    failed, _ = doctest.testmod(_module(name))
    assert failed == 0


@pytest.mark.parametrize(("module", "function"), FORMULAS, ids=lambda one: getattr(one, "__name__", one))
def test_docstring_says_all_in_order(module: str, function: FunctionType) -> None:
    """A formula's docstring has parameters, returns, range, equation, source and an example, in this order."""
    if function.__name__ in LOOKUPS:
        return
    text = inspect.getdoc(function) or ""
    places = [text.find(section) for section in SECTIONS]
    assert -1 not in places, f"{module}.{function.__name__} lacks {SECTIONS[places.index(-1)]}"
    assert places == sorted(places), f"{module}.{function.__name__} has its sections out of order"


@pytest.mark.parametrize("name", LEAVES)
def test_module_names_the_methods_page(name: str) -> None:
    """Every module lists its formulas with full symbols, in a tuple that nobody can add to."""
    formulas = _module(name).FORMULAS
    assert isinstance(formulas, tuple)
    assert formulas
    for formula in formulas:
        assert isinstance(formula, Formula)
        assert formula.name
        assert formula.equation
        assert all(symbol.meaning for symbol in formula.symbols)


@pytest.mark.parametrize("name", MODULES)
def test_physics_imports_nothing_of_the_rest(name: str) -> None:
    """Physics stands alone: inside the package it imports physics only."""
    source = Path(inspect.getfile(_module(name))).read_text(encoding="utf-8")
    for node in ast.walk(ast.parse(source)):
        names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        for imported in names:
            assert not imported.startswith("guidegen") or imported.startswith("guidegen.heat"), imported
