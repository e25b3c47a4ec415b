"""The whole cost of a kit on a variant as lines of a letter: what `cost.py` gives the overview, in plain text."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.language import gettext
from guidegen.record.claims import brings_coil, claimed
from guidegen.record.procedure import UsedItem
from guidegen.site.pages import cost, effort, unknown
from guidegen.site.pages.place import changes_nothing
from guidegen.site.pages.quoted import Quoted

WARM_UP = "warm_up.added_s"


def lines(quoted: Quoted) -> Iterator[str]:
    """All but the money: time, visits, tools, electricity, warm-up, and what stays for good, a line each."""
    record = quoted.record
    days = cost.days_words(record)
    time = f"{days}. {cost.days_because(record)}" if days else gettext("how long the work takes is not known yet.")
    yield gettext("Time: {time}").format(time=time)
    if visits := cost.visits_words(record):
        yield gettext("Skilled person: {visits}.").format(visits=visits)
    if tools := [_tool(one) for one in effort.own_tools(record)]:
        yield gettext("Tools to have or to buy: {tools}.").format(tools="; ".join(tools))
    if year := cost.year_words(record):
        quoted.numbers = True
        usage = cost.usage_words(record)
        yield gettext("Electricity: {year}. {usage}").format(year=year.striptags(), usage=usage).rstrip()
    if not changes_nothing(record):
        yield _ready(quoted)
    yield gettext("For good: {what}.").format(what="; ".join(_lasting(quoted)))


def _tool(one: UsedItem) -> str:
    said = f"{one.name}, {one.details}" if one.details else one.name
    return gettext("{tool} (only if {condition})").format(tool=said, condition=one.only_if) if one.only_if else said


def _ready(quoted: Quoted) -> str:
    if not claimed(quoted.record, WARM_UP):
        return gettext("Warm-up: {ready}.").format(ready=unknown.not_yet())
    found = quoted.way(WARM_UP)
    time = quoted.n(WARM_UP, ranged=True, other_sign=found == "less")
    return f"{gettext(cost.READY[found]).format(time=time)}."


def _lasting(quoted: Quoted) -> Iterator[str]:
    yield from cost.lasting(quoted.record)
    if brings_coil(quoted.record):
        yield gettext("{mass} more on the boiler").format(mass=quoted.n("budget.added_kg", ranged=True))
