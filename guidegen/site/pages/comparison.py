"""All variants with all kits: whether each fits, whether it is worth it, and what it costs.

One page for all, or, where there are many, how many of each family a kit fits, and such a page for each.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.language import gettext, marked
from guidegen.record import Assessment, Figure
from guidegen.record.places import ANY, figure_at
from guidegen.site.charts.change import change
from guidegen.site.pages import dip, gains, sentences, worth
from guidegen.site.pages.families import Family, families, listed
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.place import ALL_FIGURES, COMPARE, family_figures, family_path, gain_is, path_of, variant_path
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render

TITLE = marked("Compare all variants and kits")
ABOUT = marked("Every variant with every kit: does it fit, is it worth it, dip, warm-up, energy, work.")


def comparison_page(site: Site) -> Page:
    """The table of all pairs, and one table per kit; or the list of the families, and what fits them."""
    found = families(site)
    return _page(COMPARE, _of_families(site, found) if found else _tables(COMPARE, site), site)


def comparison_of(family: Family) -> Page:
    """The tables of one family."""
    path = family_path(COMPARE, family.id)
    return _page(path, _tables(path, family.site, family), family.site, family.name)


def _page(path: str, body: str, site: Site, family: str = "") -> Page:
    title = gettext("Compare all {family} and kits").format(family=family) if family else gettext(TITLE)
    above = ((gettext("Compare"), COMPARE), (family, "")) if family else ((gettext("Compare"), ""),)
    names = {record.kit.id: record.kit.name for record in site.records.values()}.values()
    return Page(
        path=path,
        title=title,
        description=gettext(ABOUT),
        body=body,
        headings=headings(body),
        search=(
            SearchEntry("", title, " ".join((gettext("comparison table, fits, worth it, dip, drop ratio"), *names))),
        ),
        breadcrumbs=((gettext("Home"), "index.html"), *above),
        kind="compare",
    )


def _of_families(site: Site, found: tuple[Family, ...]) -> str:
    """How many variants of each family a kit fits."""
    rows = [
        {**row, "outcomes": counted(family)} for row, family in zip(listed(COMPARE, COMPARE, found), found, strict=True)
    ]
    kits = {record.kit.id: record.kit for record in site.records.values()}
    return render("compare-families.html", families=rows, kits=list(kits.values()), file=rel(COMPARE, ALL_FIGURES))


def counted(family: Family) -> dict[str, list[tuple[tuple[str, bool], int]]]:
    """By kit, on how many variants of a family each outcome is found, and whether it gains anything there."""
    outcomes: dict[str, Counter[tuple[str, bool]]] = {}
    for (_, kit), record in family.site.records.items():
        outcomes.setdefault(kit, Counter())[record.fit.outcome, worth.gains(record)] += 1
    return {kit: sorted(some.items(), key=_first) for kit, some in outcomes.items()}


def _first(counted: tuple[tuple[str, bool], int]) -> tuple[int, tuple[str, bool]]:
    """What most variants have stands first."""
    return -counted[1], counted[0]


def _tables(path: str, site: Site, family: Family | None = None) -> str:
    """The table of all pairs of a site, and one table per kit, what is worth most on top."""
    kits = {record.kit.id: record for record in site.records.values()}
    beside_heat = {record.kit.id for record in site.records.values() if gain_is(record) == "stated"}
    known = {kit: dict(_columns(site, kit)) for kit in kits}
    pairs = {pair: _pair(record, known[record.kit.id], path) for pair, record in site.records.items()}
    return render(
        "compare.html",
        family=family.name if family else "",
        others=rel(path, COMPARE),
        kits=[
            {
                "id": one.kit.id,
                "name": one.kit.name,
                "summary": one.kit.summary,
                "compared_with": sentences.compared_with(one),
                "of_heat": one.kit.id not in beside_heat,
            }
            for one in kits.values()
        ],
        beside_heat=beside_heat,
        variants=[
            {"id": one.id, "name": one.name, "years": one.years, "href": rel(path, variant_path(one.id))}
            for one in site.variants.values()
        ],
        pairs=pairs,
        ranked={
            kit: sorted((pair for (_, one), pair in pairs.items() if one == kit), key=lambda pair: pair["rank"])
            for kit in kits
        },
        drink=next((one.main.name for one in site.records.values()), gettext("drink")),
        file=rel(path, family_figures(family.id) if family else ALL_FIGURES),
    )


def _columns(site: Site, kit: str) -> Iterator[tuple[str, list[Figure]]]:
    """By place, what stands in one column of a kit's table."""
    claiming = [one for (_, name), one in site.records.items() if name == kit and gain_is(one) == "claimed"]
    for place in (*dip.DIPS, "warm_up.added_s", "energy.day_ratio", "budget.added_kg"):
        found = (figure_at(one, place.replace(ANY, one.main_drink)) for one in claiming)
        yield place, [one for one in found if one is not None]


def _pair(record: Assessment, columns: Mapping[str, list[Figure]], page: str) -> dict[str, Any]:
    numbers = ShownNumbers(record, rel(page, path_of(record, "numbers")))
    pair: dict[str, Any] = {
        "variant": record.variant.name,
        "href": rel(page, path_of(record, "overview")),
        "outcome": record.fit.outcome,
        "refused": record.fit.refused,
        "claims": gain_is(record) == "claimed",
        "gains": worth.gains(record),
        "worth": worth.shown(record),
        "asked": bool(worth.answer(record)),
        "stated": gains.shown(record),
        "rank": (*worth.rank(record), record.variant.id),
        "work": sentences.minutes(record.procedure.minutes) if record.procedure else "–",
    }
    if pair["claims"]:
        main, drops = record.main_drink, [one for place in dip.DIPS for one in columns[place]]
        pair |= {
            "change": change(record.main.drop_ratio.sensor),
            "shrinks": dip.change_shown(numbers, main),
            "drops": dip.dips_shown(numbers, main, drops),
            "later": numbers.show("warm_up.added_s", like=columns["warm_up.added_s"]),
            "energy": numbers.show("energy.day_ratio", lead="×", like=columns["energy.day_ratio"]),
            "mass": numbers.show("budget.added_kg", like=columns["budget.added_kg"]),
        }
    return pair
