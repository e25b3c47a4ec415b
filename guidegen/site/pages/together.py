"""The page about two kits on one variant: order, what is done twice, visits, gain, the way back, after-care."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, ngettext, translated
from guidegen.record import Assessment
from guidegen.record.procedure import CareNote
from guidegen.record.together import Together, Visits
from guidegen.site.pages import gains, sentences
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.place import (
    changes_nothing,
    has_install,
    has_restore,
    pair_path,
    path_of,
    together_path,
    variant_path,
)
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render

FLUSH = "flush-away"
"""The act of after-care that is the same for every kit but for its amount."""


def together_paths(record: Assessment, site: Site) -> Iterator[str]:
    """The pages about this kit and another that lie with it."""
    for one in record.together:
        if record.kit.id < one.other and _sides(record, one, site) is not None:
            yield together_path(record.variant.id, record.kit.id, one.other)


def together_links(record: Assessment, site: Site) -> Iterator[tuple[str, str]]:
    """What a link to each page about this kit and another says, and where it leads from the edition's root."""
    known = set(together_paths(record, site))
    for one in record.together:
        path = together_path(record.variant.id, record.kit.id, one.other)
        if path in known:
            yield gettext("With the {kit} on one machine").format(kit=one.other_name), path


def links(record: Assessment, site: Site, page: str) -> list[Markup]:
    """For each other kit that fits the variant as well, the way to their page, or why they do not go together."""
    return [_link(record, one, site, page) for one in record.together]


def _link(record: Assessment, one: Together, site: Site, page: str) -> Markup:
    if one.first is None:
        return translated("With the {kit}: {says} {because}", kit=one.other_name, says=one.order.says,
                          because=one.order.because or "")  # fmt: skip
    if _sides(record, one, site) is None:
        return translated("With the {kit}: not known before both have a fitting instruction.", kit=one.other_name)
    href = rel(page, together_path(record.variant.id, record.kit.id, one.other))
    return Markup('<a href="{}">{}</a>: {}').format(
        href, gettext("With the {kit} on one machine").format(kit=one.other_name), one.order.says
    )


def _sides(record: Assessment, one: Together, site: Site) -> tuple[Assessment, Assessment] | None:
    """Both records in the order of fitting, where there is one and both have an instruction."""
    found = [site.records.get((record.variant.id, name)) for name in (one.first, one.second) if name is not None]
    whole = [each for each in found if each is not None and has_install(each)]
    return (whole[0], whole[1]) if len(whole) == 2 else None


def together_page(record: Assessment, other: str, site: Site) -> Page | None:
    """The page about a kit and another, by the other's id."""
    one = next((one for one in record.together if one.other == other), None)
    sides = _sides(record, one, site) if one is not None and record.kit.id < other else None
    if one is None or sides is None:
        return None
    first, second = sides
    path = together_path(record.variant.id, record.kit.id, other)
    names = {"variant": record.variant.name, "first": first.kit.name, "second": second.kit.name}
    title = gettext("{variant} with {first} and {second}").format(**names)
    body = render(
        "together.html",
        title=title,
        one=one,
        first=first.kit.name,
        second=second.kit.name,
        invented=record.variant.invented,
        install=[(side.kit.name, rel(path, path_of(side, "install"))) for side in sides],
        restore=[(side.kit.name, rel(path, path_of(side, "restore"))) for side in reversed(sides) if has_restore(side)],
        visits=_visits(one.visits) if one.visits else "",
        gain=_gain(one, sides, path),
        stated=[(side.kit.name, list(_stated(side, site, path))) for side in sides if gains.of(side)],
        care=_care(*sides),
        safety_page=rel(path, "safety.html"),
        more=[
            *((sentences.pair_name(side), rel(path, path_of(side, "overview"))) for side in sides),
            (gettext("All about {variant}").format(variant=record.variant.name),
             rel(path, variant_path(record.variant.id))),
        ],
    )  # fmt: skip
    return Page(
        path=path,
        title=title,
        description=gettext("{first} and {second} on one {variant}: what goes on first, and what comes off first.")
        .format(**names),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, one.order.says),),
        breadcrumbs=(
            (gettext("Home"), "index.html"),
            (record.variant.name, variant_path(record.variant.id)),
            (record.kit.name, pair_path(record.variant.id, record.kit.id)),
            (gettext("With the {kit}").format(kit=one.other_name), ""),
        ),
        kind="together",
    )  # fmt: skip


def _visits(visits: Visits) -> str:
    """How often the skilled person comes, and which two visits can be one."""
    counted = ngettext("The electrically skilled person comes {n} time.", "The electrically skilled person comes {n} "
                       "times.", visits.both).format(n=visits.both)  # fmt: skip
    if visits.both < sum(visits.each):
        return counted + " " + gettext("The last visit for the first kit and the first for the second can be one.")
    return counted + " " + gettext("No two visits can be combined: the machine has to cool down in between.")


def _gain(one: Together, sides: tuple[Assessment, Assessment], path: str) -> Markup:
    """Whose figures hold for both; that nobody has computed them; or that neither has any to compute."""
    if all(changes_nothing(side) for side in sides):
        return translated("Neither changes a temperature or the energy.")
    for side in sides:
        if side.kit.id == one.computed_as:
            link = Markup('<a href="{}">{}</a>').format(rel(path, path_of(side, "overview")), side.kit.name)
            return translated("The figures of the {kit} hold for both: the other kit changes nothing that is computed.",
                              kit=link)  # fmt: skip
    first, second = sides
    if any(one.id == first.kit.id for one in second.first):
        link = Markup('<a href="{}">{}</a>').format(rel(path, path_of(second, "overview")), second.kit.name)
        return translated("The figures of the {kit} are those of both, against a machine with the other one.", kit=link)
    return translated("Not computed. The figures of each guide are for its kit alone, and must not be added up.")


def _stated(side: Assessment, site: Site, path: str) -> Iterator[dict[str, Any]]:
    """The stated gains of one of the two, whose ids the other may have as well."""
    for one in gains.rows(side, site, path):
        yield {**one, "id": f"{side.kit.id}-{one['id']}"}


def _care(first: Assessment, second: Assessment) -> list[CareNote]:
    """The after-care of both by occasion, each act once; of two flushes the larger does for both."""
    found: dict[tuple[str | None, str], CareNote] = {}
    for side in (first, second):
        for one in side.procedure.aftercare if side.procedure is not None else ():
            key = (one.occasion, FLUSH if one.act == FLUSH else one.says)
            if key not in found or _amount(one) > _amount(found[key]):
                found[key] = one
    occasions = list(dict.fromkeys(occasion for occasion, _ in found))
    return sorted(found.values(), key=lambda one: occasions.index(one.occasion))


def _amount(one: CareNote) -> float:
    """The first number of a sentence."""
    number = re.search(r"[0-9]+(?:\.[0-9]+)?", one.says)
    return float(number[0]) if number else 0.0
