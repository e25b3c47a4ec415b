"""Publishing a small workshop from the command line, from the first edition to a withdrawal."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import html5lib
import pytest

from guidegen import record_at
from guidegen.editions import kept, place, verify
from tests.editions_workshop import FAMILY, change_torque, commit, git, guidegen, held, lay_down, publish

GUIDE = "plain-one/collar"
NOTE = "Loosen the four bolts and tighten them to the new torque."


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two editions: between them a torque was corrected."""
    root = lay_down(tmp_path_factory.mktemp("editions") / "a workshop é")
    assert publish(root, "2025.1") == 0
    change_torque(root)
    assert publish(root, "2025.2", "--note", NOTE) == 0
    return root


@pytest.fixture
def root(published: Path, tmp_path: Path) -> Path:
    """The same, to write into."""
    return Path(shutil.copytree(published, tmp_path / "workshop", symlinks=True))


def test_a_torque_is_not_changed_in_silence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Refused with the change and the command that fixes it; with a notice published; the old bytes stay."""
    root = lay_down(tmp_path / "workshop")
    assert publish(root, "2025.1") == 0
    before = held(root / "site" / "2025.1")
    change_torque(root)
    capsys.readouterr()
    assert publish(root, "2025.2") == 4
    printed = capsys.readouterr().err
    torque = "4 boiler bolts, M5, class A2-70: 5 ± 0.5 N·m, M5, dry → 4.2 ± 0.4 N·m, M5, dry (a torque changed)"
    assert f"{torque}: all 2 guides" in printed
    assert "fix: guidegen publish 2025.2 --note" in printed
    assert place.published(root / "site") == ("2025.1",)
    assert publish(root, "2025.2", "--note", NOTE) == 0
    assert held(root / "site" / "2025.1") == before
    notices = json.loads((root / "site" / "notices.json").read_text(encoding="utf-8"))
    assert notices["editions"]["2025.1"][GUIDE]["says"] == f"2025-03-01: {NOTE}"


def test_uncommitted_work_is_refused_with_the_command_that_fixes_it(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing is published that nobody could find again."""
    (root / FAMILY).write_text((root / FAMILY).read_text(encoding="utf-8") + "# a thought\n", encoding="utf-8")
    assert guidegen(root, "publish", "2025.3") == 4
    fix = capsys.readouterr().err.split("fix: ")[1]
    assert f"git -C {root} add -- {FAMILY}" in fix
    subprocess.run(fix, shell=True, check=True, capture_output=True)
    assert publish(root, "2025.3") == 0


def test_a_workshop_that_breaks_a_rule_is_not_published(root: Path) -> None:
    """As it would not be built."""
    path = root / "machines" / "plain" / "one.yml"
    path.write_text(path.read_text(encoding="utf-8") + "boiler: {mass: 500}\n", encoding="utf-8")
    commit(root)
    assert guidegen(root, "publish", "2025.3") == 1
    assert place.published(root / "site") == ("2025.2", "2025.1")


def test_publishing_the_same_again_does_nothing(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Not one file gets a new time of writing; other bytes under the same name are refused."""
    site = root / "site"
    before = {path: path.stat().st_mtime_ns for path in site.rglob("*") if path.is_file()}
    assert guidegen(root, "publish", "2025.2", "--draws", "0") == 0
    assert "nothing was done" in capsys.readouterr().out
    assert {path: path.stat().st_mtime_ns for path in site.rglob("*") if path.is_file()} == before
    (root / FAMILY).write_text((root / FAMILY).read_text(encoding="utf-8").replace("water: 100 ml", "water: 110 ml"))
    commit(root)
    assert guidegen(root, "publish", "2025.2", "--draws", "0") == 4
    assert "an edition never changes: publish under a new name" in capsys.readouterr().err


def test_an_orders_text_names_the_edition_whose_page_wrote_it(published: Path) -> None:
    """In the page, in the record beside it and in the snapshot as it is read; so the order can be held against it."""
    for name in ("2025.1", "2025.2"):
        page = (published / "site" / name / "guides" / GUIDE / "fit.html").read_text(encoding="utf-8")
        record = record_at(published / "site" / name / "data" / f"{GUIDE}.json")
        (snapshot,) = (
            one for one in kept.records(published, name) if f"{one['variant']['id']}/{one['kit']['id']}" == GUIDE
        )
        for check in (_self_check(page), snapshot["self_check"]):
            assert check["pair"]["edition"] == name
        assert record.self_check.pair.edition == name


def _self_check(page: str) -> dict[str, dict[str, str]]:
    """What the page's script reads."""
    (data,) = re.findall(r'<script type="application/json"[^>]*>(.*?)</script>', page, re.DOTALL)
    held: dict[str, dict[str, str]] = json.loads(data)
    return held


def test_verify_names_the_one_byte_that_was_flipped(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Clean before, named after."""
    assert guidegen(root, "verify") == 0
    page = root / "site" / "2025.1" / "guides" / GUIDE / "index.html"
    data = bytearray(page.read_bytes())
    data[len(data) // 2] ^= 1
    page.write_bytes(data)
    capsys.readouterr()
    assert guidegen(root, "verify") == 1
    assert capsys.readouterr().out.splitlines()[0] == f"2025.1/guides/{GUIDE}/index.html: changed"


def test_a_withdrawn_guides_code_leads_to_its_stop_page(root: Path) -> None:
    """From the short address by the page's own head, without a script."""
    assert guidegen(root, "withdraw", "2025.2", GUIDE, "--because", "The bolts may shear.") == 0
    short = root / "site" / "k" / "collar-1.10" / "plain-one" / "index.html"
    (refresh,) = (one for one in parsed(short).iter("meta") if one.get("http-equiv") == "refresh")
    target = short.parent / (refresh.get("content") or "").split("url=")[1]
    assert "Stop. Do not work by this guide." in target.read_text(encoding="utf-8")
    assert verify.verify(root) == ()


def test_the_same_commit_makes_the_same_edition_elsewhere(published: Path, tmp_path: Path) -> None:
    """Another folder, time zone, hash seed and day: the same sums."""
    clone = tmp_path / "elsewhere"
    git(published, "clone", "--quiet", str(published), str(clone))
    first = git(clone, "log", "--reverse", "--format=%H").split()[0]
    git(clone, "checkout", "--quiet", first)
    environment = {**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Pacific/Kiritimati", "LC_ALL": "C",
                   "PYTHONPATH": os.pathsep.join(sys.path)}  # fmt: skip
    command = [sys.executable, "-m", "guidegen", "--root", str(clone), "publish", "2025.1", "--draws", "0"]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    sums = "site/2025.1/SHA256SUMS"
    assert (clone / sums).read_text() == (published / sums).read_text()


def test_lost_pages_can_be_made_anew_and_give_way_to_the_originals(root: Path, tmp_path: Path) -> None:
    """Marked on every page, never listed as the edition itself, replaced by recovering."""
    assert guidegen(root, "deliver", "--folder", str(tmp_path / "out")) == 0
    shutil.rmtree(root / "site")
    assert guidegen(root, "editions", "--anew") == 0
    site = root / "site"
    listed = [entry["version"] for entry in place.listed(site)]
    assert listed == ["2025.2-rerendered", "2025.1-rerendered"]
    assert place.published(site) == ()
    for name in listed:
        pages = [*(site / name).rglob("*.html")]
        assert len(pages) > 10
        assert [page for page in pages if "made again from its own data" not in page.read_text(encoding="utf-8")] == []
    assert guidegen(root, "recover", "--folder", str(tmp_path / "out")) == 0
    assert place.published(site) == ("2025.2", "2025.1")
    assert not [path for path in site.iterdir() if path.name.endswith("-rerendered")]
    assert verify.verify(root) == ()


def test_the_draft_lists_what_changed_since_the_newest_edition(root: Path) -> None:
    """Per guide and for the whole, from the snapshots; the overview leads there."""
    (root / FAMILY).write_text((root / FAMILY).read_text(encoding="utf-8").replace("water: 100 ml", "water: 110 ml"))
    assert guidegen(root, "build", "--draws", "0") == 0
    top = root / "site" / "next"
    page = (top / "guides" / GUIDE / "changes.html").read_text(encoding="utf-8").replace("\u00a0", " ")
    assert "100 ml ± 2 ml" in page
    assert "110 ml ± 2 ml" in page
    assert 'href="changes.html"' in (top / "guides" / GUIDE / "index.html").read_text(encoding="utf-8")
    assert "2025.2" in (top / "changes.html").read_text(encoding="utf-8")


def parsed(path: Path) -> ElementTree.Element:
    """A page, strictly."""
    page: ElementTree.Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(
        path.read_bytes(), transport_encoding="utf-8"
    )
    return page


def test_every_page_around_the_editions_is_strict_html_and_leads_somewhere(root: Path) -> None:
    """The root's own pages, stubs, short addresses, stop pages, and those that list what changed."""
    assert guidegen(root, "withdraw", "2025.1", GUIDE, "--because", "The <bolts> may shear.") == 0
    site = root / "site"
    pages = [path for path in site.rglob("*.html") if path.relative_to(site).parts[0] not in ("2025.1", "2025.2")]
    pages += [*site.rglob("changes.html"), *(site / "2025.1" / "guides" / GUIDE).glob("*.html")]
    assert len(pages) > 20
    for path in pages:
        page = parsed(path)
        assert len(list(page.iter("h1"))) == 1, path
        for link in page.iter("a"):
            address = (link.get("href") or "").partition("#")[0]
            if address and "://" not in address and not address.startswith(("mailto:", "/")):
                target = (path.parent / address).resolve()
                assert (target / "index.html" if target.is_dir() else target).is_file(), f"{path}: {address}"
