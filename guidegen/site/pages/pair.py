"""The pages of one pair: what each of their templates is given."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked, translated
from guidegen.record import Assessment
from guidegen.record.claims import claimed
from guidegen.record.places import undecided
from guidegen.record.stated import Reason
from guidegen.site.charts import CHARTS
from guidegen.site.charts.axes import edition
from guidegen.site.pages import instruction, self_check, sentences, unknown, worth
from guidegen.site.pages.glossary import with_words
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import Crumb, Page, SearchEntry, rel
from guidegen.site.pages.place import (
    FORMULAS,
    MAIN_RATIO,
    WHICH,
    changes_nothing,
    gain_is,
    kinds_of,
    path_of,
    variant_path,
)
from guidegen.site.pages.remedies import guides, remedied
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render
from guidegen.site.pages.together import links
from guidegen.site.pages.what_if import what_if

ON_OVERVIEW = ("shot", "drinks")
"""Charts that answer what everybody asks; the others have a page of their own, so that the overview stays light."""
CHART_GROUPS = (
    ("shots", marked("One shot"), ("shot", "same-cup", "drinks")),
    ("next", marked("The next drink, and the first"), ("second", "first", "warming")),
    ("heat", marked("Energy, mass and heat"), ("energy", "budget")),
    ("depends", marked("What the result depends on"), ("influence",)),
)
RESTS_ON: Mapping[str, tuple[str, ...]] = {
    "shot": ("drinks.*.without.sensor_drop_k", "drinks.*.with.sensor_drop_k"),
    "same-cup": ("same_cup_degc", "drinks.*.with.mean_outlet_degc"),
    "drinks": (MAIN_RATIO,),
    "second": (MAIN_RATIO,),
    "first": ("warm_up.with.boiler_ready_s", "warm_up.without.boiler_ready_s"),
    "warming": ("warm_up.added_s",),
    "energy": ("energy.day_ratio",),
    "budget": ("budget.without.mass_kg", "budget.without.heat_capacity_j_per_k"),
    "influence": (MAIN_RATIO,),
}
"""The figures that each chart's sentence claims."""
NOT_IN_TEMPLATES = {"shot", "same_cup_shot", "from_cold", "what_if", "self_check", "influence", "procedure"}
"""Large parts of the record that no template prints as they are; they are turned into what it prints before."""
WITH_WORDS = ("overview", "fit", "install")
"""Pages that a customer reads who does not know the trade."""
WHAT_IF_SCRIPT = "assets/guidegen/what-if.js"


def pair_page(record: Assessment, kind: str, site: Site) -> Page:
    """One page of a pair."""
    path = path_of(record, kind)
    numbers = ShownNumbers(record, rel(path, path_of(record, "numbers")))
    values: dict[str, Any] = {
        "r": record.model_dump(by_alias=True, exclude=NOT_IN_TEMPLATES),
        "refused": record.fit.refused,
        "n": numbers.show,
        "to": lambda other: rel(path, path_of(record, other)),
        "to_root": rel(path, "index.html").removesuffix("index.html"),
        "evidence": lambda word, source: site.evidence(word, source, path),
        "heading": lambda kind: sentences.heading(record, kind),
        "edition_words": edition(record),
        "status_words": sentences.status(record),
        "basis_sentence": sentences.basis(record),
        "claimed": lambda *places: claimed(record, *places),
        "more": _more(record, kind, path),
        "corrections": site.corrections,
        "contact": site.reference.publisher.contact,
        **KINDS[kind](record, path, numbers, site),
    }
    body = render(f"{kind}.html", **values)
    if kind in WITH_WORDS:
        body = with_words(body, path, site.reference.terms)
    title = sentences.title(record, kind)
    crumbs: list[Crumb] = [
        (gettext("Home"), "index.html"),
        (record.variant.name, variant_path(record.variant.id)),
        (record.kit.name, "" if kind == "overview" else path_of(record, "overview")),
    ]
    if kind != "overview":
        crumbs.append((sentences.sentence(gettext(sentences.PAGE_NAMES[kind])), ""))
    return Page(
        path=path,
        title=title,
        description=sentences.description(record, kind),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, sentences.search_text(record, kind)),),
        breadcrumbs=tuple(crumbs),
        kind=kind,
        head=_head(record, kind, path),
    )


def _more(record: Assessment, kind: str, path: str) -> list[tuple[str, str]]:
    """The other pages of the pair, for the list at the end of each."""
    others = [
        (sentences.sentence(gettext(sentences.PAGE_NAMES[one])), path_of(record, one))
        for one in kinds_of(record)
        if one != kind
    ]
    others.append((gettext("All about {variant}").format(variant=record.variant.name), variant_path(record.variant.id)))
    return [(text, rel(path, to)) for text, to in others]


def _head(record: Assessment, kind: str, path: str) -> str:
    root = rel(path, "index.html").removesuffix("index.html")
    match kind:
        case "fit":
            return str(self_check.head(root))
        case "charts":
            return f'<script src="{rel(path, WHAT_IF_SCRIPT)}" defer></script>'
        case "install":
            return instruction.how_to_script(record)
        case _:
            return ""


def overview_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the overview's template needs beyond the record."""
    nothing = changes_nothing(record)
    return {
        "ratios": list(_ratios(record, numbers)),
        "drops": _drops(record, numbers),
        "drink": record.main.model_dump(by_alias=True),
        "conditions": [one.model_dump() for one in record.fit.reasons if one.met is not True],
        "remedied": remedied(record, path),
        "phase_sentences": sentences.phases(record, record.main),
        "changes_nothing": nothing,
        "gain_is": gain_is(record),
        **_worth(record),
        "why_not": unknown.why_not(record, MAIN_RATIO),
        "settling": unknown.settling(record, MAIN_RATIO),
        "drops_claimed": claimed(record, *RESTS_ON["shot"]),
        "undone": unknown.undone(record),
        "together": links(record, site, path),
        "gain": worth.gain(record),
        "costs": sentences.costs(record, numbers),
        "downsides": [
            {
                **one.model_dump(),
                "amount": sentences.amount(record, numbers, one),
                "likely": sentences.likely(record, one),
            }
            for one in record.downsides
        ],
        "charts": list(_drawn(record, ON_OVERVIEW)) if gain_is(record) == "claimed" else [],
        "assumed": [one.model_dump() for one in sentences.most_wanted(record)],
    }


def _ratios(record: Assessment, numbers: ShownNumbers) -> Iterator[tuple[str, float, Markup]]:
    """Each drink but the main one, which has the headline, with its ratio, to the same decimals."""
    column = [one.drop_ratio.sensor for one in record.drinks.values()]
    for name, one in record.drinks.items():
        place = f"drinks.{name}.drop_ratio.sensor"
        if name != record.main_drink:
            yield one.name, one.beverage_g, numbers.show(place, lead="×", ranged=True, like=column)


def _drops(record: Assessment, numbers: ShownNumbers) -> dict[str, Markup]:
    """The drop on both sides, to the same decimals; as ranges where nobody can tell which is larger."""
    sides = {"without": record.main.without.sensor_drop_k, "with_kit": record.main.with_.sensor_drop_k}
    places = dict(zip(sides, RESTS_ON["shot"], strict=True))
    alone = undecided(MAIN_RATIO, record.main.drop_ratio.sensor)
    like = tuple(sides.values())
    return {name: numbers.show(places[name], like=like, alone=alone and one.ranged) for name, one in sides.items()}


def _worth(record: Assessment) -> dict[str, Any]:
    """The verdict on the gain in words; an edition of before, or a build without draws, has none."""
    found = worth.judged(record)
    words = {"word": worth.word(found), "because": worth.because(found)} if found else {}
    return {"worth": {"verdict": found.verdict, **words} if found else None, "gains": worth.gains(record)}


def fit_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the fit page's template needs beyond the record."""
    return {
        "gains": worth.gains(record),
        "outcome_sentence": gettext(sentences.OUTCOMES[record.fit.outcome]),
        "which": rel(path, WHICH),
        "known_by": {one.id: list(_known_by(one, path, site)) for one in record.fit.reasons},
        "remedied": remedied(record, path),
        "self_check": self_check.body(record.self_check, site.reference.words, guides(record, path)),
    }


def _known_by(reason: Reason, path: str, site: Site) -> Iterator[Markup]:
    """How each fact of a requirement is known, a line each; its name only where there are several."""
    for one in reason.evidence:
        how = Markup(gettext("nobody knows it yet"))
        if one.evidence is not None:
            how = site.evidence(one.evidence, one.source, path)
        if one.evidence is not None and not one.settles:
            how = translated("{evidence}: that does not settle it, so you are asked", evidence=how)
        yield Markup("{}: {}").format(one.title, how) if len(reason.evidence) > 1 else how


def charts_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """Every chart that has something to show, in groups, and the what-if."""
    groups = []
    for name, title, charts in CHART_GROUPS:
        drawn = list(_drawn(record, charts))
        if drawn:
            groups.append({"id": name, "title": gettext(title), "charts": drawn})
    return {"groups": groups, "what_if": what_if(record)}


def _drawn(record: Assessment, charts: Iterable[str]) -> Iterator[Markup]:
    """The charts that have something to show, and whose sentences may be claimed of this variant."""
    for name in charts:
        made = CHARTS[name](record) if claimed(record, *RESTS_ON[name]) else None
        if made is not None:
            yield made


def numbers_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the numbers page's template needs beyond the record."""
    return {
        "sections": numbers.sections(),
        "medians": any(one.stated is not None for one in numbers.known.values()),
        "typical": tuple(numbers.typical()),
        "formulas": rel(path, FORMULAS),
        "why_not": unknown.why_not(record, MAIN_RATIO) if gain_is(record) == "not known" else "",
    }


KINDS = {
    "overview": overview_values,
    "fit": fit_values,
    "charts": charts_values,
    "install": instruction.install_values,
    "restore": instruction.restore_values,
    "numbers": numbers_values,
}
