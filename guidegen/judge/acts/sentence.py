"""From a row's template and the names of things to a sentence.

A template asks for a thing as `{of}`, and in a language with cases as `{of:acc}`: the translator stores each name in
the forms that the language lists, article and all, and the program joins nothing but whole names
(`guidegen.language.forms`). What stands in square brackets is left out where the act names no such thing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from guidegen.language import gettext
from guidegen.language.forms import JOIN, contracted, sentence, usual_form

_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")
_SLOT = re.compile(r"\{(of|at|to|with|amount|limit)(?:\.([a-z_]+)|:([a-z]+))?\}")
_START = re.compile(r"(?:^|(?<=[.:] ))\{(?:of|at|to|with)(?::[a-z]+)?\}")
_NAMES = re.compile(r"\{([a-z0-9_.-]+\.say|work\.joints|work\.earth)\}")
"""Facts that are names with their article; in a translated template each asks for a form, as a slot does."""

_LATER = re.compile(r"\.say(?=[:}])")

Form = Callable[[str, str], str]
"""A name as it is written in a sentence, and the form that is asked for, to that form."""


def as_written(name: str, form: str) -> str:
    """English, and every template that stays so: each form of a name is the name."""
    return name


@dataclass(frozen=True)
class SentenceWords:
    """What fills the slots of a row's templates: names of things by slot, numbers, and the facts of the things.

    `own` are the slots that the act itself fills: brackets stay for those alone. `facts` is the name under which
    what is known of the first thing of a slot is asked for.
    """

    names: Mapping[str, Sequence[str]]
    plain: Mapping[str, str] = field(default_factory=dict)
    facts: Mapping[str, str] = field(default_factory=dict)
    own: frozenset[str] = frozenset()
    form: Form = as_written

    def fill(self, template: str) -> str:
        """The template in the language in use, its slots filled; braces that name facts stay for whoever knows them.

        >>> words = SentenceWords({"of": ["the feed hose"], "at": ["the inlet"]}, own=frozenset({"of", "at"}))
        >>> words.fill("Undo {of}[ at {at}].")
        'Undo the feed hose at the inlet.'
        """
        said = sentence(template)
        form = as_written if said is None else self.form
        chosen = _OPTIONAL.sub(self._kept, said or template)
        if said is not None:
            chosen = _NAMES.sub(rf"{{\1:{usual_form()}}}", chosen)
        starts = {match.start() for match in _START.finditer(chosen)}
        return contracted(_SLOT.sub(lambda match: self._filled(match, match.start() in starts, form), chosen))

    def _kept(self, match: re.Match[str]) -> str:
        asked = {found[0] for found in _SLOT.findall(match[1])}
        return match[1] if asked <= self.own else ""

    def _filled(self, match: re.Match[str], starts: bool, of: Form) -> str:
        slot, fact, form = match.groups()
        if fact:
            return f"{{{self.facts.get(slot, slot)}.{fact}}}"
        if slot in self.plain:
            return self.plain[slot]
        text = listed([of(name, form or usual_form()) for name in self.names.get(slot, ())])
        return JOIN + (started(text) if starts else text)


def started(text: str) -> str:
    """The text with a capital; words that are filled in later ask for theirs.

    >>> started("the feed hose"), started("{item.say}")
    ('The feed hose', '{item.say-start}')
    """
    return _LATER.sub(".say-start", text, count=1) if text.startswith("{") else text[:1].upper() + text[1:]


def listed(names: Sequence[str]) -> str:
    """Names as a sentence lists them.

    >>> listed(["the boss"]), listed(["the boss", "the web", "the ear"])
    ('the boss', 'the boss, the web and the ear')
    """
    return gettext(" and ").join(filter(None, (", ".join(names[:-1]), names[-1] if names else "")))
