"""Line ends stay as they were committed, on computers that change them too: editions are known by their bytes."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.editions import commands, verify
from tests.unit.editions.conftest import Publish, git

pytestmark = pytest.mark.slow

REPOSITORY = Path(__file__).parents[3]


def cloned(root: Path, target: Path) -> Path:
    """A clone as on a computer that turns every line end of a text into two signs."""
    subprocess.run(["git", "clone", "--quiet", "-c", "core.autocrlf=true", str(root), str(target)], check=True)
    git(target, "checkout", "--quiet", "-B", "published", "origin/published")
    git(target, "checkout", "--quiet", "-")
    return target


@pytest.mark.parametrize("source", [".gitattributes", "guidegen/starter/gitattributes"])
def test_a_clone_that_changes_line_ends_changes_none_here(
    root: Path, publish: Publish, tmp_path: Path, source: str
) -> None:
    """By the file of the repository and by the one that a new workshop starts with; nothing is taken for a forgery."""
    shutil.copy(REPOSITORY / source, root / ".gitattributes")
    publish("1")
    commands.deliver_to(root, "published", None)
    clone = cloned(root, tmp_path / "clone")
    commands.recover(clone, "published", None)
    assert verify.verify(clone) == ()
    kept = "content/editions/1"
    for path in (root / kept).iterdir():
        assert (clone / kept / path.name).read_bytes() == path.read_bytes()


def test_the_branch_itself_keeps_its_line_ends_where_it_is_checked_out(
    root: Path, publish: Publish, tmp_path: Path
) -> None:
    """As by a host that serves the branch."""
    publish("1")
    commands.deliver_to(root, "published", None)
    clone = tmp_path / "host"
    options = ["-c", "core.autocrlf=true", "--branch", "published"]
    subprocess.run(["git", "clone", "--quiet", *options, str(root), str(clone)], check=True)
    done = subprocess.run(["sha256sum", "--check", "--quiet", "SHA256SUMS"], cwd=clone / "1", capture_output=True)
    assert done.returncode == 0, done.stdout


def test_where_line_ends_were_changed_that_is_said_and_how_it_is_undone(
    root: Path, publish: Publish, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In a workshop that an older program laid down; nobody is accused of forgery."""
    publish("1")
    commands.deliver_to(root, "published", None)
    clone = cloned(root, tmp_path / "clone")
    assert main(["--root", str(clone), "recover"]) == 3
    assert "its line ends were changed" in capsys.readouterr().err
    git(clone, "config", "core.autocrlf", "false")
    git(clone, "rm", "-r", "--quiet", "--cached", ".")
    git(clone, "reset", "--quiet", "--hard")
    assert main(["--root", str(clone), "recover"]) == 0
    assert verify.verify(clone) == ()
