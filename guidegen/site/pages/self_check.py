"""The self-check as HTML: a form that works on paper, and the data with which the script walks through it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked, ngettext
from guidegen.record.reference import CheckWords
from guidegen.record.self_check import AcceptedUnit, AskedFact, AskedWords, Finder, SelfCheck
from guidegen.site.charts.quantity import two_systems
from guidegen.site.drawings.measuring import drawn
from guidegen.site.pages.measures import parts
from guidegen.site.pages.self_check_words import ALSO_USED, WHICH, WHICH_PAPER, WORDS, in_words
from guidegen.site.pages.template import deferred, render, styled
from guidegen.units import NARROW_SPACE, write_count

STYLE = "assets/guidegen/self-check.css"
INCH = "in"
IMPERIAL = (INCH, "°F", "lb", "oz", "fl oz", "psi", "in·lbf")
"""Units that a reader of imperial pages begins with."""
_PARTS = ("deciding", "rules", "order", "which", "words", "own", "elements", "case", "outcome", "questions")
SCRIPTS = tuple(f"assets/guidegen/self-check-{name}.js" for name in _PARTS)
"""Where the site keeps them, from its root; each script uses those before it."""


def body(
    check: SelfCheck, words: CheckWords, guides: Mapping[str, str] | None = None, instruction: LeadsTo | None = None
) -> Markup:
    """Return the section for the fit page; it starts with an `h2`. Ids start with `self-check`, `ask-`, `sc-`.

    `guides` are addresses of guides for kits that serve as remedies, by the remedy's id, as seen from the page;
    `instruction` is where the fitting of each case is shown, if it is.
    """
    made = render(
        "self-check.html",
        words=_printed(words),
        lead=_lead(check),
        paper=_paper(check.contact),
        questions=_questions(check.questions, check.rules.facts),
        conditions=_limits(check),
        ours=_ours(check),
        data={
            **_shown(check),
            "words": _script_words(words),
            "guides": dict(guides or {}),
            "instruction": instruction and {"href": instruction.href, "cases": instruction.cases},
        },
    )
    return Markup(made)


def _ours(check: SelfCheck) -> list[dict[str, str]]:
    """What the variant's data settle of the kit's own requirements, and what of that is assumed."""
    own = (check.conditions[place] for place in check.rules.roots)
    return [{"says": one.says, "detail": one.detail, "assumed": ", ".join(one.assumed)} for one in own if one.detail]


@dataclass(frozen=True)
class LeadsTo:
    """Where the instruction stands as seen from the page, and its cases, each with what holds in it."""

    href: str
    cases: dict[str, list[str]]


def _shown(check: SelfCheck) -> dict[str, Any]:
    """The data for the script; what it prints of quantities that the data settle is in both systems of units."""
    data = check.model_dump(mode="json")
    for one in data["conditions"]:
        one["detail"] = parts(one["detail"]) if one["detail"] else None
    return data


def _printed(words: CheckWords) -> dict[str, Any]:
    return in_words({**WORDS, **{name: words.shown[name] for name in ALSO_USED}})


def _script_words(words: CheckWords) -> dict[str, Any]:
    return {**in_words(words.shown), "order": in_words(words.order, say=str)}


def _limits(check: SelfCheck) -> list[dict[str, str]]:
    """Return a row per condition: what is asked, when it holds, and what follows where it does not.

    What only a remedy needs ends nothing but that remedy.
    """
    rules = check.rules
    named = {one.id: one.name for one in check.remedies}
    needed_by = {
        place: named[remedy.id]
        for condition in rules.conditions
        for remedy in condition.remedies
        for place in remedy.needs
        if place not in rules.roots
    }
    printed = in_words(WORDS)
    return [
        {
            "says": one.says,
            "whose": needed_by.get(place, ""),
            "wanted": one.wanted,
            "if_not": one.remedied_by or printed["no_help" if place in needed_by else "ends_it"],
        }
        for place, one in enumerate(check.conditions)
    ]


@dataclass(frozen=True)
class VariantPlace:
    """Where a variant's page lies, its self-checks by the name of the kit, and the figures of its marks.

    All as seen from the page at hand.
    """

    href: str
    checks: dict[str, str]
    pictures: Markup


def which_body(
    finder: Finder, places: Mapping[str, VariantPlace], words: CheckWords, seen: Callable[[str, str], Markup]
) -> Markup:
    """Return the section that distinguishes variants, and ends in links to the pages and checks of what is left.

    `seen` makes the figures of a mark, from where one looks and what is seen there.
    """
    variants = [
        {**one.model_dump(mode="json"), "href": places[one.id].href, "checks": [*places[one.id].checks.items()]}
        for one in finder.variants
    ]
    script_words = {**_script_words(words), **in_words(WHICH)}
    made = render(
        "self-check-which.html",
        words=_printed(words),
        lead=_which_lead(finder),
        paper=gettext(WHICH_PAPER).format(contact=finder.contact),
        questions=[
            {**one, "pictures": [seen(one["where"], see) for see, _ in one["choices"]]}
            for one in _questions(finder.questions, finder.rules.facts)
        ],
        variants=[{**one, "pictures": places[one["id"]].pictures} for one in variants],
        data={**finder.model_dump(mode="json"), "variants": variants, "words": script_words},
    )
    return Markup(made)


def head(to_root: str) -> Markup:
    """Return what the page's head needs; `to_root` leads from the page to the site's root, `../../../`."""
    return styled(to_root, STYLE) + deferred(to_root, *SCRIPTS)


def _questions(questions: tuple[AskedWords, ...], facts: tuple[AskedFact, ...]) -> list[dict[str, Any]]:
    units = {fact.fact: fact.units for fact in facts}
    return [
        {
            **one.model_dump(),
            "units": [(unit, unit.unit in IMPERIAL) for unit in units[one.fact]],
            "tolerance": _tolerances(units[one.fact]),
            "takes": _takes(one.minutes),
            "drawn": drawn(one.fact, f"measure-{number}"),
        }
        for number, one in enumerate(questions, 1)
    ]


def _takes(minutes: float) -> str:
    if minutes < 1:
        return gettext("a moment")
    return ngettext("about {count} minute", "about {count} minutes", minutes).format(count=f"{minutes:g}")


def _tolerances(units: tuple[AcceptedUnit, ...]) -> Markup:
    """How to round, per unit; where both systems are taken the reader's switch chooses."""
    imperial = [_tolerance(one) for one in units if one.unit in IMPERIAL]
    others = [_tolerance(one) for one in units if one.unit not in IMPERIAL]
    pair = (" ".join(others), " ".join(imperial))
    return two_systems(*pair, whole=True) if all(pair) else Markup("{}").format(" ".join(pair).strip())


def _tolerance(unit: AcceptedUnit) -> str:
    step, reach = write_count(unit.decimals, 1), write_count(unit.decimals, unit.plus_minus)
    words = gettext("Round to the nearest {step}{unit}; we allow ± {reach}{unit}.")
    text = words.format(unit=f"{NARROW_SPACE}{unit.unit}", step=step, reach=reach)
    fraction = gettext("A fraction, as on a ruler, will do too.")
    return f"{text} {fraction}" if unit.unit == INCH else text


def _lead(check: SelfCheck) -> str:
    count = len(check.questions)
    if not count:
        assumed = ", ".join(dict.fromkeys(fact for one in check.conditions for fact in one.assumed))
        if assumed:
            words = gettext("Nothing is asked, but part of what decides is assumed, not measured: {facts}.")
            return words.format(facts=assumed)
        return gettext("Nothing has to be asked: what we know of this variant decides.")
    minutes = sum(words.minutes for words in check.questions)
    under = sum(words.under_lid for words in check.questions)
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


def _which_lead(finder: Finder) -> str:
    count = len(finder.questions)
    if not count:
        return gettext("Look at the table of marks: your machine is the one that shows them all.")
    under = any(words.under_lid for words in finder.questions)
    lid = marked("Nothing is opened.")
    if under:
        lid = marked("The top lid comes off only if nothing outside has settled it.")
    words = ngettext(
        "{count} question at most, fewer where you can tell.",
        "{count} questions at most, fewer where you can tell.",
        finder.longest,
    )
    return " ".join((words.format(count=finder.longest), gettext(lid), gettext("Nothing is sent.")))


def _paper(contact: str) -> str:
    return gettext(
        "With scripts, this page asks one question at a time. On paper it is a form: fill it in and compare it "
        "with the list below, or send it to {contact}."
    ).format(contact=contact)
