"""What a long computation says of what is left."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.assess import progress
from guidegen.assess.kept import Kept


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Kept:
    """Numbers of a run that computed nothing yet, on a computer where everything is compiled."""
    monkeypatch.setattr(progress, "is_kept", lambda: True)
    return Kept(tmp_path)


def test_each_pair_is_counted_and_the_rest_is_bounded(kept: Kept) -> None:
    """One pair in 90 s: three more take 270 s, so at most 5 min; with the last one left, 180 s for two each, 90 s."""
    clock = iter([0.0, 90.0, 180.0])
    said = progress.PairsLeft(4, kept, lambda: next(clock))
    assert said.words("a with b") == "assessing a with b, 1 of 4"
    kept.computed = 1
    assert said.words("a with c") == "assessing a with c, 2 of 4; at most 5 min left"
    kept.computed = 2
    assert said.words("d with b") == "assessing d with b, 3 of 4; at most 3 min left"


def test_the_first_one_says_what_happens_only_once(kept: Kept, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing was compiled yet, until something was computed."""
    monkeypatch.setattr(progress, "is_kept", lambda: False)
    said = progress.PairsLeft(2, kept, lambda: 0.0)
    assert said.words("a with b") == f"assessing a with b, 1 of 2; {progress.COMPILED_ONCE}"
    kept.computed = 1
    assert said.words("a with c") == "assessing a with c, 2 of 2; at most a minute left"
