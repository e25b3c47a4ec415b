"""Pages to look things up: glossary, sources with what cites them, the rules of the lint, the codes of problems."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Any, get_args

from guidegen.language import gettext, marked, ngettext
from guidegen.record.base import Record
from guidegen.record.reference import ExplainedCode, LintRule
from guidegen.site.codes import SiteCode
from guidegen.site.pages import gains
from guidegen.site.pages.families import Family, families
from guidegen.site.pages.listed import input_anchor, inputs
from guidegen.site.pages.methods import formulas_of
from guidegen.site.pages.page import Crumb, Page, SearchEntry, rel
from guidegen.site.pages.phenomena import PHENOMENA
from guidegen.site.pages.place import ACTS, CODES, FORMULAS, GLOSSARY, RULES, SOURCES, family_path, has_install, path_of
from guidegen.site.pages.sentences import pair_name
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render

ABOUT_SOURCES = marked("Every source cited by a number or a formula, and what cites it.")
SOUGHT_SOURCES = marked("standards handbooks papers bench sheets")
RULE_GROUPS = {
    "ACT": marked("Acts and the limits of their tests"),
    "HAZ": marked("Hazard statements"),
    "SYM": marked("Safety signs"),
    "MNS": marked("Mains"),
    "EAR": marked("Earth"),
    "THM": marked("Heat"),
    "PRS": marked("Pressure"),
    "SFD": marked("Safety devices"),
    "CLR": marked("Clearances"),
    "CUT": marked("Cutting"),
    "QTY": marked("Quantities"),
    "PAR": marked("Parts and tools"),
    "FOD": marked("Drinking water"),
    "HLD": marked("Hold points"),
    "STP": marked("Stops"),
    "LNG": marked("Language"),
    "TXT": marked("Texts beside the steps"),
    "DOC": marked("Documents"),
    "DSC": marked("Disclosure"),
    "WVR": marked("Waivers"),
}
CODE_GROUPS = {
    "R": marked("How a file is written"),
    "F": marked("Files, folders and ids"),
    "S": marked("The shape of a document"),
    "Q": marked("Quantities"),
    "I": marked("Inheritance"),
    "X": marked("One part against another"),
    "G": marked("Photographs"),
    "L": marked("Files of loggers"),
    "M": marked("Money and terms of sale"),
    "N": marked("Numbers that cannot be computed"),
    "P": marked("Worth a second look"),
    "W": marked("The web site: hand-written pages, settings, finished pages"),
    "T": marked("The text of an order that somebody sent"),
    "B": marked("The text of a build report that somebody sent"),
}


def _page(path: str, kind: str, title: str, description: str, crumbs: Iterable[Crumb], search: str, body: str) -> Page:
    return Page(
        path=path,
        title=title,
        description=description,
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, search),),
        breadcrumbs=((gettext("Home"), "index.html"), *crumbs),
        kind=kind,
    )


def glossary_page(site: Site) -> Page:
    """The words of the trade, as the workshop wrote them, in the order of the alphabet."""
    known = site.reference.terms
    terms = sorted(known.items(), key=lambda one: one[1].name.lower())
    body = render(
        "glossary.html",
        terms=[
            {
                "id": name,
                "name": term.name,
                "means": term.means,
                "also": term.also,
                "see": [(other, known[other].name) for other in term.see if other in known],
            }
            for name, term in terms
        ],
        formulas=f"{rel(GLOSSARY, FORMULAS)}#nomenclature",
    )
    search = " ".join(" ".join((term.name, *term.also)) for _, term in terms)[:400]
    about = gettext("The words that the guides use, each in a sentence.")
    title = gettext("Glossary")
    return _page(GLOSSARY, "glossary", title, about, [(title, "")], search, body)


# --- sources -----------------------------------------------------------------------------------------


def sources_page(site: Site) -> Page:
    """Every source with what cites it: the workshop's own, then those of the formulas.

    Where there are many variants, families stand in place of what cites a source in their guides.
    """
    found = families(site)
    cited = _cited_in_families(found) if found else _cited_by_guides(SOURCES, site)
    sources = sorted(site.reference.sources.items())
    own = [{"id": key, "source": source, "cited": cited.get(key, [])} for key, source in sources]
    by_formulas = _cited_by_formulas(site)
    known = [{"id": key, **by_formulas[key]} for key in sorted(by_formulas)]
    body = render("sources.html", own=own, known=known, family="")
    title = gettext("Sources")
    return _page(SOURCES, "sources", title, gettext(ABOUT_SOURCES), [(title, "")], gettext(SOUGHT_SOURCES), body)


def sources_of(family: Family) -> Page:
    """The sources that one family's guides cite, with what cites them."""
    path = family_path(SOURCES, family.id)
    cited, sources = _cited_by_guides(path, family.site), family.site.reference.sources
    own = [{"id": key, "source": sources[key], "cited": cited[key]} for key in sorted(cited) if key in sources]
    body = render("sources.html", own=own, known=[], family=family.name, others=rel(path, SOURCES))
    title = gettext("Sources for {family}").format(family=family.name)
    crumbs = [(gettext("Sources"), SOURCES), (family.name, "")]
    return _page(path, "sources", title, gettext(ABOUT_SOURCES), crumbs, gettext(SOUGHT_SOURCES), body)


def _cited_in_families(found: Iterable[Family]) -> dict[str, list[dict[str, str]]]:
    """Per source the families whose guides cite it, and how often each does."""
    made: dict[str, list[dict[str, str]]] = {}
    for family in found:
        path = family_path(SOURCES, family.id)
        for key, cited in _cited_by_guides(path, family.site).items():
            places = ngettext("{family}, {count} place", "{family}, {count} places", len(cited))
            one = {"what": places.format(family=family.name, count=len(cited)), "href": f"{rel(SOURCES, path)}#{key}"}
            made.setdefault(key, []).append(one)
    return made


def _cited_by_guides(at: str, site: Site) -> dict[str, list[dict[str, str]]]:
    """Per source the inputs that cite it, each once with the guides' variants, and the steps' guides.

    `at` is the page that says so.
    """
    found: dict[str, dict[str, str]] = {}
    for record in site.records.values():
        page = rel(at, path_of(record, "numbers"))
        for one in inputs(record):
            if one.source:
                what = f"{record.variant.name}: {one.name}"
                found.setdefault(one.source, {}).setdefault(what, f"{page}#{input_anchor(one.id)}")
        for gain in gains.of(record):
            for side in (gain.without, gain.with_):
                if side.source:
                    what = f"{record.kit.name}: {gain.title}"
                    found.setdefault(side.source, {}).setdefault(what, f"{page}#gain-{gain.id}")
        for source in sorted(_cited_by_steps(record.procedure)):
            if has_install(record):
                what = gettext("{pair}, fitting").format(pair=pair_name(record))
                found.setdefault(source, {}).setdefault(what, rel(at, path_of(record, "install")))
    return {
        key: [{"what": what, "href": href} for what, href in sorted(places.items())] for key, places in found.items()
    }


def _cited_by_steps(part: Any) -> set[str]:
    """Every source named anywhere below a part of a procedure."""
    if isinstance(part, Record):
        source = getattr(part, "source", None)
        own = {source} if isinstance(source, str) else set()
        return own.union(*(_cited_by_steps(getattr(part, name)) for name in _with_parts(type(part))))
    if isinstance(part, tuple):
        return set().union(*(_cited_by_steps(one) for one in part))
    return set()


@cache
def _with_parts(kind: type[Record]) -> tuple[str, ...]:
    """The fields that hold parts of a record; most hold a text or a number, and there are thousands of them."""
    return tuple(name for name, field in kind.model_fields.items() if _holds_parts(field.annotation))


def _holds_parts(annotation: Any) -> bool:
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return True
    return any(_holds_parts(one) for one in get_args(annotation))


def _cited_by_formulas(site: Site) -> dict[str, dict[str, Any]]:
    """Per key of the bibliography its title, and the formulas that cite it."""
    found: dict[str, dict[str, Any]] = {}
    for one in PHENOMENA:
        for formula in formulas_of(one, site.reference):
            for citation in formula.sources:
                entry = found.setdefault(citation.key, {"title": citation.title, "cited": []})
                words = f"{formula.name}, {citation.place}" if citation.place else formula.name
                entry["cited"].append({"what": words, "href": f"{rel(SOURCES, FORMULAS)}#{one.id}"})
    return found


# --- rules and codes ---------------------------------------------------------------------------------


def rules_page(site: Site) -> Page:
    """What the lint holds every instruction to, from the rules themselves."""
    rules = site.reference.rules
    groups: dict[str, list[LintRule]] = {}
    for rule in rules:
        groups.setdefault(rule.id.rstrip("0123456789"), []).append(rule)
    body = render(
        "rules.html",
        groups=[
            {"id": name.lower(), "title": gettext(RULE_GROUPS[name]), "rules": some} for name, some in groups.items()
        ],
        count=len(rules),
        safety=rel(RULES, "safety.html"),
        acts=rel(RULES, ACTS),
        breach=_breach,
    )
    about = gettext("Every rule that a fitting instruction is checked against before it is published, with remedies.")
    search = " ".join(rule.id for rule in rules)
    crumbs = [(gettext("Safety"), "safety.html"), (gettext("Rules"), "")]
    return _page(RULES, "rules", gettext("Rules that every instruction is held to"), about, crumbs, search, body)


def _breach(rule: LintRule) -> str:
    """What a breach of a rule leads to."""
    if rule.severity == "error":
        words = marked("blocks, unless waived") if rule.waiver else marked("blocks")
    elif rule.editorial:
        words = marked("is reported to the writer")
        words = marked("is reported to the writer, unless waived") if rule.waiver else words
    else:
        words = marked("warns, unless waived") if rule.waiver else marked("warns")
    return gettext(words)


def codes_page(site: Site) -> Page:
    """For makers: what each code in the terminal means and how to fix it."""
    own = (ExplainedCode(code=one.value, explanation=one.explanation) for one in SiteCode)
    codes = sorted((*site.reference.codes, *own), key=lambda one: list(CODE_GROUPS).index(one.code[0]))
    groups: dict[str, list[ExplainedCode]] = {}
    for one in codes:
        groups.setdefault(one.code[0], []).append(one)
    body = render(
        "codes.html",
        groups=[
            {
                "id": name.lower(),
                "title": gettext(CODE_GROUPS[name]),
                "codes": [(one.code, one.explanation) for one in some],
            }
            for name, some in groups.items()
        ],
        rules=rel(CODES, RULES),
    )
    about = gettext("For makers: every code that the program may answer with, and what it means.")
    title = gettext("Problem codes")
    crumbs = [(gettext("About the data"), "about-the-data.html"), (title, "")]
    return _page(CODES, "codes", title, about, crumbs, " ".join(one.code for one in codes), body)
