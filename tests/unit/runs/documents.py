"""A described run of one or two probes and a pump, and its file, for the tests beside this file."""

from __future__ import annotations

from pathlib import Path

from guidegen.problems import Problem
from guidegen.runs.describing import read_back
from guidegen.runs.document import LoggedRun
from guidegen.runs.looking import Looked, look

COLUMNS = {
    "sensor": "{column: sensor, place: sensor, unit: °C, probe: {kind: type-k, class: '1', lag: LAG}}",
    "outlet": "{column: outlet, place: outlet, unit: °C, probe: {kind: type-t, class: '1', lag: unknown}}",
    "pump": "{column: pump, quantity: pump, unit: ''}",
    "pressure": "{column: pressure, quantity: pressure, unit: bar}",
    "mass": "{column: mass, quantity: mass, unit: g}",
}


def run_of(names: tuple[str, ...], kind: str = "shot", lag: str = "unknown", more: str = "") -> LoggedRun:
    """The description of a file with a time in s and these columns."""
    columns = ", ".join(COLUMNS[name].replace("LAG", lag) for name in names)
    return read_back(
        f"variant: a-b\ndate: 2026-03-31\nkind: {kind}\ninvented: true\nlogger: invented\nfile: log.csv\n"
        f"sha256: {'0' * 64}\n"
        "written: {encoding: utf-8, separator: comma, decimal: point, names_in_line: 1, values_from_line: 2}\n"
        f"time: {{column: t, written: s}}\ncolumns: [{columns}]\n{more}",
        "run.yml",
    )


def looked(folder: Path, run: LoggedRun, rows: list[tuple[float | str, ...]]) -> Looked:
    """What is found in such a file with these rows."""
    names = ("t", *(one.column for one in run.columns))
    path = folder / "log.csv"
    path.write_text("\n".join(",".join(map(str, row)) for row in (names, *rows)) + "\n", encoding="utf-8")
    return look(run, path, names)


def places(problems: list[Problem], code: str) -> list[tuple[int, int]]:
    """Line and column of each problem of a code."""
    return [(one.line, one.column) for one in problems if one.code == code]
