"""What an order calls things: in words that people read and the program reads back, or by keys as it once did.

The words are those of the payload, so those of the edition that wrote the text. Where two things of one payload have
the same words, the key follows in brackets; `self-check-order.js` in `site/web/assets` does the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from guidegen.judge.fit.answers import NOT_SURE, PHOTO, write_answer
from guidegen.judge.fit.payload import Payload
from guidegen.judge.fit.walk import Answer

UNSURE = {NOT_SURE: "not sure", PHOTO: "not sure, see the photo"}
"""What an answer that is none is called. A format, as all of the order."""
REFERENCE = "Reference: "
BETWEEN = " / "


class InWords:
    """The lines of an order in words."""

    def __init__(self, payload: Payload) -> None:
        self._pair = payload["pair"]
        self._facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
        self.titles = told_apart(
            (one["fact"], one["title"][:1].upper() + one["title"][1:]) for one in payload["questions"]
        )
        self.choices = {
            one["fact"]: told_apart((key, says) for key, says in one["choices"]) for one in payload["questions"]
        }
        self.conditions = told_apart((one["id"], one["says"]) for one in payload["conditions"])
        self.names = told_apart((one["id"], one["name"]) for one in payload["remedies"])

    def head(self) -> list[str]:
        """Return the lines that say what was checked against what; the program reads the last."""
        pair = self._pair
        keys = (pair["variant"], pair["kit"], pair["revision"], pair["edition"], pair["rules"])
        return [
            f"Machine: {_plain(pair['variant_name'])}",
            f"Kit: {_plain(pair['kit_name'])}, revision {pair['revision']}",
            REFERENCE + BETWEEN.join(keys),
        ]

    def title(self, name: str) -> str:
        """Return what a question is about."""
        return self.titles[name]

    def answer(self, name: str, answer: Answer) -> str:
        """Return the line of one answer."""
        return f"{self.titles[name]}: {self.said(name, write_answer(self._facts[name], answer))}"

    def said(self, name: str, written: str) -> str:
        """Return an answer that is written as in a link, in words."""
        return UNSURE.get(written) or self.choices[name].get(written, written)

    def condition(self, name: str) -> str:
        """Return what a requirement wants."""
        return self.conditions[name]

    def remedies(self, names: Sequence[str]) -> str:
        """Return a set of remedies."""
        return " + ".join(self.names[name] for name in names)


class ByKeys:
    """The lines of an order as the pages of earlier editions wrote them."""

    def __init__(self, payload: Payload) -> None:
        self._pair = payload["pair"]
        self._facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}

    def head(self) -> list[str]:
        """Return the lines that say what was checked against what."""
        pair = self._pair
        return [
            f"Machine: {pair['variant']} ({pair['variant_name']})",
            f"Kit: {pair['kit']}, revision {pair['revision']} ({pair['kit_name']})",
            f"Edition: {pair['edition']}, rules {pair['rules']}",
        ]

    def title(self, name: str) -> str:
        """Return the key of what a question is about."""
        return name

    def answer(self, name: str, answer: Answer) -> str:
        """Return the line of one answer."""
        return f"{name} = {write_answer(self._facts[name], answer)}"

    def condition(self, name: str) -> str:
        """Return the key of a requirement."""
        return name

    def remedies(self, names: Sequence[str]) -> str:
        """Return a set of remedies."""
        return " + ".join(names)


def told_apart(pairs: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Return words by key; with the key in brackets where other things have the same words.

    >>> told_apart([("a", "a nut"), ("b", "a nut"), ("c", "a ring")])
    {'a': 'a nut (a)', 'b': 'a nut (b)', 'c': 'a ring'}
    """
    words = {key: _plain(text) for key, text in pairs}
    said = list(words.values())
    return {key: text if said.count(text) == 1 else f"{text} ({key})" for key, text in words.items()}


def keys_by(words: Mapping[str, str]) -> dict[str, str]:
    """Return keys by words, the longest words first, so that none is taken for another's beginning."""
    return {words[key]: key for key in sorted(words, key=lambda key: -len(words[key]))}


def sets_of(payload: Payload) -> Iterator[tuple[str, ...]]:
    """Yield every set of remedies that the rules offer after any answers."""
    for row in payload["rules"]["sufficient"]["sets"]:
        yield from (tuple(one["remedies"]) for one in row)


def _plain(text: str) -> str:
    return " ".join(text.split())
