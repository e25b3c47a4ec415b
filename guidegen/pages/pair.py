"""The pages of one pair: what each of their templates is given."""

from __future__ import annotations

from typing import Any

from guidegen.charts import CHARTS
from guidegen.charts.axes import edition
from guidegen.fit import page as self_check
from guidegen.language import gettext, marked
from guidegen.pages import instruction, words
from guidegen.pages.glossary import with_words
from guidegen.pages.mending import guides, mended
from guidegen.pages.numbers import Numbers
from guidegen.pages.page import Crumb, Page, SearchEntry, rel
from guidegen.pages.place import FORMULAS, WHICH, changes_nothing, kinds_of, path_of, variant_path
from guidegen.pages.site import Site
from guidegen.pages.template import headings, render
from guidegen.pages.what_if import what_if
from guidegen.record import Assessment

MAIN_DRINK = "double"
ON_OVERVIEW = ("shot", "drinks")
"""Charts that answer what everybody asks; the others have a page of their own, so that the overview stays light."""
CHART_GROUPS = (
    ("shots", marked("One shot"), ("shot", "same-cup", "drinks")),
    ("next", marked("The next drink, and the first"), ("second", "first", "warming")),
    ("heat", marked("Energy, mass and heat"), ("energy", "budget")),
    ("depends", marked("What the result depends on"), ("influence",)),
)
NOT_IN_TEMPLATES = {"shot", "same_cup_shot", "from_cold", "what_if", "self_check", "influence", "procedure"}
"""Large parts of the record that no template prints as they are; they are turned into what it prints before."""
WITH_WORDS = ("overview", "fit", "install")
"""Pages that a customer reads who does not know the trade."""
WHAT_IF_SCRIPT = "assets/guidegen/what-if.js"


def pair_page(record: Assessment, kind: str, site: Site) -> Page:
    """One page of a pair."""
    path = path_of(record, kind)
    numbers = Numbers(record, rel(path, path_of(record, "numbers")))
    values: dict[str, Any] = {
        "r": record.model_dump(by_alias=True, exclude=NOT_IN_TEMPLATES),
        "n": numbers.show,
        "to": lambda other: rel(path, path_of(record, other)),
        "to_root": rel(path, "index.html").removesuffix("index.html"),
        "evidence": lambda word, source: site.evidence(word, source, path),
        "heading": lambda kind: words.heading(record, kind),
        "edition_words": edition(record),
        "status_words": words.status(record),
        "basis_sentence": words.basis(record),
        "more": _more(record, kind, path),
        **KINDS[kind](record, path, numbers),
    }
    body = render(f"{kind}.html", **values)
    if kind in WITH_WORDS:
        body = with_words(body, path, site.terms)
    title = words.title(record, kind)
    crumbs: list[Crumb] = [
        (gettext("Home"), "index.html"),
        (record.variant.name, variant_path(record.variant.id)),
        (record.kit.name, "" if kind == "overview" else path_of(record, "overview")),
    ]
    if kind != "overview":
        crumbs.append((words.sentence(gettext(words.PAGE_NAMES[kind])), ""))
    return Page(
        path=path,
        title=title,
        description=words.description(record, kind),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, words.search_text(record, kind)),),
        breadcrumbs=tuple(crumbs),
        kind=kind,
        head=_head(record, kind, path),
    )


def _more(record: Assessment, kind: str, path: str) -> list[tuple[str, str]]:
    """The other pages of the pair, for the list at the end of each."""
    others = [
        (words.sentence(gettext(words.PAGE_NAMES[one])), path_of(record, one))
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


def overview_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the overview's template needs beyond the record."""
    fits = record.fit.outcome != "does-not-fit"
    nothing = changes_nothing(record)
    return {
        "main_drink": MAIN_DRINK,
        "drink": record.drinks[MAIN_DRINK].model_dump(by_alias=True),
        "conditions": [one.model_dump() for one in record.fit.reasons if one.met is not True],
        "mended": mended(record, path),
        "phase_sentences": words.phases(record, record.drinks[MAIN_DRINK]),
        "changes_nothing": nothing,
        "gain": words.gain(record),
        "costs": words.costs(record, numbers),
        "downsides": [
            {**one.model_dump(), "amount": words.amount(record, numbers, one), "likely": words.likely(record, one)}
            for one in record.downsides
        ],
        "charts": [CHARTS[name](record) for name in ON_OVERVIEW] if fits and not nothing else [],
        "assumed": [one.model_dump() for one in words.most_wanted(record)],
    }


def fit_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the fit page's template needs beyond the record."""
    return {
        "outcome_sentence": gettext(words.OUTCOMES[record.fit.outcome]),
        "which": rel(path, WHICH),
        "mended": mended(record, path),
        "self_check": self_check.body(record.self_check, guides(record, path)),  # type: ignore[arg-type]
    }


def charts_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """Every chart that has something to show, in groups, and the what-if."""
    groups = []
    for name, title, charts in CHART_GROUPS:
        drawn = [made for chart in charts if (made := CHARTS[chart](record)) is not None]
        if drawn:
            groups.append({"id": name, "title": gettext(title), "charts": drawn})
    return {"groups": groups, "what_if": what_if(record)}


def numbers_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the numbers page's template needs beyond the record."""
    return {"sections": numbers.sections(), "formulas": rel(path, FORMULAS)}


KINDS = {
    "overview": overview_values,
    "fit": fit_values,
    "charts": charts_values,
    "install": instruction.install_values,
    "restore": instruction.restore_values,
    "numbers": numbers_values,
}
