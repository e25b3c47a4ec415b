"""The output folder: changed bytes only, own files only, safe at every moment of a crash."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.problems import RefusedProblem
from guidegen.site import output
from guidegen.site.output import OutputTree

ONE = {"index.html": b"home", "a/b/page.html": b"page", "a/c.css": b"css"}


@pytest.fixture
def tree(tmp_path: Path) -> OutputTree:
    """An empty output folder with its manifest beside it."""
    return OutputTree(tmp_path / "site", tmp_path / "work" / "manifest.json")


def held(tree: OutputTree) -> dict[str, bytes]:
    """What the folder holds."""
    found = (path for path in tree.folder.rglob("*") if path.is_file())
    return {path.relative_to(tree.folder).as_posix(): path.read_bytes() for path in found}


def test_first_write_lays_everything_down(tree: OutputTree) -> None:
    """The folder holds the files and nothing else, no temporary files either."""
    changes = tree.write(ONE)
    assert held(tree) == ONE
    assert changes.written == ("a/b/page.html", "a/c.css", "index.html")
    assert str(changes) == "3 written, 0 deleted, 0 unchanged"


def test_second_write_of_the_same_touches_nothing(tree: OutputTree) -> None:
    """Neither a file nor the manifest gets a new time of writing."""
    tree.write(ONE)
    everything = [*tree.folder.rglob("*"), tree.manifest]
    before = {path: path.stat().st_mtime_ns for path in everything}
    changes = tree.write(ONE)
    assert changes == output.Changes((), (), tuple(sorted(ONE)))
    assert {path: path.stat().st_mtime_ns for path in everything} == before


def test_only_changed_bytes_are_written(tree: OutputTree) -> None:
    """One edit, one file; equal length does not hide it."""
    tree.write(ONE)
    assert tree.write({**ONE, "index.html": b"h0me"}).written == ("index.html",)


def test_files_that_are_gone_are_deleted_with_their_empty_folders(tree: OutputTree) -> None:
    """The last file of a folder takes the folder with it."""
    tree.write(ONE)
    changes = tree.write({"index.html": b"home"})
    assert changes.deleted == ("a/b/page.html", "a/c.css")
    assert held(tree) == {"index.html": b"home"}
    assert not (tree.folder / "a").exists()


def test_what_others_put_there_stays(tree: OutputTree) -> None:
    """Nothing that is not in the manifest is deleted, and its folder stays."""
    tree.write(ONE)
    (tree.folder / "a" / "notes.txt").write_text("mine", encoding="utf-8")
    tree.write({"index.html": b"home"})
    assert held(tree) == {"index.html": b"home", "a/notes.txt": b"mine"}


def test_what_a_killed_process_left_half_written_goes(tree: OutputTree) -> None:
    """It could not clean up after itself; another's file beside it stays."""
    tree.write({"guides/a.html": b"1"})
    left = tree.folder / "guides" / ".k3yq9x_1.part"
    left.write_bytes(b"<!doc")
    (tree.folder / "guides" / "mine.part").write_bytes(b"mine")
    assert tree.write({"guides/a.html": b"1"}).written == ()
    assert not left.exists()
    assert (tree.folder / "guides" / "mine.part").read_bytes() == b"mine"


def test_without_a_manifest_nothing_is_deleted(tree: OutputTree) -> None:
    """Who does not know what is theirs takes nothing away."""
    tree.write(ONE)
    tree.manifest.unlink()
    tree.write({"index.html": b"home"})
    assert set(held(tree)) == set(ONE)


@pytest.mark.parametrize("text", ["", "{", "[]", '{"files": 3}', '{"files": ["../../outside", "/etc/x", 7]}'])
def test_damaged_manifest_deletes_nothing(tree: OutputTree, tmp_path: Path, text: str) -> None:
    """A manifest that is cut short, or leads outside, counts as absent."""
    outside = tmp_path / "outside"
    outside.write_text("keep", encoding="utf-8")
    tree.write(ONE)
    tree.manifest.write_text(text, encoding="utf-8")
    tree.write({"index.html": b"home"})
    assert outside.read_text(encoding="utf-8") == "keep"
    assert set(held(tree)) == set(ONE)


@pytest.mark.parametrize("path", ["../x", "/x", "a/../x", "a//x", "", "a\\x", "./x"])
def test_path_that_leads_outside_is_refused(tree: OutputTree, path: str) -> None:
    """Nothing is written anywhere but in the folder."""
    with pytest.raises(ValueError, match="not a path inside"):
        tree.write({path: b"x"})


def test_link_inside_the_folder_is_not_followed(tree: OutputTree, tmp_path: Path) -> None:
    """A folder that is really a link could lead anywhere."""
    (tmp_path / "elsewhere").mkdir()
    tree.folder.mkdir()
    (tree.folder / "a").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(RefusedProblem, match="is a link"):
        tree.write(ONE)
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_names_that_differ_in_case_only_are_refused(tree: OutputTree) -> None:
    """On some file systems one of the two would be lost."""
    with pytest.raises(ValueError, match="upper and lower case"):
        tree.write({"A.html": b"1", "a.html": b"2"})


def test_file_becomes_folder_and_back(tree: OutputTree) -> None:
    """A page can give way to a folder of that name, and the other way round."""
    tree.write({"a": b"file"})
    tree.write({"a/b": b"inner"})
    assert held(tree) == {"a/b": b"inner"}
    tree.write({"a": b"file"})
    assert held(tree) == {"a": b"file"}


@pytest.mark.parametrize("moment", range(1, 9))
def test_crash_at_any_moment_leaves_whole_files_and_the_next_build_cleans_up(
    tree: OutputTree, monkeypatch: pytest.MonkeyPatch, moment: int
) -> None:
    """Whichever replacement is the last before the power goes: each file is old or new, and nothing is orphaned."""
    two = {"index.html": b"new home", "d/new.html": b"new", "e.css": b"e"}
    tree.write(ONE)
    done = 0
    real = Path.replace

    def until(self: Path, target: Path) -> Path:
        nonlocal done
        done += 1
        if done == moment:
            raise KeyboardInterrupt
        return real(self, target)

    monkeypatch.setattr(Path, "replace", until)
    try:
        tree.write(two)
    except KeyboardInterrupt:
        for path, data in held(tree).items():
            assert data in (ONE.get(path), two.get(path)), path
    monkeypatch.undo()
    tree.write(two)
    assert held(tree) == two
