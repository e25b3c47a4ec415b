"""`guidegen check --states` and `--diff`: tables for a reviewer, of today's data and of editions."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main

pytestmark = pytest.mark.slow

REPOSITORY = Path(__file__).parents[3]
PAIR = "tamsin-mk2/banjo-feed"


@pytest.fixture
def run() -> Callable[..., int]:
    """A command in the demonstration."""
    return lambda *words: main(["--root", str(REPOSITORY), *words])


def test_a_guide_does_not_differ_from_itself(run: Callable[..., int], capsys: pytest.CaptureFixture[str]) -> None:
    """And that is said."""
    assert run("check", "--diff", PAIR, PAIR) == 0
    assert capsys.readouterr().out == "no difference\n"


def test_two_variants_differ_where_their_data_do(run: Callable[..., int], capsys: pytest.CaptureFixture[str]) -> None:
    """The Mark 1 has a thermostat, which is listened to; the Mark 2 a display."""
    assert run("check", "--diff", "tamsin-mk1/banjo-feed", PAIR) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == ["--- tamsin-mk1/banjo-feed", f"+++ {PAIR}"]
    assert any(line.startswith("-anyone") and "Listen until the brew thermostat" in line for line in lines)
    assert any(line.startswith("+anyone") and "Watch the display" in line for line in lines)


def test_an_edition_is_compared_by_its_words(run: Callable[..., int], capsys: pytest.CaptureFixture[str]) -> None:
    """A snapshot keeps what was printed, so two editions are compared without states."""
    pair = "tamsin-mk2/feed-preheater"
    assert run("check", "--diff", f"2025.1:{pair}", pair) == 0
    out = capsys.readouterr().out
    assert any(line.startswith("+hand tools") and "Unscrew the inlet fitting" in line for line in out.splitlines())
    assert "leads out" not in out


@pytest.mark.parametrize(
    ("side", "words"),
    [
        ("tamsin-mk2", "VARIANT/KIT or EDITION:VARIANT/KIT"),
        ("2025.1:tamsin-mk2/feed-preheate", "did you mean tamsin-mk2/feed-preheater?"),
        ("2031.7:tamsin-mk2/feed-preheater", "no snapshot of edition 2031.7"),
        ("tamsin-mk9/feed-preheater", "tamsin-mk9"),
    ],
)
def test_what_is_not_there_is_named(
    run: Callable[..., int], capsys: pytest.CaptureFixture[str], side: str, words: str
) -> None:
    """With the way it is written, or the nearest name."""
    assert run("check", "--diff", side, PAIR) in (1, 2, 3)
    assert words in capsys.readouterr().err
