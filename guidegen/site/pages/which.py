"""Which variant is mine? One page for all: questions by the engine of the self-check, and a table of outside marks."""

from __future__ import annotations

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.site.pages import self_check
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.pictures import captioned, figures, of_marks
from guidegen.site.pages.place import COMPARE, WHICH, pair_path, variant_path
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render

SYNONYMS = marked("which model version do I have, identify, recognise, tell apart, rating plate, type plate, marks")


def which_page(site: Site) -> Page:
    """The page that distinguishes the variants that have guides on this site."""
    edition = next((record.edition for record in site.records.values()), "")
    finder = site.reference.find(tuple(site.variants), edition)
    shelf = site.reference.shelf
    places = {
        one.id: self_check.VariantPlace(
            rel(WHICH, variant_path(one.id)), {}, figures(of_marks(site.variants[one.id]), shelf, WHICH, one.id)
        )
        for one in finder.variants
    }

    def seen(look: str, see: str) -> Markup:
        """The figures of what is seen at a place, whichever variant shows it."""
        marks = (mark for one in site.variants.values() for mark in one.marks if (mark.look, mark.see) == (look, see))
        return figures(captioned(marks), shelf, WHICH)

    kits = site.reference.kits
    for variant, kit in site.records:
        if variant in places and kit in kits:
            places[variant].checks[kits[kit]] = rel(WHICH, pair_path(variant, kit, "fit"))
    body = render(
        "which.html",
        section=self_check.which_body(finder, places, site.reference.words, seen),
        more=[
            (gettext("Compare all variants and kits"), rel(WHICH, COMPARE)),
            (gettext("All machines"), rel(WHICH, "index.html")),
        ],
    )
    title = gettext("Which variant is mine?")
    names = (one.name for one in finder.variants)
    return Page(
        path=WHICH,
        title=title,
        description=gettext(
            "Find out which variant a machine is: its name, outside marks, the rating plate, and sizes."
        ),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, " ".join((gettext(SYNONYMS), *names))),),
        breadcrumbs=((gettext("Home"), "index.html"), (title, "")),
        kind="which",
        head=str(self_check.head("")),
    )
