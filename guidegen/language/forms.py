"""Sentences that name things, in a language with cases.

A catalogue has three kinds of entries for them, by gettext's contexts. `act`: the template of a sentence, which asks
for each name in a form, as `{of:acc}`. A form, as `acc`: a name as it is written in `say:`, with its article in that
form. `contraction`: a preposition and an article, and what a sentence makes of the two. The message `the` in the
context `forms` lists the forms of the language; a template's bare `{of}` asks for the first.

English has one form, which is the name. So has every sentence that nobody translated yet: it stays English whole.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import partial

from guidegen.language import gettext, translation

ACT, FORMS, CONTRACTION = "act", "forms", "contraction"
THE = "the"
"""The message that lists a language's forms, and the only form of a language that lists none."""
JOIN = "\x00"
"""Stands before a name that was put into a sentence until what meets there is contracted."""


@dataclass(frozen=True, order=True)
class MissingForm:
    """A name that the language lacks in a form that a sentence asks for."""

    name: str
    form: str

    @property
    def fix(self) -> str:
        """The lines to write into the catalogue."""
        return f'write msgctxt "{self.form}", msgid "{self.name}" and its msgstr there, with its article'


class PartOf(str):
    """The name of a thing that a kit brought, said of a machine that the kit may be on: its own name is in a form."""

    thing: str
    kit: str

    def __new__(cls, thing: str, kit: str) -> PartOf:
        """As English writes it."""
        made = super().__new__(cls, cls.said(thing, kit))
        made.thing, made.kit = thing, kit
        return made

    @staticmethod
    def said(thing: str, kit: str) -> str:
        """The thing, as it is written, with its kit."""
        return gettext("{thing} of the {kit}").format(thing=thing, kit=kit)


class Forms:
    """Names by their forms in the language in use; keeps what it lacks."""

    def __init__(self) -> None:
        """Nothing is missing yet."""
        self.missing: list[MissingForm] = []

    def __call__(self, name: str, form: str) -> str:
        """The name in this form; a name in braces, which is filled in later, asks for it then."""
        if name.startswith("{"):
            return f"{name[:-1]}:{form}}}"
        if isinstance(name, PartOf):
            return PartOf.said(self(name.thing, form), name.kit)
        found = translation().inside.get((form, name))
        if found is None:
            self.missing.append(MissingForm(name, form))
            return f"({name}: {form})"
        return found


def sentence(template: str) -> str | None:
    """The template in the language in use; None where it stays English."""
    return translation().inside.get((ACT, template))


def usual_form() -> str:
    """The form that a bare slot of a translated template asks for."""
    return (translation().inside.get((FORMS, THE), "").split() or [THE])[0]


def contracted(text: str) -> str:
    """The text with preposition and article as one word wherever a name was joined, by the table of the language."""
    if JOIN not in text:
        return text
    for (context, pair), short in translation().inside.items():
        if context == CONTRACTION:
            preposition, _, article = map(re.escape, pair.partition(" "))
            end = "" if article.endswith(("'", "’")) else r"(?!\w)"
            text = re.sub(rf"(?<!\w){preposition} {JOIN}{article}{end}", partial(_contraction, short), text, flags=re.I)
    return text.replace(JOIN, "")


def _contraction(short: str, found: re.Match[str]) -> str:
    """As the sentence writes it: with a capital where the preposition has one."""
    return short[:1].upper() + short[1:] if found[0][0].isupper() else short
