"""The closed words of the YAML: pages print words for them, never the code."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from guidegen.language.choices import CHOICES, choice
from guidegen.trade.paths import known_facts

GRADES = re.compile(r"A[24]-[0-9]+|[0-9.]+")
"""Strength classes of screws, which are words of the trade."""


def words() -> Iterator[tuple[str, str]]:
    """Every word that a fact of a machine can have, by the fact."""
    for name, kind in known_facts().items():
        yield from ((name, word) for word in kind.words)


@pytest.mark.parametrize(("fact", "word"), [one for one in words() if not GRADES.fullmatch(one[1])])
def test_a_fact_is_printed_in_words(fact: str, word: str) -> None:
    """Each has its words here; a hyphen joins words in none of them but those that are written so."""
    if word in ("yes", "no"):
        return
    assert word in CHOICES, fact
    assert "-" not in choice(word) or choice(word) in ("hard-wired", "half-hard")
    assert "_" not in choice(word)
