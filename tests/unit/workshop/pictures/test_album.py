"""The copies of photographs: their sizes, their names, and that nothing is converted twice."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from guidegen.workshop.pictures import album
from guidegen.workshop.pictures.album import KEPT, Album, Photograph, converted, digest_of, sizes
from tests.fixtures.photographs import as_jpeg, image, saved

REPOSITORY = Path(__file__).parents[4]


def laid_down(root: Path, data: bytes) -> Album:
    """An album of one photograph."""
    path = root / "content" / "pictures" / "a.jpg"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return Album(root, {"a.jpg": Photograph("a.jpg", path, digest_of(data), 64, 48, True)})


@pytest.mark.parametrize(
    ("size", "widths"),
    [
        ((4000, 3000), [480, 960, 1600]),
        ((1000, 10), [480, 960, 1000]),
        ((300, 200), [300]),
        ((2000, 12_000), [480, 960, 1066]),
    ],
)
def test_three_widths_and_none_wider_than_the_picture(size: tuple[int, int], widths: list[int]) -> None:
    """The proportions stay; a picture more than four times as high as wide becomes narrower instead."""
    made = sizes(*size)
    assert [width for width, _ in made] == widths
    for width, height in made:
        assert height == max(1, round(width * size[1] / size[0]))
        assert height <= 4 * 1600 + 4


def test_a_copy_is_named_by_its_content(tmp_path: Path) -> None:
    """The name begins with the hash of the bytes, ends in width and kind, and leads to those bytes."""
    one = laid_down(tmp_path, as_jpeg(image(700, 500)))
    (digest,) = (each.digest for each in one.photographs.values())
    assert [each.width for each in one.copies(digest) if each.kind == "jpg"] == [480, 700]
    for copy in one.copies(digest):
        data = one.copy_bytes(copy.name)
        assert data is not None
        assert copy.name == f"{hashlib.sha256(data).hexdigest()[:20]}-{copy.width}.{copy.kind}"
        with Image.open(io.BytesIO(data)) as shown:
            assert shown.size == (copy.width, copy.height)
    assert sorted(one.names()) == sorted(each.name for each in one.copies(digest))


def test_nothing_is_converted_twice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another run finds the copies by the photograph's content, whatever its file is called."""
    data = as_jpeg()
    first = laid_down(tmp_path, data)
    before = first.copies(digest_of(data))
    monkeypatch.setattr(album, "converted", lambda data: pytest.fail("converted again"))
    again = laid_down(tmp_path, data)
    assert again.copies(digest_of(data)) == before


def test_a_damaged_copy_is_made_again(tmp_path: Path) -> None:
    """What lies in the cache is held against its name before it is shown."""
    data = as_jpeg()
    before = {
        one.name: laid_down(tmp_path, data).copy_bytes(one.name)
        for one in laid_down(tmp_path, data).copies(digest_of(data))
    }
    for path in (tmp_path / KEPT).rglob("*.jpg"):
        path.write_bytes(b"damaged")
    again = laid_down(tmp_path, data)
    assert {name: again.copy_bytes(name) for name in before} == before
    for path in (tmp_path / KEPT).rglob("*-64.webp"):
        path.unlink()
    assert {name: again.copy_bytes(name) for name in before} == before


def test_a_strange_list_in_the_cache_is_made_again(tmp_path: Path) -> None:
    """Whatever stands in it."""
    data = as_jpeg()
    before = laid_down(tmp_path, data).copies(digest_of(data))
    for text in ("", "5", "[5, null]", "[" * 3000, '[["../../x", "jpg", 1, 1]]'):
        for path in (tmp_path / KEPT).rglob("copies.json"):
            path.write_text(text)
        assert laid_down(tmp_path, data).copies(digest_of(data)) == before


def test_what_nobody_has_has_no_copies(tmp_path: Path) -> None:
    """A digest of an older edition, a name of another site."""
    one = laid_down(tmp_path, as_jpeg())
    assert one.copies("0" * 32) == ()
    assert one.copy_bytes("../../etc/hostname") is None
    assert Album().copies("") == ()


def test_another_process_makes_the_same_bytes() -> None:
    """So that two builds of one workshop are equal to the byte."""
    code = (
        "import hashlib\nfrom tests.fixtures.photographs import as_jpeg, image\n"
        "from guidegen.workshop.pictures.album import converted\n"
        "print(hashlib.sha256(b''.join(data for _, data in converted(as_jpeg(image(700, 500))))).hexdigest())"
    )
    around = {"PYTHONPATH": str(REPOSITORY), "PATH": "/usr/bin:/bin", "PYTHONHASHSEED": "7"}
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, cwd=REPOSITORY, env=around, capture_output=True, text=True, check=True)
    here = hashlib.sha256(b"".join(data for _, data in converted(as_jpeg(image(700, 500)))))
    assert done.stdout.strip() == here.hexdigest()


def test_a_large_photograph_is_not_held_as_a_whole() -> None:
    """A JPEG of 24 million pixels is decoded to a quarter of them; any other is made smaller by whole numbers."""
    from guidegen.workshop.pictures.photograph import pixels

    assert pixels(as_jpeg(image(6000, 4000)), 1600).size == (3000, 2000)
    assert pixels(saved(image(1200, 800)), 200).size == (600, 400)
    assert pixels(saved(image(1200, 800)), 300).size == (1200, 800)


def test_copies_that_nobody_used_for_longest_go(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of three photographs in turn the copies of two stay: the one in use, and the one that was used before it."""
    monkeypatch.setattr(album, "LEAST_KEPT", 2)
    monkeypatch.setattr(album, "TIMES_KEPT", 1)
    digests = []
    for number in range(3):
        data = as_jpeg(image(60 + number, 40))
        one = laid_down(tmp_path, data)
        one.copies(digest_of(data))
        digests.append(digest_of(data))
        made = next((tmp_path / KEPT).glob(f"{digests[-1]}-*"))
        os.utime(made, (1000 + number, 1000 + number))
    # The first is used again: it becomes the newest.
    data = as_jpeg(image(60, 40))
    again = laid_down(tmp_path, data)
    assert again.copies(digests[0])
    (tmp_path / KEPT / "left.part").write_bytes(b"half")
    (next((tmp_path / KEPT).glob(f"{digests[0]}-*")) / "x.jpg.part").write_bytes(b"half")
    again.prune()
    assert {path.name.partition("-")[0] for path in (tmp_path / KEPT).iterdir()} == {digests[0], digests[2]}
    assert not [*(tmp_path / KEPT).rglob("*.part")]
    assert [one.copy_bytes(copy.name) is not None for one in (again,) for copy in one.copies(digests[0])]


def test_a_cache_that_is_not_there_is_pruned_too(tmp_path: Path) -> None:
    """A workshop without photographs has no folder for their copies."""
    Album(tmp_path).prune()
    assert not (tmp_path / KEPT).exists()
