"""What an edition's own pages tell of its predecessor: added to the guides before they are set into the shell."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from guidegen.editions import kept
from guidegen.editions.anew import marked
from guidegen.editions.changed_pages import with_changes
from guidegen.editions.compare import compare
from guidegen.editions.edition import DRAFT, Edition
from guidegen.pages.page import Page
from guidegen.record import Assessment


def told_pages(
    root: Path, pages: Sequence[Page], records: Sequence[Assessment], edition: Edition | None, anew: bool = False
) -> tuple[Page, ...]:
    """The pages with those that tell what changed since the edition before; `edition` is None for the draft."""
    older = _before(root, edition)
    told = tuple(pages)
    if older is not None:
        facts: dict[str, Any] = {"edition": DRAFT} if edition is None else dict(edition)
        before = kept.records(root, older.edition)
        now = [one.model_dump(mode="json", by_alias=True) for one in records]
        told = with_changes(pages, records, older, before, compare(before, now), facts)
    return marked(told, edition.edition) if anew and edition else told


def _before(root: Path, edition: Edition | None) -> Edition | None:
    line = kept.line(root)
    if edition is None:
        return line[-1] if line else None
    return next((one for one in line if one.edition == edition.supersedes), None)
