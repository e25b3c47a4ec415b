"""A table that is written in any dialect is read back as the same numbers, and any bytes are read or refused."""

from __future__ import annotations

import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from guidegen.problems import CatalogueError
from guidegen.runs.dialect import DECIMALS, SEPARATORS, head_of
from guidegen.runs.table import Shape, blocks

CLOCKS = ("s", "ms", "hh:mm:ss", "iso-8601")
TABLES = st.lists(
    st.tuples(st.integers(1, 5_000), st.integers(-5_000, 18_000), st.integers(0, 11_000)), min_size=2, max_size=60
)
"""Steps of the clock in ms, and two columns in hundredths."""


def clock_text(milliseconds: int, clock: str, decimal: str, hours: int) -> str:
    """A time as a logger writes it."""
    if clock == "ms":
        return str(milliseconds)
    if clock == "s":
        return f"{milliseconds / 1000:.3f}".replace(".", decimal)
    if clock == "hh:mm:ss":
        minutes, rest = divmod(milliseconds, 60_000)
        return f"{minutes // 60:02d}:{minutes % 60:02d}:{rest // 1000:02d}.{rest % 1000:03d}"
    zone = datetime.timezone(datetime.timedelta(hours=hours))
    moment = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC) + datetime.timedelta(milliseconds=milliseconds)
    return moment.astimezone(zone).isoformat(timespec="milliseconds")


@settings(deadline=None)
@given(
    TABLES, st.sampled_from(sorted(SEPARATORS)), st.sampled_from(sorted(DECIMALS)), st.sampled_from(CLOCKS),
    st.sampled_from(["utf-8", "utf-8-sig", "cp1252"]), st.integers(0, 4), st.sampled_from(["\n", "\r\n"]),
    st.booleans(), st.integers(-11, 13), st.booleans(),
)  # fmt: skip
def test_a_table_is_read_back_from_any_dialect(
    table: list[tuple[int, int, int]], separator: str, decimal: str, clock: str, encoding: str, preamble: int, end: str,
    clock_last: bool, hours: int, quoted: bool,
) -> None:  # fmt: skip
    """Time to a microsecond and values to the last digit, in the same order, none of them odd."""
    sign = SEPARATORS[separator]
    if separator == "comma" and decimal == "comma":
        quoted = True
    times = np.cumsum([step for step, _, _ in table])
    lines = [f"Gerät {number}" for number in range(preamble)]
    names = ["Zeit", "T1 (°C)", "T2"]
    rows = []
    for time, (_, one, other) in zip(times, table, strict=True):
        cells = [clock_text(int(time), clock, DECIMALS[decimal], hours),
                 *(f"{value / 100:.2f}".replace(".", DECIMALS[decimal]) for value in (one, other))]  # fmt: skip
        rows.append([f'"{cell}"' for cell in cells] if quoted else cells)
    order = [1, 2, 0] if clock_last else [0, 1, 2]
    text = end.join([*lines, *(sign.join(row[at] for at in order) for row in (names, *rows))]) + end
    time, values = read(text.encode(encoding), decimal, clock, 2 if clock_last else 0)
    assert time == pytest.approx(times / 1000.0, abs=1e-6)
    assert np.array_equal(values, np.array([row[1:] for row in table]) / 100)


def read(data: bytes, decimal: str, clock: str, at: int) -> tuple[np.ndarray, np.ndarray]:
    """Time and values; the decimal sign is answered, since three decimals alone would be asked about."""
    head = head_of(data, "log.csv", {"decimal": decimal})
    wanted = tuple(one for one in range(3) if one != at)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        path.write_bytes(data)
        parts = list(blocks(path, Shape(head.written, 3, at, clock, "", wanted)))
    assert [odd for part in parts for odd in part.odd] == []
    return np.concatenate([part.time for part in parts]), np.concatenate([part.values for part in parts])


@settings(deadline=None)
@given(st.one_of(st.binary(max_size=300), st.text(alphabet='0123456789.,;\t\n"-:T°Ce ', max_size=300).map(str.encode)))
@example(b'\r"')
def test_any_bytes_are_a_table_or_are_refused(data: bytes) -> None:
    """Nothing ends otherwise; what is read has a row of values for each time."""
    try:
        head = head_of(data, "log.csv", {})
    except CatalogueError as refused:
        problems = refused.problems
    else:
        problems = ()
    assert all(one.line >= 1 for one in problems)
    if problems:
        return
    width = len(head.names)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        path.write_bytes(data)
        for part in blocks(path, Shape(head.written, width, 0, "s", "", tuple(range(1, width)))):
            assert part.values.shape == (len(part.time), width - 1)
            assert len(part.lines) == len(part.time)
