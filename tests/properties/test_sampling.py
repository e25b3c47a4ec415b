"""A controller that samples: what the methods page says of it, and that it tends to the model's continuous one."""

from __future__ import annotations

import json

import pytest

from tests.reference.sampling import FILE, rows

DIGIT = 0.011
"""K: the last printed digit, which may differ from one processor to another."""


def test_the_page_says_what_the_reference_gives() -> None:
    """Every number is there as computed; else run `python -m tests.reference.sampling`."""
    kept, made = json.loads(FILE.read_text(encoding="utf-8")), rows()
    assert [row["period_s"] for row in kept] == [row["period_s"] for row in made]
    for old, new in zip(kept, made, strict=True):
        assert old == pytest.approx(new, abs=DIGIT)


@pytest.mark.parametrize("side", ["without_k", "with_k"])
def test_the_more_often_it_looks_the_nearer_it_comes(side: str) -> None:
    """Rarer looks change more, and four a second change next to nothing."""
    first, *sampled = json.loads(FILE.read_text(encoding="utf-8"))
    off = [row[side] - first[side] for row in sampled]
    assert off == sorted(off)
    assert abs(off[0]) <= 2 * DIGIT
    assert off[-1] > 0
