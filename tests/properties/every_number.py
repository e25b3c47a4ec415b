"""Every number of the demonstration, typed wrong: a problem with its place, or a record; never a fault of ours.

Each number that stands alone as a value, its uncertainty or an end is multiplied, made nothing, or turned round. All of
that for all pairs would take hours. So each number gets one mistake, and each mistake as many numbers as any other;
which, follows from its place alone. One pair that the number belongs to is assessed.
"""

from __future__ import annotations

import math
import re
import time
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any
from zlib import crc32

from guidegen.assess import Assessor
from guidegen.problems import CatalogueError
from guidegen.trade import load
from guidegen.trade.catalogue import Catalogue
from guidegen.workshop.memory import Memory

ROOT = Path(__file__).parents[2]
NUMBER = re.compile(r"(?:(?<=: )|(?<=± )|(?<=[\[,] ))\d+(?:\.\d+)?(?=[ ,}\]\n%])")
WORDS = re.compile(r"(size|name|rating|say|see|note|revision|format|pump|gasket|summary|look|what|do):")
"""Keys of prose, and of the catalogue's format."""
MISTAKES: tuple[float, ...] = (0.0, 0.001, 0.01, 0.1, 10.0, 100.0, 1000.0, -1.0)
LONGEST = 60.0
"""s of a processor for one record with few draws; such machines take about one."""
DRAWN, DRAWS = 8, 16
"""Every so-manyth number is assessed with draws as well."""


@dataclass(frozen=True)
class Mistake:
    """A number at a place, and what stands there instead."""

    path: str
    start: int
    stop: int
    factor: float
    draws: int

    def text(self) -> str:
        """The file with the mistake in it."""
        text = text_of(self.path)
        number = f"{float(text[self.start : self.stop]) * self.factor:.7f}".rstrip("0").rstrip(".")
        return text[: self.start] + number + text[self.stop :]

    def __str__(self) -> str:
        """Where it is."""
        line = text_of(self.path).count("\n", 0, self.start) + 1
        return f"{self.path}:{line} × {self.factor:g}" + (f", {self.draws} draws" if self.draws else "")


@cache
def text_of(path: str) -> str:
    """A file of the demonstration."""
    return (ROOT / path).read_text(encoding="utf-8")


REPORTS = ("builds",)
"""What owners reported: nothing is computed from it, and `guidegen fitted add` held it against its edition."""


def mistakes(*patterns: str) -> list[Mistake]:
    """One for each number of some files; a sum over its place says which, so that no pattern of a file repeats it."""
    made: list[Mistake] = []
    for path in sorted(path for pattern in patterns for path in ROOT.glob(pattern) if path.stem not in REPORTS):
        name = path.relative_to(ROOT).as_posix()
        for found in NUMBER.finditer(text_of(name)):
            before = text_of(name)[: found.start()].rpartition("\n")[2]
            if "#" not in before and not WORDS.search(before):
                factor = MISTAKES[crc32(f"{name}:{found.start()}".encode()) % len(MISTAKES)]
                made.append(Mistake(name, *found.span(), factor, 0 if len(made) % DRAWN else DRAWS))
    return made


MEMORY = Memory()


def judged(mistake: Mistake) -> str:
    """What becomes of a mistake: `refused`, or a `record`. Raises where it is neither as it should be."""
    began = time.process_time()
    try:
        known = load(ROOT, MEMORY, {mistake.path: mistake.text().encode()})
        record = assessed(known, mistake)
    except CatalogueError as error:
        for one in error.problems:
            assert one.path, mistake
            assert one.line >= 1, mistake
            assert one.column >= 1, mistake
            assert one.fix, f"{mistake}: {one}"
        assert time.process_time() - began < LONGEST, mistake
        return "refused"
    assert time.process_time() - began < LONGEST, mistake
    assert not [*endless(record)], f"{mistake}: no number at {[*endless(record)][:3]}"
    return "record"


def assessed(known: Catalogue, mistake: Mistake) -> Any:
    """The record of one pair that the number belongs to; of the kit with most physics where it belongs to every one."""
    kind, *rest = mistake.path.removesuffix(".yml").split("/")
    kit = rest[-1] if rest[0] == "kits" else "feed-preheater"
    machine = next(iter(known.machines.values()))
    if kind == "machines":
        family, variant = rest
        machine = next(one for one in known.machines.values() if one.family == family and
                       (variant == "family" or one.id == f"{family}-{variant}"))  # fmt: skip
    return Assessor(known, "next", mistake.draws).assess(machine, known.kit(kit)).model_dump()


def endless(value: Any, where: str = "") -> Iterator[str]:
    """Where a record holds something that is no finite number."""
    if isinstance(value, float) and not math.isfinite(value):
        yield where
    elif isinstance(value, dict):
        for key, one in value.items():
            yield from endless(one, f"{where}.{key}")
    elif isinstance(value, list | tuple):
        for index, one in enumerate(value):
            yield from endless(one, f"{where}[{index}]")
