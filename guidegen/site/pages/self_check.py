"""The self-check as HTML: a form that works on paper, and the data with which the script walks through it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import jinja2
from markupsafe import Markup

from guidegen.judge.fit.payload import Payload, Which, Words
from guidegen.judge.fit.phrases import ORDER, SPOKEN, WHICH, WHICH_PAPER, WORDS, in_words
from guidegen.judge.fit.scale import write_count
from guidegen.judge.fit.shape import FactRules, UnitRules
from guidegen.judge.fit.walk import longest
from guidegen.language import gettext, marked, ngettext, teach

STYLE = "assets/guidegen/self-check.css"
SCRIPTS = ("assets/guidegen/self-check-rules.js", "assets/guidegen/self-check.js")
"""Where the site keeps them, from its root; the second script uses the first."""


def body(payload: Payload, guides: Mapping[str, str] | None = None) -> Markup:
    """Return the section for the fit page; it starts with an `h2`. Ids start with `self-check`, `ask-`, `sc-`.

    `guides` are addresses of guides for kits that serve as remedies, by the remedy's id, as seen from the page.
    """
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    questions = [_question(words, facts[words["fact"]]) for words in payload["questions"]]
    return Markup(
        _environment()
        .get_template("self-check.html")
        .render(
            words=in_words(WORDS),
            lead=_lead(payload),
            paper=_paper(payload["contact"]),
            questions=questions,
            conditions=_limits(payload),
            data={**payload, "words": {**in_words(SPOKEN), "order": ORDER}, "guides": dict(guides or {})},
        )
    )


def _limits(payload: Payload) -> list[dict[str, str]]:
    """Return a row per condition: what is asked, when it holds, and what follows where it does not.

    What only a remedy needs ends nothing but that remedy.
    """
    rules = payload["rules"]
    named = {one["id"]: one["name"] for one in payload["remedies"]}
    needed_by = {
        place: named[remedy["id"]]
        for condition in rules["conditions"]
        for remedy in condition["remedies"]
        for place in remedy["needs"]
        if place not in rules["roots"]
    }
    return [
        {
            "says": one["says"],
            "whose": needed_by.get(place, ""),
            "wanted": one["wanted"],
            "if_not": one["mended"] or gettext(WORDS["no_help" if place in needed_by else "ends_it"]),
        }
        for place, one in enumerate(payload["conditions"])
    ]


@dataclass(frozen=True)
class VariantPlace:
    """Where a variant's page lies, and its self-checks by the name of the kit; as seen from the page at hand."""

    href: str
    checks: dict[str, str]


def which_body(which: Which, places: Mapping[str, VariantPlace]) -> Markup:
    """Return the section that tells variants apart, and ends in links to the pages and checks of what is left."""
    facts = {fact["fact"]: fact for fact in which["rules"]["facts"]}
    variants = {
        one["id"]: {**one, "href": places[one["id"]].href, "checks": list(places[one["id"]].checks.items())}
        for one in which["variants"]
    }
    return Markup(
        _environment()
        .get_template("self-check-which.html")
        .render(
            words=in_words(WORDS),
            lead=_which_lead(which),
            paper=gettext(WHICH_PAPER).format(contact=which["contact"]),
            questions=[_question(words, facts[words["fact"]]) for words in which["questions"]],
            variants=list(variants.values()),
            data={**which, "variants": variants, "words": {**in_words(WHICH), "order": ORDER}},
        )
    )


def head(to_root: str) -> Markup:
    """Return what the page's head needs; `to_root` leads from the page to the site's root, `../../../`."""
    style = Markup('<link rel="stylesheet" href="{}">').format(to_root + STYLE)
    return style + Markup("").join(Markup('<script src="{}" defer></script>').format(to_root + one) for one in SCRIPTS)


def _question(words: Words, fact: FactRules) -> dict[str, Any]:
    minutes = words["minutes"]
    return {
        **words,
        "units": fact["units"],
        "tolerance": " · ".join(map(_tolerance, fact["units"])),
        "takes": _takes(minutes),
    }


def _takes(minutes: float) -> str:
    if minutes < 1:
        return gettext("a moment")
    return ngettext("about {count} minute", "about {count} minutes", minutes).format(count=f"{minutes:g}")


def _tolerance(unit: UnitRules) -> str:
    step, reach = write_count(unit["decimals"], 1), write_count(unit["decimals"], unit["plus_minus"])
    words = gettext("{unit}: read to {step}, we reckon with ± {reach}")
    return words.format(unit=unit["unit"], step=step, reach=reach)


def _lead(payload: Payload) -> str:
    count = len(payload["questions"])
    if not count:
        return gettext("Nothing has to be asked: what we know of this variant decides.")
    minutes = sum(words["minutes"] for words in payload["questions"])
    under = sum(words["under_lid"] for words in payload["questions"])
    outside = count - under
    words = ngettext(
        "{count} question at most, {minutes} min if you answer all; all from outside. Nothing is sent, and no "
        "question needs the power on.",
        "{count} questions at most, {minutes} min if you answer all; all from outside. Nothing is sent, and no "
        "question needs the power on.",
        count,
    )
    if under:
        words = ngettext(
            "{count} question at most, {minutes} min if you answer all; {outside} from outside, {under} under the top "
            "lid. Nothing is sent, and no question needs the power on.",
            "{count} questions at most, {minutes} min if you answer all; {outside} from outside, {under} under the top "
            "lid. Nothing is sent, and no question needs the power on.",
            count,
        )
    return words.format(count=count, minutes=f"{minutes:g}", outside=outside, under=under)


def _which_lead(which: Which) -> str:
    count = len(which["questions"])
    if not count:
        return gettext("Look at the table of marks: your machine is the one that shows them all.")
    under = any(words["under_lid"] for words in which["questions"])
    lid = marked("Nothing is opened.")
    if under:
        lid = marked("The top lid comes off only if nothing outside has decided.")
    most = longest(which["rules"])
    words = ngettext(
        "{count} question at most, fewer where you can tell.",
        "{count} questions at most, fewer where you can tell.",
        most,
    )
    return " ".join((words.format(count=most), gettext(lid), gettext("Nothing is sent.")))


def _paper(contact: str) -> str:
    return gettext(
        "This page asks one question at a time where scripts may run. On paper it is a form: fill it in and hold it "
        "against what stands below, or send it to {contact}."
    ).format(contact=contact)


@cache
def _environment() -> jinja2.Environment:
    return teach(
        jinja2.Environment(
            loader=jinja2.PackageLoader("guidegen.site.pages", "templates"),
            autoescape=True,
            undefined=jinja2.StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )
    )
