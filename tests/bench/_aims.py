"""What is aimed at, what was measured, and how: medians of times that take turns, beside the load of the machine."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.bench.synthetic import ROOT

TURNS = 5
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"}
PYTHON = sys.executable


@dataclass(frozen=True)
class Aim:
    """One row of the last table."""

    what: str
    got: float
    limit: float
    unit: str
    bound: str
    """What keeps it from being better; printed where the aim is missed."""
    at_least: bool = False

    @property
    def is_met(self) -> bool:
        """Whether what was measured is on the right side of the limit."""
        return self.got >= self.limit if self.at_least else self.got <= self.limit

    def __str__(self) -> str:
        word, side = ("met   " if self.is_met else "missed"), ("at least" if self.at_least else "at most")
        line = f"{word}  {self.what}: {self.got:.3g} {self.unit} (aim: {side} {self.limit:g})"
        return line if self.is_met else f"{line}\n        bound by {self.bound}"


def table(aims: Iterable[Aim]) -> str:
    """All aims, each met or missed."""
    listed = [*aims]
    met = sum(one.is_met for one in listed)
    return "\n".join([f"== aims: {met} of {len(listed)} met", *map(str, listed)])


def say(part: str, words: str) -> None:
    """One line of a part, with the load of the machine while it was measured."""
    print(f"{part}: {words} [load {os.getloadavg()[0]:.1f}]", flush=True)


def seconds(call: Callable[[], object]) -> float:
    """How long a call takes by the clock."""
    began = time.perf_counter()
    call()
    return time.perf_counter() - began


def in_turn(calls: Mapping[str, Callable[[], object]], turns: int = TURNS) -> dict[str, float]:
    """The median seconds of each call; they take turns, so that what else the machine does meets all of them."""
    spent: dict[str, list[float]] = {name: [] for name in calls}
    for _ in range(turns):
        for name, call in calls.items():
            spent[name].append(seconds(call))
    return {name: statistics.median(times) for name, times in spent.items()}


def run(
    command: Sequence[str],
    folder: Path = ROOT,
    environment: Mapping[str, str] = ENVIRONMENT,
    at_most: float | None = None,
) -> str:
    """What a program prints; its messages are shown where it fails, and it is stopped after so many seconds."""
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, timeout=at_most)
    if done.returncode:
        raise RuntimeError(
            f"{' '.join(command)} ended with {done.returncode}:\n{done.stdout[-500:]}{done.stderr[-2000:]}"
        )
    return done.stdout


def guidegen(root: Path, *words: str) -> str:
    """One command of ours, in a process of its own."""
    return run([PYTHON, "-m", "guidegen", "--root", str(root), *words])


@contextmanager
def editing(path: Path) -> Iterator[Callable[[str, str], None]]:
    """What puts other words into a file, in one piece as an editor does it; at the end stands what stood there."""
    before = path.read_text(encoding="utf-8")

    def put(old: str, new: str) -> None:
        assert old in before, f"{path.name} no longer says {old!r}"
        beside = path.with_suffix(".part")
        beside.write_text(before.replace(old, new, 1), encoding="utf-8")
        beside.replace(path)

    try:
        yield put
    finally:
        put("", "")
