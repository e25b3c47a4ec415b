"""Which rows are left out, with their line, and why."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from guidegen.problems import CatalogueError
from guidegen.runs.codes import RunCode
from tests.unit.runs.documents import looked, places, run_of

Rows = list[tuple[float | str, ...]]


def calm(count: int = 200, step: float = 0.5) -> Rows:
    """A sensor at rest and an outlet at rest; a ripple of its last digit, so that nothing is stuck."""
    return [(round(row * step, 3), 93.0 + 0.1 * (row % 2), 25.0 + 0.1 * (row % 3)) for row in range(count)]


def left_out(folder: Path, rows: Rows, lag: str = "unknown") -> dict[RunCode, int]:
    """How many rows of which code."""
    return looked(folder, run_of(("sensor", "outlet"), "idle", lag), rows).left_out


def test_nothing_is_wrong_with_a_calm_log(tmp_path: Path) -> None:
    """So that what follows is about something."""
    found = looked(tmp_path, run_of(("sensor", "outlet"), "idle", "2 s"), calm())
    assert (found.left_out, found.problems, found.rows, found.usual) == ({}, [], 200, 0.5)
    assert found.seconds == 99.5


def test_a_clock_that_goes_back_is_left_out_until_it_is_past(tmp_path: Path) -> None:
    """From 10 s back to 8 s: four rows until 10.0 s, the last of which has the time of an earlier one."""
    rows = calm()
    rows[21:26] = [(8.5 + 0.5 * row, 93.0, 25.0) for row in range(5)]
    found = looked(tmp_path, run_of(("sensor", "outlet"), "idle"), rows)
    assert found.left_out == {RunCode.CLOCK_BACK: 3, RunCode.CLOCK_TWICE: 1}
    assert places(found.problems, "L11") == [(23, 1)]
    assert places(found.problems, "L12") == [(26, 1)]


def test_a_row_that_stands_twice(tmp_path: Path) -> None:
    """The second is left out."""
    rows = calm()
    rows.insert(10, rows[9])
    found = looked(tmp_path, run_of(("sensor", "outlet"), "idle"), rows)
    assert places(found.problems, "L12") == [(12, 1)]


@pytest.mark.parametrize(
    ("cell", "code"),
    [("", RunCode.MISSING), ("NaN", RunCode.MISSING), ("OL", RunCode.MISSING), ("-9999", RunCode.MISSING),
     ("3276.7", RunCode.MISSING), ("about 90", RunCode.NO_NUMBER), ("93;1", RunCode.NO_NUMBER),
     ("1_0", RunCode.NO_NUMBER), ("0x5D", RunCode.NO_NUMBER), ("٩٣", RunCode.NO_NUMBER), ("400", RunCode.OUTSIDE),
     ("1e999", RunCode.NO_NUMBER)],
)  # fmt: skip
def test_a_cell_that_gives_no_value(tmp_path: Path, cell: str, code: RunCode) -> None:
    """One value is left out, and its line is named."""
    rows = calm()
    rows[50] = (25.0, cell, 25.0)
    found = looked(tmp_path, run_of(("sensor", "outlet"), "idle"), rows)
    assert found.left_out == {code: 1}
    assert [one.line for one in found.problems] == [52]
    assert found.problems[0].message.startswith("sensor: ")


def test_the_place_of_an_odd_cell_is_the_sign_at_which_it_begins(tmp_path: Path) -> None:
    """Counted as an editor counts."""
    rows = calm()
    rows[50] = (25.0, 93.1, "--")
    found = looked(tmp_path, run_of(("sensor", "outlet"), "idle"), rows)
    assert places(found.problems, "L13") == [(52, len("25.0,93.1,") + 1)]


def test_a_row_of_another_number_of_cells(tmp_path: Path) -> None:
    """The whole row is left out, and its neighbours are not."""
    rows = calm()
    rows[50] = (25.0, 93.1)
    assert left_out(tmp_path, rows) == {RunCode.NO_NUMBER: 1}


def test_a_step_that_no_probe_of_that_lag_follows(tmp_path: Path) -> None:
    """In half a second a lag of 10 s lets through 1 − exp(−0.05) of 150 K: 7.3 K. Up and down again is two steps."""
    most = 150 * -math.expm1(-0.05)
    for step, expected in ((most - 0.2, {}), (most + 0.2, {RunCode.TOO_FAST: 2})):
        rows = calm()
        rows[50] = (25.0, 93.0 - step, 25.0)
        rows[49], rows[51] = (24.5, 93.0, 25.1), (25.5, 93.0, 25.1)
        assert left_out(tmp_path, rows, "10 s") == expected


def test_a_stuck_value_while_another_probe_moves(tmp_path: Path) -> None:
    """A hundred seconds of the same digits are nothing by themselves; beside an outlet that warms by 20 K they are."""
    still: Rows = [(t, 93.0 if t < 150 else 93.1 + 0.1 * (t % 2), 25.0 + 0.1 * (t % 3)) for t in range(300)]
    assert left_out(tmp_path, still) == {}
    moving: Rows = [(t, sensor, 25.0 + 0.2 * min(t, 100) + 0.1 * (t % 3)) for t, sensor, _ in still]  # type: ignore[operator,type-var]
    assert left_out(tmp_path, moving) == {RunCode.STUCK: 150}


def test_a_top_that_was_cut_off(tmp_path: Path) -> None:
    """A triangle of 2 K a row that stays at 100 °C, the highest, for seven rows."""
    rows: Rows = [(t, min(100.0, 130.0 - 2 * abs(t - 50)), 25.0 + 0.1 * (t % 3)) for t in range(100)]
    fine: Rows = [(one[0], one[1] if index % 2 else one[1] - 0.3, one[2]) for index, one in enumerate(rows)]  # type: ignore[operator]
    assert left_out(tmp_path, fine) == {}
    cut: Rows = [*[(t - 100, 30.0 + 0.1 * (t % 2), 25.0 + 0.1 * (t % 3)) for t in range(100)], *rows]
    found = looked(tmp_path, run_of(("sensor", "outlet"), "idle"), cut)
    assert found.left_out == {RunCode.SATURATED: 31}


def test_most_values_where_no_machine_is(tmp_path: Path) -> None:
    """Fahrenheit taken for Celsius is refused, not left out row by row."""
    rows: Rows = [(t, 200.0 + 0.1 * (t % 2), 25.0) for t in range(50)]
    with pytest.raises(CatalogueError, match="L09 sensor: 50 of 50 values are beyond -10 to 180 °C"):
        left_out(tmp_path, rows)


def test_too_many_wrong_rows(tmp_path: Path) -> None:
    """A file of nothing but mistakes is not kept in memory."""
    rows: Rows = [(t, "x" if t % 2 else 93.0, 25.0) for t in range(50_000)]
    with pytest.raises(CatalogueError, match="too many that are wrong"):
        left_out(tmp_path, rows)


def test_rows_slower_than_half_the_lag(tmp_path: Path) -> None:
    """A row each half second shows a lag of 1 s, and not one of 0.9 s."""
    for lag, expected in (("1 s", 0), ("0.9 s", 1)):
        found = looked(tmp_path, run_of(("sensor", "outlet"), "idle", lag), calm())
        assert len(places(found.problems, "L22")) == expected


def test_lines_that_somebody_left_out(tmp_path: Path) -> None:
    """They stand in the description, and nothing of them is looked at."""
    rows = calm()
    rows[50] = (25.0, 170.0, 25.0)
    run = run_of(
        ("sensor", "outlet"), "idle", "2 s", "left_out: [{first: 52, last: 52, because: a hand at the probe}]\n"
    )
    assert looked(tmp_path, run, rows).left_out == {}
