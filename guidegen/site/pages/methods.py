"""The methods page, from the formulas of the reference, and the page of checks, by what they are worth."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable
from functools import cache
from importlib import resources
from typing import Any

from markupsafe import Markup, escape

from guidegen.language import gettext, marked, translated
from guidegen.record import Figure
from guidegen.record.reference import FormulaPart, Reference
from guidegen.site.charts.quantity import both, in_kelvin, shown_as
from guidegen.site.pages.page import Page, SearchEntry, rel
from guidegen.site.pages.phenomena import HONEST, NOT_MODELLED, PHENOMENA, Phenomenon
from guidegen.site.pages.place import CHECKS, FORMULAS, SOURCES
from guidegen.site.pages.site import Site
from guidegen.site.pages.template import headings, render
from guidegen.site.pages.terms import nomenclature

TAGS = {
    "L": marked("computed with an independent library, or worked out in the test"),
    "P": marked("seen on a published page"),
    "M": marked("from memory, covered by a row of another kind where there is one"),
}
OUTSIDE = "outside"
KINDS = {
    OUTSIDE: (
        marked("Published values against our functions"),
        marked("published, or given by an independent library, and worked out here by a function: the only checks "
               "against the outside"),
    ),
    "derived": (
        marked("Closed forms, derived in the tests"),
        marked(
            "a closed form, or another way to solve the same equations: it shows that they were solved correctly, "
            "and not that they are the right ones"
        ),
    ),
    "law": (marked("Laws"), marked("what must hold whatever the values, such as the balance of heat")),
    "typed": (
        marked("Tables typed from a source"),
        marked("what was typed here, compared with its source: it guards against slips in typing and nothing else"),
    ),
}  # fmt: skip
"""What a row can be worth, best first: its title, and what it says."""


def methods_page(site: Site) -> Page:
    """Every phenomenon: what is done, its equations with symbols, limits and sources, and the numbers it gives."""
    body = render(
        "formulas.html",
        sections=[_section(one, site.reference) for one in PHENOMENA],
        sampling=_sampling(),
        not_modelled=[gettext(one) for one in NOT_MODELLED],
        honest=[gettext(one) for one in HONEST],
        nomenclature=nomenclature(),
        checks=rel(FORMULAS, CHECKS),
        count=sum(row["kind"] == OUTSIDE for row in checks()),
        sources=rel(FORMULAS, SOURCES),
        introduction=rel(FORMULAS, "methods.html"),
    )
    title = gettext("How the numbers are computed")
    names = " ".join(gettext(one.title) for one in PHENOMENA)
    return Page(
        path=FORMULAS,
        title=title,
        description=gettext(
            "Every method: balances of the network, formulas with symbols, limits and sources, nomenclature."
        ),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, " ".join((gettext("equations formulas nomenclature"), names))),),
        breadcrumbs=((gettext("Home"), "index.html"), (gettext("Methods"), "methods.html"), (gettext("Formulas"), "")),
        kind="formulas",
    )


def _section(one: Phenomenon, reference: Reference) -> dict[str, Any]:
    formulas = formulas_of(one, reference)
    before = [None, *formulas]
    return {
        "id": one.id,
        "title": gettext(one.title),
        "text": [gettext(text) for text in one.text],
        # Symbols that several formulas share are explained at the first of them.
        "formulas": [
            _formula(formula, symbols=last is None or last.symbols != formula.symbols)
            for last, formula in zip(before, formulas, strict=False)
        ],
        "gives": sorted({term.name for term in nomenclature() if term.method == one.id}),
    }


def formulas_of(one: Phenomenon, reference: Reference) -> list[FormulaPart]:
    """The formulas of a section, in the order of its modules."""
    return [formula for name in one.modules for formula in reference.formulas if formula.module == name]


def _formula(formula: FormulaPart, symbols: bool) -> dict[str, Any]:
    return {
        "name": formula.name,
        "equation": set_out(formula.equation),
        "symbols": [
            {"symbol": set_out(one.symbol), "meaning": one.meaning, "unit": one.unit}
            for one in (formula.symbols if symbols else ())
        ],
        "limits": [
            {
                "quantity": one.quantity,
                "text": translated("{low} to {high} {unit}", low=power(one.low), high=power(one.high), unit=one.unit),
            }
            for one in formula.limits
        ],
        "sources": [
            {"href": f"{rel(FORMULAS, SOURCES)}#{one.key}", "title": one.title.partition(",")[0], "place": one.place}
            for one in formula.sources
        ],
    }


def set_out(equation: str) -> Markup:
    """An equation with its subscripts and powers set as such.

    >>> set_out("C_e dT_e/dt"), set_out("Re^[1 − x] < 2")
    (Markup('C<sub>e</sub> dT<sub>e</sub>/dt'), Markup('Re<sup>1 − x</sup> &lt; 2'))
    """
    text = str(escape(equation))
    text = re.sub(r"_(\w+)", r"<sub>\1</sub>", text)
    return Markup(re.sub(r"\^(?:\[([^\]]*)\]|([\w.]+))", lambda one: f"<sup>{one[1] or one[2]}</sup>", text))


def power(number: float) -> Markup:
    """A limit as people write it.

    >>> power(611.213), power(2.2064e7)
    (Markup('611.213'), Markup('2.2064 × 10<sup>7</sup>'))
    """
    mantissa, mark, exponent = f"{number:.6g}".partition("e")
    if not mark:
        return Markup("{}").format(mantissa)
    return Markup("{} × 10<sup>{}</sup>").format(mantissa, str(int(exponent)).replace("-", "−"))


def _sampling() -> list[dict[str, Any]]:
    """What a controller that samples makes of the sensor drop, as the tests' reference solver wrote it."""
    kelvin = in_kelvin(shown_as("k"))
    return [
        {
            "period_s": f"{row['period_s']:g}" if row["period_s"] else "",
            "without": both(Figure(value=row["without_k"]), kelvin),
            "with": both(Figure(value=row["with_k"]), kelvin),
        }
        for row in json.loads(_data("sampling.json"))
    ]


def _data(name: str) -> str:
    return (resources.files("guidegen.site.pages") / "data" / name).read_text(encoding="utf-8")


# --- checks ------------------------------------------------------------------------------------------


@cache
def checks() -> tuple[dict[str, Any], ...]:
    """The rows of all checks, as the tests wrote them; a test fails when they are not up to date."""
    return tuple(json.loads(_data("checks.json")))


def checks_page(site: Site) -> Page:
    """All checks by what they are worth, and the formulas that none from outside is about."""
    rows = checks()
    count = Counter(row["kind"] for row in rows)
    alone = unchecked(site.reference.formulas)
    body = render(
        "checks.html",
        power=power,
        kinds=[
            {"id": kind, "title": gettext(title), "text": gettext(text), "count": count[kind], "groups": _groups(kind)}
            for kind, (title, text) in KINDS.items()
        ],
        count=len(rows),
        outside=count[OUTSIDE],
        remembered=sum(row["kind"] == OUTSIDE and row["tag"] == "M" for row in rows),
        tags=[(tag, gettext(words), sum(row["tag"] == tag for row in rows)) for tag, words in TAGS.items()],
        alone=alone,
        formula_count=len(site.reference.formulas),
        alone_count=sum(len(names) for names in alone.values()),
        formulas=rel(CHECKS, FORMULAS),
    )
    title = gettext("Checks against outside values")
    about = gettext("{outside} values from outside, and {others} of other kinds, beside what is computed here.")
    search = gettext("validation published values library comparison")
    return Page(
        path=CHECKS,
        title=title,
        description=about.format(outside=count[OUTSIDE], others=len(rows) - count[OUTSIDE]),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, search),),
        breadcrumbs=((gettext("Home"), "index.html"), (gettext("Methods"), "methods.html"), (gettext("Checks"), "")),
        kind="checks",
    )


def unchecked(formulas: Iterable[FormulaPart]) -> dict[str, list[str]]:
    """The names of formulas that no row from outside is about, by the best kind that one is; "" where none is."""
    about: dict[str, set[str]] = {kind: set() for kind in KINDS}
    for row in checks():
        about[row["kind"]].update(row["formulas"])
    best = {one.name: next((kind for kind in KINDS if one.name in about[kind]), "") for one in formulas}
    made = {kind: [name for name, its in best.items() if its == kind] for kind in (*KINDS, "") if kind != OUTSIDE}
    return {kind: names for kind, names in made.items() if names}


def _groups(kind: str) -> list[dict[str, Any]]:
    groups: dict[str, list[dict[str, Any]]] = {}
    for row in checks():
        if row["kind"] == kind:
            groups.setdefault(row["group"], []).append(row)
    return [
        {"id": f"{kind}-{name}", "title": name.replace("-", " ").capitalize(), "rows": rows}
        for name, rows in groups.items()
    ]
