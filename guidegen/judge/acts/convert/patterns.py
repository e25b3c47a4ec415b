"""A row's template read backwards: from a sentence to what stands in the template's slots.

Articles, commas and capitals do not count; "the coil's inlet" is the same as "the inlet of the coil".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import product

_SLOT = re.compile(r"\{(of|at|to|with|amount|limit)\}")
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")
_WORD = re.compile(r"\{[^}]*\}|[^\s,.;]+")
_TOKEN = re.compile(r"\{[^}]*\}|[^\s,.;]+|,")
_GAP = "(?: ,)? "
_OWNER = re.compile(r"\b(the )?([a-z-]+)'s ")
_UNHEARD = ("the", "a", "an", "of", "its", "again")
"""Words that make no other thing of what they stand beside."""
Slots = Mapping[str, str]


def words(text: str) -> frozenset[str]:
    """The words of a name that tell it from others.

    >>> sorted(words("the nut at the coil's inlet")), sorted(words("The {item.name}"))
    (['at', 'coil', 'inlet', 'nut'], ['{item.name}'])
    """
    found = (one.removesuffix("'s") for one in _WORD.findall(text[:1].lower() + text[1:]))
    return frozenset(one for one in found if one not in _UNHEARD)


def slots_in(sentence: str, template: str) -> Iterator[Slots]:
    """What each slot of a template holds where the sentence is one of its; once for each way to read it.

    >>> list(slots_in("Take every plug out of the boiler's ports.", "Take every plug out of the ports of {of}."))
    [{'of': 'boiler'}]
    """
    found = []
    for said, wanted in product(_phrasings(sentence), _choices(template)):
        match = _pattern(wanted).fullmatch(" ".join(_tokens(said)))
        if match and (slots := {name: one.strip(" ,") for name, one in match.groupdict().items()}) not in found:
            found.append(slots)
            yield slots


def literal(template: str) -> int:
    """How many words of a template are its own.

    >>> literal("Undo {of}[ at {at}].")
    1
    """
    return len(_WORD.findall(_SLOT.sub("", _OPTIONAL.sub("", template))))


def _tokens(text: str) -> list[str]:
    found = _TOKEN.findall(text[:1].lower() + text[1:])
    return [one for one in found if one not in ("the", "a", "an", "again")]


def _phrasings(sentence: str) -> Iterator[str]:
    """The sentence, and with each owner behind what is owned: one, two or three words of it."""
    yield sentence
    for owner in _OWNER.finditer(sentence):
        before, after = sentence[: owner.start()], sentence[owner.end() :].split(" ")
        for count in range(1, min(3, len(after)) + 1):
            last = after[count - 1].rstrip(".,")
            end = after[count - 1][len(last) :]
            owned = " ".join([*after[: count - 1], last])
            yield " ".join([f"{before}the {owned} of the {owner[2]}{end}", *after[count:]])


@cache
def _choices(template: str) -> tuple[str, ...]:
    """The template without what stands in brackets, and with it."""
    without, with_ = _OPTIONAL.sub("", template), _OPTIONAL.sub(r"\1", template)
    return (without, with_) if with_ != without else (template,)


@cache
def _pattern(template: str) -> re.Pattern[str]:
    made = []
    for token in _tokens(_SLOT.sub(lambda slot: f" {slot[0]} ", template)):
        if token != ",":
            slot = _SLOT.fullmatch(token)
            made.append(f"(?P<{slot[1]}>.+?)" if slot else re.escape(token))
    return re.compile(_GAP.join(made))
