"""A logged file of two million rows against a bare `numpy.loadtxt` of the same columns, each in a process of its own.

Seconds are the processor's, without those of imports. Ours finds the dialect, reads every row and stamp, marks what is
left out and looks for shots; the peer only makes numbers of the text, and of stamps not even that. The most memory of
both is printed: ours holds a block of rows, and 16 bytes of each row for the shots; the peer holds all of them.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path

ROWS = 2_000_000
DIALECTS = (("comma, point, s", ",", "."), ("semicolon, decimal comma, ISO 8601", ";", ","))
PEER = """
import json, sys, time
import numpy
from tests.bench._memory import peak_mb
began = time.process_time()
with open(sys.argv[1], encoding="utf-8") as file:
    comma = sys.argv[2] == ";"
    lines = (line.replace(",", ".") for line in file) if comma else file
    numpy.loadtxt(lines, delimiter=sys.argv[2], usecols=(1, 2, 3) if comma else (0, 1, 2, 3), skiprows=1)
print(json.dumps([time.process_time() - began, peak_mb()]))
"""
OURS = """
import json, sys, time
from pathlib import Path
from guidegen.runs import asking, describing, looking
from tests.bench._memory import peak_mb
from tests.bench.logs import read
began = time.process_time()
rows, shots = read(Path(sys.argv[1]))
print(json.dumps([time.process_time() - began, peak_mb(), rows, shots]))
"""


def write(path: Path, separator: str, decimal: str, rows: int) -> None:
    """Rows at 10 Hz, with a shot each five minutes; stamps where commas are decimal signs."""
    stamped = decimal == ","
    with path.open("w", encoding="utf-8") as file:
        file.write(separator.join(("t", "Sensor (°C)", "Outlet (°C)", "Pump")) + "\n")
        for row in range(rows):
            at = row % 3000
            pump = 1 if 1500 <= at < 1780 else 0
            deep = 4.0 * (at - 1500) / 280 if pump else 0.0
            seconds, tenths = divmod(row, 10)
            hours, rest = divmod(seconds, 3600)
            clock = f"{hours % 24:02d}:{rest // 60:02d}:{rest % 60:02d}"
            time = f"2026-03-{1 + hours // 24:02d}T{clock}.{tenths}Z" if stamped else f"{row / 10:.1f}"
            sensor, outlet = 93.0 + 0.01 * (row % 7) - deep, 25.0 + 0.01 * (row % 5) + 8 * deep
            cells = (f"{sensor:.2f}".replace(".", decimal), f"{outlet:.2f}".replace(".", decimal), str(pump))
            file.write(separator.join((time, *cells)) + "\n")


def read(path: Path) -> tuple[int, int]:
    """Rows and shots of such a file, as `guidegen run add` reads it."""
    from guidegen.runs.asking import Answers, asked
    from guidegen.runs.describing import as_yaml, description, read_back
    from guidegen.runs.dialect import head_of
    from guidegen.runs.looking import look

    with path.open("rb") as file:
        data = file.read(100_000)
    head = head_of(data[: data.rfind(b"\n") + 1], path.name, {})
    probes = ("Sensor (°C)", "Outlet (°C)")
    columns = {"t": "time s"} if head.written.separator == "comma" else {}
    known = asked(path.name, head, Answers(columns, dict.fromkeys(probes, "type-k 1"), dict.fromkeys(probes, "0.5 s")))
    said = {"variant": "a-b", "date": "2026-03-01", "kind": "shot", "invented": "true", "logger": "invented"}
    run = read_back(as_yaml(description(said, known, "0" * 64, path.name)), "a.yml")
    looked = look(run, path, head.names)
    return looked.rows, len(looked.found)


def main() -> None:
    """Print a line for each dialect."""
    for name, separator, decimal in DIALECTS:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "log.csv"
            write(path, separator, decimal, ROWS)
            size = path.stat().st_size / 1e6
            theirs, their_memory = _run(PEER, str(path), separator)
            ours, our_memory, rows, shots = _run(OURS, str(path))
        print(
            f"logs: {name}, {int(rows):,} rows, {size:.0f} MB: {ours / theirs:.2f} times numpy.loadtxt "
            f"({ours:.1f} s and {theirs:.1f} s; at most {our_memory:.0f} MB and {their_memory:.0f} MB; "
            f"{int(shots)} shots)",
            flush=True,
        )


def _run(code: str, *arguments: str) -> list[float]:
    done = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True)
    return list(map(float, json.loads(done.stdout)))
