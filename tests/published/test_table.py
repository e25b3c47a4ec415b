"""The table of checks on the site is that of these tests."""

from __future__ import annotations

import json
from typing import get_args

from guidegen.assess.reference import formulas
from guidegen.site.pages.methods import KINDS, OUTSIDE, unchecked
from tests.published.check import Kind
from tests.published.table import FILE, rows


def test_the_published_table_is_up_to_date() -> None:
    """Every row is there as the tests have it; else run `python -m tests.published.table`."""
    kept = json.loads(FILE.read_text(encoding="utf-8"))
    made = list(rows())
    columns = ("group", "name", "quantity", "unit", "expected", "tolerance", "source", "tag", "kind", "formulas")
    assert [{name: row[name] for name in columns} for row in kept] == [
        {name: row[name] for name in columns} for row in made
    ]
    for old, new in zip(kept, made, strict=True):
        # The last of our digits may differ from one processor to another; a tenth of the tolerance may not.
        difference = abs(_number(old["ours"]) - _number(new["ours"]))
        assert difference <= 0.15 * float(new["tolerance"]) + 1e-9 * abs(_number(new["ours"])), new["name"]


def test_there_are_enough_of_them() -> None:
    """At least sixty, and no more than a third from memory."""
    kept = json.loads(FILE.read_text(encoding="utf-8"))
    assert len(kept) >= 60
    assert sum(row["tag"] == "M" for row in kept) <= len(kept) / 3


def test_every_row_names_formulas_that_there_are() -> None:
    """As the methods page calls them, so that the page can say which have no check from outside."""
    kept = json.loads(FILE.read_text(encoding="utf-8"))
    assert {name for row in kept for name in row["formulas"]} <= {one.name for one in formulas()}


def test_the_page_knows_every_kind() -> None:
    """And names each formula without a row from outside once."""
    kept = json.loads(FILE.read_text(encoding="utf-8"))
    assert {row["kind"] for row in kept} == set(KINDS) == set(get_args(Kind))
    outside = {name for row in kept if row["kind"] == OUTSIDE for name in row["formulas"]}
    alone = [name for names in unchecked(formulas()).values() for name in names]
    assert sorted(alone) == sorted({one.name for one in formulas()} - outside)


def _number(text: str) -> float:
    return float(text.replace("−", "-"))
