"""What the description of a logged run says of kits, drinks and its file: all of it must be there, and unchanged."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator
from functools import lru_cache
from pathlib import Path

from guidegen import reading
from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.runs.document import LoggedRun
from guidegen.runs.meaning import units_of
from guidegen.trade.contradiction import problem
from guidegen.trade.shop import Drinks

COLD_CLASS, COLD = "3", ("room", "feed", "coil-in")
"""The class of thermocouples that IEC 60584-1 gives for 40 °C and below, and the places that are no warmer."""


def check_run(
    run: LoggedRun, folder: Path, root: Path, kits: Collection[str], drinks: Drinks | None
) -> Iterator[Problem]:
    """What one description contradicts; `folder` is where it lies."""
    for at, kit in enumerate(run.kits):
        if kit not in kits:
            near = nearest(kit, kits)
            fix = f"write {near}" if near else f"use one of {one_of(kits)}"
            yield problem(run, ("kits", at), Code.UNKNOWN_KIT, f'no kit "{kit}"', fix)
    names = [one.id for one in drinks.drinks] if drinks else []
    if run.drink is not None and drinks and run.drink not in names:
        yield problem(run, ("drink",), Code.UNKNOWN_DRINK, f'no drink "{run.drink}"', f"use one of {one_of(names)}")
    yield from _columns(run)
    logged = folder / run.file
    if "\\" in run.file or not logged.resolve().is_relative_to(root.resolve()):
        words = f'"{run.file[:60]}" leads out of the workshop'
        yield problem(run, ("file",), Code.PATH_OUTSIDE, words, "name a file in the same folder")
    elif not logged.is_file():
        words = f'no file "{run.file[:60]}" beside this one'
        yield problem(run, ("file",), Code.FILE_MISSING, words, "put it there, or correct the name")
    elif sum_of(logged) != run.sha256:
        words = f"{run.file[:60]} is another file than the one that was described"
        yield problem(run, ("sha256",), Code.LOG, words, "bring it back, or describe this one: guidegen run add")


def _columns(run: LoggedRun) -> Iterator[Problem]:
    """Units that a place cannot have, classes that say nothing there, and shots that end before they begin."""
    for at, one in enumerate(run.columns):
        if one.unit not in units_of(one.meaning):
            fix = f"write one of {', '.join(filter(None, units_of(one.meaning)))}"
            yield problem(run, ("columns", at, "unit"), Code.LOG, f'"{one.unit}" is no unit of {one.meaning}', fix)
        probe = one.probe
        is_stated = probe is not None and probe.uncertainty is not None and probe.uncertainty.known
        if probe is not None and probe.grade == COLD_CLASS and one.place not in COLD and not is_stated:
            words = f"class {COLD_CLASS} says nothing of a probe above 40 °C, and {one.meaning} is warmer"
            yield problem(run, ("columns", at, "probe", "class"), Code.LOG, words,
                          "write uncertainty: with how far the probe may be off")  # fmt: skip
    for at, shot in enumerate(run.shots):
        if not shot.begins.value < shot.ends.value:
            yield problem(run, ("shots", at, "ends"), Code.LOG, "a shot that ends before it begins", "exchange the two")


def sum_of(path: Path) -> str:
    """The SHA-256 sum of a file, worked out once for as long as the file keeps its size and its time of change."""
    status = path.stat()
    return _sum(path, status.st_size, status.st_mtime_ns)


@lru_cache(maxsize=1024)
def _sum(path: Path, size: int, changed: int) -> str:
    with reading.opened(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
