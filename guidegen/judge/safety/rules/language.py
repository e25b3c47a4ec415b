"""Language: one action, at most twenty words, the glossary's names."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.rules.base import Found, Rule, at_step, printed_steps
from guidegen.judge.safety.verbs import IMPERATIVES, is_imperative

MOST_WORDS = 20
_TOLERANCE = re.compile(r"[0-9]\S* [^\s0-9]\S* ± [0-9]\S* [^\s0-9]\S*")
"""A number with its unit and tolerance, which is one word."""
_SECOND = re.compile(r"(?:;|,?\s+(?:and then|then|and))\s+([a-z]+)\b")


def plain(guide: Guide) -> Iterator[Found]:
    """LNG01."""
    for step in printed_steps(guide):
        text = step.step.do
        words = _TOLERANCE.sub("number", text).split()
        if len(words) > MOST_WORDS:
            yield at_step(step, f"{len(words)} words in one imperative, at most {MOST_WORDS}", "do")
        if not is_imperative(text):
            yield at_step(step, f"does not start with an imperative: {words[0]}", "do")
        second = next((match for match in _SECOND.finditer(text) if match.group(1) in IMPERATIVES), None)
        if second or re.search(r"[.!?]\s+\S", text):
            yield at_step(step, "more than one action", "do")
        for avoided, wanted in guide.avoided_words.items():
            if re.search(rf"\b{re.escape(avoided)}\b", text, re.IGNORECASE):
                yield at_step(step, f"says `{avoided}`; the glossary says `{wanted}`", "do")


RULES = (
    Rule("LNG01", "warning", "One action, at most twenty words, the names of the glossary.",
         "split or shorten the step, and call things as the glossary does", plain, editorial=True),
)  # fmt: skip
