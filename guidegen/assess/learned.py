"""What was learned of a machine, read back from beside its runs: nothing is learned while a site is built."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from pathlib import Path

from pydantic import ValidationError

from guidegen import reading
from guidegen.problems import CatalogueError, Code, Problem
from guidegen.record.learned import KeptLesson, Learned
from guidegen.runs.document import LoggedRun
from guidegen.trade import Catalogue

LARGEST = 1_000_000
"""Bytes of such a file."""


def path_of(known: Catalogue, variant: str) -> Path:
    """Where what was learned of a variant's machine is kept."""
    machine = known.machine(variant)
    stem = variant.removeprefix(f"{machine.family}-")
    return known.root / "machines" / machine.family / "runs" / f"{stem}.learned.json"


def sums(known: Catalogue, runs: Mapping[str, LoggedRun]) -> dict[str, str]:
    """By path of a run, the sum of its description and, in that, of its log."""
    return {path: hashlib.sha256((known.root / path).read_bytes()).hexdigest() for path in sorted(runs)}


def kept(known: Catalogue, variant: str) -> KeptLesson | None:
    """What is kept of a variant; None where nothing was learned yet. Raises CatalogueError where it cannot be read."""
    path = path_of(known, variant)
    if not path.is_file():
        return None
    try:
        return KeptLesson.model_validate_json(reading.bytes_of(path, LARGEST))
    except (ValidationError, ValueError) as error:
        name = path.relative_to(known.root).as_posix()
        fix = f"delete it, or run guidegen run learn {variant}"
        raise CatalogueError([Problem(name, 1, 1, Code.LOG, "it is not what run learn wrote", fix)]) from error


def digest(known: Catalogue, variant: str) -> bytes:
    """A hash of all that `learned` reads of a variant: what was learned, and the bytes of the runs that it rests on."""
    path = path_of(known, variant)
    if not path.is_file():
        return b"-"
    runs = {path: run for path, run in known.runs.items() if run.variant == variant}
    return hashlib.sha256(reading.bytes_of(path, LARGEST) + repr(sums(known, runs)).encode()).digest()


def learned(known: Catalogue, variant: str, kit: str) -> Learned | None:
    """What was learned that bears on a pair; None where nobody learned anything of the variant."""
    found = kept(known, variant)
    if found is None:
        return None
    runs = {path: run for path, run in known.runs.items()
            if run.variant == variant and (run.machine or "") == found.machine}  # fmt: skip
    return Learned(
        machine=found.machine,
        invented=found.invented,
        runs=len(found.made_from) - len(found.set_aside),
        set_aside=len(found.set_aside),
        learned=tuple(one for one in found.learned if one.kit in ("", kit)),
        open=tuple(one for one in found.open if one.kit in ("", kit)),
        straying=found.straying,
        stale=sums(known, runs) != found.made_from,
    )
