"""The reference of fields: for makers, every field of every kind of file, as `guidegen explain` says it."""

from __future__ import annotations

from guidegen.language import gettext
from guidegen.record.fields import FieldSection
from guidegen.site.drawings.measuring import drawn
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.place import ACTS, CODES, FIELDS
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render


def fields_page(site: Site) -> Page:
    """Each field with what it is, how it is written and measured, an example, and what depends on it."""
    sections = site.reference.fields
    body = render(
        "fields.html",
        sections=[_section(one) for one in sections],
        acts=rel(FIELDS, ACTS),
        codes=rel(FIELDS, CODES),
        drawn=lambda name: drawn(name, f"measure-{name.replace('.', '-').replace('_', '-')}"),
    )
    title = gettext("Fields of the data")
    about = gettext("For makers: every field of every file, what it is, how it is measured, and what depends on it.")
    return Page(
        path=FIELDS,
        title=title,
        description=about,
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, " ".join(one.kind for one in sections)),),
        breadcrumbs=(
            (gettext("Home"), "index.html"),
            (gettext("About the data"), "about-the-data.html"),
            (title, ""),
        ),
        kind="fields",
    )


def _section(one: FieldSection) -> dict[str, object]:
    """A kind of file, its fields by the thing that they are of: the part of a name before the last dot."""
    groups: dict[str, list[object]] = {}
    for field in one.fields:
        groups.setdefault(field.name.rpartition(".")[0], []).append(field)
    return {"kind": one.kind, "where": one.where, "about": one.about, "groups": groups}
