"""Whole records kept between runs, so that a run judges and words only what changed since another.

A record is found again by everything of the catalogue that it depends on (`Assessor.key`), and by the program that made
it. A damaged entry counts as absent. Numbers are kept by themselves (`kept`): words change more often.
"""

from __future__ import annotations

import contextlib
import hashlib
import zlib
from functools import cache
from pathlib import Path

from guidegen.assess.assessor import Assessor
from guidegen.assess.kept import Entries, code_hash
from guidegen.assess.origin import JUDGES
from guidegen.judge import acts
from guidegen.record import Assessment
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine

LEAST_KEPT, TIMES_KEPT = 100, 2
"""So many entries always stay, and so many times those that a run used; packed, one is some 60 kB."""
FASTEST = 1
"""How hard a record is packed: to a sixth in a millisecond."""


@cache
def program() -> bytes:
    """A hash of all that judges and words: the modules, and the table of acts."""
    whole = hashlib.sha256(code_hash(JUDGES).encode())
    for path in sorted(Path(acts.__file__).parent.glob("*.yml")):
        whole.update(path.read_bytes())
    return whole.digest()


class KeptRecords:
    """Records in `.guidegen/records/`, one file each; counts what was found and made."""

    def __init__(self, root: Path, assessor: Assessor) -> None:
        self.assessor, self.entries = assessor, Entries(root / ".guidegen" / "records")
        self.found, self.made = 0, 0

    def record(self, machine: Machine, kit: Kit) -> Assessment:
        """The record of one pair: kept, or assessed and kept. Raises what `Assessor.assess` does, and keeps nothing."""
        name = self.name(machine, kit)
        found = self.entries.read(name)
        if found is not None:
            self.found += 1
            return Assessment.model_validate_json(zlib.decompress(found))
        record = self.assessor.assess(machine, kit)
        self.made += 1
        self.entries.write(name, zlib.compress(record.model_dump_json(by_alias=True).encode(), FASTEST))
        return record

    def make_all(self, machine: Machine) -> None:
        """Keep the records of a variant with every kit; what cannot be judged whoever gathers them will meet."""
        for kit in self.assessor.known.kits.values():
            with contextlib.suppress(Exception):
                self.record(machine, kit)

    def has(self, machine: Machine, kit: Kit) -> bool:
        """Whether there is an entry of a pair, be it damaged."""
        return self.entries.has(self.name(machine, kit))

    def prune(self) -> None:
        """Remove what was not used for longest."""
        self.entries.prune(max(LEAST_KEPT, TIMES_KEPT * (self.found + self.made)))

    def name(self, machine: Machine, kit: Kit) -> str:
        """What the entry of a pair is called: the same wherever it is made from the same files by the same program."""
        return hashlib.sha256(program() + self.assessor.key(machine, kit)).hexdigest()[:32]
