"""What is carried of a workshop is all that a record is made from."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen import pipeline, trade
from guidegen.assess.assessor import Assessor
from guidegen.assess.kept import Kept
from guidegen.assess.records_kept import KeptRecords
from guidegen.trade.carried import family_parcel, shared_parcel, unpack


@pytest.mark.slow
def test_the_demonstration_is_known_by_the_same_names_from_its_parcels(workshop: Path, tmp_path: Path) -> None:
    """A record's name says all that it is made from, photographs and runs too. Each family lies alone."""
    known = trade.load(workshop)
    whole = KeptRecords(workshop, Assessor(known, pipeline.EDITION))
    for family in known.families:
        folder = tmp_path / family
        for parcel in (shared_parcel(known), family_parcel(known, family)):
            unpack(parcel, folder)
        part, _ = trade.look(folder)
        assert part is not None
        records = KeptRecords(folder, Assessor(part, pipeline.EDITION))
        of_family = [name for name, one in known.machines.items() if one.family == family]
        assert of_family
        for name in of_family:
            names = [records.name(part.machine(name), kit) for kit in part.kits.values()]
            assert names == [whole.name(known.machine(name), kit) for kit in known.kits.values()]
        assert not (folder / "content" / "pages").exists()


@pytest.mark.slow
def test_logs_go_along(workshop: Path, tmp_path: Path) -> None:
    """A machine with runs: what is measured and learned stands in the record that is made from the parcels, too."""
    known = trade.load(workshop)
    machine, kit, kept = known.machine("tamsin-mk1"), known.kit("feed-preheater"), Kept(tmp_path)
    assessor = Assessor(known, pipeline.EDITION, 0, kept)
    expected = assessor.assess(machine, kit)
    assert expected.measured is not None
    assert expected.learned is not None
    folder = tmp_path / "parts"
    for parcel in (shared_parcel(known), family_parcel(known, machine.family)):
        unpack(parcel, folder)
    part, _ = trade.look(folder)
    assert part is not None
    # The numbers are found, as they are asked for by the same question; the logs are read anew.
    numbers = Kept(folder)
    for name, data in assessor.held(machine, kit).items():
        numbers.entries.write(name, data)
    made = Assessor(part, pipeline.EDITION, 0, numbers).assess(part.machine(machine.id), part.kit(kit.id))
    assert (numbers.found, numbers.computed) == (1, 0)
    assert made.to_json() == expected.to_json()


def test_the_same_files_make_the_same_parcel(workshop: Path) -> None:
    """Whoever reads them, and whenever."""
    assert shared_parcel(trade.load(workshop)) == shared_parcel(trade.load(workshop))
