"""What an edition's own pages tell of its predecessor: added to the guides before they are set into the shell."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from guidegen.editions import kept
from guidegen.editions.changed_pages import with_changes
from guidegen.editions.compare import compare
from guidegen.editions.edition import DRAFT, Edition
from guidegen.pages.page import Page
from guidegen.record import Assessment


def told_pages(
    root: Path, pages: Sequence[Page], records: Sequence[Assessment], edition: Edition | None
) -> tuple[Page, ...]:
    """The pages with those that tell what changed since the edition before; `edition` is None for the draft."""
    older = _before(root, edition)
    if older is None:
        return tuple(pages)
    facts: dict[str, Any] = {"edition": DRAFT} if edition is None else dict(edition)
    before = kept.records(root, older.edition)
    now = [one.model_dump(mode="json", by_alias=True) for one in records]
    return with_changes(pages, records, older, before, compare(before, now), facts)


def _before(root: Path, edition: Edition | None) -> Edition | None:
    line = kept.line(root)
    if edition is None:
        return line[-1] if line else None
    return next((one for one in line if one.edition == edition.supersedes), None)
