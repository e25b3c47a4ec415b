"""One photograph: read within limits, turned upright, in the colours of sRGB, its pixels alone.

What a camera or a phone writes beside the pixels (where it was, when, whose it is, comments, a colour profile) is read
where it changes how the pixels are to be seen, and carried no further: pixels are copied into a new image. Nobody knows
who made a file, so its size is looked at before anything is decoded, and whatever a decoder raises is a mistake of the
file.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from PIL import Image, ImageCms, UnidentifiedImageError

from guidegen.visible import visible

MOST_BYTES = 40_000_000
MOST_PIXELS = 64_000_000
"""More than any phone takes; decoded, three bytes each, they are held one picture at a time."""
LONGEST_SIDE = 16_000
FORMATS = ("JPEG", "PNG", "WEBP")
EXIF_ORIENTATION, EXIF_GPS = 0x0112, 0x8825
"""Tags of EXIF 2.3: how the camera was held (4.6.4 A), and the table of the place (4.6.3)."""
GPS_PLACE = frozenset({2, 4})
"""Latitude and longitude in that table (4.6.6); some cameras write a table without them."""
TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""By orientation, what brings the first row of pixels to the top and the first column to the left."""
ON_ITS_SIDE = (5, 6, 7, 8)
PLAIN_MODES = ("1", "L", "LA", "P", "PA", "RGB", "RGBA", "RGBX", "CMYK", "YCbCr")
LINEAR = [(v / 12.92 if (v := n / 255) <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4) for n in range(256)]
"""Of a channel's byte, the share of light: IEC 61966-2-1, the inverse of its transfer function."""
LUMINANCE = (0.2126, 0.7152, 0.0722)
"""What red, green and blue give to it; the same standard, after ITU-R BT.709."""
_AS_JPEG = "save it as JPEG: most programs that show it can export it, and a phone's camera can be set to take JPEG"
_SMALLER = "export it smaller; 2400 pixels along the longer side are plenty"


class PictureFault(ValueError):
    """A file that is no picture for the site: what is wrong with it and the fix; `large` where it is only too large."""

    def __init__(self, message: str, fix: str, large: bool = False) -> None:
        super().__init__(message)
        self.message, self.fix, self.large = message, fix, large


@dataclass(frozen=True)
class Look:
    """What a file holds: width and height in pixels once it is upright, and whether it says where it was taken."""

    width: int
    height: int
    has_place: bool


def look(data: bytes) -> Look:
    """What a picture's file holds, all of it decoded once. Raises `PictureFault` where it cannot be shown."""
    with _unheard(), _opened(data) as image:
        width, height = image.size
        # A small decoding of a JPEG still reads every byte of it.
        image.draft(None, (width // 8 or 1, height // 8 or 1))
        _decoded(image)
        has_place = _has_place(image)
        turned = orientation(image) in ON_ITS_SIDE
    return Look(height, width, has_place) if turned else Look(width, height, has_place)


def pixels(data: bytes, least: int = MOST_PIXELS) -> Image.Image:
    """The picture upright in sRGB, with nothing beside its pixels.

    A large one becomes smaller on the way, but no smaller than `least` pixels along its shorter side. Raises
    `PictureFault`.
    """
    with _unheard(), _opened(data) as image:
        image.draft(None, (least, least))
        _decoded(image)
        turn = TURNS.get(orientation(image))
        seen = in_srgb(_smaller(on_white(image), least), image.info.get("icc_profile"))
        if turn is not None:
            seen = seen.transpose(turn)
        return bare(seen)


def _smaller(image: Image.Image, least: int) -> Image.Image:
    """The image with several pixels made one, as long as twice `least` along its shorter side are left."""
    times = min(image.size) // (2 * least)
    return image.reduce(times) if times > 1 else image


def bare(image: Image.Image) -> Image.Image:
    """The pixels in a new image: whatever else an image carries stays behind, where saving it would write it."""
    made = Image.new("RGB", image.size)
    made.paste(image)
    return made


def orientation(image: Image.Image) -> int:
    """How the camera was held, 1 to 8; 1, upright, where the file says nothing that can be read."""
    try:
        found = image.getexif().get(EXIF_ORIENTATION, 1)
    except Exception:
        # Metadata of any shape; what cannot be read turns nothing.
        return 1
    return found if isinstance(found, int) and 1 <= found <= 8 else 1


def in_srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    """The picture in the colours of sRGB, as its profile asks; as sRGB where it has none that can be read."""
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            made = ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            made = None
        if made is not None:
            return made
    return image.convert("RGB")


def on_white(image: Image.Image) -> Image.Image:
    """The picture without transparency, as it would look on paper; what has none stays as it is."""
    if image.mode in ("P", "PA", "LA", "RGBA") or "transparency" in image.info:
        clear = image.convert("RGBA")
        made = Image.new("RGB", clear.size, "white")
        made.paste(clear, mask=clear.getchannel("A"))
        return made
    return image if image.mode in ("L", "CMYK") else image.convert("RGB")


def luminance(image: Image.Image) -> float:
    """The mean light of an sRGB picture, from 0, black, to 1, white.

    >>> round(luminance(Image.new("RGB", (2, 2), "white")), 9)
    1.0
    """
    counts = image.histogram()
    total = image.width * image.height
    means = [_mean(counts[256 * channel : 256 * (channel + 1)], total) for channel in range(3)]
    return sum(share * mean for share, mean in zip(LUMINANCE, means, strict=True))


def _mean(counts: Sequence[int], total: int) -> float:
    return sum(count * light for count, light in zip(counts, LINEAR, strict=True)) / total


@contextmanager
def _unheard() -> Iterator[None]:
    """Keep the library's warnings from the terminal: of sizes, which are refused here, and of metadata, left behind."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def _opened(data: bytes) -> Image.Image:
    """The image with its size looked at, and nothing of it decoded yet."""
    if len(data) > MOST_BYTES:
        raise PictureFault(f"more than {MOST_BYTES / 1e6:g} MB", _SMALLER, large=True)
    _refuse_foreign(data)
    try:
        image = Image.open(io.BytesIO(data), formats=FORMATS)
    except Image.DecompressionBombError:
        raise _too_many() from None
    except UnidentifiedImageError:
        raise PictureFault("neither JPEG, PNG nor WebP", _AS_JPEG) from None
    except Exception as error:
        raise _damaged(error) from error
    width, height = image.size
    if width * height > MOST_PIXELS or max(width, height) > LONGEST_SIDE:
        image.close()
        raise _too_many(f"{width} × {height} pixels")
    if image.format in ("PNG", "WEBP") and getattr(image, "is_animated", False):
        image.close()
        raise PictureFault("an animation", "save one of its pictures by itself")
    if image.mode not in PLAIN_MODES:
        mode = image.mode
        image.close()
        raise PictureFault(f"pixels of another kind ({visible(mode)})", "save it with 8 bits a colour")
    return image


def _refuse_foreign(data: bytes) -> None:
    """Name the formats that cameras write and no browser, or not every one, shows."""
    if data[4:8] == b"ftyp":
        raise PictureFault("a film, or a picture as HEIC or AVIF", _AS_JPEG)
    if data[:4] in (b"II*\0", b"MM\0*"):
        raise PictureFault("TIFF, or a camera's raw data", _AS_JPEG)
    if data[:6] in (b"GIF87a", b"GIF89a"):
        raise PictureFault("GIF", "save it as PNG, or take a photograph as JPEG")
    if not data:
        raise PictureFault("the file holds nothing", "copy it here again")


def _decoded(image: Image.Image) -> None:
    try:
        image.load()
    except Image.DecompressionBombError:
        raise _too_many() from None
    except Exception as error:
        # A decoder fed with strange bytes raises whatever it meets.
        raise _damaged(error) from error


def _has_place(image: Image.Image) -> bool:
    """Whether EXIF or XMP says where the picture was taken."""
    written = [image.info.get(name) for name in ("xmp", "XML:com.adobe.xmp")]
    texts = [one.encode() if isinstance(one, str) else one for one in written]
    if any(isinstance(one, bytes) and b"GPSL" in one for one in texts):
        return True
    try:
        return bool(GPS_PLACE & {*image.getexif().get_ifd(EXIF_GPS)})
    except Exception:
        # Metadata of any shape; where nothing can be read, nothing says a place.
        return False


def _too_many(what: str = "") -> PictureFault:
    words = f"more than {MOST_PIXELS / 1e6:g} million pixels, or {LONGEST_SIDE} along a side"
    return PictureFault(f"{what}: {words}" if what else words, _SMALLER, large=True)


def _damaged(error: Exception) -> PictureFault:
    words = " ".join(str(error).split())[:120]
    return PictureFault(f"damaged ({visible(words)})" if words else "damaged", "copy it from the camera again")
