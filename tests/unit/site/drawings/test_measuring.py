"""The small drawings of how a measurement is taken."""

from __future__ import annotations

import pytest

from guidegen.site.drawings.marks import Lettering, Ring, Sheet
from guidegen.site.drawings.measuring import HEIGHT, WAYS, drawn
from guidegen.site.drawings.view import COLUMN, WIDTH
from guidegen.trade.paths import known_facts
from tests.mutants.draft import catalogue

KNOWN = catalogue()


def test_every_length_that_is_asked_for_has_one() -> None:
    """Of the demonstration's questions; and each drawing is of a length that machines have."""
    assert KNOWN.questions is not None
    asked = {one.fact for one in KNOWN.questions.questions if "mm" in one.units}
    assert asked <= WAYS.keys()
    assert WAYS.keys() <= {*known_facts()}


@pytest.mark.parametrize("fact", WAYS)
def test_nothing_leaves_the_picture(fact: str) -> None:
    sheet = Sheet()
    WAYS[fact][0](sheet)
    for mark in sheet.marks:
        if isinstance(mark, Lettering):
            half = 3.2 * len(mark.text)
            places = [(mark.at[0] - half, mark.at[1] - 8), (mark.at[0] + half, mark.at[1] + 2)]
        elif isinstance(mark, Ring):
            (x, y), radius = mark.centre, mark.rx
            places = [(x - radius, y - radius), (x + radius, y + radius)]
        else:
            places = mark.points()
        assert all(COLUMN <= x <= WIDTH - COLUMN and 0 <= y <= HEIGHT for x, y in places), mark


def test_what_nobody_drew_has_no_figure() -> None:
    assert drawn("mains.voltage", "x") == ""
