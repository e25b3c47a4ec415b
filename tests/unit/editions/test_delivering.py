"""The editions go out to a branch or a folder and come back whole, verified file by file."""

from __future__ import annotations

import datetime
import shutil
import subprocess
from pathlib import Path

import pytest

from guidegen.editions import commands, place, verify
from guidegen.problems import EnvironmentProblem
from tests.unit.editions.conftest import Publish, git
from tests.unit.editions.small import record

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
    with pytest.raises(EnvironmentProblem, match=r"edition 1 .* is damaged, nothing of it was taken: index\.html"):
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
    with pytest.raises(EnvironmentProblem, match="is not the one that content/editions/1 vouches for"):
        commands.recover(two, "published", out)


def test_a_damaged_edition_here_is_mended_by_recovering(two: Path, tmp_path: Path) -> None:
    """The original takes its place."""
    out = tmp_path / "out"
    commands.deliver_to(two, "published", out)
    (two / "site" / "2" / "index.html").write_bytes(b"other")
    assert commands.recover(two, "published", out).startswith("brought back and verified: 2,")
    assert verify.verify(two) == ()


def test_what_is_not_whole_is_not_delivered(two: Path, tmp_path: Path) -> None:
    """Readers get what was published, or nothing."""
    (two / "site" / "2" / "index.html").write_bytes(b"other")
    with pytest.raises(EnvironmentProblem, match=r"2/index\.html: changed"):
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
        with pytest.raises(EnvironmentProblem, match="holds editions that are not here: 1"):
            commands.deliver_to(two, branch, folder)
    commands.recover(two, "published", out)
    (out / "2" / "SHA256SUMS").write_bytes(b"")
    with pytest.raises(EnvironmentProblem, match="edition 2 was delivered with other bytes before"):
        commands.deliver_to(two, "published", out)


def test_a_branch_that_is_not_there_is_told_with_the_mend(two: Path) -> None:
    """A clone may not have fetched it."""
    with pytest.raises(EnvironmentProblem, match="git fetch origin published"):
        commands.recover(two, "published", None)
