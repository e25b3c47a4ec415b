"""Links from a page to the sheets of its pair."""

from __future__ import annotations

from guidegen.language import gettext, marked
from guidegen.record import Assessment
from guidegen.site.pages.page import rel
from guidegen.site.pages.paper.sheets import KINDS, published

PAPER_NAMES = {"a4": marked("A4"), "letter": marked("Letter")}


def links_to(record: Assessment, page: str, back: bool) -> list[tuple[str, list[tuple[str, str]], str]]:
    """What each sheet is called, with its links by paper, as seen from a page, and the id of its case.

    Those of the way back, or the others.
    """
    found: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for one in published(record):
        if KINDS[one.kind].back == back:
            papers = found.setdefault((one.title, one.case.id), [])
            papers.append((gettext(PAPER_NAMES[one.paper]), rel(page, one.path)))
    return [(title, papers, case) for (title, case), papers in found.items()]
