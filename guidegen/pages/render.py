"""Records become pages: which pages a pair has, and what each of their templates is given."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import jinja2
from markupsafe import Markup

from guidegen.charts.quantity import converted, shown_as, two_systems
from guidegen.charts.shot import shot_chart
from guidegen.pages import words
from guidegen.pages.numbers import Numbers
from guidegen.pages.page import Crumb, Heading, Page, SearchEntry, rel
from guidegen.record import Assessment
from guidegen.units import NARROW_SPACE

MAIN_DRINK = "double"


@dataclass(frozen=True)
class Guides:
    """Everything that goes into the site beside what the engine makes."""

    pages: tuple[Page, ...]
    files: dict[str, bytes]


def render(records: Sequence[Assessment]) -> Guides:
    """All pages of all pairs and variants, and the records as JSON."""
    pages: list[Page] = []
    files: dict[str, bytes] = {}
    for record in records:
        pages += pair_pages(record)
        files[path_of(record, "data")] = record.to_json().encode()
    by_variant: dict[str, list[Assessment]] = {}
    for record in records:
        by_variant.setdefault(record.variant.id, []).append(record)
    pages += [variant_page(group, records) for group in by_variant.values()]
    return Guides(tuple(pages), files)


def pair_pages(record: Assessment) -> list[Page]:
    """The pages of one pair. A kit that does not fit has no install page."""
    kinds = ["overview", "fit", "numbers"]
    if has_install(record):
        kinds.insert(2, "install")
    return [pair_page(record, kind) for kind in kinds]


def has_install(record: Assessment) -> bool:
    """Whether the pair may have an install page and a bench sheet."""
    return record.procedure is not None and record.fit.outcome != "does-not-fit"


def path_of(record: Assessment, kind: str) -> str:
    """Where a page or file of a pair lies in the site."""
    variant, kit = record.variant.id, record.kit.id
    if kind == "variant":
        return variant_path(variant)
    if kind == "data":
        return f"data/{variant}/{kit}.json"
    name = "index" if kind == "overview" else kind
    return f"guides/{variant}/{kit}/{name}.html"


def variant_path(variant: str) -> str:
    """Where a variant's page lies in the site."""
    return f"guides/{variant}/index.html"


# --- one page ----------------------------------------------------------------------------------------


def pair_page(record: Assessment, kind: str) -> Page:
    """One page of a pair."""
    path = path_of(record, kind)
    numbers = Numbers(record, rel(path, path_of(record, "numbers")))
    values: dict[str, Any] = {
        "r": record.model_dump(by_alias=True),
        "n": numbers.show,
        "plain": plain,
        "to": lambda other: rel(path, path_of(record, other)),
        "edition_words": words.edition(record),
        "status_words": words.status(record),
        "basis_sentence": words.basis(record),
        **KINDS[kind](record, path, numbers),
    }
    body = environment().get_template(f"{kind}.html").render(values)
    pair = f"{record.variant.name} with {record.kit.name}"
    title = f"{pair}: {words.PAGE_NAMES[kind]}"
    crumbs: list[Crumb] = [
        ("Home", "index.html"),
        (record.variant.name, variant_path(record.variant.id)),
        (record.kit.name, "" if kind == "overview" else path_of(record, "overview")),
    ]
    if kind != "overview":
        crumbs.append((words.PAGE_NAMES[kind].capitalize(), ""))
    return Page(
        path=path,
        title=title,
        description=words.description(record, kind),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, words.search_text(record, kind)),),
        breadcrumbs=tuple(crumbs),
        kind=kind,
    )


def plain(value: float, key: str) -> Markup:
    """A stated value, in both systems, with the digits it was stated with."""
    how = shown_as(key)
    metric, imperial = (f"{converted(value, how, unit):.4g}{NARROW_SPACE}{unit}" for unit in (how.metric, how.imperial))
    return two_systems(metric, imperial)


def overview_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the overview's template needs beyond the record."""
    more = [(words.PAGE_NAMES[kind].capitalize(), rel(path, path_of(record, kind))) for kind in ("fit", "numbers")]
    if has_install(record):
        more.insert(1, ("Install", rel(path, path_of(record, "install"))))
    open_reasons = [one.model_dump() for one in record.fit.reasons if one.met is not True]
    return {
        "main_drink": MAIN_DRINK,
        "drink": record.drinks[MAIN_DRINK].model_dump(by_alias=True),
        "conditions": open_reasons,
        "phase_sentences": words.phases(record, record.drinks[MAIN_DRINK]),
        "costs": words.costs(record, numbers),
        "downsides": [{**one.model_dump(), "amount": words.amount(record, numbers, one)} for one in record.downsides],
        "charts": [shot_chart(record)],
        "assumed": [one.model_dump() for one in words.most_wanted(record)],
        "more": more,
    }


def fit_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the fit page's template needs beyond the record."""
    return {"outcome_sentence": words.OUTCOMES[record.fit.outcome]}


def numbers_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the numbers page's template needs beyond the record."""
    return {"sections": numbers.sections()}


def install_values(record: Assessment, path: str, numbers: Numbers) -> dict[str, Any]:
    """What the install page's template needs beyond the record."""
    procedure = record.procedure
    if procedure is None:
        raise ValueError("a pair without a procedure has no install page")
    steps = [step for phase in procedure["fitting"]["phases"] for step in phase["steps"]]
    return {
        "p": procedure,
        "main_drink": MAIN_DRINK,
        "safety_page": rel(path, "safety.html"),
        "variant_page": rel(path, variant_path(record.variant.id)),
        "outcome_word": words.OUTCOME_WORDS[record.fit.outcome],
        "irreversible": [step for step in steps if not step["reversible"]],
        "minutes": words.minutes,
        "evidence_words": words.evidence,
        "number_name": words.number_name,
        "roles": words.ROLES,
        "senses": words.SENSES,
    }


KINDS = {
    "overview": overview_values,
    "fit": fit_values,
    "install": install_values,
    "numbers": numbers_values,
}


def variant_page(group: Sequence[Assessment], records: Sequence[Assessment]) -> Page:
    """The page of one variant: how to tell it, its water path, what fits."""
    first = group[0]
    path = variant_path(first.variant.id)
    siblings = {one.variant.id: one.variant for one in records if one.variant.family == first.variant.family}
    body = (
        environment()
        .get_template("variant.html")
        .render(
            v=first.variant.model_dump(),
            invented=first.variant.invented,
            status_words=words.VARIANT_STATUS[first.variant.status],
            kits=[
                {
                    "name": one.kit.name,
                    "summary": one.kit.summary,
                    "outcome": one.fit.outcome,
                    "href": rel(path, path_of(one, "overview")),
                    "ratio": Numbers(one, rel(path, path_of(one, "numbers"))).show(
                        f"drinks.{MAIN_DRINK}.drop_ratio.sensor", lead="×"
                    ),
                }
                for one in group
            ],
            siblings=[
                {"name": one.name, "years": one.years, "href": rel(path, variant_path(one.id)), "marks": one.marks}
                for one in siblings.values()
                if one.id != first.variant.id
            ],
        )
    )
    return Page(
        path=path,
        title=f"{first.variant.name}, {first.variant.years}",
        description=f"{first.variant.name}: how to tell it, its water path, and which kits fit.",
        body=body,
        headings=headings(body),
        search=(SearchEntry("", first.variant.name, words.variant_search(first)),),
        breadcrumbs=(("Home", "index.html"), (first.variant.name, "")),
        kind="variant",
    )


# --- templates ---------------------------------------------------------------------------------------


@cache
def environment() -> jinja2.Environment:
    """Templates with every value escaped, and an error for every name that is not there."""
    made = jinja2.Environment(
        loader=jinja2.PackageLoader("guidegen.pages", "templates"),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.globals["rel"] = rel
    return made


_HEADING = re.compile(r'<h([23])[^>]* id="([^"]+)"[^>]*>(.*?)</h\1>', re.S)


def headings(body: str) -> tuple[Heading, ...]:
    """The contents list: every heading of the second and third level that has an id."""
    found: Iterable[re.Match[str]] = _HEADING.finditer(body)
    return tuple(Heading(int(one[1]), one[2], Markup(one[3]).striptags()) for one in found)
