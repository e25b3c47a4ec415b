"""The shape of compiled rules, as they travel in a page, in `data/` and in the snapshot of an edition.

Truth values are written `T`, `F`, `?`. A branch is the number of a node, or, below zero, an end: -1 is the first
outcome, -2 the second. Everything is numbers and words; texts for people stand elsewhere.
"""

from __future__ import annotations

from typing import Any, TypedDict

FORMAT = 1

Tree = Any
"""A test: `T`, `F`, `?` where it is settled, `-` where nobody needs to ask; [fact, place] a comparison;
["all" or "any", tree, …] a group; ["unless", tree, fact, class, …] a tree that is open where the answer about the fact
is of one of the classes, because it hides what the tree speaks of."""


class UnitRules(TypedDict):
    """One accepted unit. Counts are whole numbers of 1/10^decimals of the unit."""

    unit: str
    decimals: int
    plus_minus: int
    plausible: list[int]
    cuts: list[int]
    ways: list[int]
    limits: list[list[int | None]]
    """Per comparison: lowest and highest count that pass, to show."""


class FactRules(TypedDict):
    """One question: the classes of its answers, and what of the answer decides the class."""

    fact: str
    minutes: float
    classes: list[str]
    definite: list[int]
    units: list[UnitRules]
    choices: dict[str, int]
    unsure: int
    beyond: list[int]
    """Classes that the owner cannot make clearer: only the workshop can tell."""


class RemedyRules(TypedDict):
    """One remedy of a condition, and the conditions that it needs."""

    id: str
    needs: list[int]


class ConditionRules(TypedDict):
    """One condition: its test, and its remedies."""

    id: str
    test: Tree
    remedies: list[RemedyRules]


class SetRules(TypedDict):
    """One sufficient set of remedies; `provided` are conditions still to be found true."""

    remedies: list[str]
    provided: list[str]
    minutes: float
    cuts: bool
    mains_work: bool


class SufficientRules(TypedDict):
    """The sufficient sets by the truth of the conditions that bear on them, one letter each."""

    conditions: list[int]
    table: dict[str, int]
    sets: list[list[SetRules]]


class Rules(TypedDict):
    """All that the self-check of one pair needs to decide."""

    format: int
    outcomes: list[str]
    facts: list[FactRules]
    nodes: list[list[int]]
    """[fact, branch of class 0, branch of class 1, …]."""
    top: int
    conditions: list[ConditionRules]
    roots: list[int]
    sufficient: SufficientRules
