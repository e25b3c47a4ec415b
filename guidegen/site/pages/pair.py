"""The pages of one pair: what each of their templates is given."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked, translated
from guidegen.record import Assessment
from guidegen.record.claims import claimed
from guidegen.record.stated import Reason
from guidegen.site.charts import CHARTS
from guidegen.site.charts.axes import edition
from guidegen.site.pages import (
    brief,
    cost,
    dip,
    downsides,
    first_kits,
    gains,
    instruction,
    linked_data,
    printed,
    self_check,
    sentences,
    step_mode,
    unknown,
    worth,
)
from guidegen.site.pages.drawn import pictured, sized
from guidegen.site.pages.families import finder
from guidegen.site.pages.glossary import with_words
from guidegen.site.pages.measured import measured_values
from guidegen.site.pages.my_case import leads_to
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import Crumb, Page, rel
from guidegen.site.pages.paper.links import links_to
from guidegen.site.pages.pictures import figures, of_marks
from guidegen.site.pages.place import (
    FORMULAS,
    MAIN_RATIO,
    gain_is,
    kinds_of,
    kit_path,
    path_of,
    variant_path,
)
from guidegen.site.pages.questions import questions_values
from guidegen.site.pages.remedies import guides, remedied
from guidegen.site.pages.searched import searched
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import deferred, headings, render
from guidegen.site.pages.together import links
from guidegen.site.pages.what_if import what_if

ON_OVERVIEW = ("shot", "drinks")
"""Charts that answer what everybody asks; the others have a page of their own, so that the overview stays light."""
DRAWN = "dips"
"""The drawing in the head of the overview."""
CHART_GROUPS = (
    ("shots", marked("One shot"), ("shot", "same-cup", "drinks")),
    ("next", marked("The next drink, and the first"), ("second", "first", "warming")),
    ("heat", marked("Energy, mass and heat"), ("energy", "budget")),
    ("depends", marked("What the result depends on"), ("influence",)),
)
RESTS_ON: Mapping[str, tuple[str, ...]] = {
    DRAWN: dip.DIPS,
    "shot": dip.DIPS,
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
REQUIREMENT_GROUPS = (
    ("bars", marked("What bars the kit")),
    ("remedied", marked("What can be put right")),
    ("unknown", marked("What is not known yet")),
    ("met", marked("What is met")),
)
NOT_IN_TEMPLATES = {
    "scene", "shot", "same_cup_shot", "from_cold", "what_if", "self_check", "influence", "procedure", "measured"
}  # fmt: skip
"""Large parts of the record that no template prints as they are; they are turned into what it prints before."""
WITH_WORDS = ("overview", "fit", "questions", "install")
"""Pages that a customer reads who does not know the trade."""
WITH_MEASURED = ("overview", "charts", "numbers")
"""Pages that say what was measured."""
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
        "corrections": site.corrections(record.edition),
        "sheets": links_to(record, path, kind == "restore") if site.press else [],
        "pictured": lambda pictures: figures(pictures, site.reference.shelf, path, record.variant.id),
        "contact": site.reference.publisher.contact,
        "measured": measured_values(record, kind, path, site) if kind in WITH_MEASURED else None,
        "method": f"{rel(path, FORMULAS)}#measured",
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
        search=searched(record, kind),
        breadcrumbs=tuple(crumbs),
        kind=kind,
        head=_head(record, kind, path) + _foot(record, kind, site),
    )


def _more(record: Assessment, kind: str, path: str) -> list[tuple[str, str]]:
    """The other pages of the pair, for the list at the end of each."""
    others = [
        (sentences.sentence(gettext(sentences.PAGE_NAMES[one])), path_of(record, one))
        for one in kinds_of(record)
        if one != kind
    ]
    others.append((gettext("All about the {kit}").format(kit=record.kit.name), kit_path(record.kit.id)))
    others.append((gettext("All about {variant}").format(variant=record.variant.name), variant_path(record.variant.id)))
    return [(text, rel(path, to)) for text, to in others]


def _head(record: Assessment, kind: str, path: str) -> str:
    root = rel(path, "index.html").removesuffix("index.html")
    match kind:
        case "fit":
            return str(self_check.head(root))
        case "charts":
            return str(deferred(root, WHAT_IF_SCRIPT))
        case "install":
            return linked_data.script(linked_data.how_to(record)) + step_mode.head(record, kind, root)
        case "restore":
            return step_mode.head(record, kind, root)
        case _:
            return ""


def _foot(record: Assessment, kind: str, site: Site) -> str:
    """What stands at the foot of a printed page."""
    return str(printed.foot(record, site.address)) if kind in printed.ON_SHEETS else ""


def overview_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the overview's template needs beyond the record."""
    return {
        "kit_pictures": record.kit.pictures,
        "drink": record.main.model_dump(by_alias=True),
        "conditions": [one.model_dump() for one in record.fit.reasons if one.met is not True],
        "remedied": remedied(record, path),
        "has_already": record.fit.outcome == "has-already",
        "gain_is": gain_is(record),
        **gains.values(record, site, path),
        "worth": _worth(record),
        "gains": worth.gains(record),
        "dip": _dip(record, numbers) if gain_is(record) == "claimed" else {},
        "why_not": unknown.why_not(record, MAIN_RATIO),
        "settling": unknown.settling(record, MAIN_RATIO),
        "undone": unknown.undone(record),
        "together": links(record, site, path),
        **first_kits.values(record, site, path),
        "cost": cost.whole(record, path, numbers, site),
        **downsides.shown(record, numbers),
        "charts": list(_drawn(record, ON_OVERVIEW)) if gain_is(record) == "claimed" else [],
        "assumed": [one.model_dump() for one in sentences.most_wanted(record)],
        "picture": pictured(record),
    }


def _dip(record: Assessment, numbers: ShownNumbers) -> dict[str, Any]:
    """The main drink's dip in words and drawn, and what one may notice of it."""
    main = record.main_drink
    return {
        "dips": dip.dips_shown(numbers, main),
        "change": dip.change_shown(numbers, main),
        "noticed": list(dip.noticed(record)),
        "drawn": list(_drawn(record, (DRAWN,))),
    }


def _worth(record: Assessment) -> dict[str, Any]:
    """The answer to "Worth it?"; an edition of before, or a build without draws, says neither verdict nor why."""
    found = worth.judged(record)
    because = worth.because(found) if found else ""
    return {"answer": worth.answer(record), "verdict": found.verdict if found else "", "because": because}


def fit_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the fit page's template needs beyond the record."""
    return {
        "gains": worth.gains(record),
        "mark_pictures": [*of_marks(record.variant)],
        "outcome_sentence": gettext(sentences.OUTCOMES[record.fit.outcome]),
        "which": finder(path, record.variant, site),
        "requirement_groups": [(name, gettext(title)) for name, title in REQUIREMENT_GROUPS],
        "requirements": _grouped(record),
        "known_by": {one.id: list(_known_by(one, path, site)) for one in record.fit.reasons},
        "remedied": remedied(record, path),
        "drawings": sized(record),
        "self_check": self_check.body(
            record.self_check, site.reference.words, guides(record, path), leads_to(record, path)
        ),
    }


def _grouped(record: Assessment) -> dict[str, list[dict[str, Any]]]:
    """The requirements by the group that they stand in: what can be put right apart from what bars the kit."""
    found: dict[str, list[dict[str, Any]]] = {name: [] for name, _ in REQUIREMENT_GROUPS}
    for one in record.fit.reasons:
        unmet = "remedied" if one.remedy else "bars"
        found["unknown" if one.met is None else "met" if one.met else unmet].append(one.model_dump())
    return found


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
        **numbers.listed(),
        **gains.values(record, site, path),
        "formulas": rel(path, FORMULAS),
        "why_not": unknown.why_not(record, MAIN_RATIO) if gain_is(record) == "not known" else "",
    }


KINDS = {
    "overview": overview_values,
    "fit": fit_values,
    "questions": questions_values,
    "charts": charts_values,
    "install": instruction.install_values,
    "brief": brief.brief_values,
    "restore": instruction.restore_values,
    "numbers": numbers_values,
}
