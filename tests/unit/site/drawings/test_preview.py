"""The picture that goes with a link: its size, its bytes, and that all of the drawing is in it."""

from __future__ import annotations

import io

from PIL import Image, ImageChops

from guidegen.site.drawings.preview import MARGIN, SIZE, preview
from guidegen.site.drawings.view import Drawing
from guidegen.site.pages.shown_kit import PICTURE, kit_view
from tests.fixtures.records import record


def the_view() -> Drawing:
    """A kit on a boiler."""
    view = kit_view(record())
    assert view is not None
    return view


def test_it_is_of_one_size_and_the_same_bytes_each_time() -> None:
    """Small enough to be fetched by whoever only shows a link."""
    data = preview(the_view())
    picture = Image.open(io.BytesIO(data))
    assert (picture.format, picture.size) == ("PNG", SIZE)
    assert SIZE == (1200, 630)
    assert len(data) < 100_000
    assert preview(the_view()) == data


def test_the_drawing_stands_whole_in_the_middle() -> None:
    """Within the margin on each side, and as large as that lets it be."""
    picture = Image.open(io.BytesIO(preview(the_view()))).convert("RGB")
    paper = picture.getpixel((0, 0))
    box = ImageChops.difference(picture, Image.new("RGB", SIZE, paper)).getbbox()
    assert box is not None
    left, top, right, bottom = box
    assert min(left, top, SIZE[0] - right, SIZE[1] - bottom) >= MARGIN - 2
    assert min(top, left) <= MARGIN + 2
    assert abs(left - (SIZE[0] - right)) <= 4


def test_a_kit_is_shown_where_it_can_be_seen() -> None:
    """The coil on the boiler; of a kit that nobody should order for this variant nothing."""
    assert the_view().name == PICTURE
    one = record()
    refused = one.model_copy(update={"fit": one.fit.model_copy(update={"outcome": "does-not-fit"})})
    assert kit_view(refused) is None
    assert kit_view(one.model_copy(update={"scene": None})) is None
