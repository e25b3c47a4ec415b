"""A view as a file: SVG that stands alone, PNG, or DXF in millimetres for whoever makes a part from it.

Numbers point out what the view shows; the list of what they are stands below it, since a file has no page beside it.
"""

from __future__ import annotations

import io
import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from markupsafe import escape

from guidegen.site.drawings.callouts import EDGE, Listed, callout_marks, callouts, not_stated
from guidegen.site.drawings.colours import Paint, paints, palette
from guidegen.site.drawings.formats import DrawingFormat
from guidegen.site.drawings.marks import Lettering, Mark, Ring, Stroke
from guidegen.site.drawings.svg import number, svg_marks
from guidegen.site.drawings.view import WIDTH, Drawing

if TYPE_CHECKING:
    from matplotlib.artist import Artist

DOTS = 4.0
"""Pixels for a unit of the drawing."""
LETTERS = {"paper": ("Libertinus Serif", 15)}
"""Of a scheme: the family of all words, and the size of the numbers in rings, units; else those below."""
SYSTEM = ("system-ui, sans-serif", 11)
SIDES = {"start": "left", "middle": "center", "end": "right"}
"""What a text's anchor is called by both libraries."""
STACKED = 10.0
"""Units from the first line of a text to its second."""
LINE, INDENT = 14.0, 18.0
"""Units; from one line of the list to the next, and from its number to its words."""
WIDEST = 6.0
"""Units that a letter of the list takes at most, on the mean, in any of the fonts that a file may be read with."""


def file_of(view: Drawing, kind: DrawingFormat, listed: Sequence[Listed], scheme: str = "light") -> bytes:
    """The bytes of a file; `listed` is what is pointed out."""
    sheet = [*view.sheet.marks]
    sheet += callout_marks(callouts(listed, view.height))
    rows = [*_rows(listed)]
    below = view.height + LINE
    sheet += [mark for place, row in enumerate(rows) for mark in _row(row, below + place * LINE)]
    height = below + len(rows) * LINE if rows else view.height
    match kind:
        case "svg":
            return _svg(view.title, sheet, height, scheme).encode()
        case "png":
            return _png(sheet, height, scheme)
        case "dxf":
            return _dxf(sheet, view.scale or 1.0)


def svg_without_list(view: Drawing, listed: Sequence[Listed], scheme: str) -> str:
    """The view with its numbers, for whoever lists what they are beside it."""
    return _svg(view.title, [*view.sheet.marks, *callout_marks(callouts(listed, view.height))], view.height, scheme)


def _rows(listed: Sequence[Listed]) -> Iterator[tuple[str, str]]:
    """The lines of the list, each with its number, or with none where a name goes on."""
    room = int((WIDTH - 2 * EDGE - INDENT) // WIDEST)
    for one in listed:
        name = one.name if one.at is not None else f"{one.name} ({not_stated()})"
        for place, line in enumerate(textwrap.wrap(name, room)):
            yield "" if place else str(one.number), line


def _row(row: tuple[str, str], y: float) -> Iterator[Lettering]:
    shown, words = row
    if shown:
        yield Lettering((EDGE, y), shown, anchor="start", style="strong")
    yield Lettering((EDGE + INDENT, y), words, anchor="start")


def _svg(title: str, sheet: Sequence[Mark], height: float, scheme: str) -> str:
    rules = "".join(f".gd-{name}{{{_rule(paint)}}}" for name, paint in paints(scheme).items())
    family, ringed = LETTERS.get(scheme, SYSTEM)
    text = f"text{{font-family:{family};font-size:11px;text-anchor:middle}}.gd-start{{text-anchor:start}}"
    text += f".gd-end{{text-anchor:end}}.gd-small{{font-size:9.5px}}.gd-strong{{font-weight:650;font-size:{ringed}px}}"
    paper = palette(scheme)["--gg-paper"]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(WIDTH)} {number(height)}">'
        f"<title>{escape(title)}</title><style>{text}{rules}</style>"
        f'<rect width="100%" height="100%" fill="{paper}"/>{svg_marks(sheet)}</svg>\n'
    )


def _rule(paint: Paint) -> str:
    dashes = f";stroke-dasharray:{' '.join(map(number, paint.dashes))}" if paint.dashes else ""
    # A width that is not stated is 1 by itself; stated here, it would overrule that of a tube, which its mark has.
    width = "" if paint.width == 1 else f";stroke-width:{number(paint.width)}"
    return f"fill:{paint.fill or 'none'};stroke:{paint.stroke or 'none'}{width}{dashes}"


def _png(sheet: Sequence[Mark], height: float, scheme: str) -> bytes:
    """Drawn by matplotlib, in the order of the sheet; arcs as short straight pieces."""
    from matplotlib.figure import Figure

    every, colours = paints(scheme), palette(scheme)
    made = Figure(figsize=(WIDTH / 72, height / 72), dpi=72 * DOTS, facecolor=colours["--gg-paper"])
    axes = made.add_axes((0, 0, 1, 1))
    axes.set_axis_off()
    axes.set_xlim(0, WIDTH)
    axes.set_ylim(height, 0)
    for order, mark in enumerate(sheet):
        if isinstance(mark, Lettering):
            colour = colours["--gg-muted" if mark.style == "muted" else "--gg-ink"]
            for line, words in enumerate(_lines(mark)):
                axes.text(mark.at[0], mark.at[1] + line * STACKED, words, color=colour, zorder=order, **_type(mark))
        else:
            axes.add_artist(_line(mark, every[mark.style], order))
    out = io.BytesIO()
    made.savefig(out, format="png", metadata={"Software": None})
    return out.getvalue()


def _type(words: Lettering) -> dict[str, Any]:
    """How a text is set."""
    return {
        "ha": SIDES[words.anchor], "va": "baseline", "rotation": words.turned, "rotation_mode": "anchor",
        "fontsize": 8.5 if words.small else 10, "weight": "bold" if words.style == "strong" else "normal",
    }  # fmt: skip


def _line(mark: Ring | Stroke, paint: Paint, order: int) -> Artist:
    """A ring, an area or a line, as matplotlib draws it."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import Ellipse, Polygon

    dashes = (0, paint.dashes) if paint.dashes else "-"
    look: dict[str, Any] = {"linewidth": paint.width, "zorder": order, "linestyle": dashes}
    area: dict[str, Any] = {"facecolor": paint.fill or "none", "edgecolor": paint.stroke or "none"}
    if isinstance(mark, Ring):
        return Ellipse(mark.centre, 2 * mark.rx, 2 * mark.ry, **area, **look)
    if mark.closed:
        return Polygon(mark.points(), closed=True, joinstyle="round", **area, **look)
    xs, ys = zip(*mark.points(), strict=True)
    look["linewidth"] = mark.width or paint.width
    return Line2D(xs, ys, color=paint.stroke or "none", solid_capstyle="butt", **look)


def _lines(words: Lettering) -> list[str]:
    """A text in both systems of units, in one line or in two."""
    both = [f"{words.lead}{words.text}", *([words.other] if words.other and words.other != words.text else [])]
    return both if words.stacked else [" · ".join(both)]


def _dxf(sheet: Sequence[Mark], scale: float) -> bytes:
    """Lines, circles and texts in millimetres, a layer for each style; arcs as short straight pieces."""
    from ezdxf._options import options
    from ezdxf.enums import TextEntityAlignment
    from ezdxf.filemanagement import new

    options.write_fixed_meta_data_for_testing = True  # the same bytes each time: no clock, no random ids
    document = new("R2010", setup=False)
    document.header["$INSUNITS"] = 4
    space = document.modelspace()
    for mark in sheet:
        if isinstance(mark, Lettering):
            text = space.add_text(
                f"{mark.lead}{mark.text}", height=9 / scale, rotation=mark.turned, dxfattribs={"layer": "words"}
            )
            side = TextEntityAlignment[SIDES[mark.anchor].upper()]
            text.set_placement((mark.at[0] / scale, -mark.at[1] / scale), align=side)
            continue
        layer = {"layer": mark.style}
        if isinstance(mark, Stroke):
            points = [(x / scale, -y / scale) for x, y in mark.points()]
            space.add_lwpolyline(points, close=mark.closed, dxfattribs=layer)
        elif mark.rx == mark.ry:
            space.add_circle((mark.centre[0] / scale, -mark.centre[1] / scale), mark.rx / scale, dxfattribs=layer)
        else:
            # An ellipse of this format has its longer axis first.
            wide = mark.rx >= mark.ry
            axis = (mark.rx / scale, 0.0) if wide else (0.0, mark.ry / scale)
            share = mark.ry / mark.rx if wide else mark.rx / mark.ry
            space.add_ellipse((mark.centre[0] / scale, -mark.centre[1] / scale), axis, share, dxfattribs=layer)
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()
