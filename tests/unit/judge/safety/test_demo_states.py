"""The state after every step of the demonstration's oldest and newest Tamsin, against a text that somebody read.

When a procedure changes on purpose, write the text anew with

    python -m tests.unit.judge.safety.test_demo_states

and read the difference before committing it: at no step, stop or failing side may the machine be unsafe.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.judge.safety.report import states_report
from tests.mutants.draft import draft

FOLDER = Path(__file__).parent / "states"
PAIRS = [("tamsin-mk1", "feed-preheater"), ("tamsin-mk1", "banjo-feed"), ("tamsin-mk1", "loop-controller"),
         ("tamsin-mk3", "feed-preheater")]  # fmt: skip


def report(variant: str, kit: str) -> str:
    """Return the report of a pair."""
    return states_report(draft(variant, kit).guide().resolved, f"{variant} with {kit}")


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_states_are_those_that_were_reviewed(variant: str, kit: str) -> None:
    """Line by line."""
    expected = (FOLDER / f"{variant}-{kit}.txt").read_text(encoding="utf-8")
    assert report(variant, kit) == expected


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_every_stop_of_the_demonstration_is_isolated(variant: str, kit: str) -> None:
    """Read from the text: every night follows a step with the mains off, every stopped failing side has it off."""
    stops = ends = 0
    for line in report(variant, kit).splitlines():
        if "the work stops" in line:
            stops += 1
            assert " mains off" in line or " mains proved_dead" in line, line
        if line.split()[:1] == ["end"]:
            ends += 1
            assert "enclosure closed" in line, line
            assert "earth tested" in line, line
            assert "out:" not in line, line
    assert stops > 5
    assert ends >= 2


if __name__ == "__main__":
    for pair in PAIRS:
        (FOLDER / f"{'-'.join(pair)}.txt").write_text(report(*pair), encoding="utf-8")
