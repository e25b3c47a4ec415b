"""Drawings as files: the colours of the pages, millimetres in DXF, the same bytes each time."""

from __future__ import annotations

import io
import re
from importlib import resources

import ezdxf
import pytest
from PIL import Image

from guidegen.site.drawings.callouts import RADIUS, Listed
from guidegen.site.drawings.colours import paints, palette
from guidegen.site.drawings.files import file_of
from guidegen.site.drawings.formats import FORMATS, DrawingFormat
from guidegen.site.drawings.plan import plan
from guidegen.site.drawings.view import Drawing
from tests.unit.site.drawings.test_true_to_scale import a_scene, decided

LISTED = [
    Listed(1, "bolt 1", (230.0, 100.0)),
    Listed(7, "the screw where the earth lead of the boiler begins, behind the clamp of the feed hose", (120.0, 160.0)),
    Listed(8, "lifting web", None),
]


def the_plan() -> Drawing:
    """The plan of an invented boiler of 70 mm."""
    made = plan(a_scene(), decided())
    assert made is not None
    return made


def test_dxf_is_in_millimetres() -> None:
    """Read back by the library: the boiler's circle has 35 mm radius, the bolts' one 44 mm, the unit is the mm."""
    document = ezdxf.read(io.StringIO(file_of(the_plan(), "dxf", []).decode()))
    assert document.header["$INSUNITS"] == 4
    radii = {round(one.dxf.radius, 2) for one in document.modelspace().query("CIRCLE")}
    assert {35.0, 44.0, 52.0, 59.0} <= radii


def test_every_style_of_a_mark_has_its_paint() -> None:
    """Whatever a drawing uses, the style sheet says what it looks like, in both schemes."""
    for scheme in ("light", "dark"):
        for mark in the_plan().sheet.marks:
            if hasattr(mark, "closed") or hasattr(mark, "rx"):
                assert mark.style in paints(scheme)


def test_a_mixed_colour_is_the_share_of_both() -> None:
    """15 % of #9a4318 in #fbfaf7, channel by channel: 0.15 × 154 + 0.85 × 251 = 236, and so on."""
    assert paints()["kit"].fill == "#ecdfd6"


def test_the_dark_palette_is_the_dark_one() -> None:
    """Paper is dark in the dark scheme, as the style sheet of the pages states it."""
    sheet = (resources.files("guidegen.site.web") / "assets" / "base.css").read_text(encoding="utf-8")
    both = re.findall(r"--gg-paper: (#\w+)", sheet)
    assert [palette("light")["--gg-paper"], palette("dark")["--gg-paper"]] == both[:2]


@pytest.mark.parametrize("kind", FORMATS)
def test_the_same_bytes_each_time(kind: DrawingFormat) -> None:
    """No clock and no random id is in a file."""
    assert file_of(the_plan(), kind, LISTED) == file_of(the_plan(), kind, LISTED)


def test_a_png_is_a_picture_on_paper() -> None:
    """Four pixels for a unit, the corner of the colour of paper."""
    picture = Image.open(io.BytesIO(file_of(the_plan(), "png", [])))
    assert picture.size[0] == 4 * 360
    assert picture.convert("RGB").getpixel((2, 2)) == (0xFB, 0xFA, 0xF7)


def test_dxf_has_the_numbers_and_what_they_are() -> None:
    """Read back by the library: a ring of 9 units of the drawing for each place, and below the drawing the list."""
    view = the_plan()
    assert view.scale is not None
    space = ezdxf.read(io.StringIO(file_of(view, "dxf", LISTED).decode())).modelspace()
    rings = [one for one in space.query("CIRCLE") if one.dxf.layer == "number"]
    assert [round(one.dxf.radius, 3) for one in rings] == [round(RADIUS / view.scale, 3)] * 2
    texts = {one.dxf.text: one for one in space.query("TEXT")}
    below = [text for text, one in texts.items() if -one.dxf.insert.y > view.height / view.scale]
    assert {"bolt 1", "lifting web (where it is, nobody has stated)"} <= {*below}
    assert {"1", "7", "8"} <= {one.dxf.text for one in space.query("TEXT") if one.dxf.text in "178"}


def test_a_long_name_goes_on_in_the_next_line() -> None:
    """Nothing of the list runs out of the drawing: 60 letters of 5.4 units are 324, of 360 less two edges of 13."""
    text = file_of(the_plan(), "svg", LISTED).decode()
    lines = re.findall(r'class="gd-text gd-start">([^<]+)</text>', text)
    listed = lines[lines.index("bolt 1") :]
    assert len(listed) == 4
    assert " ".join(listed[1:3]) == LISTED[1].name
    assert max(map(len, listed)) <= 60


def test_a_png_is_as_high_as_its_list_is_long() -> None:
    """Four lines and the space above them, of 14 units each at four pixels."""
    bare, listed = (Image.open(io.BytesIO(file_of(the_plan(), "png", some))).size for some in ([], LISTED))
    assert listed[1] - bare[1] == pytest.approx(5 * 14 * 4, abs=1)
