"""Withdrawing puts a stop page before a guide; verifying names what else is not as it was published."""

from __future__ import annotations

import datetime
import hashlib
import json
import re
import shutil
from pathlib import Path

import pytest

from guidegen.editions import around, commands, verify
from guidegen.problems import UsageProblem
from tests.unit.editions.conftest import Publish, commit

pytestmark = pytest.mark.slow

DAY = datetime.date(2025, 4, 1)
GUIDE = "plain-one/collar"


def faults(root: Path) -> list[str]:
    """What verify prints."""
    return [str(fault) for fault in verify.verify(root)]


def test_what_was_published_is_whole(root: Path, publish: Publish) -> None:
    """And stays so when another edition comes."""
    publish("1")
    publish("2", "1")
    assert faults(root) == []


def test_each_kind_of_fault_is_named_with_its_file(root: Path, publish: Publish) -> None:
    """One byte flipped, a file gone, a file too many, a link in a file's place."""
    publish("1")
    top = root / "site" / "1"
    page = top / "guides" / GUIDE / "install.html"
    data = bytearray(page.read_bytes())
    data[3] ^= 1
    page.write_bytes(data)
    (top / "guides" / "plain-two" / "collar" / "index.html").unlink()
    (top / "guides" / "own.html").write_bytes(b"mine")
    (top / "index.html").rename(top.parent / "elsewhere.html")
    (top / "index.html").symlink_to("../elsewhere.html")
    assert faults(root) == [
        "1/guides/own.html: extra: the edition has no such file",
        "1/guides/plain-one/collar/install.html: changed",
        "1/guides/plain-two/collar/index.html: missing",
        "1/index.html: changed",
        "elsewhere.html: extra: neither of an edition nor made from them",
    ]


def test_sums_that_were_changed_with_the_file_are_found_out(root: Path, publish: Publish) -> None:
    """The seal lies in the workshop's own history, not beside the files."""
    publish("1")
    page = root / "site" / "1" / "index.html"
    sums = root / "site" / "1" / "SHA256SUMS"
    before = hashlib.sha256(page.read_bytes()).hexdigest()
    page.write_bytes(b"other")
    sums.write_text(sums.read_text().replace(before, hashlib.sha256(b"other").hexdigest()))
    assert faults(root) == ["1/SHA256SUMS: changed: it is not what content/editions/1/SHA256SUMS.sha256 vouches for"]


def test_an_edition_that_is_gone_or_not_listed_is_named(root: Path, publish: Publish) -> None:
    """The list and the folders must agree."""
    publish("1")
    publish("2", "1")
    shutil.copytree(root / "site" / "2", root / "site" / "3")
    shutil.rmtree(root / "site" / "1")
    assert faults(root) == [
        "1: missing: versions.json lists it, and there is no such folder",
        "3: extra: versions.json does not list this edition",
    ]


def test_withdrawing_stops_one_guide_and_keeps_the_original(root: Path, publish: Publish) -> None:
    """A dated stop page in place of each page, the sheet gone, the originals under their hashes, all else untouched."""
    publish("1")
    top = root / "site" / "1"
    original = (top / "guides" / GUIDE / "install.html").read_bytes()
    other = (top / "guides" / "plain-two" / "collar" / "install.html").read_bytes()
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    for page in ("index", "install"):
        text = (top / "guides" / GUIDE / f"{page}.html").read_text()
        assert "Stop. Do not work by this guide." in text
        assert "2025-04-01" in text
        assert "The bolts may shear." in text
        assert "post@workshop.example" in text
        assert "<script" not in text
    assert not (top / "sheets" / f"{GUIDE}.pdf").exists()
    assert (top / "withdrawn" / hashlib.sha256(original).hexdigest()).read_bytes() == original
    assert (top / "guides" / "plain-two" / "collar" / "install.html").read_bytes() == other
    assert faults(root) == []


def test_a_stop_page_never_leads_back_to_itself(root: Path, publish: Publish) -> None:
    """The short address leads to it, so it leads to the list of what is in force."""
    publish("1")
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    page = root / "site" / "1" / "guides" / GUIDE / "install.html"
    (address,) = re.findall(r'<a href="([^"]+)"', page.read_text(encoding="utf-8"))
    assert (page.parent / address).resolve() == (root / "site" / "which.html").resolve()
    assert "withdrawn" in (root / "site" / "which.html").read_text(encoding="utf-8")


def test_a_withdrawal_is_shown_everywhere(root: Path, publish: Publish) -> None:
    """In notices, in the feed, at the root, and at the code on the bag."""
    publish("1")
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    site = root / "site"
    standing = json.loads((site / "notices.json").read_text())["editions"]["1"][GUIDE]
    assert standing["state"] == "withdrawn"
    assert "The bolts may shear." in (site / "feed.xml").read_text()
    assert "The bolts may shear." in (site / "editions.html").read_text()
    assert '<strong>One guide was withdrawn.</strong> <a href="editions.html">' in (site / "index.html").read_text()
    short = (site / "k" / "collar-A" / "plain-one" / "index.html").read_text()
    assert "url=../../../1/guides/plain-one/collar/index.html" in short
    assert "Stop." in short


def test_a_tampered_stop_page_or_original_is_found_out(root: Path, publish: Publish) -> None:
    """Both are part of what must be so."""
    publish("1")
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    top = root / "site" / "1"
    (top / "guides" / GUIDE / "install.html").write_bytes(b"go on")
    (kept_original,) = [path for path in (top / "withdrawn").iterdir() if b"install" in path.read_bytes()]
    kept_original.write_bytes(b"x")
    assert faults(root) == [
        f"1/guides/{GUIDE}/install.html: changed",
        f"1/withdrawn/{kept_original.name}: changed",
    ]


def test_a_withdrawal_that_died_is_finished_by_the_next_command(root: Path, publish: Publish) -> None:
    """Noted, but the pages not yet stopped."""
    publish("1")
    before = (root / "site" / "1" / "guides" / GUIDE / "install.html").read_bytes()
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    (root / "site" / "1" / "guides" / GUIDE / "install.html").write_bytes(before)
    (root / ".guidegen" / "root.json").unlink()
    publish("2", "1")
    assert faults(root) == []
    assert b"Stop." in (root / "site" / "1" / "guides" / GUIDE / "install.html").read_bytes()


def test_what_a_killed_withdrawal_left_half_written_goes(root: Path, publish: Publish) -> None:
    """In each folder that it writes into: beside the pages, the originals, and the list."""
    publish("1")
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    edition = root / "site" / "1"
    folders = [(edition / "guides" / GUIDE), edition / "withdrawn", root / "content" / "editions"]
    rests = [folder / ".zl21kfuu.part" for folder in folders]
    for rest in rests:
        rest.write_bytes(b"half")
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    assert [rest for rest in rests if rest.exists()] == []
    assert faults(root) == []


def test_a_whole_edition_can_be_withdrawn_and_only_once(root: Path, publish: Publish) -> None:
    """Every guide of it; the first reason stays."""
    publish("1")
    commands.withdraw(root, "1", GUIDE, "First.", DAY)
    assert "plain-two/collar" in commands.withdraw(root, "1", None, "Second.", DAY)
    assert commands.withdraw(root, "1", None, "Third.", DAY) == "it was withdrawn before; nothing changed"
    held = json.loads((root / "content" / "editions" / "withdrawn.json").read_text())["withdrawn"]
    assert [(one["guide"], one["because"]) for one in held] == [(GUIDE, "First."), ("plain-two/collar", "Second.")]


def test_without_a_day_it_is_that_of_the_last_commit(root: Path, publish: Publish) -> None:
    """Never the clock's."""
    publish("1")
    commit(root, datetime.date(2025, 7, 8))
    commands.withdraw(root, "1", GUIDE, "Because.", None)
    held = json.loads((root / "content" / "editions" / "withdrawn.json").read_text())["withdrawn"]
    assert held[0]["date"] == "2025-07-08"


@pytest.mark.parametrize(
    ("edition", "guide", "message"),
    [("2", None, "did you mean|the editions: 1"), ("1", "plain-onne/collar", "did you mean plain-one/collar")],
)
def test_what_does_not_exist_cannot_be_withdrawn(
    root: Path, publish: Publish, edition: str, guide: str | None, message: str
) -> None:
    """The nearest name is offered."""
    publish("1")
    with pytest.raises(UsageProblem, match=message):
        commands.withdraw(root, edition, guide, "Because.", DAY)


def test_a_file_of_the_root_that_was_changed_is_named_and_made_again(root: Path, publish: Publish) -> None:
    """Readers are led and warned by it, so it is watched like an edition; the next command repairs it."""
    publish("1")
    publish("2", "1")
    notices, short = root / "site" / "notices.json", root / "site" / "k" / "collar-A" / "plain-one" / "index.html"
    before = notices.read_bytes(), short.read_bytes()
    notices.write_bytes(before[0].replace(b"Unchanged", b"Not good!"))
    short.unlink()
    found, _ = commands.check_editions(root)
    assert [str(fault) for fault in found] == ["k/collar-A/plain-one/index.html: missing", "notices.json: changed"]
    around.refresh(root)
    assert (notices.read_bytes(), short.read_bytes()) == before
    assert faults(root) == []


def test_a_list_that_names_an_edition_otherwise_is_named(root: Path, publish: Publish) -> None:
    """The selector would show another name for it."""
    publish("1")
    versions = root / "site" / "versions.json"
    versions.write_text(versions.read_text().replace('"title": "1"', '"title": "9"'))
    assert faults(root) == ["versions.json: changed"]


def test_a_kept_snapshot_that_was_changed_is_named(root: Path, publish: Publish) -> None:
    """What changed is computed from it, so it must be the one that was published."""
    publish("1")
    top = root / "content" / "editions" / "1"
    variant = top / "plain-one.json"
    variant.write_bytes(variant.read_bytes().replace(b"5.0", b"6.0"))
    (top / "plain-two.json").unlink()
    (top / "plain-three.json").write_bytes(b"{}")
    assert faults(root) == [
        "content/editions/1/plain-one.json: changed",
        "content/editions/1/plain-three.json: extra: the edition has no such file",
        "content/editions/1/plain-two.json: missing",
    ]


def test_what_is_merely_old_is_named_as_that_and_made_anew_by_delivering(
    root: Path, publish: Publish, tmp_path: Path
) -> None:
    """Stop pages name the workshop's address: looking mends nothing, whoever delivers does."""
    publish("1")
    commands.withdraw(root, "1", GUIDE, "The bolts may shear.", DAY)
    (root / "content" / "workshop.yml").write_text("contact: bench@workshop.example\n", encoding="utf-8")
    old = "changed or old; `guidegen deliver` makes it anew"
    assert faults(root) == [f"1/guides/{GUIDE}/{page}.html: {old}" for page in ("index", "install")]
    commands.deliver_to(root, "published", tmp_path / "out")
    assert faults(root) == []
    assert b"bench@workshop.example" in (root / "site" / "1" / "guides" / GUIDE / "install.html").read_bytes()
