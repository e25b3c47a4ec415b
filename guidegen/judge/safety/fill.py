"""Fill the braces of a step: `{boiler.bolts.torque}` becomes the machine's value, with its evidence."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from pydantic import BaseModel

from guidegen.judge.acts.sentence import listed, started
from guidegen.judge.safety.facts import Facts, Gap, Value
from guidegen.judge.safety.model import Authored, FilledText, Number
from guidegen.language import gettext
from guidegen.language.forms import JOIN, Forms, MissingForm, contracted
from guidegen.workshop.base import FINGERPRINT_DIGITS
from guidegen.workshop.steps import StatedNumber
from guidegen.workshop.texts import WithTexts

BRACES = re.compile(r"\{([a-z0-9_.-]+)(?::([a-z]+))?\}")
"""A fact by its name; behind a colon, where the fact is a name, the form in which a language with cases wants it."""
_ITEM = re.compile(r"\{item\.[a-z0-9_.-]+\}")

#: facts that are the program's own words for how the mains is kept off, and what they follow from
PROGRAMS_WORDS, CONNECTION = "work.", "mains.connection"

#: facts that are names, whatever digits they hold
_NAMES = (".name", ".id", ".revision", ".say", ".say-start")

#: fields of a stated number: its evidence and source follow what fills them
_NUMBERS = frozenset({"is_", "at_most", "at_least", "within"})
#: these hold conditions and state, not text for the reader
_KEPT = frozenset({"when", "requires_", "sets_", "id"})


@cache
def _fields(model: type[BaseModel]) -> tuple[str, ...]:
    return tuple(name for name in model.model_fields if name not in _KEPT)


def texts_in(value: Any) -> Iterator[str]:
    """Yield every text that a field holds."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from texts_in(one)
    elif isinstance(value, BaseModel):
        for name in _fields(type(value)):
            yield from texts_in(getattr(value, name))


class Filler:
    """Fills texts, and keeps which numbers it printed and which it could not find."""

    def __init__(self, facts: Facts, values: Mapping[str, StatedNumber], given: Mapping[str, str]) -> None:
        """Look names up first in `given`, then in the procedure's values, then in the facts."""
        self._facts, self._values, self._given = facts, values, given
        self.numbers: dict[str, Number] = {}
        self.missing: list[str] = []
        self.gaps: list[tuple[str, Gap]] = []
        self.forms = Forms()
        self.took: dict[str, str] = {}
        """What an include gave, as it was written there."""
        self.stated: dict[str, str] = {}
        """What it filled in that somebody stated; what was calculated has its cause in the computation."""

    def authored(self, fingerprint: str) -> Authored:
        """Return what a step was made from: its YAML with the texts an include gave, and the stated values in it."""
        texts = (fingerprint + repr(sorted(self.took.items())), repr(sorted(self.stated.items())))
        source, filled = (hashlib.sha256(text.encode()).hexdigest()[:FINGERPRINT_DIGITS] for text in texts)
        return Authored(source, filled)

    def text(self, text: str) -> str:
        """Return the text with its braces filled."""
        return contracted(BRACES.sub(self._found, text)) if "{" in text else text

    @property
    def formless(self) -> list[MissingForm]:
        """Names that the language lacks in a form that a text asks for."""
        return self.forms.missing

    def texts(self, *documents: WithTexts) -> Iterator[FilledText]:
        """Every text of documents, filled; whatever a repeated step is about is called the device."""
        for document in documents:
            for one in document.texts:
                filled = self.text(_ITEM.sub("the device", one.words))
                yield FilledText(one, filled, document.places[one.loc])

    def model(self, model: BaseModel) -> BaseModel:
        """Return the model with every text in it filled; evidence and source follow the first number."""
        changes: dict[str, Any] = {}
        for name in _fields(type(model)):
            old = getattr(model, name)
            if not old:
                continue
            new = self.any(old)
            if new is not old:
                changes[name] = new
                if isinstance(old, str) and name in _NUMBERS:
                    origin = self._origin(old)
                    changes |= {"evidence": origin.evidence, "source": origin.source} if origin else {}
        return model.model_copy(update=changes) if changes else model

    def any(self, value: Any) -> Any:
        """Fill whatever a field holds."""
        if isinstance(value, str):
            return self.text(value) if "{" in value else value
        if isinstance(value, BaseModel):
            return self.model(value)
        if isinstance(value, tuple) and value:
            filled = tuple(self.any(one) for one in value)
            return filled if any(new is not old for new, old in zip(filled, value, strict=True)) else value
        return value

    def _origin(self, text: str) -> Number | None:
        match = BRACES.search(text)
        return self.numbers.get(match.group(1)) if match else None

    def _found(self, match: re.Match[str]) -> str:
        name, form = match.groups()
        plain = name.removesuffix("-start")
        if form and (value := self._facts.get(plain)).value is not None:
            self.stated[plain] = value.text
            text = listed([self.forms(one, form) for one in value.names or (value.text,)])
            return JOIN + (text if plain == name else started(text))
        if name in self._given:
            self.took[name] = self._given[name]
            return self.text(self._given[name])
        if name in self._values:
            stated = self._values[name]
            self.stated[name] = stated.is_
            if "{" in stated.is_:
                filled = self.text(stated.is_)
                origin = self._origin(stated.is_)
                self.numbers[name] = replace(origin or Number("", "", stated.evidence, stated.source),
                                             name=name, text=filled)  # fmt: skip
                return filled
            self.numbers[name] = Number(name, stated.is_, stated.evidence, stated.source)
            return stated.is_
        return self._fact(name, self._facts.get(name))

    def _fact(self, name: str, value: Value) -> str:
        if value.value is None and not value.options:
            self.missing.append(name)
            self.gaps += [(name, one) for one in value.gaps]
            what = value.gaps[0].title if value.gaps else name
            return gettext("({what}: not known)").format(what=what)
        text = " or ".join(value.options) if value.options else value.text
        if name.startswith(PROGRAMS_WORDS):
            self.stated[CONNECTION] = self._facts.get(CONNECTION).text
            return self.text(text)
        if value.evidence != "calculated":
            self.stated[name] = text
        if re.search("[0-9]", text) and not name.endswith(_NAMES):
            self.numbers[name] = Number(name, text, value.evidence, value.source, value.place)
        return text
