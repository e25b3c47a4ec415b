"""The editions go out to a branch or a folder and come back whole, verified file by file."""

from __future__ import annotations

import datetime
import json
import re
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from guidegen.editions import around, commands, place, verify
from guidegen.problems import EnvironmentProblem, FaultsFound, RefusedProblem
from tests.unit.editions.conftest import Publish, git
from tests.unit.editions.small import record

pytestmark = pytest.mark.slow

DAY = datetime.date(2025, 4, 1)


@pytest.fixture
def two(root: Path, publish: Publish) -> Path:
    """A workshop with two editions, one guide of the first withdrawn, and a draft."""
    publish("1")
    publish("2", "1", [record("plain-one"), record("plain-two"), record("plain-three")])
    commands.withdraw(root, "1", "plain-one/collar", "The bolts may shear.", DAY)
    (root / "site" / "next").mkdir()
    (root / "site" / "next" / "index.html").write_bytes(b"draft")
    git(root, "add", "--all")
    git(root, "commit", "--quiet", "--message", "Withdraw")
    return root


def held(folder: Path) -> dict[str, bytes]:
    """Every file below a folder but git's own and the draft."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.relative_to(folder).parts[0] not in (".git", "next")
    }


def test_a_new_machine_gets_all_editions_back_from_the_branch(two: Path, tmp_path: Path) -> None:
    """A clone of the workshop's repository, and what the branch holds, make the same site."""
    commands.deliver_to(two, "published", None)
    clone = tmp_path / "clone"
    subprocess.run(["git", "clone", "--quiet", str(two), str(clone)], check=True)
    assert commands.recover(clone, "published", None).startswith("brought back and verified: 1, 2")
    before, after = held(two / "site"), held(clone / "site")
    before[place.VERSIONS] = place.versions_bytes(["2", "1"])
    before["index.html"] = after["index.html"]  # It speaks of the draft, where there is one.
    assert after == before
    assert verify.verify(clone) == ()
    assert commands.recover(clone, "published", None) == "every edition is here and whole; nothing was brought back"


def test_a_plain_folder_serves_as_well(two: Path, tmp_path: Path) -> None:
    """What others keep there stays; the draft is not delivered."""
    out = tmp_path / "out"
    out.mkdir()
    (out / "robots.txt").write_bytes(b"own")
    commands.deliver_to(two, "published", out)
    assert (out / "robots.txt").read_bytes() == b"own"
    assert not (out / "next").exists()
    assert b"next" not in (out / place.VERSIONS).read_bytes()
    shutil.rmtree(two / "site")
    commands.recover(two, "published", out)
    assert verify.verify(two) == ()


def test_a_damaged_source_is_refused_and_nothing_of_it_taken(two: Path, tmp_path: Path) -> None:
    """Named by its file; what is here stays as it is."""
    out = tmp_path / "out"
    commands.deliver_to(two, "published", out)
    (out / "1" / "index.html").write_bytes(b"other")
    shutil.rmtree(two / "site")
    with pytest.raises(RefusedProblem, match=r"edition 1 .* is damaged, nothing of it was taken: index\.html"):
        commands.recover(two, "published", out)
    assert place.published(two / "site") == ()


def test_a_source_whose_sums_were_changed_too_is_refused(two: Path, tmp_path: Path) -> None:
    """The seal in the workshop's history does not agree."""
    out = tmp_path / "out"
    commands.deliver_to(two, "published", out)
    (out / "1" / "index.html").write_bytes(b"other")
    inside = {path: data for path, data in held(out / "1").items() if path != "SHA256SUMS" and "withdrawn" not in path}
    (out / "1" / "SHA256SUMS").write_bytes(place.sums_of(inside))
    shutil.rmtree(two / "site")
    with pytest.raises(RefusedProblem, match="is not the one that content/editions/1 vouches for"):
        commands.recover(two, "published", out)


def test_a_damaged_edition_here_is_repaired_by_recovering(two: Path, tmp_path: Path) -> None:
    """The original takes its place."""
    out = tmp_path / "out"
    commands.deliver_to(two, "published", out)
    (two / "site" / "2" / "index.html").write_bytes(b"other")
    assert commands.recover(two, "published", out).startswith("brought back and verified: 2,")
    assert verify.verify(two) == ()


def test_what_is_not_whole_is_not_delivered(two: Path, tmp_path: Path) -> None:
    """Readers get what was published, or nothing."""
    (two / "site" / "2" / "index.html").write_bytes(b"other")
    with pytest.raises(FaultsFound, match=r"2/index\.html: changed"):
        commands.deliver_to(two, "published", tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_an_edition_that_was_delivered_is_never_lost_or_changed(two: Path, tmp_path: Path) -> None:
    """A workshop that knows fewer editions, or others of that name, is refused; so for a branch as for a folder."""
    out = tmp_path / "out"
    commands.deliver_to(two, "published", out)
    commands.deliver_to(two, "published", None)
    (two / "site" / place.VERSIONS).write_bytes(place.versions_bytes(["2"]))
    shutil.rmtree(two / "site" / "1")
    for branch, folder in (("published", None), ("published", out)):
        with pytest.raises(RefusedProblem, match="holds editions that are not here: 1"):
            commands.deliver_to(two, branch, folder)
    commands.recover(two, "published", out)
    (out / "2" / "SHA256SUMS").write_bytes(b"")
    with pytest.raises(RefusedProblem, match="edition 2 was delivered with other bytes before"):
        commands.deliver_to(two, "published", out)


def test_a_branch_that_is_not_there_is_reported_with_the_fix(two: Path) -> None:
    """A clone may not have fetched it."""
    with pytest.raises(EnvironmentProblem, match="git fetch origin published"):
        commands.recover(two, "published", None)


def test_an_edition_that_only_the_fetched_branch_has_is_not_lost(two: Path, tmp_path: Path) -> None:
    """Another machine published meanwhile: delivering over its work is refused, recovering brings it."""
    commands.deliver_to(two, "published", None)
    clone = tmp_path / "clone"
    subprocess.run(["git", "clone", "--quiet", str(two), str(clone)], check=True)
    # The clone's own branch knows one edition only; the one it fetched knows both.
    whole, first = place.published(two / "site"), tmp_path / "first"
    commands.recover(clone, "published", None)
    shutil.copytree(clone / "site" / "1", first / "1")
    (first / place.VERSIONS).write_bytes(place.versions_bytes(["1"]))
    git(clone, "config", "user.name", "A Test")
    git(clone, "config", "user.email", "test@workshop.example")
    subprocess.run([sys.executable, "-m", "ghp_import", "-b", "old", str(first)], cwd=clone, check=True)
    git(clone, "branch", "--force", "published", "old")
    shutil.rmtree(clone / "site" / "2")
    (clone / "site" / place.VERSIONS).write_bytes(place.versions_bytes(["1"]))
    with pytest.raises(RefusedProblem, match="the branch origin/published holds editions that are not here: 2"):
        commands.deliver_to(clone, "published", None)
    assert commands.recover(clone, "published", None).startswith("brought back and verified: 2,")
    assert place.published(clone / "site") == whole
    assert verify.verify(clone) == ()


def test_pages_made_anew_go_out_marked_so_that_no_address_is_dead(two: Path, tmp_path: Path) -> None:
    """They are listed by their own name; every page of the root leads to a file that went out, the draft to none."""
    site, out = two / "site", tmp_path / "out"
    (site / "1").rename(site / "1-rerendered")
    (site / place.VERSIONS).write_bytes(place.versions_bytes(["2", "1-rerendered"]))
    commands.deliver_to(two, "published", out)
    listed = [entry["version"] for entry in json.loads((out / place.VERSIONS).read_bytes())]
    assert listed == ["2", "1-rerendered"]
    assert b"draft" in (site / "index.html").read_bytes()
    assert b"draft" not in (out / "index.html").read_bytes()
    pages = [out / "index.html", out / "which.html", *out.glob("k/**/*.html"), *out.glob("latest/**/*.html")]
    assert len(pages) > 5
    for page in pages:
        for address in re.findall(r'(?:href="|url=)([^"#:]+)"', page.read_text(encoding="utf-8")):
            target = page.parent / address
            # The edition's stand-ins have no page of what changed; the real one makes it.
            assert target.is_file() or target.name == "changes.html", f"{page}: {address}"


def test_a_list_that_was_damaged_is_made_anew_by_recovering(two: Path) -> None:
    """From the editions that lie here whole, though nothing was ever delivered; one that is torn is not listed."""
    before = (two / "site" / place.VERSIONS).read_bytes()
    (two / "site" / place.VERSIONS).write_bytes(b"[{")
    found, _ = commands.check_editions(two)
    assert [fault.path for fault in found] == ["versions.json"]
    assert "is damaged: " in found[0].what
    assert "recover repairs it" in found[0].what
    with pytest.raises(EnvironmentProblem, match="there is no branch published"):
        commands.recover(two, "published", None)
    commands.check_editions(two)
    assert (two / "site" / place.VERSIONS).read_bytes() == before
    assert verify.verify(two) == ()
    (two / "site" / place.VERSIONS).write_bytes(b"")
    (two / "site" / "2" / "index.html").write_bytes(b"other")
    with pytest.raises(EnvironmentProblem, match="there is no branch published"):
        commands.recover(two, "published", None)
    assert place.published(two / "site") == ("1",)


def test_an_edition_whose_sums_are_gone_is_reported_and_recovered(two: Path, tmp_path: Path) -> None:
    """Commands that would build on it say so in a sentence."""
    out = tmp_path / "out"
    commands.deliver_to(two, "published", out)
    (two / "site" / "2" / "SHA256SUMS").unlink()
    with pytest.raises(EnvironmentProblem, match=r"2/SHA256SUMS cannot be read .*; `guidegen recover` brings it back"):
        around.refresh(two)
    found, _ = commands.check_editions(two)
    assert [fault.path for fault in found] == ["2/SHA256SUMS"]
    commands.recover(two, "published", out)
    assert verify.verify(two) == ()


def test_a_lock_that_a_killed_git_left_is_waited_for_and_taken_away(two: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Git would refuse for ever, and nothing but deliver writes this branch."""
    monkeypatch.setattr("guidegen.editions.branch.DEAD_AFTER", 0.2)
    lock = two / ".git" / "refs" / "heads" / "published.lock"
    lock.write_bytes(b"")
    commands.deliver_to(two, "published", None)
    assert not lock.exists()
    assert "versions.json" in git(two, "ls-tree", "--name-only", "published")


def test_a_lock_that_somebody_holds_is_waited_for(two: Path) -> None:
    """Until it is gone; it is not taken away."""
    lock = two / ".git" / "refs" / "heads" / "published.lock"
    lock.write_bytes(b"")
    other = threading.Timer(0.3, lock.unlink)
    other.start()
    commands.deliver_to(two, "published", None)
    other.join()
    assert "versions.json" in git(two, "ls-tree", "--name-only", "published")
