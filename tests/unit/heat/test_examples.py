"""The examples in the physics show numbers that a reader can derive, never today's output.

The criterion: a number of three significant digits or more in what an example gives, other than one that the example
itself says, has its origin in a comment on the example. Either the comment ends in `= ` and arithmetic that gives the
number to the digits shown, with the functions of `math` (`for t = ...` names a part of it; several numbers stand behind
commas, or on comments of their own), and the arithmetic is evaluated here; or the comment begins with the key of the
publication that prints the number. What only a computation can give is shown as a relation that must hold: `True`.
"""

from __future__ import annotations

import ast
import doctest
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import guidegen.heat
from guidegen.heat.bibliography import TITLES

FOLDER = Path(guidegen.heat.__file__).parent
NUMBER = re.compile(r"(?<![\w.-])-?\d+(?:\.\d+)?(?:e-?\d+)?(?!\w)")
COMMENT = re.compile(r"# (.*)$", re.MULTILINE)


def numbers(text: str) -> list[str]:
    """The numbers of a text, as printed."""
    return NUMBER.findall(text)


def digits(number: str) -> int:
    """How many significant digits are printed; zeros before the point count, as their meaning is open."""
    return len(number.partition("e")[0].replace("-", "").replace(".", "").lstrip("0"))


def derived(comment: str) -> Iterator[float]:
    """The values of the arithmetic in a comment."""
    _, equals, arithmetic = comment.rpartition("= ") if " for t = " not in comment else comment.partition("= ")
    if not equals:
        return
    names: dict[str, Any] = {name: value for name, value in vars(math).items() if not name.startswith("_")}
    arithmetic, named, value = arithmetic.partition(" for t = ")
    if named:
        names["t"] = eval(value, {"__builtins__": {}}, names)
    made = eval(arithmetic, {"__builtins__": {}}, names)
    yield from made if isinstance(made, tuple) else (made,)


def without_origin(example: doctest.Example, beside: str) -> list[str]:
    """The numbers of an example's output that neither it nor a line `beside` it says, and no comment accounts for."""
    comments = COMMENT.findall(example.source)
    said = {float(one) for one in numbers(COMMENT.sub("", beside))}
    asked = [one for one in numbers(example.want) if digits(one) >= 3 and float(one) not in said]
    if not asked or any(comment.split(",")[0].split(" ")[0] in TITLES for comment in comments):
        return []
    values = [value for comment in comments for value in derived(comment)]
    return [one for one in asked if not any(agrees(one, value) for value in values)]


def agrees(number: str, value: float) -> bool:
    """Whether a printed number is a value, to its last digit."""
    places = len(number.partition(".")[2])
    return abs(float(number) - value) <= 0.5000001 * 10**-places


EXAMPLES = [
    (path.stem, getattr(node, "name", "module"), one, " ".join(each.source for each in group))
    for path in sorted(FOLDER.glob("*.py"))
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    if isinstance(node, ast.FunctionDef | ast.ClassDef | ast.Module)
    for group in [doctest.DocTestParser().get_examples(ast.get_docstring(node) or "")]
    for one in group
    if not one.exc_msg
]


@pytest.mark.parametrize(
    ("module", "name", "example", "beside"), EXAMPLES, ids=lambda one: one if isinstance(one, str) else ""
)
def test_a_number_in_an_example_can_be_derived(module: str, name: str, example: doctest.Example, beside: str) -> None:
    """By arithmetic in its comment, or it is published."""
    assert without_origin(example, beside) == [], f"{module}.{name}: {example.source}"


@pytest.mark.parametrize(
    ("source", "want", "lacks"),
    [
        ("area(8)", "50.27", ["50.27"]),
        ("area(8)  # = pi / 4 * 8**2", "50.27", []),
        ("area(8)  # = pi / 4 * 8**2", "50.28", ["50.28"]),
        ("area(8)  # of the tube: = pi / 4 * 8**2, 1 / 7", "(50.27, 0.143)", []),
        ("area(8)  # = t**2 + 1 for t = 3 * 7", "442", []),
        ("area(8)  # iapws-r7, table 5", "50.27", []),
        ("area(8)  # by-nobody-1900", "50.27", ["50.27"]),
        ("area(50.27)", "50.270", []),
        ("area(8)", "5.0", []),
    ],
)
def test_the_criterion_itself(source: str, want: str, lacks: list[str]) -> None:
    """A number without origin is found, and one whose arithmetic gives another number."""
    assert without_origin(doctest.Example(source + "\n", want + "\n"), source) == lacks
