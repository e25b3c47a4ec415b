"""The records of one variant made on a machine that has nothing of the workshop: from bytes to bytes.

A task carries all that it is made from, and hands back the entries that the run would have kept. So it is pure, may be
repeated, and gives the same bytes wherever the same program makes it.
"""

from __future__ import annotations

import hashlib
import platform
import sys
import tempfile
import threading
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib import metadata
from pathlib import Path

from guidegen import language, trade
from guidegen.assess.assessor import Assessor
from guidegen.assess.kept import LIBRARIES, Kept
from guidegen.assess.records_kept import KeptRecords, program
from guidegen.trade.carried import unpack

CODE = "guidegen's code"

_ALONE = threading.Lock()
"""One task at a time in each process, however many threads it was given: studies are large, and all of them compute."""


class OtherProgram(Exception):
    """Somewhere else another program would make the records."""


@dataclass(frozen=True)
class VariantTask:
    """One variant with all its kits.

    `program` is what the run computes with, `numbers` those entries that it has already, by their names.
    """

    variant: str
    edition: str
    draws: int
    program: Mapping[str, str]
    numbers: Mapping[str, bytes] = field(default_factory=dict)

    def digest(self, *parcels: str) -> str:
        """What the task is called: a hash of all that it is, with the sums of the parcels that it is made from."""
        said = (self.variant, self.edition, self.draws, sorted(self.program.items()), sorted(self.numbers), parcels)
        return hashlib.sha256(repr(said).encode()).hexdigest()


@dataclass(frozen=True)
class Made:
    """Entries by their names: of records, and of the numbers that they took."""

    records: Mapping[str, bytes]
    numbers: Mapping[str, bytes]


def program_here() -> dict[str, str]:
    """All that must be the same wherever records of one run are made, by what it is called."""
    versions = {name: metadata.version(name) for name in LIBRARIES}
    python = ".".join(map(str, sys.version_info[:2]))
    return {"Python": python, "processor": platform.machine(), **versions, CODE: program().hex()[:12]}


def differences(here: Mapping[str, str], there: Mapping[str, str]) -> str:
    """What another program has otherwise, as the end of a sentence; empty where nothing.

    The sum of the code holds the versions of libraries as well, so it is named where it alone differs.

    >>> differences({"numpy": "2.4.6", CODE: "a"}, {"numpy": "2.4.5", CODE: "b"})
    'numpy 2.4.5 in place of 2.4.6'
    """
    others = [f"{name} {there.get(name)} in place of {one}" for name, one in here.items() if there.get(name) != one]
    named = [one for one in others if not one.startswith(CODE)]
    return ", ".join(named or others)


def make(task: VariantTask, *parcels: bytes, within: str | None = None) -> Made:
    """All records of a variant, and numbers that the run has not yet; what cannot be judged is left out.

    Raises OtherProgram where this is not the program that the run computes with.

    Parameters:
        task: what is made.
        parcels: the files that it is made from.
        within: a folder in which the files are laid down meanwhile; that of the system where it is None.
    """
    if other := differences(task.program, program_here()):
        raise OtherProgram(other)
    with _ALONE, tempfile.TemporaryDirectory(prefix="guidegen-", dir=within) as folder:
        root = Path(folder)
        for parcel in parcels:
            unpack(parcel, root)
        kept = Kept(root)
        for name, data in task.numbers.items():
            kept.entries.write(name, data)
        # The run has read all of it without a mistake. Here other families are missing, which is none.
        known, _ = trade.look(root)
        assert known is not None
        with language.in_language(known.workshop.language, root):
            records = KeptRecords(root, Assessor(known, task.edition, task.draws, kept))
            records.make_all(known.machines[task.variant])
        numbers = {name: data for name, data in kept.entries.every().items() if name not in task.numbers}
        return Made(records.entries.every(), numbers)
