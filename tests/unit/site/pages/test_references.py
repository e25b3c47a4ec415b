"""The pages that explain: methods, sources, rules and codes."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from guidegen.assess.reference import formulas
from guidegen.heat import bibliography
from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.safety.rules import RULES
from guidegen.problems import Code
from guidegen.site.codes import SiteCode
from guidegen.site.pages import methods
from guidegen.site.pages.page import Page


def test_every_formula_and_every_module_with_formulas_is_on_the_methods_page(pages: dict[str, Page]) -> None:
    """A module of physics that declares formulas belongs to a phenomenon."""
    import guidegen.heat
    from guidegen.site.pages.phenomena import PHENOMENA

    listed = {name for one in PHENOMENA for name in one.modules}
    folder = Path(guidegen.heat.__path__[0])
    sources = {
        path.relative_to(folder).with_suffix("").as_posix().replace("/", ".")
        for path in folder.rglob("*.py")
        if re.search(r"^FORMULAS\b", path.read_text("utf-8"), re.M)
    }
    assert listed == sources
    assert {formula.module for formula in formulas()} == sources
    for formula in formulas():
        assert formula.name in pages["formulas"].body


def test_a_lost_source_names_the_formula_that_lost_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Deleting a key of the bibliography stops the build."""
    monkeypatch.delitem(bibliography.TITLES, "colebrook-1939")
    with pytest.raises(bibliography.SourceLost, match=r"Friction, straight, turbulent.*colebrook-1939"):
        formulas.__wrapped__()


def test_no_title_of_the_bibliography_is_cited_by_nothing(pages: dict[str, Page]) -> None:
    """Each key is cited by a formula or by the documentation of one."""
    package = Path(methods.__file__).parents[2] / "heat"
    modules = [path for path in package.rglob("*.py") if path.stem != "bibliography"]
    text = "".join(path.read_text("utf-8") for path in modules)
    assert [name for name in bibliography.TITLES if name not in text] == []


def test_every_rule_and_every_code_is_explained(pages: dict[str, Page]) -> None:
    """From the rules and codes themselves."""
    for rule in RULES:
        assert f'id="{rule.id.lower()}"' in pages["rules"].body
    text = re.sub(r"</?code>", "`", html.unescape(pages["codes"].body))
    for code in (*Code, *SiteCode, *OrderCode, *BuildCode):
        assert f'id="{code.value.lower()}"' in pages["codes"].body
        assert code.explanation in text


def test_no_module_answers_with_a_code_that_no_page_explains(pages: dict[str, Page]) -> None:
    """Whatever looks like a code in the sources; those of screw threads in the physics are none."""
    package = Path(methods.__file__).parents[2]
    modules = [path for path in package.rglob("*.py") if "heat" not in path.parts]
    found = {code for path in modules for code in re.findall(r'"([A-Z](?:[A-Z]{2})?\d\d)"', path.read_text("utf-8"))}
    assert {"Q03", "W05", "HAZ07", "WVR01"} <= found
    explained = set(re.findall(r'<div id="(\w+)">', pages["codes"].body))
    explained |= set(re.findall(r'id="([a-z]{3}\d\d)"', pages["rules"].body))
    assert {code for code in found if code.lower() not in explained} == set()
