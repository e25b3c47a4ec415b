"""All variants with all kits on one page: whether each fits, whether it is worth it, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.language import gettext
from guidegen.record import Assessment, Figure
from guidegen.record.places import ANY, figure_at
from guidegen.site.charts.change import change
from guidegen.site.pages import dip, gains, sentences, worth
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.place import ALL_FIGURES, COMPARE, gain_is, path_of, variant_path
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render


def comparison_page(site: Site) -> Page:
    """The table of all pairs, and one table per kit, what is worth most on top."""
    kits = {record.kit.id: record for record in site.records.values()}
    beside_heat = {record.kit.id for record in site.records.values() if gain_is(record) == "stated"}
    known = {kit: dict(_columns(site, kit)) for kit in kits}
    pairs = {pair: _pair(record, known[record.kit.id]) for pair, record in site.records.items()}
    body = render(
        "compare.html",
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
            {"id": one.id, "name": one.name, "years": one.years, "href": rel(COMPARE, variant_path(one.id))}
            for one in site.variants.values()
        ],
        pairs=pairs,
        ranked={
            kit: sorted((pair for (_, one), pair in pairs.items() if one == kit), key=lambda pair: pair["rank"])
            for kit in kits
        },
        drink=next((one.main.name for one in site.records.values()), gettext("drink")),
        file=rel(COMPARE, ALL_FIGURES),
    )
    names = (one.kit.name for one in kits.values())
    title = gettext("Compare all variants and kits")
    return Page(
        path=COMPARE,
        title=title,
        description=gettext("Every variant with every kit: does it fit, is it worth it, dip, warm-up, energy, work."),
        body=body,
        headings=headings(body),
        search=(
            SearchEntry("", title, " ".join((gettext("comparison table, fits, worth it, dip, drop ratio"), *names))),
        ),
        breadcrumbs=((gettext("Home"), "index.html"), (gettext("Compare"), "")),
        kind="compare",
    )


def _columns(site: Site, kit: str) -> Iterator[tuple[str, list[Figure]]]:
    """By place, what stands in one column of a kit's table."""
    claiming = [one for (_, name), one in site.records.items() if name == kit and gain_is(one) == "claimed"]
    for place in (*dip.DIPS, "warm_up.added_s", "energy.day_ratio", "budget.added_kg"):
        found = (figure_at(one, place.replace(ANY, one.main_drink)) for one in claiming)
        yield place, [one for one in found if one is not None]


def _pair(record: Assessment, columns: Mapping[str, list[Figure]]) -> dict[str, Any]:
    numbers = ShownNumbers(record, rel(COMPARE, path_of(record, "numbers")))
    pair: dict[str, Any] = {
        "variant": record.variant.name,
        "href": rel(COMPARE, path_of(record, "overview")),
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
