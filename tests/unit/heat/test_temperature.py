"""The zero of the Celsius scale is written down once for the physics, and once in the table of units."""

from __future__ import annotations

import ast
from pathlib import Path

import guidegen
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.unit_table import UNITS

PACKAGE = Path(guidegen.__file__).parent


def test_nobody_else_writes_it() -> None:
    """The physics imports nothing and the units stand on nothing, so there are two; code has no third."""
    found = [
        path.relative_to(PACKAGE).as_posix()
        for path in sorted(PACKAGE.rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and type(node.value) is float and abs(node.value) == 273.15
    ]
    assert found == ["heat/temperature.py", "unit_table.py"]


def test_both_say_the_same() -> None:
    """Ice melts at 273.15 K and 32 °F."""
    assert UNITS["temperature"]["°C"] == (1, ZERO_CELSIUS)
    factor, offset = UNITS["temperature"]["°F"]
    assert abs(32 * factor + offset - ZERO_CELSIUS) < 1e-12
