"""Scripts say nothing of their own: what they show, the page brings, in its language."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from babel.messages.jslexer import tokenize

from guidegen.judge.builds import report

ASSETS = Path(__file__).parents[3] / "guidegen" / "site" / "web" / "assets"
SCRIPTS = sorted(path for path in ASSETS.glob("*.js") if path.name != "iframe-worker.js")

ORDER = {
    "Machine: ", "Kit: ", ", revision ", "Reference: ", "Answers:", "Outcome: ", "Not met: ", "Not known: ",
    "Remedies: ", "Provided that: ", "To order:",
}  # fmt: skip
"""The order's own words: a format that the program reads back."""
REPORT = {
    report.TITLE, report.END, *report.SECTIONS, report.NOTHING_HELPED, "Edition: ", "Case: ",
    "Finished on: ", "Carried out by: ", "Signed before power came on by: ", "May be published: ",
    *report.RESULTS.values(), *report.DOERS.values(), *report.SIGNERS.values(),
}  # fmt: skip
"""Likewise those of a build report."""

WORDS = re.compile(r"[A-Z][a-z]+[: ]|[a-z]{2,} [a-z]{2,}")


def sayings(text: str) -> set[str]:
    """Literals of a script that read like words for people: a capital letter before a space, or two words."""
    literals = (token.value[1:-1] for token in tokenize(text, jsx=False) if token.type == "string")
    return {one for one in literals if WORDS.search(one) and one != "use strict"}


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.name)
def test_a_script_has_no_words_of_its_own(path: Path) -> None:
    """Selectors, keys and names of events are no words."""
    code = {
        one for one in sayings(path.read_text(encoding="utf-8")) if re.search(r"[\[\]#>.{}=]|^md-|gg-|gs-|sc-", one)
    }
    assert sayings(path.read_text(encoding="utf-8")) - code - ORDER - REPORT == set()


def test_a_word_in_a_script_is_seen() -> None:
    """As it was before: a sentence in the script itself."""
    assert sayings('word.textContent = "Notice since this edition";') == {"Notice since this edition"}
    assert sayings('said.push(offer.stock + " in stock")') == {" in stock"}
