"""What pages print beside the records: gathered once per run from the program's tables and the workshop's documents."""

from __future__ import annotations

import hashlib
import importlib
import pkgutil
from collections.abc import Sequence
from functools import cache, partial
from types import MappingProxyType

from guidegen import heat
from guidegen.assess.acts import acts
from guidegen.assess.fields import fields
from guidegen.assess.pictures import every, with_variant
from guidegen.assess.stated import variant_part
from guidegen.heat.bibliography import title_of
from guidegen.heat.formula import Formula
from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.fit.identify import which_of
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.fit.phrases import ORDER, PHRASES
from guidegen.judge.fit.walk import longest
from guidegen.judge.safety.lint import DOCUMENTED
from guidegen.problems import Code
from guidegen.reading import bytes_of
from guidegen.record.reference import (
    CheckWords,
    Citation,
    CitedSource,
    ExplainedCode,
    FormulaLimit,
    FormulaPart,
    FormulaSymbol,
    GlossaryTerm,
    LintRule,
    Publisher,
    Reference,
    Terms,
)
from guidegen.record.self_check import Finder
from guidegen.runs.codes import RunCode
from guidegen.trade import Catalogue
from guidegen.trade.machine import Machine
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.questions import Questions

LARGEST_LOG = 2_000_000
"""Bytes of a logged file that goes into the site; of a longer one pages name the sum."""
WORDS = CheckWords(shown=MappingProxyType(PHRASES), order=MappingProxyType(ORDER))


def reference(known: Catalogue) -> Reference:
    """What the pages of a workshop share. Raises `SourceLost` where a formula cites what nobody knows."""
    return Reference(
        publisher=publisher(known),
        sources=MappingProxyType(
            {
                key: CitedSource(
                    title=one.title, kind=one.kind, authors=one.authors, year=one.year, where=one.where, note=one.note
                )
                for key, one in known.sources.sources.items()
            }
        ),
        terms=MappingProxyType(
            {
                key: GlossaryTerm(name=one.name, means=one.means, also=one.also, see=one.see)
                for key, one in known.glossary.terms.items()
            }
        ),
        variants=MappingProxyType(
            {name: with_variant(known, variant_part(machine), machine) for name, machine in known.machines.items()}
        ),
        kits=MappingProxyType({name: kit.name for name, kit in known.kits.items()}),
        formulas=formulas(),
        rules=rules(),
        acts=acts(),
        codes=codes(),
        fields=fields(known),
        words=WORDS,
        pictures=every(known),
        shelf=known.album,
        logs=partial(log, known),
        find=partial(find, known),
    )


def publisher(known: Catalogue) -> Publisher:
    """Who publishes, and on which terms he sells."""
    workshop, terms = known.workshop, known.workshop.terms
    stated = None
    if terms is not None:
        seller = terms.seller
        stated = Terms(
            seller=seller.name, address=seller.address, registered=seller.registered,
            **terms.model_dump(exclude={"seller"}),
        )  # fmt: skip
    return Publisher(name=workshop.name, contact=workshop.contact, terms=stated, price_list=known.offers is not None)


def log(known: Catalogue, digest: str) -> bytes | None:
    """The logged file of a sum; None where it is not here any more, or longer than anybody wants from a page."""
    for path, run in known.runs.items():
        source = (known.root / path).parent / run.file
        if run.sha256 == digest and source.is_file() and source.stat().st_size <= LARGEST_LOG:
            data = bytes_of(source)
            return data if hashlib.sha256(data).hexdigest() == digest else None
    return None


def find(known: Catalogue, variants: tuple[str, ...], edition: str) -> Finder:
    """What distinguishes these variants, in the order of the catalogue; those that it does not know are left out."""
    machines = [machine for name, machine in known.machines.items() if name in variants]
    return finder(machines, known.questions or Questions(), known.table, edition, known.workshop.contact)


def finder(machines: Sequence[Machine], questions: Questions, table: FactTable, edition: str, contact: str) -> Finder:
    """The same for these machines and questions, and a table of what may be asked of them."""
    which = which_of(machines, questions, table, edition=edition, contact=contact)
    return Finder.model_validate({**which, "longest": longest(which["rules"])})


@cache
def formulas() -> tuple[FormulaPart, ...]:
    """Every formula that a module of physics declares, by module, in the module's order."""
    found: list[FormulaPart] = []
    prefix = f"{heat.__name__}."
    for module in sorted(one.name for one in pkgutil.walk_packages(heat.__path__, prefix)):
        declared = getattr(importlib.import_module(module), "FORMULAS", ())
        found += [_formula(module.removeprefix(prefix), formula) for formula in declared]
    return tuple(found)


def _formula(module: str, formula: Formula) -> FormulaPart:
    cited = (title_of(citation, formula.name) for citation in formula.sources)
    return FormulaPart(
        module=module,
        name=formula.name,
        equation=formula.equation,
        symbols=tuple(FormulaSymbol(symbol=one.symbol, meaning=one.meaning, unit=one.unit) for one in formula.symbols),
        limits=tuple(
            FormulaLimit(quantity=one.quantity, low=one.low, high=one.high, unit=one.unit) for one in formula.validity
        ),
        sources=tuple(Citation(key=key, title=title, place=place) for key, title, place in cited),
    )


@cache
def rules() -> tuple[LintRule, ...]:
    """Every rule that an instruction is held to, in the order of the rules page."""
    return tuple(
        LintRule(
            id=one.id,
            severity=one.severity,
            sentence=one.sentence,
            fix=one.fix,
            waiver=one.waiver,
            editorial=one.editorial,
        )
        for one in DOCUMENTED
    )


@cache
def codes() -> tuple[ExplainedCode, ...]:
    """The codes of what can be wrong with a workshop's data, and with the text of an order."""
    every = (*Code, *OrderCode, *BuildCode, *RunCode)
    return tuple(ExplainedCode(code=one.value, explanation=one.explanation) for one in every)
