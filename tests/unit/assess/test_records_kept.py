"""Whole records kept between runs: found again where nothing changed, and made anew where anything did."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from guidegen import pipeline, trade
from guidegen.assess import records_kept
from guidegen.assess.assessor import Assessor
from guidegen.assess.kept import Kept
from guidegen.assess.records_kept import KeptRecords
from guidegen.record import Assessment

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A small workshop of one's own."""
    return Path(shutil.copytree(SMALL, tmp_path / "workshop"))


def judged(root: Path) -> tuple[tuple[Assessment, ...], int]:
    """The records of all pairs as a run without draws makes them, and how many of them were made anew."""
    known = trade.load(root)
    kept = KeptRecords(root, Assessor(known, pipeline.EDITION, 0, Kept(root)))
    records = tuple(kept.record(one, kit) for one in known.machines.values() for kit in known.kits.values())
    assert kept.found + kept.made == len(records)
    kept.prune()
    return records, kept.made


def anew(root: Path) -> tuple[Assessment, ...]:
    """The same, where nothing is kept."""
    known = trade.load(root)
    assessor = Assessor(known, pipeline.EDITION, 0)
    return tuple(assessor.assess(one, kit) for one in known.machines.values() for kit in known.kits.values())


def files(root: Path) -> Iterator[Path]:
    """What is kept."""
    return (path for path in (root / ".guidegen" / "records").rglob("*") if path.is_file())


def test_what_did_not_change_is_not_judged_again(root: Path) -> None:
    """The second run makes no record and has the very same."""
    first, made = judged(root)
    assert made == len(first) > 1
    assert judged(root) == (first, 0)


@pytest.mark.parametrize(
    ("path", "before", "after"),
    [
        ("machines/plain/two.yml", "name: ", "name: Other "),
        ("machines/plain/two.yml", "name: ", "\nname: "),
        ("content/workshop.yml", "name: ", "name: Other "),
        ("content/workshop.yml", "name: ", "\n\nname: "),
        ("content/kits/collar.yml", "name: ", "name: Other "),
    ],
)
def test_an_edit_shows_whatever_is_kept(root: Path, path: str, before: str, after: str) -> None:
    """A word, or a line above which moves the places: the records are those of a run that keeps nothing."""
    _, all_made = judged(root)
    file = root / path
    text = file.read_text(encoding="utf-8")
    assert f"\n{before}" in f"\n{text}"
    file.write_text(f"\n{text}".replace(f"\n{before}", f"\n{after}", 1)[1:], encoding="utf-8")
    records, made = judged(root)
    assert records == anew(root)
    assert 0 < made <= all_made


def test_an_edit_of_one_variant_makes_its_own_records_anew(root: Path) -> None:
    """And no other's."""
    records, _ = judged(root)
    file = root / "machines" / "plain" / "two.yml"
    file.write_text(file.read_text(encoding="utf-8").replace("name: ", "name: Other ", 1), encoding="utf-8")
    assert judged(root)[1] == sum(one.variant.id == "plain-two" for one in records) < len(records)


def test_another_program_finds_nothing(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever of it changed."""
    records, _ = judged(root)
    monkeypatch.setattr(records_kept, "program", lambda: b"another")
    assert judged(root) == (records, len(records))


def test_a_damaged_record_is_made_anew(root: Path) -> None:
    """Torn, or taken for another's."""
    records, made = judged(root)
    one, other, *_ = sorted(files(root))
    one.write_bytes(other.read_bytes())
    other.write_bytes(other.read_bytes()[:-5])
    assert judged(root) == (records, 2)
    assert judged(root) == (records, 0)
    assert made == 2


def test_what_was_not_used_for_longest_goes(root: Path) -> None:
    """A hundred entries stay whatever happens, and then twice what a run used, which of a small one is less."""
    judged(root)
    used = len([*files(root)])
    for number in range(120):
        old = root / ".guidegen" / "records" / "00" / f"{number:030d}"
        old.parent.mkdir(exist_ok=True)
        old.write_bytes(b"of before")
        os.utime(old, (number, number))
    judged(root)
    left = [*files(root)]
    assert len(left) == 100
    assert sum(path.parent.name == "00" and path.stat().st_mtime < 120 for path in left) == 100 - used
    assert not (root / ".guidegen" / "records" / "00" / f"{0:030d}").exists()
