"""The examples in the documentation of pages and charts run."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import guidegen.site.charts
import guidegen.site.pages

MODULES = [
    f"{package.__name__}.{one.name}"
    for package in (guidegen.site.pages, guidegen.site.charts)
    for one in pkgutil.iter_modules(package.__path__)
]


@pytest.mark.parametrize("name", MODULES)
def test_examples_run(name: str) -> None:
    """Each gives what it says."""
    failed, _ = doctest.testmod(importlib.import_module(name))
    assert failed == 0
