"""Which view of a record shows its kit: for the front page, and for the picture that goes with a link."""

from __future__ import annotations

from markupsafe import Markup

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.site.drawings.figure import plain_figure
from guidegen.site.drawings.scene_views import views_of
from guidegen.site.drawings.view import Drawing
from guidegen.site.pages.drawn import legend

PICTURE = "picture"
BROUGHT = ("kit", "tube")
"""How the styles begin of what a kit brings."""


def kit_view(record: Assessment) -> Drawing | None:
    """The view that shows what the kit brings: the picture where it does, else the first that does.

    None where none shows anything of it, for a kit that nobody should order for this variant, and in old records.
    """
    views = None if record.fit.refused else views_of(record)
    if views is None:
        return None
    found = [one for one in views.views.values() if _shows_kit(one)]
    return min(found, key=lambda one: one.name != PICTURE, default=None)


def _shows_kit(view: Drawing) -> bool:
    return any(mark.style.startswith(BROUGHT) for mark in view.sheet.marks)


def caption(record: Assessment) -> str:
    """What the view shows: which kit, on which variant."""
    return gettext("{kit} on a {variant}.").format(kit=record.kit.name, variant=record.variant.name)


def kit_figure(record: Assessment, name: str) -> Markup | None:
    """The view as a figure of a page; `name` begins its ids."""
    view = kit_view(record)
    if view is None:
        return None
    says = " ".join((caption(record), *(legend(record) if view.name == PICTURE else ())))
    return plain_figure(view, says, name, whole=view.name != PICTURE)
