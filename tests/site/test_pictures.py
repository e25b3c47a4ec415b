"""Photographs through the whole life of a site: built, published, verified, delivered, lost and brought back."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from PIL import Image

from guidegen.editions import verify
from tests.editions_workshop import commit, guidegen, held, lay_down, list_picture, publish
from tests.fixtures.photographs import SECRETS, as_jpeg, image

PAGE = "guides/plain-one/collar/index.html"
NAMED = re.compile(r"pictures/([0-9a-f]{20}-\d+\.(?:webp|jpg))")


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One edition with a photograph of the kit."""
    root = lay_down(tmp_path_factory.mktemp("pictures") / "a workshop é")
    list_picture(root)
    commit(root)
    assert publish(root, "2025.1") == 0
    return root


@pytest.fixture
def root(published: Path, tmp_path: Path) -> Path:
    """The same, to write into."""
    return Path(shutil.copytree(published, tmp_path / "workshop", symlinks=True))


def copies(folder: Path) -> dict[str, bytes]:
    """The copies of photographs of a site."""
    return held(folder / "pictures") if (folder / "pictures").is_dir() else {}


def named(folder: Path) -> set[str]:
    """The copies that its pages name."""
    return {name for path in folder.rglob("*.html") for name in NAMED.findall(path.read_text(encoding="utf-8"))}


def test_an_edition_carries_the_copies_that_its_pages_show(published: Path) -> None:
    """Those and no others, without anything that stood beside the pixels; the sums list them."""
    folder = published / "site" / "2025.1"
    found = copies(folder)
    assert {*found} == named(folder)
    assert len(found) == 6
    assert [name for name, data in found.items() if any(secret in data for secret in SECRETS)] == []
    sums = (folder / "SHA256SUMS").read_text(encoding="utf-8")
    assert all(f"  pictures/{name}\n" in sums for name in found)
    assert verify.verify(published) == ()


def test_the_page_says_on_which_variant_it_was_taken(published: Path) -> None:
    """On the one, and not on the other, where it was."""
    folder = published / "site" / "2025.1" / "guides"
    assert "Taken on Plain Two." in (folder / "plain-one/collar/index.html").read_text(encoding="utf-8")
    assert "Taken on" not in (folder / "plain-two/collar/index.html").read_text(encoding="utf-8")


def test_a_damaged_copy_is_named(root: Path) -> None:
    """As any other file of an edition."""
    path = min((root / "site" / "2025.1" / "pictures").iterdir())
    path.write_bytes(b"another picture")
    assert [str(one) for one in verify.verify(root)] == [f"2025.1/pictures/{path.name}: changed"]


def test_the_photograph_may_change_and_the_edition_stays(root: Path, tmp_path: Path) -> None:
    """A new edition has the new copies, the old one its own; delivered and recovered, both are what they were."""
    list_picture(root, as_jpeg(image(1200, 800, (20, 90, 160))))
    commit(root)
    before = held(root / "site" / "2025.1")
    assert publish(root, "2025.2") == 0
    assert held(root / "site" / "2025.1") == before
    assert {*copies(root / "site" / "2025.1")}.isdisjoint(copies(root / "site" / "2025.2"))
    assert "(a new photograph)" in (root / "site" / "2025.2" / "changes.html").read_text(encoding="utf-8")
    out = tmp_path / "out"
    assert guidegen(root, "deliver", "--folder", str(out)) == 0
    assert copies(out / "2025.1") == copies(root / "site" / "2025.1")
    newest = held(root / "site" / "2025.2")
    shutil.rmtree(root / "site")
    assert guidegen(root, "recover", "--folder", str(out)) == 0
    assert held(root / "site" / "2025.2") == newest
    assert verify.verify(root) == ()


def test_pages_made_anew_show_a_photograph_only_where_it_is_the_same(root: Path) -> None:
    """Another one under the same name is another one; then its words stand there."""
    shutil.rmtree(root / "site")
    kept = Path(shutil.copytree(root, root.parent / "kept"))
    list_picture(root, as_jpeg(image(1200, 800, (20, 90, 160))))
    for place, is_there in ((kept, True), (root, False)):
        assert guidegen(place, "editions", "--anew") == 0
        text = (place / "site" / "2025.1-rerendered" / PAGE).read_text(encoding="utf-8")
        assert ("<img" in text.partition("gg-picture")[2].partition("</figure>")[0]) is is_there
        assert ("The picture is not here. It showed: A coil of copper." in text) is not is_there
        assert verify.verify(place) == ()


def test_two_builds_are_equal_and_the_second_converts_nothing(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """To the byte, in a folder of another name too; the place in the photograph is said once, with its line."""
    other = Path(shutil.copytree(root, root.parent / "elsewhere"))
    shutil.rmtree(other / ".guidegen")
    for place in (root, other):
        assert guidegen(place, "build", "--draws", "0") == 0
    assert capsys.readouterr().err.count("content/pictures.yml:2:22: G04 warning") == 2, "once in each build"
    assert held(root / "site" / "next") == held(other / "site" / "next")
    monkeypatch.setattr("guidegen.workshop.pictures.album.converted", lambda data: pytest.fail("converted again"))
    assert guidegen(root, "build", "--draws", "0") == 0


def test_a_hand_written_page_shows_one_in_the_shell(root: Path) -> None:
    """`picture("id")` on a page in a folder; the link check has found its copies."""
    list_picture(root, shows="{page: more/about}")
    page = root / "content" / "pages" / "more" / "about.md"
    page.parent.mkdir()
    page.write_text('# About\n\nBefore.\n\n{{ picture("coil") }}\n\nAfter *it*.\n', encoding="utf-8")
    assert guidegen(root, "build", "--draws", "0") == 0
    text = (root / "site" / "next" / "more" / "about.html").read_text(encoding="utf-8")
    assert 'src="../pictures/' in text
    assert "<em>it</em>" in text
    assert named(root / "site" / "next") == {*copies(root / "site" / "next")}
    page.write_text("# About\n", encoding="utf-8")
    assert guidegen(root, "build", "--draws", "0") == 0
    assert copies(root / "site" / "next") == {}, "what no page shows is not published"


def test_the_list_names_what_shows_too_little(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A black picture of 600 pixels that no page shows, and a file that nobody listed."""
    list_picture(root, as_jpeg(image(600, 400, (20, 20, 20)), place=False), shows="{page: index}")
    shutil.copy(root / "content" / "pictures" / "a.jpg", root / "content" / "pictures" / "b.jpg")
    assert guidegen(root, "pictures") == 0
    printed = capsys.readouterr().out
    ((_, tail),) = [printed.partition("\nShown nowhere\n")[::2]] if "\nShown nowhere\n" in printed else [("", "")]
    linear = ((20 / 255 + 0.055) / 1.055) ** 2.4
    assert tail == (
        "    coil (a.jpg)\n\nIn content/pictures/, but listed nowhere\n    b.jpg\n\n"
        "Too small\n    a.jpg: 600 × 400 pixels; take it at least 960 wide\n\n"
        f"Too dark\n    a.jpg: {linear:.1%} of the light of white; take it again with more light\n"
    )
    assert "[ ] The front: one lamp\n    shows: {variant: plain-one, mark: lamp}\n    Plain One\n" in printed
    assert max(map(len, printed.splitlines())) <= 100


def test_the_list_of_a_good_workshop_finds_no_fault(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is shown nowhere, too small or too dark."""
    assert guidegen(root, "pictures") == 0
    printed = capsys.readouterr().out
    assert not [word for word in ("Shown nowhere", "listed nowhere", "Too small", "Too dark") if word in printed]
    with Image.open(root / "content" / "pictures" / "a.jpg") as one:
        assert one.size == (1000, 700)
