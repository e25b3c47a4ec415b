"""A file as each kind of logger writes it: read, or refused with line, column and what to type."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from guidegen.problems import CatalogueError
from guidegen.runs.codes import RunCode
from guidegen.runs.dialect import Head, head_of
from guidegen.runs.table import Shape, blocks

TABLE = [(0.0, 93.1, 25.0), (0.5, 92.5, 25.25), (1.0, 91.8, 61.0), (1.5, 91.0, 88.5)]


def written(separator: str, decimal: str, head: str, clock: str = "{:.1f}", more: str = "") -> str:
    """The table in one dialect."""
    rows = [
        separator.join([clock.format(t).replace(".", decimal), *(f"{one:.2f}".replace(".", decimal) for one in rest)])
        for t, *rest in TABLE
    ]
    return head + "".join(f"{row}{more}\n" for row in rows)


def head(data: bytes, **given: str) -> Head:
    """How the file is written."""
    return head_of(data, "log.csv", given)


def read(tmp_path: Path, data: bytes, clock: str = "s", zone: str = "", time: int = 0) -> np.ndarray:
    """Time and values of all rows."""
    path = tmp_path / "log.csv"
    path.write_bytes(data)
    found = head(data)
    wanted = tuple(at for at in range(len(found.names)) if at != time)[:2]
    parts = list(blocks(path, Shape(found.written, len(found.names), time, clock, zone, wanted)))
    assert [one for part in parts for one in part.odd] == []
    return np.concatenate([np.column_stack([part.time, part.values]) for part in parts])


FILES = {
    "comma": written(",", ".", "time_s,T1,T2\n").encode(),
    "semicolon, decimal comma": written(";", ",", "Zeit (s);T1;T2\n").encode(),
    "tab, decimal comma": written("\t", ",", "t\tT1\tT2\n").encode(),
    "preamble": written(",", ".", "Logger of four inputs\nInterval,0.5\n\nSerial,12345\n\nt,T1,T2\n").encode(),
    "mark of byte order": b"\xef\xbb\xbf" + written(",", ".", "t,T1 (°C),T2 (°C)\n").encode(),
    "CP1252": written(";", ",", "Gerät 4\nt;T1 [°C];T2 [°C]\n").encode("cp1252"),
    "line ends of another system": written(",", ".", "t,T1,T2\n").replace("\n", "\r\n").encode(),
    "line of units": written(";", ".", "t;T1;T2\ns;°C;°C\n").encode(),
    "a separator at the end": written(";", ".", "t;T1;T2\n", more=";").encode(),
    "no names": written(",", ".", "").encode(),
    "quotes": written(",", ".", 't,T1,"T2, behind"\n').encode(),
    "no end of the last line": written(",", ".", "t,T1,T2\n").rstrip("\n").encode(),
}


@pytest.mark.parametrize("data", FILES.values(), ids=FILES)
def test_the_same_numbers_come_out_of_every_dialect(tmp_path: Path, data: bytes) -> None:
    """Time and two temperatures, whatever the logger's habits."""
    assert read(tmp_path, data) == pytest.approx(np.array(TABLE), abs=1e-9)


def test_quoted_decimal_commas_may_be_separated_by_commas(tmp_path: Path) -> None:
    """As a spreadsheet exports them."""
    rows = "".join(f'"{t:.1f}","{a:.2f}","{b:.2f}"\n'.replace(".", ",") for t, a, b in TABLE)
    assert read(tmp_path, f"t,T1,T2\n{rows}".encode()) == pytest.approx(np.array(TABLE), abs=1e-9)


# 2026-03-31T00:00:00Z is 1774915200 s after 1970 (by hand: 20543 days).
START = 20543 * 86400.0


@pytest.mark.parametrize(
    ("clock", "zone", "stamps", "expected"),
    [
        ("ms", "", ("0", "500", "1000", "1500"), (0, 0.5, 1, 1.5)),
        ("hh:mm:ss", "", ("9:59:59", "10:00:00", "10:00:01", "10:00:02"), (35999, 36000, 36001, 36002)),
        ("hh:mm:ss", "", ("00:00:00.0", "00:00:00.5", "00:00:01.0", "00:00:01.5"), (0, 0.5, 1, 1.5)),
        ("iso-8601", "", ("2026-03-31T02:00:00+02:00", "2026-03-31T02:00:01+02:00", "2026-03-31T00:00:02Z",
                          "2026-03-31T00:00:03.250Z"), (START, START + 1, START + 2, START + 3.25)),
        ("iso-8601", "+02:00", ("2026-03-31 01:59:59", "2026-03-31 02:00:00", "2026-03-31 02:00:01",
                                "2026-04-01 02:00:02"), (START - 1, START, START + 1, START + 86402)),
    ],
)  # fmt: skip
def test_time_is_read_in_seconds(
    tmp_path: Path, clock: str, zone: str, stamps: tuple[str, ...], expected: tuple[float, ...]
) -> None:
    """Whether the column comes first or last."""
    first = "t,T1,T2\n" + "".join(f"{one},93.1,25.5\n" for one in stamps)
    last = "T1,T2,t\n" + "".join(f"93.1,25.5,{one}\n" for one in stamps)
    assert read(tmp_path, first.encode(), clock, zone)[:, 0] == pytest.approx(expected, abs=1e-6)
    assert read(tmp_path, last.encode(), clock, zone, time=2)[:, 0] == pytest.approx(expected, abs=1e-6)


REFUSED = {
    "two bytes a letter": (b"\xff\xfe" + "t,T\n1,2\n".encode("utf-16-le"), 1, 1, RunCode.ENCODING, "save it as UTF-8"),
    "no letters": (b"t,T\n1,2\n\x81,3\n", 3, 1, RunCode.ENCODING, "save it as UTF-8"),
    "no table": (b"nothing\nat all\n", 2, 1, RunCode.NO_TABLE, "name it: --format separator=comma"),
    "nothing": (b"", 1, 1, RunCode.NO_TABLE, "name it: --format separator=comma"),
    "commas for both": (b"t,T\n0,0,93,1\n0,5,93,2\n", 1, 1, RunCode.FIELDS,
                        "where commas are decimal signs too, export with semicolons"),
    "thousands or thousandths": (b"t;T\n1;93,125\n2;92,250\n", 2, 3, RunCode.AMBIGUOUS,
                                 "--format decimal=comma, or export without grouping"),
    "grouped": (b"t;T\n1;1.093,5\n2;1.092,5\n", 2, 3, RunCode.MIXED_DECIMALS, "export without grouping"),
    "both signs": (b"t;T\n0,5;93.1\n1,0;93.2\n", 2, 5, RunCode.MIXED_DECIMALS, "export with one decimal sign"),
}  # fmt: skip


@pytest.mark.parametrize(("data", "line", "column", "code", "fix"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_known_is_refused(data: bytes, line: int, column: int, code: RunCode, fix: str) -> None:
    """With the place, the code, and what to type or to do."""
    with pytest.raises(CatalogueError) as refused:
        head(data)
    (problem,) = refused.value.problems
    assert (problem.line, problem.column, problem.code, problem.fix) == (line, column, code.value, fix)


def test_an_answer_settles_what_was_asked() -> None:
    """Thousandths, because somebody says so."""
    assert head(b"t;T\n1;93,125\n2;92,250\n", decimal="comma").written.decimal == "comma"


def test_names_that_stand_twice_are_numbered() -> None:
    """Nobody could say which is meant."""
    assert head(b"t,T,T\n1,2.5,3\n2,3,4\n").names == ("t", "#2", "#3")
