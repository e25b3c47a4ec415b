"""A drawing set into a page: the view, numbers that point into it, and the list that says what they are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from markupsafe import Markup, escape

from guidegen.site.drawings.callouts import Listed, callout_marks, callouts, not_stated
from guidegen.site.drawings.scene_views import SceneViews
from guidegen.site.drawings.svg import number, svg_marks
from guidegen.site.drawings.view import COLUMN, WIDTH, Drawing

NO_MARKS: Mapping[int, str] = {}


def figure(
    views: SceneViews,
    view: Drawing,
    things: Mapping[str, int],
    name: str,
    *,
    stored: bool = False,
    again: bool = False,
    mark: str = "",
    marks: Mapping[int, str] = NO_MARKS,
) -> Markup:
    """One view with the numbers of some things, as a figure.

    `things` are numbers by thing; `name` begins the ids of the figure, which a page has once; `stored`: the view itself
    is on the page already, see `store`; `again`: what it is was said beside an earlier figure; `mark` and `marks` are
    attributes of the figure and of what has a number, for a script that leaves some of it out.
    """
    drawn = f'<use href="#gd-{view.name}"/>' if stored else svg_marks(view.sheet.marks)
    listed = views.listed(view, things)
    numbers = "".join(_callouts(listed, view.height, marks))
    title = escape(view.title)
    beside = "".join(f'<p class="gd-note">{escape(note)}</p>' for note in (() if again else view.notes))
    caption = f"<b>{title}.</b>{'' if again else f' {escape(view.says)}'}"
    return Markup(
        f'<figure class="gd{" gd--again" if again else ""}" id="{name}"{mark}>'
        f'<svg viewBox="0 0 {number(WIDTH)} {number(view.height)}" role="img" '
        f'aria-labelledby="{name}-title" aria-describedby="{name}-says{f" {name}-list" if listed else ""}">'
        f'<title id="{name}-title">{title}</title><desc id="{name}-says">{escape(view.says)}</desc>'
        f"{drawn}{numbers}</svg>"
        f"<figcaption>{caption}{_list(listed, name, marks)}{beside}</figcaption></figure>"
    )  # fmt: skip


def plain_figure(view: Drawing, says: str, name: str, *, whole: bool = False) -> Markup:
    """One view without numbers; what it shows is said in a sentence.

    As wide as what is drawn, without the columns that numbers would have; `whole`: with them, where lines go there.
    """
    title, edge = escape(view.title), 0.0 if whole else COLUMN
    return Markup(
        f'<figure class="gd" id="{name}"><svg viewBox="{number(edge)} 0 {number(WIDTH - 2 * edge)} '
        f'{number(view.height)}" role="img" aria-labelledby="{name}-title" aria-describedby="{name}-says">'
        f'<title id="{name}-title">{title}</title><desc id="{name}-says">{escape(f"{view.says} {says}")}</desc>'
        f"{svg_marks(view.sheet.marks)}</svg>"
        f"{f'<figcaption>{escape(says)}</figcaption>' if says else ''}</figure>"
    )


def store(views: Sequence[Drawing]) -> Markup:
    """The views that several figures of a page show: once, and not to be seen by themselves."""
    symbols = "".join(f'<g id="gd-{one.name}">{svg_marks(one.sheet.marks)}</g>' for one in views)
    return Markup(
        f'<svg class="gd-store" aria-hidden="true" focusable="false"><defs>{symbols}</defs></svg>' if symbols else ""
    )


def ring(shown: int) -> Markup:
    """A number as it stands in a drawing, for a line of text."""
    return Markup(f'<span class="gd-ring">{shown}</span>')


def _callouts(listed: Sequence[Listed], height: float, marks: Mapping[int, str]) -> Iterator[str]:
    """The numbers beside a drawing: those without a mark, then those of each."""
    placed = sorted(callouts(listed, height), key=lambda one: marks.get(one.number, ""))
    for mark, own in groupby(placed, lambda one: marks.get(one.number, "")):
        drawn = svg_marks(callout_marks([*own]))
        yield f"<g{mark}>{drawn}</g>" if mark else drawn


def _list(listed: Sequence[Listed], name: str, marks: Mapping[int, str]) -> str:
    lines = []
    for one in listed:
        note = f' <span class="gd-note">({escape(not_stated())})</span>' if one.at is None else ""
        lines.append(f"<li{marks.get(one.number, '')}>{ring(one.number)} {escape(one.name)}{note}</li>")
    return f'<ul class="gd-list" id="{name}-list">{"".join(lines)}</ul>' if lines else ""
