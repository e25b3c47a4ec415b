"""An edition whose pages were lost, made anew from its snapshot: marked, and never listed as the original."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from guidegen.editions import around, kept, place
from guidegen.editions.edition import ANEW, FILE, Edition
from guidegen.editions.publishing import Refused, Render
from guidegen.pages.page import Page
from guidegen.record import Assessment

MARK = (
    '<p class="gg-invented">The pages of edition {} were lost. This page was made anew from the edition\'s snapshot; '
    "it is not the original.</p>\n"
)


def missing(root: Path) -> tuple[str, ...]:
    """The editions of which neither the pages nor pages made anew are here, oldest first."""
    there = around.here(root)
    return tuple(one.edition for one in kept.line(root) if one.edition not in there)


def make(root: Path, name: str, render: Render) -> Path:
    """Make the pages of an edition anew. The caller holds the workshop's lock."""
    around.refresh(root)
    line = {one.edition: one for one in kept.line(root)}
    if name not in line:
        raise Refused(f"there is no edition {name}; the editions: {', '.join(line) or 'none'}")
    site, folder = place.site_of(root), name + ANEW
    if name in place.published(site):
        raise Refused(f"edition {name} is here as it was published; nothing needs to be made anew")
    if folder in around.here(root).values():
        raise Refused(f"the pages of {name} were made anew already; delete site/{folder} to do it again")
    try:
        records = [Assessment.model_validate(one) for one in kept.records(root, name)]
    except ValueError as error:
        raise Refused(f"the snapshot of {name} holds records of another form than this guidegen writes") from error
    edition: Edition = line[name]
    files: Mapping[str, bytes] = {**render(records, edition), FILE: edition.to_bytes()}
    place.commit(site, folder, files, around.versions(root, [folder]))
    around.refresh(root)
    return site / folder


def marked(pages: Sequence[Page], name: str) -> tuple[Page, ...]:
    """The pages with the mark before their own text."""
    return tuple(replace(page, body=MARK.format(name) + page.body) for page in pages)
