"""A photograph's file: what is read of it, what of it stays behind, and what is refused."""

from __future__ import annotations

import struct
import zlib

import pytest
from PIL import Image

from guidegen.workshop.pictures import photograph
from guidegen.workshop.pictures.album import converted
from guidegen.workshop.pictures.photograph import PictureFault, look, luminance, pixels
from tests.fixtures.photographs import SECRETS, as_jpeg, as_png, as_webp, exchanged, exif, image, saved

RED, BLUE = (255, 0, 0), (0, 0, 255)
CORNERS = {
    1: ("top-left", "top-right"),
    2: ("top-right", "top-left"),
    3: ("bottom-right", "bottom-left"),
    4: ("bottom-left", "bottom-right"),
    5: ("top-left", "bottom-left"),
    6: ("top-right", "bottom-right"),
    7: ("bottom-right", "top-right"),
    8: ("bottom-left", "top-left"),
}
"""Where the first and the last pixel of the first row are seen: EXIF 2.3, 4.6.4 A, says on which side the 0th row and
the 0th column are."""
IN_JPEG = {0xD8, 0xE0, 0xDB, 0xC0, 0xC2, 0xC4, 0xDA, 0xDD}
"""Markers that carry no more than the picture: ITU-T T.81, table B.1, and the JFIF header of T.871."""


@pytest.mark.parametrize("make", [as_jpeg, as_png, as_webp], ids=["jpeg", "png", "webp"])
def test_what_stands_beside_the_pixels_reaches_no_copy(make: object) -> None:
    """Comment, EXIF, place, XMP and profile are in the file, as the test puts them there, and in none of its copies."""
    data = make()  # type: ignore[operator]
    assert any(one in data for one in SECRETS)
    copies = list(converted(data))
    assert {one.kind for one, _ in copies} == {"webp", "jpg"}
    for _, copy in copies:
        assert [one for one in SECRETS if one in copy] == []


def test_a_copy_holds_no_part_that_is_not_the_picture() -> None:
    """No application segment but the plain header in a JPEG, and no chunk but the picture's in a WebP."""
    for one, data in converted(as_jpeg()):
        if one.kind == "jpg":
            assert set(markers(data)) <= IN_JPEG
        else:
            assert chunks(data) == [b"VP8 "]


def markers(data: bytes) -> list[int]:
    """The markers of a JPEG up to its first scan."""
    found, place = [0xD8], 2
    while found[-1] != 0xDA:
        assert data[place] == 0xFF
        found.append(data[place + 1])
        place += 2 + struct.unpack(">H", data[place + 2 : place + 4])[0]
    return found


def chunks(data: bytes) -> list[bytes]:
    """The names of the chunks of a WebP (RFC 9649, 2.3)."""
    found, place = [], 12
    while place < len(data):
        found.append(data[place : place + 4])
        size = struct.unpack("<I", data[place + 4 : place + 8])[0]
        place += 8 + size + size % 2
    return found


@pytest.mark.parametrize("orientation", CORNERS)
def test_a_picture_is_turned_upright(orientation: int) -> None:
    """However the camera was held, the first row of pixels lies where EXIF says, and width and height follow."""
    one = image(6, 4, "white")
    one.putpixel((0, 0), RED)
    one.putpixel((5, 0), BLUE)
    data = saved(one, "PNG", exif=exif(orientation))
    seen = pixels(data)
    assert seen.size == ((6, 4) if orientation <= 4 else (4, 6))
    assert (look(data).width, look(data).height) == seen.size
    right, bottom = seen.width - 1, seen.height - 1
    places = {"top-left": (0, 0), "top-right": (right, 0), "bottom-left": (0, bottom), "bottom-right": (right, bottom)}
    assert tuple(seen.getpixel(places[name]) for name in CORNERS[orientation]) == (RED, BLUE)


def test_colours_are_those_of_the_profile() -> None:
    """Through the profile of a camera whose red is green, a red picture is a green one."""
    data = saved(image(colour=RED), "PNG", icc_profile=exchanged())
    red, green, blue = pixels(data).getpixel((0, 0))  # type: ignore[misc]
    assert (red, blue) == pytest.approx((0, 0), abs=3)
    assert green == pytest.approx(255, abs=3)


def test_a_profile_that_cannot_be_read_changes_nothing() -> None:
    """The picture is taken for sRGB then, as browsers take it."""
    data = saved(image(colour=RED), "PNG", icc_profile=b"no profile at all")
    assert pixels(data).getpixel((0, 0)) == RED


def test_what_is_transparent_is_white() -> None:
    """As on paper."""
    assert pixels(saved(Image.new("RGBA", (4, 4), (255, 0, 0, 0)))).getpixel((1, 1)) == (255, 255, 255)


def test_a_place_is_noticed_and_its_absence_too() -> None:
    """Both in EXIF and in XMP; the table of a place without one says nothing."""
    assert look(as_jpeg()).has_place
    assert look(as_png()).has_place
    assert look(saved(image(), "PNG", exif=exif())).has_place
    assert not look(as_jpeg(place=False)).has_place
    assert not look(saved(image())).has_place


def test_light_is_that_of_the_standard() -> None:
    """A grey of 118 is 18.1 % of the light of white in sRGB; pure green is its share in ITU-R BT.709."""
    assert luminance(image(colour=(118, 118, 118))) == pytest.approx(((118 / 255 + 0.055) / 1.055) ** 2.4)
    assert luminance(image(colour=(0, 255, 0))) == pytest.approx(0.7152)
    assert luminance(image(colour=(0, 0, 0))) == 0.0


def png_header(width: int, height: int) -> bytes:
    """A PNG that says how large it is, and holds nothing."""
    body = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    first = struct.pack(">I", 13) + body + struct.pack(">I", zlib.crc32(body))
    return b"\x89PNG\r\n\x1a\n" + first + b"\0\0\0\0IDAT" + struct.pack(">I", zlib.crc32(b"IDAT"))


@pytest.mark.parametrize("size", [(8001, 8000), (16_001, 10), (60_000, 60_000), (2**31 - 1, 2**31 - 1)])
def test_a_bomb_is_refused_before_anything_is_decoded(size: tuple[int, int], monkeypatch: pytest.MonkeyPatch) -> None:
    """Too many pixels, also where no byte of them is there; nothing is decoded to find that out."""
    monkeypatch.setattr(photograph, "_decoded", lambda image: pytest.fail("it was decoded"))
    with pytest.raises(PictureFault) as caught:
        look(png_header(*size))
    assert caught.value.large or "damaged" in caught.value.message


def test_animations_are_refused() -> None:
    """A page shows one picture."""
    for form in ("PNG", "WEBP"):
        more = [image(colour="red")]
        with pytest.raises(PictureFault, match="animation"):
            look(saved(image(), form, save_all=True, append_images=more, duration=100))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"\0\0\0\x18ftypheic\0\0\0\0", "HEIC"),
        (b"\0\0\0\x1cftypavif\0\0\0\0", "AVIF"),
        (b"II*\0rest", "raw"),
        (b"GIF89a", "GIF"),
        (b"", "nothing"),
        (b"hello", "neither JPEG, PNG nor WebP"),
        (as_jpeg()[:-40], "damaged"),
        (as_png()[:-40], "damaged"),
        (as_jpeg()[:300], "damaged"),
    ],
    ids=["heic", "avif", "tiff", "gif", "empty", "text", "short-jpeg", "short-png", "head"],
)
def test_what_cannot_be_shown_says_what_to_do(data: bytes, words: str) -> None:
    """The message names what is the matter, the fix says what to do about it."""
    with pytest.raises(PictureFault, match=words) as caught:
        look(data)
    assert caught.value.fix


def test_sixteen_bits_are_refused() -> None:
    """A grey of sixteen bits would come out black or white."""
    with pytest.raises(PictureFault, match="another kind"):
        look(saved(Image.new("I;16", (4, 4), 40_000)))
