"""What goes out is what was published: whatever else lies in the site's folder is named, and nothing goes out."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.editions import anew, branch, commands, deliver, kept, verify
from guidegen.problems import FaultsFound, UsageProblem
from tests.unit.editions.conftest import Publish, git

pytestmark = pytest.mark.slow

SECRET = b"a customer's letter"


def page(site: Path) -> None:
    """A page that somebody put there."""
    (site / "own.html").write_bytes(SECRET)


def folder(site: Path) -> None:
    """A folder that somebody put there."""
    (site / "own" / "deep").mkdir(parents=True)
    (site / "own" / "deep" / "own.txt").write_bytes(SECRET)


def link(site: Path) -> None:
    """A link to a file outside."""
    (site.parent / "secret.txt").write_bytes(SECRET)
    (site / "own.txt").symlink_to(site.parent / "secret.txt")


def linked_folder(site: Path) -> None:
    """A link to a folder outside."""
    (site.parent / "secrets").mkdir()
    (site.parent / "secrets" / "own.txt").write_bytes(SECRET)
    (site / "own").symlink_to(site.parent / "secrets")


def hidden(site: Path) -> None:
    """A file whose name begins with a dot."""
    (site / ".env").write_bytes(SECRET)


def beside_a_short_address(site: Path) -> None:
    """A file in a folder that holds pages of the root."""
    (site / "k" / "own.txt").write_bytes(SECRET)


def link_in_an_edition(site: Path) -> None:
    """A link inside an edition."""
    (site.parent / "secret.txt").write_bytes(SECRET)
    (site / "1" / "guides" / "own.txt").symlink_to(site.parent / "secret.txt")


def edition_moved_away(site: Path) -> None:
    """The edition's own folder, replaced by a link."""
    (site / "1").rename(site.parent / "moved")
    (site / "1").symlink_to(site.parent / "moved")


def empty_folders(site: Path) -> None:
    """Empty folders, in an edition and beside it."""
    (site / "1" / "own").mkdir()
    (site / "own").mkdir()


def pipe(site: Path) -> None:
    """Something that would never end when it is read."""
    os.mkfifo(site / "1" / "own.pipe")


STRAYS: dict[Callable[[Path], None], list[str]] = {
    page: ["own.html: extra: neither of an edition nor made from them"],
    folder: ["own/deep/own.txt: extra: neither of an edition nor made from them"],
    link: ["own.txt: extra: a link"],
    linked_folder: ["own: extra: a link"],
    hidden: [".env: extra: neither of an edition nor made from them"],
    beside_a_short_address: ["k/own.txt: extra: neither of an edition nor made from them"],
    link_in_an_edition: ["1/guides/own.txt: extra: a link"],
    edition_moved_away: ["1: a link stands in the place of the edition's folder"],
    empty_folders: ["1/own: extra: an empty folder", "own: extra: an empty folder"],
    pipe: ["1/own.pipe: extra: neither file nor folder"],
}


@pytest.mark.parametrize("stray", STRAYS, ids=lambda stray: stray.__name__)
def test_what_is_no_edition_is_named_and_nothing_is_delivered(
    root: Path, publish: Publish, tmp_path: Path, stray: Callable[[Path], None], capsys: pytest.CaptureFixture[str]
) -> None:
    """By `verify` and by `deliver`, to a folder and to a branch, with the exit code of a mistake in what is here."""
    publish("1")
    stray(root / "site")
    assert [str(fault) for fault in verify.verify(root)] == STRAYS[stray]
    for where in (("--folder", str(tmp_path / "out")), ("--branch", "published")):
        assert main(["--root", str(root), "deliver", *where]) == 1
        assert all(line in capsys.readouterr().err for line in STRAYS[stray][:1])
    assert not (tmp_path / "out").exists()
    assert not branch.is_there(root, "published")


def test_a_file_that_changes_while_it_goes_out_stops_the_delivery(root: Path, publish: Publish) -> None:
    """It is held against its sum at the moment when it is read; the branch stays as it was."""
    publish("1")
    commands.deliver_to(root, "published", None)
    before = git(root, "rev-parse", "published")
    files = deliver.files_to_deliver(root)
    (root / "site" / "1" / "index.html").write_bytes(SECRET)
    with pytest.raises(FaultsFound, match=r"1/index\.html was changed meanwhile"):
        branch.write(root, "published", files, "Publish")
    assert git(root, "rev-parse", "published") == before


def test_delivering_the_same_again_makes_no_commit_and_a_new_edition_sends_only_itself(
    root: Path, publish: Publish
) -> None:
    """What the branch has is named by its object, which is a sum; git's own reading of the files agrees."""
    publish("1")
    commands.deliver_to(root, "published", None)
    first = git(root, "rev-parse", "published")
    commands.deliver_to(root, "published", None)
    assert git(root, "rev-parse", "published") == first
    publish("2", "1")
    commands.deliver_to(root, "published", None)
    assert git(root, "rev-parse", "published^") == first
    changed = git(root, "diff", "--name-only", "published^", "published").split()
    assert changed
    assert not [path for path in changed if path.startswith("1/")]
    with branch.SiteBranch(root, "published") as held:
        assert {path: held.read(path) for path in held.blobs} == {
            **deliver.files_to_deliver(root),
            **branch.MARKS,
        }
    assert git(root, "fsck", "--strict") == ""


def test_one_file_is_held_at_a_time(root: Path, publish: Publish, monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirty editions of a thousand guides do not fit into memory: every file is let go before the next is read."""
    publish("1")
    files = deliver.files_to_deliver(root)
    read: list[str] = []
    take = deliver.Outgoing.__getitem__
    monkeypatch.setattr(deliver.Outgoing, "__getitem__", lambda self, path: (read.append(path), take(self, path))[1])
    branch.write(root, "published", files, "Publish")
    # Once to know its object, and once more to send it.
    assert read == [*sorted(files)] * 2


def test_the_site_itself_is_no_place_to_deliver_to(root: Path, publish: Publish) -> None:
    """Neither a folder in it nor one that it lies in."""
    publish("1")
    for where in (root / "site" / "out", root / "site", root):
        with pytest.raises(UsageProblem, match="deliver to another folder"):
            commands.deliver_to(root, "published", where)
    assert verify.verify(root) == ()


def test_pages_made_anew_are_sealed_and_hold_what_is_kept_of_the_edition(
    root: Path, publish: Publish, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So the snapshot is compared with sums although the original is not here, and the sums are vouched for."""
    publish("1")
    for path in sorted((root / "site").rglob("*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    monkeypatch.setattr(kept, "assessments", lambda root, name: ())
    anew.make(root, "1", lambda records, edition: {"index.html": b"<main>again</main>"})
    assert verify.verify(root) == ()
    snapshot = root / "content" / "editions" / "1" / "plain-one.json"
    before = snapshot.read_bytes()
    snapshot.write_bytes(before.replace(b"5.0", b"6.0"))
    assert [str(fault) for fault in verify.verify(root)] == ["content/editions/1/plain-one.json: changed"]
    snapshot.write_bytes(before)
    sums = root / "site" / "1-rerendered" / "SHA256SUMS"
    sums.write_bytes(sums.read_bytes().replace(b"a", b"b"))
    assert "1-rerendered/SHA256SUMS: changed: it is not what its seal vouches for" in map(str, verify.verify(root))
