"""The page of one variant: how to recognise it, its water path, what fits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from markupsafe import Markup

from guidegen.language import gettext, translated
from guidegen.record import Assessment
from guidegen.record.stated import Reason, VariantPart
from guidegen.site.pages import dip, gains, sentences, worth
from guidegen.site.pages.drawn import of_variant
from guidegen.site.pages.families import finder
from guidegen.site.pages.glossary import with_words
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.pictures import figures, of_marks
from guidegen.site.pages.place import COMPARE, gain_is, path_of, variant_path
from guidegen.site.pages.remedies import remedied
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render
from guidegen.site.pages.to_find_out import to_find_out
from guidegen.site.pages.together import links


def variant_page(variant: str, site: Site) -> Page:
    """The page of a variant."""
    group = site.of_variant(variant)
    first = group[0]
    path = variant_path(first.variant.id)
    family = [one for one in site.variants.values() if one.family == first.variant.family]
    neighbours = [one for one in family if one.id != variant]
    body = render(
        "variant.html",
        v=first.variant.model_dump(),
        status_words=gettext(sentences.VARIANT_STATUS[first.variant.status]),
        kits=[_kit(one, path) for one in group],
        together=list(_together(group, path, site)),
        drink=first.main.name,
        places=_places(first.variant, neighbours),
        pictures=figures(first.variant.pictures, site.reference.shelf, path, variant),
        mark_pictures=figures(of_marks(first.variant), site.reference.shelf, path, variant),
        neighbours=[
            {"name": one.name, "years": one.years, "href": rel(path, variant_path(one.id))} for one in neighbours
        ],
        which=finder(path, first.variant, site),
        drawings=of_variant(first),
        find_out=to_find_out(group),
        more=[
            (gettext("Compare all variants and kits"), rel(path, COMPARE)),
            (gettext("Find another variant"), rel(path, "index.html")),
        ],
    )
    body = with_words(body, path, site.reference.terms)
    return Page(
        path=path,
        title=f"{first.variant.name}, {first.variant.years}",
        description=gettext("{variant}: how to recognise it, its water path, and which kits fit.").format(
            variant=first.variant.name
        ),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", first.variant.name, sentences.variant_search(first)),),
        breadcrumbs=((gettext("Home"), "index.html"), (first.variant.name, "")),
        kind="variant",
    )


def _kit(record: Assessment, path: str) -> dict[str, object]:
    numbers = ShownNumbers(record, rel(path, path_of(record, "numbers")))
    return {
        "name": record.kit.name,
        "summary": record.kit.summary,
        "outcome": record.fit.outcome,
        "why": _first_reason(record, path),
        "href": rel(path, path_of(record, "overview")),
        "gains": worth.gains(record),
        "asked": bool(worth.answer(record)) or bool(gains.of(record)),
        "worth": worth.shown(record),
        "change": dip.change_shown(numbers, record.main_drink) if gain_is(record) == "claimed" else "",
    }


def _together(group: Sequence[Assessment], path: str, site: Site) -> Iterator[Markup]:
    """Each two kits that fit, once: the way to their page."""
    for record in group:
        others = [one for one in record.together if record.kit.id < one.other]
        mine = record.model_copy(update={"together": tuple(others)})
        yield from (translated("{kit}: {link}", kit=record.kit.name, link=one) for one in links(mine, site, path))


def _first_reason(record: Assessment, path: str) -> Markup | str:
    """Why the kit does not simply fit; nothing where the machine has what it brings, which the verdict says."""
    if record.fit.outcome == "has-already":
        return ""
    return next((_why(one, remedied(record, path)) for one in record.fit.reasons if one.met is not True), "")


def _why(reason: Reason, ways: Mapping[str, Markup]) -> Markup | str:
    """The remedy of the first requirement that is not met, or what was asked and what is there, or what is unknown."""
    if reason.met is None:
        return sentences.sentence(reason.detail)
    return ways.get(reason.id) or f"{reason.says} ({reason.detail})"


def _places(variant: VariantPart, neighbours: Sequence[VariantPart]) -> list[dict[str, object]]:
    """Where to look, what this variant shows there, and what its neighbours show instead."""
    made = []
    for mark in variant.marks:
        others = [(one.name, other.see) for one in neighbours for other in one.marks if other.look == mark.look]
        differing = [(name, see) for name, see in others if see != mark.see]
        made.append({"look": mark.look, "see": mark.see, "others": differing, "same": len(others) - len(differing)})
    return made
