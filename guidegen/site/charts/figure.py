"""A finished chart: curves and labels set into a frame, with a text alternative and a data table.

The same numbers draw the curve and fill the table. Colour repeats what the line style says: with the kit is
copper and solid, without it is slate and dashed, in every chart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from guidegen.language import gettext
from guidegen.site.charts.frame import WIDTH, Frame
from guidegen.site.charts.layers import Layer, drawn_in


@dataclass(frozen=True)
class Table:
    """The numbers of the drawing for readers who cannot see it, or want them."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str | Markup]]


def chart(
    identity: str,
    frame: Frame,
    layers: Sequence[Layer],
    *,
    title: str,
    description: str,
    caption: str,
    says: str = "",
    table: Table | None = None,
) -> Markup:
    """The whole figure as HTML: what to see, the drawing, its caption and its table.

    `identity` makes the ids of this chart unlike those of every other chart on the page. What to see and the table are
    left out where the page says both beside the drawing.
    """
    return Markup(
        '<figure class="gg-chart" id="{id}">\n{says}'
        '<svg role="img" aria-labelledby="{id}-t {id}-d" viewBox="0 0 {width} {height}">\n'
        '<title id="{id}-t">{title}</title>\n<desc id="{id}-d">{description}</desc>\n'
        "{frame}\n{drawn}\n</svg>\n<figcaption><p>{caption}</p>{table}</figcaption>\n</figure>"
    ).format(
        id=identity,
        says=Markup('<p class="gg-chart__says">{}</p>\n').format(says) if says else "",
        title=title,
        description=description,
        width=WIDTH,
        height=f"{frame.height:g}",
        frame=Markup(frame.svg),
        drawn=Markup("\n").join(drawn_in(layer, frame) for layer in layers),
        caption=caption,
        table=_table(title, table) if table else "",
    )


def _table(title: str, table: Table) -> Markup:
    """The numbers of a chart, folded away."""
    head = Markup("").join(Markup('<th scope="col">{}</th>').format(name) for name in table.heads)
    rows = Markup("\n").join(
        Markup('<tr><th scope="row">{}</th>{}</tr>').format(
            row[0], Markup("").join(Markup("<td>{}</td>").format(cell) for cell in row[1:])
        )
        for row in table.rows
    )
    return Markup(
        '\n<details class="gg-data"><summary>{numbers}</summary>\n'
        '<div class="gg-scroll" tabindex="0" role="region" aria-label="{as_table}"><table>\n'
        "<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div></details>"
    ).format(
        numbers=gettext("The numbers of this chart"),
        as_table=gettext("{title}: table").format(title=title),
        head=head,
        rows=rows,
    )
