"""Codes of problems are said once, in their enumerations; everything else names the member."""

from __future__ import annotations

import ast
import json
from pathlib import Path

import pytest

from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.safety.rules import RULES
from guidegen.problems import Code, Explained, Problem
from guidegen.runs.codes import RunCode
from guidegen.site.codes import SiteCode

PACKAGE = Path(__file__).parents[2] / "guidegen"
ENUMERATIONS: tuple[type[Explained], ...] = (Code, OrderCode, BuildCode, RunCode, SiteCode)
RULE_IDS = {rule.id for rule in RULES}


def literals(tree: ast.Module) -> list[tuple[str, int, bool]]:
    """Every text in a module with its line, and whether it stands in the head of a rule, which gives it its id."""
    heads = {
        id(node.args[0])
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Rule" and node.args
    }
    return [
        (node.value, node.lineno, id(node) in heads)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]


def members(tree: ast.Module) -> set[int]:
    """The lines of the enumerations of codes in a module."""
    classes = [node for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]
    found = [one for one in classes if any(isinstance(base, ast.Name) and base.id == "Explained" for base in one.bases)]
    return {line for one in found for line in range(one.lineno, (one.end_lineno or one.lineno) + 1)}


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_module_writes_a_code(path: Path) -> None:
    """A code that is typed again somewhere can be mistyped, or outlive what it names."""
    codes = {code.value for enumeration in ENUMERATIONS for code in enumeration}
    tree = ast.parse(path.read_text(encoding="utf-8"))
    inside = members(tree)
    for text, line, is_head in literals(tree):
        assert text not in codes or line in inside, f"{path.name}:{line}: {text} is written out: name its member"
        assert text not in RULE_IDS or is_head, f"{path.name}:{line}: {text} is written out: name its rule"


def test_no_two_kinds_of_mistakes_share_a_code() -> None:
    """Across all enumerations and the rules of the lint: whoever looks a code up finds one thing."""
    codes = [code.value for enumeration in ENUMERATIONS for code in enumeration] + [rule.id for rule in RULES]
    assert len(codes) == len(set(codes))
    assert set(Explained.__subclasses__()) == set(ENUMERATIONS)


def test_a_code_prints_and_sorts_as_its_value() -> None:
    """A problem takes the member; what is printed, compared and written as JSON is the code."""
    problem = Problem("a.yml", 1, 2, Code.MISSING_UNIT, "got 80", "write 80 ml")
    assert str(problem).splitlines()[0] == "a.yml:1:2: Q03 got 80"
    assert f"{Code.MISSING_UNIT}" == "Q03"
    assert json.dumps({"code": problem.code}) == '{"code": "Q03"}'
    assert sorted([Code.WIDE, Code.NO_NUMBER]) == [Code.WIDE, Code.NO_NUMBER]
    assert Code("Q03") is Code.MISSING_UNIT
    assert "unit" in Code.MISSING_UNIT.explanation
