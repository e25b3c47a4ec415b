"""The words of the trade where they are met: each page ends with those that it uses, and what they mean."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache

from markupsafe import Markup

from guidegen.record.reference import GlossaryTerm
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import GLOSSARY
from guidegen.site.pages.template import render

_SILENT = re.compile(r"<(script|style|svg|option)\b.*?</\1>", re.S)


def with_words(body: str, path: str, terms: Mapping[str, GlossaryTerm]) -> str:
    """The page's body, and below it the terms that occur in its text, if any."""
    text = Markup(_SILENT.sub(" ", body)).striptags()
    used = [{"id": name, "name": term.name, "means": term.means} for name, term in _used(text, terms)]
    return body + render("terms-used.html", terms=used, glossary=rel(path, GLOSSARY)) if used else body


def _used(text: str, terms: Mapping[str, GlossaryTerm]) -> Iterator[tuple[str, GlossaryTerm]]:
    folded = text.casefold()
    for name, term in sorted(terms.items(), key=lambda one: one[1].name.lower()):
        names = (term.name, *term.also)
        # A whole page is looked through faster for letters than for words.
        if any(one.casefold() in folded for one in names) and _pattern(names).search(text):
            yield name, term


@cache
def _pattern(names: tuple[str, ...]) -> re.Pattern[str]:
    """Any of the names as a whole word, also in the plural."""
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, names))})(?:e?s)?\b", re.I)
