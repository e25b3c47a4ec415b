"""What pages print beside the records: complete, read-only, and as the program and the workshop have it."""

from __future__ import annotations

import dataclasses
import importlib
import pkgutil
from typing import Any

import pytest
from pydantic import ValidationError

from guidegen import heat
from guidegen.assess.reference import formulas, reference
from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.safety.rules import RULES
from guidegen.problems import Code
from guidegen.record.reference import Reference
from guidegen.runs.codes import RunCode
from tests.fact_titles import TABLE, made
from tests.mutants.draft import catalogue


@pytest.fixture(scope="module")
def shared() -> Reference:
    """The demonstration's."""
    return reference(catalogue())


def test_every_rule_and_every_code_is_there(shared: Reference) -> None:
    """Each rule of the lint once and the one about waivers; each code of data, orders and logs with its words."""
    assert [one.id for one in shared.rules] == [*(rule.id for rule in RULES), "WVR01"]
    for rule, one in zip(RULES, shared.rules, strict=False):
        assert (one.severity, one.sentence, one.fix) == (rule.severity, rule.sentence, rule.fix)
        assert (one.waiver, one.editorial) == (rule.waiver, rule.editorial)
    assert {one.code: one.explanation for one in shared.codes} == {
        one.value: one.explanation for one in (*Code, *OrderCode, *BuildCode, *RunCode)
    }


def test_every_formula_is_there_with_its_module(shared: Reference) -> None:
    """As the module declares it, symbols, limits and sources included."""
    for module in (one.name for one in pkgutil.iter_modules(heat.__path__)):
        declared: Any = getattr(importlib.import_module(f"guidegen.heat.{module}"), "FORMULAS", ())
        held = [one for one in shared.formulas if one.module == module]
        assert [one.name for one in held] == [one.name for one in declared]
        for formula, one in zip(declared, held, strict=True):
            assert one.equation == formula.equation
            assert [(symbol.symbol, symbol.unit) for symbol in one.symbols] == [
                (symbol.symbol, symbol.unit) for symbol in formula.symbols
            ]
            assert [(limit.quantity, limit.low, limit.high) for limit in one.limits] == [
                (limit.quantity, limit.low, limit.high) for limit in formula.validity
            ]
            assert [", ".join(filter(None, (cited.key, cited.place))) for cited in one.sources] == list(formula.sources)
    assert len(shared.formulas) > 50


def test_every_source_term_variant_and_kit_of_the_workshop_is_there(shared: Reference) -> None:
    """By their ids, as they were written."""
    known = catalogue()
    assert {key: one.title for key, one in shared.sources.items()} == {
        key: one.title for key, one in known.sources.sources.items()
    }
    assert {key: (one.name, one.also) for key, one in shared.terms.items()} == {
        key: (one.name, one.also) for key, one in known.glossary.terms.items()
    }
    assert list(shared.variants) == list(known.machines)
    assert {key: one.name for key, one in shared.variants.items()} == {
        key: one.name for key, one in known.machines.items()
    }
    assert dict(shared.kits) == {key: one.name for key, one in known.kits.items()}
    assert (shared.publisher.name, shared.publisher.contact) == (known.workshop.name, known.workshop.contact)


def test_nothing_of_it_can_be_changed(shared: Reference) -> None:
    """Pages share it."""
    with pytest.raises(dataclasses.FrozenInstanceError):
        shared.kits = {}  # type: ignore[misc]
    for table in (shared.sources, shared.terms, shared.variants, shared.kits, shared.words.shown, shared.words.order):
        with pytest.raises(TypeError):
            table["new"] = None  # type: ignore[index]
    with pytest.raises(ValidationError, match="frozen"):
        shared.rules[0].sentence = "Anything goes."  # type: ignore[misc]


def test_the_finder_distinguishes_the_variants_of_the_site_and_no_others(shared: Reference) -> None:
    """In the catalogue's order whatever the order asked for; the longest way is not published."""
    found = shared.find(("bracken-a", "tamsin-mk2", "gone-long-ago"), "2026.1")
    assert [one.id for one in found.variants] == [
        name for name in shared.variants if name in ("bracken-a", "tamsin-mk2")
    ]
    assert found.pair.edition == "2026.1"
    outcomes = {name for one in found.rules.outcomes for name in one.split()}
    assert outcomes == {"bracken-a", "tamsin-mk2"}
    assert 1 <= found.longest <= len(found.questions)
    assert "longest" not in found.model_dump()


def test_formulas_are_gathered_once() -> None:
    """The preview asks after every edit."""
    assert formulas() is formulas()


def test_the_titles_of_facts_are_the_machines_own() -> None:
    """Pages print a number of a step by its fact's title: run `python tests/fact_titles.py` after a change."""
    assert TABLE.read_text(encoding="utf-8") == made()
