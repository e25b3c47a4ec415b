"""The self-check as HTML: a form that works on paper, and the data with which the script walks through it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

import jinja2
from markupsafe import Markup

from guidegen.fit.payload import Payload, Which, Words
from guidegen.fit.scale import write_count
from guidegen.fit.shape import FactRules, UnitRules
from guidegen.fit.words import SPOKEN, WHICH, WORDS

STYLE = "assets/guidegen/self-check.css"
SCRIPTS = ("assets/guidegen/self-check-rules.js", "assets/guidegen/self-check.js")
"""Where the site keeps them, from its root; the second script uses the first."""


def body(payload: Payload) -> Markup:
    """Return the section for the fit page; it starts with an `h2`. Ids start with `self-check`, `ask-`, `sc-`."""
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
            data={**payload, "words": SPOKEN},
        )
    )


def which_body(which: Which, pages: Mapping[str, str]) -> Markup:
    """Return the section that tells variants apart; `pages` are the addresses of the variants' pages, by id."""
    facts = {fact["fact"]: fact for fact in which["rules"]["facts"]}
    variants = {one["id"]: {**one, "href": pages[one["id"]]} for one in which["variants"]}
    return Markup(
        _environment()
        .get_template("self-check-which.html")
        .render(
            words=WORDS,
            lead=_which_lead(which),
            paper=_paper(which["contact"]),
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
        "takes": f"about {minutes:g} {'minute' if minutes == 1 else 'minutes'}",
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
    return f"{count} {'question' if count == 1 else 'questions'} at most, all from outside. Nothing is sent."


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
