"""An edition whose pages were lost, made anew from its snapshot: marked, and never listed as the original."""

from __future__ import annotations

import re
from pathlib import Path

from markupsafe import escape

from guidegen.editions import around, kept, place
from guidegen.editions.edition import ANEW, FILE, SUMS, Edition
from guidegen.editions.publishing import Files, Render
from guidegen.language import gettext, marked
from guidegen.problems import RefusedProblem, UsageProblem
from guidegen.writing import write_atomically

MARK = marked(
    "Edition {edition}, made again from its own data. Every figure, step and limit in its guides is that edition's; "
    "the layout and the general pages are today's."
)
"""On each of its pages: calm, since nothing is wrong with what it says, and plain, since its bytes are other ones."""
_MAIN = re.compile(rb"<main\b[^>]*>")


def missing(root: Path) -> tuple[str, ...]:
    """The editions of which neither the pages nor pages made anew are here, oldest first."""
    there = around.here(root)
    return tuple(one.edition for one in kept.line(root) if one.edition not in there)


def folder_of(name: str) -> str:
    """The folder of the site in which the pages of an edition lie that were made anew."""
    return name + ANEW


def make(root: Path, name: str, render: Render) -> Path:
    """Make the pages of an edition anew. The caller holds the workshop's lock."""
    around.refresh(root)
    line = {one.edition: one for one in kept.line(root)}
    if name not in line:
        raise UsageProblem(f"there is no edition {name}; the editions: {', '.join(line) or 'none'}")
    site, folder = place.site_of(root), folder_of(name)
    if name in place.published(site):
        raise RefusedProblem(f"edition {name} is here as it was published; nothing needs to be made anew")
    if folder in around.here(root).values():
        raise RefusedProblem(f"the pages of {name} were made anew already; delete site/{folder} to do it again")
    records = kept.assessments(root, name)
    edition: Edition = line[name]
    files = {**with_mark(render(records, edition), name), FILE: edition.to_bytes()}
    snapshot = kept.snapshot_files(kept.folder_of(root, name))
    files |= {kept.SNAPSHOT + path: data for path, data in snapshot.items()}
    write_atomically(kept.path_of_seal_anew(root, folder), f"{place.digest(place.sums_of(files))}  {SUMS}\n".encode())
    place.commit(site, folder, files, around.versions(root, [folder]))
    around.refresh(root)
    return site / folder


def with_mark(files: Files, name: str) -> dict[str, bytes]:
    """The files with the mark as the first thing in the main part of every page, hand-written ones too."""
    words = escape(gettext(MARK).format(edition=name))
    text = f'<p class="gg-anew" role="note">{words}</p>\n'.encode()
    found = {path: _MAIN.sub(lambda tag: tag[0] + text, data, count=1) for path, data in files.items()
             if path.endswith(".html")}  # fmt: skip
    bare = [path for path, data in found.items() if text not in data]
    if bare:
        raise ValueError(f"no main part to mark in {bare[0]}")
    return {**files, **found}
