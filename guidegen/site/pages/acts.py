"""The table of acts: what a step of an instruction can be, for whoever writes instructions."""

from __future__ import annotations

import re

from guidegen.language import gettext, marked
from guidegen.language.forms import sentence
from guidegen.record.acts import ActHold
from guidegen.site.pages.conduct import ROLES
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.place import ACTS, RULES
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render

SENSES = {"at_most": marked("at most"), "at_least": marked("at least"), "within": marked("within")}


def acts_page(site: Site) -> Page:
    """Every act in its section, with what it takes, needs and changes, and its hold point."""
    sections = site.reference.acts
    body = render(
        "acts.html",
        sections=[{"id": _id(one.title), "title": _said(one.title), "acts": one.acts} for one in sections],
        count=sum(len(one.acts) for one in sections),
        rules=rel(ACTS, RULES),
        said=_said,
        who={name: gettext(words.name) for name, words in ROLES.items()},
        limit=_limit,
    )
    title = gettext("Acts: what a step can be")
    about = gettext("For makers: every act of an instruction, with what it takes, needs and changes, and its limits.")
    names = " ".join(act.name for one in sections for act in one.acts)
    return Page(
        path=ACTS,
        title=title,
        description=about,
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, names),),
        breadcrumbs=((gettext("Home"), "index.html"), (gettext("Safety"), "safety.html"), (gettext("Acts"), "")),
        kind="acts",
    )


def _id(title: str) -> str:
    return re.sub("[^a-z]+", "-", title.lower()).strip("-")


def _said(text: str) -> str:
    """A text of the table in the language of the site; English where nobody translated it."""
    return sentence(text) or text


def _limit(hold: ActHold) -> str:
    """What a hold point counts, or a limit that is the act's own; one that an author states stands in `takes`."""
    number = hold.number
    if number is None:
        return _said(hold.counts or "")
    return f"{gettext(SENSES[number.sense])} {number.fixed}" if number.fixed else ""
