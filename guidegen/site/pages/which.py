"""Which variant is mine? Questions by the engine of the self-check, and a table of outside marks.

One page for all, or, where there are many, a list of the families and such a page for each.
"""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from guidegen.language import gettext, marked, translated
from guidegen.record.pictures import Picture
from guidegen.record.stated import VariantPart
from guidegen.site.pages import self_check
from guidegen.site.pages.families import Family, families, listed
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.pictures import captioned, figures, of_marks
from guidegen.site.pages.place import COMPARE, WHICH, family_path, pair_path, variant_path
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render, styled

TITLE = marked("Which variant is mine?")
ABOUT = marked("Find out which variant a machine is: its name, outside marks, the rating plate, and sizes.")
SYNONYMS = marked("which model version do I have, identify, recognise, tell apart, rating plate, type plate, marks")


def which_page(site: Site) -> Page:
    """The page that distinguishes the variants that have guides on this site, or the list that leads to a family's."""
    found = families(site)
    if found:
        marks = _differing(found)
        rows = [{**row, "marks": marks[one.id]} for row, one in zip(listed(WHICH, WHICH, found), found, strict=True)]
        body = render("which-families.html", families=rows, contact=site.reference.publisher.contact, more=_more(WHICH))
        head = styled("", self_check.STYLE)
        return _page(WHICH, body, [one.name for one in found], head)
    return _page(WHICH, _finder(WHICH, site), _names(site), self_check.head(""))


def which_of(family: Family) -> Page:
    """The same for one family."""
    path = family_path(WHICH, family.id)
    head = self_check.head("../" * path.count("/"))
    return _page(path, _finder(path, family.site, family.name), _names(family.site), head, family.name)


def _names(site: Site) -> list[str]:
    return [one.name for one in site.variants.values()]


def _page(path: str, body: str, names: list[str], head: Markup, family: str = "") -> Page:
    title = gettext("Which {family} is mine?").format(family=family) if family else gettext(TITLE)
    above = ((gettext(TITLE), WHICH), (family, "")) if family else ((title, ""),)
    return Page(
        path=path,
        title=title,
        description=gettext(ABOUT),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, " ".join((gettext(SYNONYMS), *names))),),
        breadcrumbs=((gettext("Home"), "index.html"), *above),
        kind="which",
        head=str(head),
    )


def _more(path: str) -> list[tuple[str, str]]:
    return [
        (gettext("Compare all variants and kits"), rel(path, COMPARE)),
        (gettext("All machines"), rel(path, "index.html")),
    ]


def _finder(path: str, site: Site, family: str = "") -> str:
    """The questions and the table for the variants of a site, as seen from a page."""
    edition = next((record.edition for record in site.records.values()), "")
    finder = site.reference.find(tuple(site.variants), edition)
    pictures = _pictures([site.variants[one.id] for one in finder.variants], site, path)
    places = {
        one.id: self_check.VariantPlace(rel(path, variant_path(one.id)), {}, pictures[one.id])
        for one in finder.variants
    }

    def seen(look: str, see: str) -> Markup:
        """The figures of what is seen at a place, each photograph once, whichever variants show it."""
        marks = (mark for one in site.variants.values() for mark in one.marks if (mark.look, mark.see) == (look, see))
        return figures(dict.fromkeys(captioned(marks)), site.reference.shelf, path)

    kits = site.reference.kits
    for variant, kit in site.records:
        if variant in places and kit in kits:
            places[variant].checks[kits[kit]] = rel(path, pair_path(variant, kit, "fit"))
    return render(
        "which.html",
        family=family,
        others=rel(path, WHICH),
        section=self_check.which_body(finder, places, site.reference.words, seen),
        more=_more(path),
    )


def _pictures(variants: Iterable[VariantPart], site: Site, path: str) -> dict[str, Markup]:
    """Per variant the figures of its marks; a photograph that stands with an earlier one is named there."""
    first: dict[Picture, VariantPart] = {}
    made = {}
    for one in variants:
        mine = list(of_marks(one))
        new = [picture for picture in mine if picture not in first]
        first = {**dict.fromkeys(new, one), **first}
        others = dict.fromkeys((other.id, other.name) for picture in mine if (other := first[picture]).id != one.id)
        made[one.id] = figures(new, site.reference.shelf, path, one.id) + Markup("").join(
            translated(
                '<p class="sc-checks">More photographs of these marks: <a href="#{id}">{variant}</a></p>',
                id=other,
                variant=name,
            )
            for other, name in others
        )
    return made


def _differing(found: tuple[Family, ...]) -> dict[str, list[tuple[str, list[str]]]]:
    """Per family where to look, and what its variants show there, of what is not the same on all families."""
    of = {one.id: _shown(one.site.variants.values()) for one in found}
    looks = dict.fromkeys(look for shown in of.values() for look in shown)
    telling = [look for look in looks if len({frozenset(shown.get(look, ())) for shown in of.values()}) > 1]
    return {family: [(look, list(shown[look])) for look in telling if look in shown] for family, shown in of.items()}


def _shown(variants: Iterable[VariantPart]) -> dict[str, dict[str, None]]:
    """Per place where one looks what any of the variants shows there, each once."""
    found: dict[str, dict[str, None]] = {}
    for one in variants:
        for mark in one.marks:
            found.setdefault(mark.look, {})[mark.see] = None
    return found
