"""The values of a run, on the clock by which its shots are found."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from guidegen.runs.readings import readings
from tests.unit.runs.documents import looked, run_of

STARTS, DRAWN, STOPS = 500.0, 540.0, 565.0


@pytest.mark.parametrize("empty", [0, 8])
def test_a_log_counts_from_its_first_row_whatever_that_lacks(tmp_path: Path, empty: int) -> None:
    """The pump runs from 540 to 565 s of a log from 500 s on: 40 to 65 s, also where the first eight rows are empty."""
    rows: list[tuple[float | str, ...]] = []
    for row in range(240):
        at = STARTS + 0.5 * row
        values = (93.0 + 0.1 * (row % 2), int(DRAWN <= at < STOPS))
        rows.append((at, *(("", "") if row < empty else values)))
    run = run_of(("sensor", "pump"))
    (shot,) = looked(tmp_path, run, rows).found
    assert (shot.begins, shot.ends) == pytest.approx((40.0, 65.0), abs=0.5)
    time, pump = readings(run, tmp_path / "log.csv").known("pump")
    on = time[np.flatnonzero(pump)]
    assert (on[0], on[-1]) == (40.0, 64.5)
    assert time[0] == 0.5 * empty
