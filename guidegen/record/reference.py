"""What pages print beside the records of pairs: formulas, rules, acts, codes, sources, terms, and who publishes.

`assess` fills it once per run, from the program's own tables and from what the workshop wrote. Texts that a page
translates stand here in the source language.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from guidegen.record.acts import ActSection
from guidegen.record.base import Record
from guidegen.record.fields import FieldSection
from guidegen.record.pictures import Picture, PictureShelf
from guidegen.record.self_check import Finder
from guidegen.record.stated import VariantPart


class Terms(Record):
    """The terms of sale, in the workshop's own words; `registered` is the seller's number in a register."""

    seller: str
    address: str
    registered: str | None
    delivery: str
    payment: str
    returns: str
    warranty: str
    fitting: str
    privacy: str


class Publisher(Record):
    """The workshop that publishes, and where to ask. `price_list`: whether it offers anything for money."""

    name: str
    contact: str
    terms: Terms | None = None
    price_list: bool = False


class CitedSource(Record):
    """Where a value comes from, as the workshop wrote it."""

    title: str
    kind: Literal["standard", "handbook", "paper", "manual", "bench"]
    authors: str | None
    year: int | None
    where: str | None
    note: str | None


class GlossaryTerm(Record):
    """A word of the trade; `see` are the ids of others."""

    name: str
    means: str
    also: tuple[str, ...]
    see: tuple[str, ...]


class Citation(Record):
    """What a formula cites: a key of the bibliography, its title, and the table or equation."""

    key: str
    title: str
    place: str


class FormulaSymbol(Record):
    """One symbol of an equation: how it is written, what it stands for, its SI unit."""

    symbol: str
    meaning: str
    unit: str


class FormulaLimit(Record):
    """Between which ends of a quantity a formula is valid."""

    quantity: str
    low: float
    high: float
    unit: str


class FormulaPart(Record):
    """One formula, and the module of `heat` that computes it."""

    module: str
    name: str
    equation: str
    symbols: tuple[FormulaSymbol, ...]
    limits: tuple[FormulaLimit, ...]
    sources: tuple[Citation, ...]


class LintRule(Record):
    """One rule that every instruction is held to: what must hold, how a breach is fixed, what a breach leads to.

    `waiver`: somebody may answer for a breach in writing. `editorial`: a breach is reported to the writer only.
    """

    id: str
    severity: Literal["error", "warning"]
    sentence: str
    fix: str
    waiver: bool
    editorial: bool


class ExplainedCode(Record):
    """A code that the program may answer with, and what it means."""

    code: str
    explanation: str


WordTable = Mapping[str, "str | WordTable"]
"""Words by name, some of them in tables of their own."""


@dataclass(frozen=True)
class CheckWords:
    """What the page of the self-check shows, and the fixed words of an order, which no language changes."""

    shown: WordTable
    order: WordTable


@dataclass(frozen=True)
class Reference:
    """Everything that pages share and that no record of a pair holds. Mappings are read-only, in the order of ids.

    `variants` and `kits` are all that the workshop knows, whether or not a site has a guide for them; `kits` are their
    names. `find` makes the questions that distinguish the given variants, for an edition: the one part that grows with
    the number of variants, so it is made where its page is. `pictures` are all photographs that the workshop lists,
    `shelf` has the copies of those whose files are here. `logs` gives a logged file by its sum, where these very bytes
    are here and not too many to hand on.
    """

    publisher: Publisher
    sources: Mapping[str, CitedSource]
    terms: Mapping[str, GlossaryTerm]
    variants: Mapping[str, VariantPart]
    kits: Mapping[str, str]
    formulas: tuple[FormulaPart, ...]
    rules: tuple[LintRule, ...]
    acts: tuple[ActSection, ...]
    codes: tuple[ExplainedCode, ...]
    fields: tuple[FieldSection, ...]
    words: CheckWords
    pictures: Mapping[str, Picture]
    shelf: PictureShelf
    logs: Callable[[str], bytes | None]
    find: Callable[[tuple[str, ...], str], Finder]
