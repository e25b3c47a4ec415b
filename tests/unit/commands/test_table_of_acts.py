"""`guidegen check --acts`: the table for a maker at a terminal of a hundred columns."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.judge.acts.row import rows

UNDO = """\
undo-joint-ends      Undo {of} at both of its ends.
                     takes  of: joint
                     needs  temperature cool, pressure released, water drained
                     who    hand tools, 5 min
                     tools  spanner-14

What follows: A joint is open; every leak test and the filling count no more.

In a procedure:

  - id: undo-joint-ends
    act: undo-joint-ends
    of: inlet-fitting  # joint

Printed: Undo the inlet fitting at both of its ends.
"""


@pytest.fixture
def printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., str]:
    """What the command prints in a folder that is no workshop."""

    def run(*words: str) -> str:
        assert main(["--root", str(tmp_path), "check", "--acts", *words]) == 0
        return capsys.readouterr().out

    return run


def test_the_table_has_every_act_fits_a_hundred_columns_and_is_always_the_same(printed: Callable[..., str]) -> None:
    """Each name begins a line of its own."""
    text = printed()
    lines = text.splitlines()
    assert max(map(len, lines)) <= 100
    starts = [line.split()[0] for line in lines if line and line[0] != " "]
    assert [name for name in starts if name in rows()] == list(rows())
    assert printed() == text


def test_one_act_is_printed_in_full_with_an_example(printed: Callable[..., str]) -> None:
    """Written out by hand from its row."""
    assert printed("undo-joint-ends") == UNDO


def test_a_word_picks_acts_by_name_sentence_or_kind(printed: Callable[..., str]) -> None:
    """`tissue` stands in sentences, `sensor` is a kind."""
    assert "press-tissues" in printed("tissue")
    assert "unclip-sensor" in printed("Sensor")
    assert "\nundo-joint " not in printed("tissue")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--acts", "undoo-joint"), "did you mean undo-joint?"),
        (("--acts", "undo-joint", "tamsin-mk2"), "stands alone"),
        (("--acts", "--states"), "stands alone"),
    ],
)
def test_what_cannot_be_printed_is_refused(
    words: tuple[str, ...], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A name that there is not, with the nearest; two questions at once."""
    assert main(["--root", str(tmp_path), "check", *words]) == 2
    assert said in capsys.readouterr().err
