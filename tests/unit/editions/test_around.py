"""What follows from the editions is made again whenever it is missing or old, and touched only then."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from guidegen.editions import around, kept, verify
from guidegen.problems import CatalogueError
from tests.unit.editions.conftest import Publish
from tests.unit.editions.small import record

pytestmark = pytest.mark.slow

DERIVED = (
    "index.html",
    "which.html",
    "feed.xml",
    "corrections/1.html",
    "notices.json",
    "offers.json",
    "prices.html",
    "latest/index.html",
    "k/collar-A/plain-one/index.html",
)


def test_every_derived_file_is_made_again_by_the_next_command(root: Path, publish: Publish) -> None:
    """One gone, or all, with the same bytes as before."""
    publish("1")
    publish("2", "1")
    site = root / "site"
    before = {name: (site / name).read_bytes() for name in DERIVED}
    for name in DERIVED:
        (site / name).unlink()
        around.refresh(root)
        assert (site / name).read_bytes() == before[name]
    shutil.rmtree(root / ".guidegen")
    around.refresh(root)
    assert {name: (site / name).read_bytes() for name in DERIVED} == before


def test_where_nothing_changed_nothing_is_written(root: Path, publish: Publish) -> None:
    """No file gets a new time of writing."""
    publish("1")
    before = {path: path.stat().st_mtime_ns for path in root.rglob("*")}
    around.refresh(root)
    assert {path: path.stat().st_mtime_ns for path in root.rglob("*")} == before


def test_a_snapshot_that_was_not_kept_yet_is_kept_by_the_next_command(root: Path, publish: Publish) -> None:
    """The command died after the edition was listed."""
    publish("1")
    folder = root / "content" / "editions" / "1"
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    shutil.rmtree(folder)
    around.refresh(root)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_the_draft_is_listed_last_and_only_where_it_is(root: Path, publish: Publish) -> None:
    """The selector offers it, but nobody takes it for the newest edition."""
    publish("1")
    (root / "site" / "next").mkdir()
    (root / "site" / "next" / "index.html").write_bytes(b"draft")
    around.refresh(root)
    held = json.loads((root / "site" / "versions.json").read_text())
    assert [(one["version"], one["aliases"]) for one in held] == [("1", ["latest"]), ("next", [])]
    shutil.rmtree(root / "site" / "next")
    around.refresh(root)
    assert [one["version"] for one in json.loads((root / "site" / "versions.json").read_text())] == ["1"]


def test_a_workshop_without_editions_gets_nothing_at_its_root(root: Path) -> None:
    """There is nothing to report."""
    (root / "site" / "next").mkdir(parents=True)
    around.refresh(root)
    assert [path.name for path in (root / "site").iterdir()] == ["next"]


def test_changes_are_computed_from_the_snapshots_alone(root: Path, publish: Publish) -> None:
    """On a fresh clone there is no page of any edition."""
    new = record("plain-one")
    new["torques"][0]["nominal_n_m"] = 4.0
    publish("1")
    publish("2", "1", [new, record("plain-two")], note="Tighten to the new torque.")
    shutil.rmtree(root / "site")
    found = {one.guide: [change.kind for change in one.changes] for one in around.compared(root, "1", "2")}
    assert found == {"plain-one/collar": ["torque"], "plain-two/collar": []}
    assert [one.edition for one in kept.line(root)] == ["1", "2"]


OFFERS = """valid_until: 2025-12-31
kits:
  collar: {price: 80 EUR, stock: 3}
"""


def test_offers_lie_at_the_root_and_in_no_edition(root: Path, publish: Publish) -> None:
    """They change from one day to the next; what is not an offer is refused with its place."""
    offers = root / "content" / "offers.yml"
    offers.write_text(OFFERS, encoding="utf-8")
    publish("1")
    published = json.loads((root / "site" / "offers.json").read_text())
    assert published["valid_until"] == "2025-12-31"
    assert published["kits"] == {"collar": {"price": "80 EUR", "minor": 8000, "stock": 3}}
    assert not list((root / "site" / "1").rglob("offers.json"))
    offers.write_text(OFFERS.replace("stock: 3", "stock: 2"), encoding="utf-8")
    around.refresh(root)
    assert json.loads((root / "site" / "offers.json").read_text())["kits"]["collar"]["stock"] == 2
    offers.write_text("valid_until: soon\nkits: {}\n", encoding="utf-8")
    with pytest.raises(CatalogueError, match=r'content/offers\.yml:1:14: S09 valid_until: got "soon"'):
        around.refresh(root)


def test_a_workshop_without_editions_that_offers_something_shows_it_beside_its_draft(root: Path) -> None:
    """The draft asks the root for it."""
    (root / "content" / "offers.yml").write_text(OFFERS, encoding="utf-8")
    (root / "site" / "next").mkdir(parents=True)
    (root / "site" / "next" / "index.html").write_bytes(b"draft")
    around.refresh(root)
    assert json.loads((root / "site" / "offers.json").read_bytes())["kits"]["collar"]["price"] == "80 EUR"
    assert "No edition is published yet." in (root / "site" / "index.html").read_text(encoding="utf-8")


def test_what_a_killed_command_left_half_written_goes(root: Path, publish: Publish) -> None:
    """Beside an edition's snapshot and within it; then nothing is there that the edition does not know."""
    publish("1")
    folder = kept.folder_of(root, "1")
    for rest in (folder / ".abc.part", folder.parent / ".xyz.part"):
        rest.write_bytes(b"{")
    around.refresh(root)
    assert list(folder.parent.rglob("*.part")) == []
    assert verify.verify(root) == ()
