"""What can be judged beside a mistake."""

from __future__ import annotations

import shutil
from pathlib import Path

from guidegen.trade import look, sound_part

ROOT = Path(__file__).parents[3]


def broken(tmp_path: Path, name: str, old: str, new: str) -> Path:
    """The demonstration with other words in one file."""
    for folder in ("content", "machines"):
        shutil.copytree(ROOT / folder, tmp_path / folder, ignore=shutil.ignore_patterns("editions", "runs"))
    path = tmp_path / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    return tmp_path


def test_a_source_that_is_not_there_disturbs_nothing(tmp_path: Path) -> None:
    """Every pair is judged in the same run."""
    known, found = look(broken(tmp_path, "content/kits/banjo-feed.yml", "source: sdwa-1417", "source: sdwa"))
    part = sound_part(known, found)
    assert any(one.severity == "error" for one in found)
    assert known is not None
    assert part is not None
    assert (set(part.machines), set(part.kits)) == (set(known.machines), set(known.kits))


def test_a_kit_takes_with_it_those_that_it_may_remedy(tmp_path: Path) -> None:
    """The Banjo Feed is a remedy of the Feed Preheater; the Loop Controller asks for neither."""
    known, found = look(broken(tmp_path, "content/kits/banjo-feed.yml", "status: sold", "status: told"))
    part = sound_part(known, found)
    assert part is not None
    assert set(part.kits) == {"loop-controller"}


def test_a_variant_takes_its_family_with_it(tmp_path: Path) -> None:
    """What is wrong in one file of a family may stand in another's inheritance."""
    known, found = look(broken(tmp_path, "machines/bracken/c.yml", "status: seen", "status: sene"))
    part = sound_part(known, found)
    assert part is not None
    assert {one.family for one in part.machines.values()} == {"tamsin"}


def test_nothing_is_judged_beside_what_every_guide_stands_on(tmp_path: Path) -> None:
    """As the hazards."""
    known, found = look(broken(tmp_path, "content/hazards.yml", "severity: death", "severity: deadly"))
    assert sound_part(known, found) is None
