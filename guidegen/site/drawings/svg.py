"""A drawing as SVG for a page: classes instead of colours, text as text, coordinates to the hundredth."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from markupsafe import escape

from guidegen.site.drawings.marks import Arc, Bend, Lettering, Mark, Point, Ring, Stroke


def number(value: float) -> str:
    """A coordinate: two decimals at most.

    >>> number(12.0), number(-0.001), number(3.14159)
    ('12', '0', '3.14')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def svg_marks(marks: Iterable[Mark]) -> str:
    """The marks of a drawing in their order; neighbours of one style that are lines share one element."""
    return "".join(_joined([*run]) for _, run in groupby(marks, _alike))


def _alike(mark: Mark) -> object:
    """What may be written as one path: open lines of one style, which hide nothing of each other."""
    return (mark.style, mark.width) if isinstance(mark, Stroke) and not mark.closed else id(mark)


def _joined(run: list[Mark]) -> str:
    if all(isinstance(one, Stroke) for one in run):
        lines = [one for one in run if isinstance(one, Stroke)]
        data = "".join(path_data(one) for one in lines)
        broad = "" if lines[0].width is None else f' stroke-width="{number(lines[0].width)}"'
        return f'<path class="gd-{lines[0].style}" d="{data}"{broad}/>'
    return "".join(
        _ring(one) if isinstance(one, Ring) else svg_words(one) for one in run if not isinstance(one, Stroke)
    )


def path_data(line: Stroke) -> str:
    """An outline as path data."""
    parts = [f"M{_point(line.start)}"]
    letter = ""
    for part in line.parts:
        if isinstance(part, Arc):
            flags = f"{int(part.large)} {int(part.clockwise)}"
            parts.append(f"A{number(part.rx)} {number(part.ry)} 0 {flags} {_point(part.end)}")
            letter = "A"
        elif isinstance(part, Bend):
            points = " ".join(map(_point, (part.first, part.second, part.end)))
            parts.append(f"{'C' if letter != 'C' else ' '}{points}")
            letter = "C"
        else:
            parts.append(f"{'' if letter == 'L' else 'L'}{' ' if letter == 'L' else ''}{_point(part)}")
            letter = "L"
    return "".join(parts) + ("Z" if line.closed else "")


def _point(at: Point) -> str:
    return f"{number(at[0])} {number(at[1])}"


def _ring(ring: Ring) -> str:
    place = f'cx="{number(ring.centre[0])}" cy="{number(ring.centre[1])}"'
    if ring.rx == ring.ry:
        return f'<circle class="gd-{ring.style}" {place} r="{number(ring.rx)}"/>'
    return f'<ellipse class="gd-{ring.style}" {place} rx="{number(ring.rx)}" ry="{number(ring.ry)}"/>'


def svg_words(words: Lettering) -> str:
    """A text; where it has two systems of units, both, of which the page's switch shows one."""
    x, y = number(words.at[0]), number(words.at[1])
    turned = f' transform="rotate({number(-words.turned)} {x} {y})"' if words.turned else ""
    inner = str(escape(words.text))
    if words.other and words.other != words.text:
        between = "" if words.stacked else '<tspan class="gd-both"> · </tspan>'
        below = f' x="{x}" dy="10"' if words.stacked else ""
        imperial = f'<tspan class="gd-imperial"{below}>{escape(words.other)}</tspan>'
        inner = f'<tspan class="gd-metric">{inner}</tspan>{between}{imperial}'
    inner = f"{escape(words.lead)}{inner}"
    kinds = [f"gd-{words.style}"]
    kinds += [f"gd-{words.anchor}"] if words.anchor != "middle" else []
    kinds += ["gd-small"] if words.small else []
    return f'<text x="{x}" y="{y}" class="{" ".join(kinds)}"{turned}>{inner}</text>'
