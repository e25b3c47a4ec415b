"""What steps through time documents itself as the other formulas do."""

from __future__ import annotations

import importlib
import inspect
import pkgutil

import pytest

from guidegen.heat import components
from guidegen.heat.bibliography import title_of
from guidegen.heat.formula import Formula

COMPONENTS = tuple(
    f"components.{one.name}"
    for one in pkgutil.iter_modules(components.__path__)
    if one.name not in ("cells", "nomenclature")
)
MODULES = (*COMPONENTS, "idle", "shot", "program", "warming", "setpoint", "cooling", "steam", "losses")
FUNCTIONS = {
    "study": ("study",), "setpoint": ("setpoint_for",), "points": ("what_if", "drops_from_cold"),
    "cooling": ("cool_down",), "after": ("after_steam", "soaked_coil"),
    "losses": ("law", "at_idle"),
}  # fmt: skip
OTHERS = (
    "components.cells",
    "network",
    "kernels",
    "exact",
    "skins",
    "steps",
    "states",
    "runs",
    "fleet",
    "lagging",
    "predicted",
    "study",
    "points",
    "pull",
    "after",
)
SECTIONS = ("Parameters:", "Returns:", "Valid for:", "Equation:", "Source:", ">>>")


@pytest.mark.parametrize("name", MODULES)
def test_formulas_say_what_their_symbols_mean_and_cite_what_is_known(name: str) -> None:
    """Every module with equations lists them; every source is in the bibliography."""
    formulas = importlib.import_module(f"guidegen.heat.{name}").FORMULAS
    assert isinstance(formulas, tuple)
    assert formulas
    for formula in formulas:
        assert isinstance(formula, Formula)
        assert formula.equation
        assert all(symbol.meaning for symbol in formula.symbols)
        for source in formula.sources:
            assert title_of(source, formula.name)[1]


@pytest.mark.parametrize(("module", "function"), [(m, f) for m, functions in FUNCTIONS.items() for f in functions])
def test_docstrings_say_all_in_order(module: str, function: str) -> None:
    """Parameters, returns, range, equation, source and an example, in this order."""
    text = inspect.getdoc(getattr(importlib.import_module(f"guidegen.heat.{module}"), function)) or ""
    places = [text.find(section) for section in SECTIONS]
    assert -1 not in places, f"{function} lacks {SECTIONS[places.index(-1)]}"
    assert places == sorted(places), f"{function} has its sections out of order"


@pytest.mark.parametrize(
    "name",
    [*MODULES, *OTHERS],
)
def test_every_function_says_what_it_is_for(name: str) -> None:
    """Compiled or not, public or not of a class: a sentence."""
    module = importlib.import_module(f"guidegen.heat.{name}")
    for key, one in vars(module).items():
        if key.startswith("_") or getattr(one, "__module__", "") != module.__name__ or not callable(one):
            continue
        assert (getattr(one, "py_func", one).__doc__ or "").strip(), f"{name}.{key} has no docstring"
