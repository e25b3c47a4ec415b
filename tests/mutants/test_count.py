"""How many mutants the generators make, all together: each is counted where it is made, and nowhere written down."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from tests.mutants import test_bounds, test_endings, test_exchanged, test_failing_sides, test_generated
from tests.mutants.table import CLEAN, Mutant
from tests.mutants.test_mutants import ROWS

LEAST = 1000
Generator = Callable[[tuple[str, str]], Iterator[Mutant]]
GENERATORS: dict[Generator, tuple[tuple[str, str], ...]] = {
    test_generated.left_out: CLEAN,
    test_generated.swapped: CLEAN,
    test_exchanged.exchanged: test_exchanged.GUIDES,
    test_bounds.laxer: CLEAN,
    test_endings.changed: test_endings.GUIDES,
    **dict.fromkeys(test_failing_sides.GENERATORS, test_failing_sides.GUIDES),
}
"""Each with the guides that it is tried on."""


@pytest.mark.slow
def test_there_are_enough_of_them(capsys: pytest.CaptureFixture[str]) -> None:
    """Every check and thing dropped or exchanged, every bound, every end, every failing side; chosen ones apart."""
    made = {one.__name__: sum(1 for guide in guides for _ in one(guide)) for one, guides in GENERATORS.items()}
    with capsys.disabled():
        print(f"\nmutants made: {sum(made.values())} ({made}), chosen: {len(ROWS)}")
    assert min(made.values()) > 0
    assert sum(made.values()) >= LEAST
