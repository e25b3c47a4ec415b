"""What customers ask about a guide, on one page: the topics of `guidegen answer`, with the same words and figures."""

from __future__ import annotations

from typing import Any

from guidegen.record import Assessment
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import rel
from guidegen.site.pages.replies import answered, asked_about, honest
from guidegen.site.pages.site import Site
from guidegen.site.pages.topics import question

PREFIX = "ask-"
"""Begins the ids of the questions."""


def questions_values(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the template of the questions needs beyond the record."""
    found = {name: answered(record, name) for name in asked_about(record)}
    return {
        "questions": [
            {
                "id": f"{PREFIX}{name}",
                "asks": question(record, name),
                "lines": one.lines,
                "more": rel(path, one.path),
            }
            for name, one in found.items()
            if one.lines
        ],
        "honest": tuple(honest(record, any(one.numbers for one in found.values()))),
    }
