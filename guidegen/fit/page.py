"""The self-check as HTML: a form that works on paper, and the data with which the script walks through it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import jinja2
from markupsafe import Markup

from guidegen.fit.payload import Payload, Which, Words
from guidegen.fit.scale import write_count
from guidegen.fit.shape import FactRules, UnitRules
from guidegen.fit.walk import longest
from guidegen.fit.words import SPOKEN, WHICH, WHICH_PAPER, WORDS

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
            words=WORDS,
            lead=_lead(payload),
            paper=_paper(payload["contact"]),
            questions=questions,
            conditions=payload["conditions"],
            data={**payload, "words": SPOKEN, "guides": dict(guides or {})},
        )
    )


@dataclass(frozen=True)
class Place:
    """Where a variant's page lies, and its self-checks by the name of the kit; as seen from the page at hand."""

    href: str
    checks: dict[str, str]


def which_body(which: Which, places: Mapping[str, Place]) -> Markup:
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
            words=WORDS,
            lead=_which_lead(which),
            paper=WHICH_PAPER.format(contact=which["contact"]),
            questions=[_question(words, facts[words["fact"]]) for words in which["questions"]],
            variants=list(variants.values()),
            data={**which, "variants": variants, "words": WHICH},
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
        "takes": "a moment" if minutes < 1 else f"about {minutes:g} {'minute' if minutes == 1 else 'minutes'}",
    }


def _tolerance(unit: UnitRules) -> str:
    step = write_count(unit["decimals"], 1)
    return f"{unit['unit']}: read to {step}, we reckon with ± {write_count(unit['decimals'], unit['plus_minus'])}"


def _lead(payload: Payload) -> str:
    count = len(payload["questions"])
    if not count:
        return "Nothing has to be asked: what we know of this variant decides."
    minutes = sum(words["minutes"] for words in payload["questions"])
    under = sum(words["under_lid"] for words in payload["questions"])
    outside = count - under
    asked = f"{count} {'question' if count == 1 else 'questions'} at most, {minutes:g} min if you answer all"
    where = f"{outside} from outside, {under} under the top lid" if under else "all from outside"
    return f"{asked}; {where}. Nothing is sent, and no question needs the power on."


def _which_lead(which: Which) -> str:
    count = len(which["questions"])
    if not count:
        return "Look at the table of marks: your machine is the one that shows them all."
    under = any(words["under_lid"] for words in which["questions"])
    lid = " The top lid comes off only if nothing outside has decided." if under else " Nothing is opened."
    most = longest(which["rules"])
    return f"{most} {'question' if most == 1 else 'questions'} at most, fewer where you can tell.{lid} Nothing is sent."


def _paper(contact: str) -> str:
    return (
        "This page asks one question at a time where scripts may run. On paper it is a form: fill it in and hold it "
        f"against what stands below, or send it to {contact}."
    )


@cache
def _environment() -> jinja2.Environment:
    return jinja2.Environment(
        loader=jinja2.PackageLoader("guidegen", "pages/templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
