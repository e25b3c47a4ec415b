"""The page of one kit: what it does, for which variants it is worth it, what it costs in all, what is in the bag."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked, ngettext
from guidegen.language.choices import choice
from guidegen.record import Assessment
from guidegen.site.drawings.bag import coil_alone
from guidegen.site.drawings.figure import plain_figure
from guidegen.site.pages import cost, effort, gains, sentences, worth
from guidegen.site.pages.comparison import counted
from guidegen.site.pages.drawn import pictured
from guidegen.site.pages.families import MOST_TOGETHER, families, listed, named
from guidegen.site.pages.glossary import with_words
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.pictures import figures
from guidegen.site.pages.place import COMPARE, PRICES, WHICH, changes_nothing, gain_is, has_brief, kit_path, path_of
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render
from guidegen.site.pages.unknown import cuts


def kits_of(site: Site) -> tuple[str, ...]:
    """The kits that the site has guides for, in their order."""
    return tuple(dict.fromkeys(kit for _, kit in site.records))


def kit_page(kit: str, site: Site) -> Page:
    """The page of a kit."""
    group = [site.records[pair] for pair in site.records if pair[1] == kit]
    sold = [one for one in group if not one.fit.refused]
    path, known = kit_path(kit), (sold or group)[0]
    publisher, parted = site.reference.publisher, of_families(kit, site)
    body = render(
        "kit.html",
        k=known.kit.model_dump(),
        picture=next(filter(None, map(pictured, sold)), None),
        pictures=figures(known.kit.pictures, site.reference.shelf, path),
        stated=gains.rows(known, site, path),
        judged=not any(gain_is(one) == "stated" for one in group),
        bag=bag(sold),
        bag_drawn=next(filter(None, map(coil_drawn, sold)), None),
        families=parted,
        rows=[] if parted else [_row(one, path) for one in sorted(group, key=_rank)],
        paid=paid(kit, known.kit.name, sold),
        prices=rel(path, PRICES) if publisher.price_list else "",
        contact=publisher.contact,
        terms=publisher.terms,
        effort=list(_effort(sold)),
        first=list(first(sold, path)),
        downsides=[
            {"what": one.what, "likely": sentences.sentence(choice(one.likely)), "do": one.do}
            for one in known.downsides
        ],
        restore=known.restore.how,
        which=rel(path, WHICH),
        more=[(gettext("Compare all variants and kits"), rel(path, COMPARE)),
              (gettext("All machines"), rel(path, "index.html"))],
    )  # fmt: skip
    body = with_words(body, path, site.reference.terms)
    return Page(
        path=path,
        title=known.kit.name,
        description=gettext(
            "{kit}: what it is and does, what is in the bag, for which machines, what it costs."
        ).format(kit=known.kit.name),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", known.kit.name, f"{kit} {known.kit.summary} {known.kit.reason} {gettext(SOUGHT)}"),),
        breadcrumbs=((gettext("Home"), "index.html"), (known.kit.name, "")),
        kind="kit",
    )


def of_families(kit: str, site: Site) -> list[dict[str, Any]]:
    """On how many variants of each family the kit fits, and the way to them; nothing where one page holds all."""
    found = families(site)
    rows = zip(listed(kit_path(kit), COMPARE, found), map(counted, found), strict=True)
    return [
        {**row, "href": f"{row['href']}#{kit}", "outcomes": outcomes[kit]} for row, outcomes in rows if kit in outcomes
    ]


SOUGHT = marked("Refund, returns, delivery, shipping, payment, buy, order.")
"""What people search for who want to know the terms of sale."""
ORDERED = {"fits": 0, "fits-with-conditions": 0, "cannot-tell-yet": 1, "does-not-fit": 2, "has-already": 3}
"""Where the machines of a verdict stand in the table."""


def _rank(record: Assessment) -> tuple[int, tuple[int, float], str]:
    """What fits first, and of that what is worth most; what is built in already last."""
    return ORDERED[record.fit.outcome], worth.rank(record), record.variant.id


def _row(record: Assessment, path: str) -> dict[str, Any]:
    refused = record.fit.refused
    found = cuts(record)
    return {
        "name": record.variant.name,
        "years": record.variant.years,
        "href": rel(path, path_of(record, "overview")),
        "outcome": record.fit.outcome,
        "gains": worth.gains(record),
        "worth": _worth(record),
        "days": "–" if refused else cost.days_span(record) or gettext("not known yet"),
        "visits": "–" if refused else len(effort.visits(record)) or gettext("not known yet"),
        "brief": rel(path, path_of(record, "brief")) if has_brief(record) else "",
        "cuts": "–" if refused else gettext("not known yet") if found.undecided else found.count or gettext("none"),
    }


def _worth(record: Assessment) -> Markup | str:
    """Whether it is worth it, in a cell."""
    if record.fit.refused:
        return "–"
    if changes_nothing(record):
        return gettext("serves another kit")
    if gain_is(record) == "not known":
        return gettext("not known yet")
    return worth.shown(record) or "–"


def bag(records: Sequence[Assessment]) -> list[dict[str, Any]]:
    """What is in the bag: each part with its size, and where that differs the variants of each.

    `some` are the variants that alone get it; empty where all of them do. `many` says that there are more sizes.
    """
    with_parts = [one for one in records if one.procedure is not None]
    found: dict[str, dict[str, Any]] = {}
    for record in with_parts:
        for part in record.procedure.uses.parts if record.procedure else ():
            one = found.setdefault(part.id, {"name": part.name, "sizes": {}, "only_if": part.only_if})
            one["sizes"].setdefault(part.details or "", []).append(record.variant.name)
    for one in found.values():
        variants = [name for names in one["sizes"].values() for name in names]
        one["some"] = named(variants) if len(variants) < len(with_parts) else ""
        sizes = [(size, named(names)) for size, names in one["sizes"].items()]
        one["sizes"], one["many"] = sizes[:MOST_TOGETHER], len(sizes) > MOST_TOGETHER
    return list(found.values())


def coil_drawn(record: Assessment) -> Markup | None:
    """The coil by itself, as it is wound for a variant; None of a kit without one."""
    view = coil_alone(record.scene) if record.scene is not None else None
    if view is None or record.scene is None or record.scene.coil is None:
        return None
    layers = record.scene.coil.layers
    words = ngettext("{turns} turns in one layer, for the {variant}.", "{turns} turns in {layers} layers, for the "
                     "{variant}.", len(layers))  # fmt: skip
    turns = f"{sum(one.turns for one in layers):.1f}"
    says = words.format(turns=turns, layers=len(layers), variant=record.variant.name)
    return plain_figure(view, says, "bag-drawn")


def paid(kit: str, name: str, records: Sequence[Assessment]) -> list[cost.Paid]:
    """The kit's price, and that of each of its parts that some variant may need."""
    parts: dict[str, str] = {}
    for record in records:
        names = cost.names_of(record)
        for one in chain(*cost.parts_of(record)):
            parts.setdefault(one, names[f"part:{one}"])
    extra = [
        cost.Paid(sentences.sentence(called), (f"{kit}/{part}",), f"{kit}/{part}") for part, called in parts.items()
    ]
    return [cost.Paid(name, (kit,)), *extra]


def first(records: Sequence[Assessment], path: str) -> Iterator[dict[str, Any]]:
    """What a variant needs before the kit: another kit, by the variants that need it."""
    found: dict[str, list[Assessment]] = {}
    for record in records:
        for one in cost.kits_first(record):
            found.setdefault(one, []).append(record)
    for kit, needing in found.items():
        name = next(one.name for one in needing[0].self_check.remedies if one.id == f"kit:{kit}")
        yield {"name": name, "href": rel(path, kit_path(kit)), "variants": named([one.variant.name for one in needing])}


def _effort(records: Sequence[Assessment]) -> Iterator[str]:
    """Days, work and visits from the variant that takes least to the one that takes most."""
    days = [found for one in records if (found := effort.days(one)) is not None]
    if days:
        least, most = min(one.fewest for one in days), max(one.most for one in days)
        yield cost.days_between(least, most)
    work = [one.procedure.minutes for one in records if one.procedure is not None]
    if work:
        yield gettext("{time} of work").format(time=_between(min(work), max(work)))
    visits = [count for one in records if (count := len(effort.visits(one)))]
    if visits:
        least, most = min(visits), max(visits)
        span = str(most) if least == most else gettext("{low} to {high}").format(low=least, high=most)
        yield ngettext("{n} visit of a skilled person", "{n} visits of a skilled person", most).format(n=span)


def _between(low: float, high: float) -> str:
    first_, last = sentences.minutes(low), sentences.minutes(high)
    return first_ if first_ == last else gettext("{low} to {high}").format(low=first_, high=last)
