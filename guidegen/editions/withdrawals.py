"""Withdrawals: which guides of which editions must not be used any more, since when, and why.

They are kept beside the editions, in the workshop's history, because they come after an edition and outlive it.
"""

from __future__ import annotations

import datetime
import posixpath
from collections.abc import Iterable
from pathlib import Path

from pydantic import Field

from guidegen.editions import kept, lines
from guidegen.editions.edition import Closed, Edition
from guidegen.problems import UsageProblem, nearest
from guidegen.writing import clear_unfinished, write_atomically

FILE = "withdrawn.json"


class Withdrawal(Closed):
    """One guide of one edition that was called back."""

    edition: str
    guide: str
    date: datetime.date
    because: str = Field(min_length=1)


class Withdrawals(Closed):
    """`content/editions/withdrawn.json`."""

    format: int = 1
    withdrawn: tuple[Withdrawal, ...] = ()


def path_of(root: Path) -> Path:
    """Where they are kept."""
    return root / kept.FOLDER / FILE


def read(root: Path) -> tuple[Withdrawal, ...]:
    """All withdrawals, in the order in which they were made."""
    try:
        return lines.validated(Withdrawals, path_of(root)).withdrawn
    except FileNotFoundError:
        return ()


def wanted(
    root: Path, edition: Edition, guide: str | None, date: datetime.date, because: str
) -> tuple[Withdrawal, ...]:
    """What is to be noted where a guide of an edition, or all of its guides, are withdrawn: those that are not yet."""
    if guide is not None and guide not in edition.guides:
        near = nearest(guide, edition.guides)
        raise UsageProblem(
            f"edition {edition.edition} has no guide {guide}" + (f"; did you mean {near}?" if near else "")
        )
    already = {one.guide for one in read(root) if one.edition == edition.edition}
    return tuple(
        Withdrawal(edition=edition.edition, guide=name, date=date, because=because)
        for name in ([guide] if guide else sorted(edition.guides))
        if name not in already
    )


def note(root: Path, new: Iterable[Withdrawal]) -> None:
    """Note withdrawals, in one step: from then on they count."""
    clear_unfinished([path_of(root).parent])
    if new := tuple(new):
        held = Withdrawals(withdrawn=(*read(root), *new))
        write_atomically(path_of(root), lines.dumps(held.model_dump(mode="json")).encode())


def of_edition(every: Iterable[Withdrawal], edition: str) -> dict[str, Withdrawal]:
    """The withdrawn guides of one edition."""
    return {one.guide: one for one in every if one.edition == edition}


def concerned(path: str, withdrawn: Iterable[str]) -> str | None:
    """The withdrawn guide that a file of an edition instructs by, or None.

    Records as JSON and CSV stay: they hold numbers, nobody works by them.

    >>> concerned("guides/tamsin-mk2/feed-preheater/install.html", ["tamsin-mk2/feed-preheater"])
    'tamsin-mk2/feed-preheater'
    >>> concerned("sheets/tamsin-mk2/feed-preheater.pdf", ["tamsin-mk2/feed-preheater"])
    'tamsin-mk2/feed-preheater'
    >>> concerned("guides/tamsin-mk2/banjo-feed/with-feed-preheater.html", ["tamsin-mk2/feed-preheater"])
    'tamsin-mk2/feed-preheater'
    >>> concerned("guides/tamsin-mk2/index.html", ["tamsin-mk2/feed-preheater"])
    """
    if not path.endswith((".html", ".pdf")):
        return None
    for guide in withdrawn:
        parts = posixpath.splitext(path)[0].split("/")
        variant, kit = guide.split("/")
        both = variant in parts and parts[-1] == f"with-{kit}"
        if both or any(parts[index : index + 2] == [variant, kit] for index in range(len(parts) - 1)):
            return guide
    return None
