"""Whole records kept between runs, so that a run judges and words only what changed since another.

A record is found again by everything of the catalogue that it depends on (`Assessor.key`), and by the program that made
it. A damaged entry counts as absent. Numbers are kept by themselves (`kept`): words change more often.
"""

from __future__ import annotations

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
        self._assessor, self._entries = assessor, Entries(root / ".guidegen" / "records")
        self.found, self.made = 0, 0

    def record(self, machine: Machine, kit: Kit) -> Assessment:
        """The record of one pair: kept, or assessed and kept. Raises what `Assessor.assess` does, and keeps nothing."""
        name = self._name(machine, kit)
        found = self._entries.read(name)
        if found is not None:
            self.found += 1
            return Assessment.model_validate_json(zlib.decompress(found))
        record = self._assessor.assess(machine, kit)
        self.made += 1
        self._entries.write(name, zlib.compress(record.model_dump_json(by_alias=True).encode(), FASTEST))
        return record

    def key(self, machine: Machine, kit: Kit) -> bytes:
        """What all that a record of a pair depends on comes to."""
        return self._assessor.key(machine, kit)

    def has(self, machine: Machine, kit: Kit) -> bool:
        """Whether there is an entry of a pair, be it damaged."""
        return self._entries.has(self._name(machine, kit))

    def prune(self) -> None:
        """Remove what was not used for longest."""
        self._entries.prune(max(LEAST_KEPT, TIMES_KEPT * (self.found + self.made)))

    def _name(self, machine: Machine, kit: Kit) -> str:
        return hashlib.sha256(program() + self.key(machine, kit)).hexdigest()[:32]
