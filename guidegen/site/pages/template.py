"""Templates of the site's pages, and what all of them are given."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Any

import jinja2
from markupsafe import Markup, escape

from guidegen.language.choices import choice
from guidegen.site.charts.quantity import converted, shown_as, two_systems
from guidegen.site.pages import measures, sentences
from guidegen.site.pages.page import Heading, rel
from guidegen.site.pages.qr import qr
from guidegen.site.template import environment_of
from guidegen.units import NARROW_SPACE


@cache
def environment() -> jinja2.Environment:
    """The templates of this package."""
    made = environment_of("guidegen.site.pages")
    made.globals["rel"] = rel
    made.globals["plain"] = plain
    made.globals["minutes"] = sentences.minutes
    made.globals["choice"] = choice
    made.globals["qr"] = qr
    made.globals["signal"] = sentences.signal
    made.globals["outcome_words"] = sentences.outcome
    made.filters["sentence"] = sentences.sentence
    made.filters["typed"] = typed
    made.filters["measured"] = measures.both
    return made


def render(name: str, **values: Any) -> str:
    """One template as text."""
    return environment().get_template(name).render(values)


OUNCES = ("oz", "fl oz")
"""What is stated in whole grams and millilitres has no hundredths of an ounce."""


def plain(value: float, key: str) -> Markup:
    """A stated value in both systems: with the digits it was stated with, and in three of them; ounces in two.

    >>> plain(6.0, "height_mm").striptags().replace(NARROW_SPACE, " ")
    '6 mm0.236 in'
    """
    how = shown_as(key)
    metric, imperial = (converted(value, how, unit) for unit in (how.metric, how.imperial))
    digits = (
        2
        if how.imperial in OUNCES and abs(imperial) < 99.5
        else 3
        if how.imperial != how.metric and abs(imperial) < 999.5
        else 4
    )
    return two_systems(f"{metric:.4g}{NARROW_SPACE}{how.metric}", f"{imperial:.{digits}g}{NARROW_SPACE}{how.imperial}")


def deferred(to_root: str, *scripts: str) -> Markup:
    """What a page's head needs to run scripts in order; `to_root` leads from the page to the site's root, `../../../`.

    >>> deferred("../", "assets/a.js")
    Markup('<script src="../assets/a.js" defer></script>')
    """
    return Markup("").join(Markup('<script src="{}" defer></script>').format(to_root + one) for one in scripts)


def styled(to_root: str, sheet: str) -> Markup:
    """What a page's head needs to be shown by a style sheet of its own.

    >>> styled("../", "assets/a.css")
    Markup('<link rel="stylesheet" href="../assets/a.css">')
    """
    return Markup('<link rel="stylesheet" href="{}">').format(to_root + sheet)


_TYPED = re.compile(r"`([^`]+)`")


def typed(text: str) -> Markup:
    """The text, escaped, with what stands between backticks shown as something one types.

    >>> typed("Write `a < b`.")
    Markup('Write <code>a &lt; b</code>.')
    """
    return Markup(_TYPED.sub(r"<code>\1</code>", str(escape(text))))


_HEADING = re.compile(r'<h([23])[^>]* id="([^"]+)"[^>]*>(.*?)</h\1>', re.S)


def headings(body: str) -> tuple[Heading, ...]:
    """The contents list: every heading of the second and third level that has an id."""
    found: Iterable[re.Match[str]] = _HEADING.finditer(body)
    return tuple(Heading(int(one[1]), one[2], Markup(one[3]).striptags()) for one in found)
