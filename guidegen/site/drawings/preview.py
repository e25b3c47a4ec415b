"""The picture that goes with a link: where somebody hands on a page, this is shown of it."""

from __future__ import annotations

import io

from guidegen.site.drawings.colours import palette
from guidegen.site.drawings.files import file_of
from guidegen.site.drawings.view import Drawing

SIZE = (1200, 630)
"""Pixels across and down, nearly two to one, as those who show it crop it. Common practice, no source."""
MARGIN = 40
"""Pixels that are left free round the drawing."""
COLOURS = 48
"""So many are enough for ink, copper and what lies between them and the paper; the file is a quarter as large."""


def preview(view: Drawing) -> bytes:
    """A PNG of `SIZE` with all that is drawn of a view in its middle, on the paper of the light pages.

    It has no words beside those of the drawing: whoever shows it prints the page's title below.
    """
    from PIL import Image, ImageChops

    drawn = Image.open(io.BytesIO(file_of(view, "png", ()))).convert("RGB")
    paper = palette()["--gg-paper"]
    seen = ImageChops.difference(drawn, Image.new("RGB", drawn.size, paper)).getbbox()
    drawn = drawn.crop(seen) if seen else drawn
    share = min((free - 2 * MARGIN) / size for free, size in zip(SIZE, drawn.size, strict=True))
    wide, high = (round(size * share) for size in drawn.size)
    sheet = Image.new("RGB", SIZE, paper)
    sheet.paste(drawn.resize((wide, high), Image.Resampling.LANCZOS), ((SIZE[0] - wide) // 2, (SIZE[1] - high) // 2))
    out = io.BytesIO()
    sheet.quantize(COLOURS).save(out, "png", optimize=True)
    return out.getvalue()
