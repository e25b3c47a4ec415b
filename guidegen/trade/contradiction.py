"""One contradiction between parts of a catalogue as a problem with its place; what is checked stands elsewhere."""

from __future__ import annotations

from collections.abc import Collection

from guidegen.problems import Code, Explained, Problem, nearest, one_of
from guidegen.workshop.base import Document, Loc, Place
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.own_facts import named_nowhere
from guidegen.workshop.walk import name_of


def problem(document: Document, loc: Loc, code: Explained, message: str, fix: str, *, key: bool = False) -> Problem:
    place: Place = document.places.key(loc) if key else document.places[loc]
    name = name_of(document, loc)
    words = f"{name}: {message}" if name else message
    return Problem(place.path, place.line, place.column, code, words, fix)


def unknown_fact(document: Document, loc: Loc, fact: str, table: FactTable, *, key: bool = False) -> Problem:
    message, fix = named_nowhere(fact, (*table, *table.chosen))
    return problem(document, loc, Code.UNKNOWN_FACT, message, fix, key=key)


def unknown_part(document: Document, loc: Loc, name: str, parts: Collection[str], *, key: bool = False) -> Problem:
    near = nearest(name, parts)
    fix = f"write {near}" if near else f"use one of {one_of(parts)}"
    return problem(document, loc, Code.UNKNOWN_PART, f'the kit has no part "{name}"', fix, key=key)


def unknown_variant(document: Document, loc: Loc, name: str, variants: Collection[str]) -> Problem:
    near = nearest(name, variants)
    fix = f"write {near}" if near else "name a variant as <family>-<file>"
    return problem(document, loc, Code.UNKNOWN_FAMILY, f'no variant "{name}"', fix)
