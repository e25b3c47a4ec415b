"""The words of the interface in the workshop's language: gettext, with English as the source.

Whoever writes a sentence for a page wraps it: `gettext("Does it fit?")` in Python, `_()` or `{% trans %}` in a
template, `marked("…")` where a constant is made before a language is chosen and `gettext(…)` where it is shown. What
comes from the maker's YAML is data, and is never looked up, but for the names in sentences of instructions
(`guidegen.language.forms`). `python -m guidegen.language` collects all of it.
"""

from __future__ import annotations

import gettext as library
import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup, escape

if TYPE_CHECKING:
    import jinja2

SOURCE = "en"
"""The language in which the program's own words are written; it needs no catalogue."""


@dataclass(frozen=True)
class Translation:
    """A language by its code, its words, and what changes when any of them does.

    `inside` are its messages with a context, by context and message: what sentences that name things are made of.
    `file` is where the workshop writes words of its own.
    """

    code: str = SOURCE
    words: library.NullTranslations = field(default_factory=library.NullTranslations)
    fingerprint: str = ""
    inside: Mapping[tuple[str, str], str] = field(default_factory=dict)
    file: str = ""


_ENGLISH = Translation()
_CURRENT: ContextVar[Translation | None] = ContextVar("language", default=None)


def translation() -> Translation:
    """The language in use; English where nobody chose."""
    return _CURRENT.get() or _ENGLISH


@contextmanager
def in_language(language: str, root: Path) -> Iterator[None]:
    """Everything inside is in this language; `root` is the workshop, which may bring a catalogue of its own."""
    from guidegen.language.catalogues import translation_of

    token = _CURRENT.set(translation_of(language, root))
    try:
        yield
    finally:
        _CURRENT.reset(token)


def gettext(message: str) -> str:
    """The message in the language in use; nothing stays nothing.

    >>> gettext("Does it fit?"), gettext("")
    ('Does it fit?', '')
    """
    return translation().words.gettext(message) if message else ""


def ngettext(one: str, many: str, count: float) -> str:
    """The message that agrees with a number; a broken number counts as the next whole one.

    >>> ngettext("{count} step", "{count} steps", 2).format(count=2)
    '2 steps'
    """
    return translation().words.ngettext(one, many, math.ceil(count))


def translated(message: str, **values: object) -> Markup:
    """The message with numbers and links in it: as HTML, values that are not HTML escaped.

    >>> translated("{mass} more", mass="<1 g")
    Markup('&lt;1 g more')
    """
    return Markup(gettext(message)).format(**values)


def marked(message: str) -> str:
    """The message as it is, found by the collector; whoever shows it calls `gettext` with it."""
    return message


def install_gettext(environment: jinja2.Environment) -> jinja2.Environment:
    """Let templates of an environment speak: `_()` and `{% trans %}`, values escaped, messages may hold markup."""
    environment.add_extension("jinja2.ext.i18n")
    environment.install_gettext_callables(gettext, ngettext, newstyle=True)  # type: ignore[attr-defined]
    # Jinja's own look the function up and format markup anew each time; these say the same in a third of the time.
    environment.globals.update(_=_said, gettext=_said, ngettext=_counted)
    return environment


def _said(__message: str, **values: object) -> Markup:
    """The message of a template, its values escaped."""
    return Markup(gettext(__message) % {name: escape(value) for name, value in values.items()})


def _counted(__one: str, __many: str, __count: float, **values: object) -> Markup:
    """The same where the message agrees with a number."""
    values.setdefault("num", __count)
    return Markup(ngettext(__one, __many, __count) % {name: escape(value) for name, value in values.items()})
