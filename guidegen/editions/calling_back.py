"""Calling a guide back: whoever bought by it found, then noted, whatever else is broken, then shown.

It needs nothing that can be read but what `content/editions` and `units/` keep. What cannot be brought up to date is
said at the end, and the next command does it.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from guidegen.editions import around, days, history, kept, place, units_sold, withdrawals
from guidegen.editions.edition import Edition
from guidegen.problems import CatalogueError, EnvironmentProblem, FaultsFound, RefusedProblem, UsageProblem, nearest
from guidegen.reading import bytes_of
from guidegen.writing import write_private

TO_WRITE = "to-write.txt"
"""In `units/`: whose owners must be written to, a line for each; serial numbers are as private as the rest there."""


def withdraw(root: Path, edition: str, guide: str | None, because: str, date: datetime.date | None) -> str:
    """Call a guide of an edition back, or all of its guides; returns what was done and whom to write to.

    Raises FaultsFound, with the same and what is left to do, where it is noted but could not be shown everywhere.
    """
    with units_sold.held(root):
        facts = _facts(root, edition)
        day = days.refuse_future(date, "the day of the withdrawal") if date else _day(root)
        new = withdrawals.wanted(root, facts, guide, day, because)
        # Before it counts: whoever was killed behind that would be told by the next run that nothing is left to do.
        owners: list[str] = []

        def find() -> None:
            for row in _owners(root, edition, new):
                owners.append(row)

        left = [*_trying(find)]
        withdrawals.note(root, new)
        left += [*_trying(lambda: around.stop(root, facts)), *_trying(lambda: around.refresh(root))]
        rows = [*_said(root, edition, new, owners)] if new else ["it was withdrawn before; nothing changed"]
    if left:
        rows += ["it is noted, and not shown everywhere yet; correct this, then deliver:", *dict.fromkeys(left)]
        raise FaultsFound("\n".join(rows))
    return "\n".join(rows)


def _trying(act: Callable[[], None]) -> Iterator[str]:
    """Do it; yields what kept it from being done."""
    try:
        act()
    except (CatalogueError, EnvironmentProblem, RefusedProblem, OSError) as error:
        yield f"  {error}"


def _day(root: Path) -> datetime.date:
    """The last commit's day; today where there is no history or a day to come: a withdrawal waits for nothing."""
    try:
        day = history.last_commit_date(root)
    except EnvironmentProblem:
        return datetime.date.today()
    return day if day <= days.latest() else datetime.date.today()


def _facts(root: Path, name: str) -> Edition:
    """The facts of one edition: as kept, or as they lie in the site; no other edition has to be readable."""
    broken: EnvironmentProblem | None = None
    for folder in (kept.folder_of(root, name), place.site_of(root) / name):
        try:
            if (folder / "edition.json").is_file():
                return place.edition_at(folder)
        except EnvironmentProblem as error:
            broken = broken or error
    if broken:
        raise broken
    near = nearest(name, kept.names(root))
    hint = f"did you mean {near}?" if near else f"the editions: {', '.join(kept.names(root)) or 'none yet'}"
    raise UsageProblem(f"there is no edition {name}; {hint}")


def _said(root: Path, edition: str, new: Sequence[withdrawals.Withdrawal], owners: Iterable[str]) -> Iterator[str]:
    yield f"withdrawn from edition {edition}:"
    yield from (f"  {one.guide}" for one in new)
    yield from _elsewhere(root, new)
    yield from owners
    path = withdrawals.path_of(root).relative_to(root).as_posix()
    yield (
        f"now commit it and deliver: git add {path} && git commit -m 'Withdraw guides of {edition}' -- {path} && "
        "guidegen deliver"
    )


def _elsewhere(root: Path, new: Iterable[withdrawals.Withdrawal]) -> Iterator[str]:
    """Guides of other editions, not withdrawn there, for the same variant and kit as those now withdrawn."""
    gone = {(one.edition, one.guide) for one in withdrawals.read(root)}
    guides = dict.fromkeys(one.guide for one in new)
    found, unread = [], []
    for name in kept.names(root):
        try:
            have = place.edition_at(kept.folder_of(root, name)).guides
        except EnvironmentProblem:
            unread.append(f"  {name}: its facts cannot be read")
            continue
        there = [guide for guide in guides if guide in have and (name, guide) not in gone]
        if there:
            found.append(f"  {name}: {', '.join(there)}")
    if found or unread:
        yield "these editions have such a guide too; look whether it has the same fault:"
        yield from (*found, *unread)


def _owners(root: Path, edition: str, new: Sequence[withdrawals.Withdrawal]) -> Iterator[str]:
    """The serial numbers of all who fitted by such a guide, of whatever edition; they are kept in `units/`."""
    reasons = {one.guide: one for one in new}
    of_this: list[str] = []
    of_others: list[str] = []
    letters, unread = [], []
    for path in units_sold.paths(root):
        try:
            unit = units_sold.read_one(path)
        except (EnvironmentProblem, UsageProblem):
            unread.append(path.relative_to(root).as_posix())
            continue
        one = reasons.get(unit.guide)
        if one is None:
            continue
        (of_this if unit.edition == edition else of_others).append(unit.serial)
        what = "" if unit.edition == edition else f", and edition {unit.edition} has such a guide"
        letters.append(
            f"{one.date}  {unit.serial}  {unit.guide}, edition {unit.edition}: withdrawn from {edition}{what}: "
            f"{' '.join(one.because.split())}\n"
        )
    if of_this:
        yield f"write to the owners of: {', '.join(of_this)}"
    if of_others:
        yield f"and, because other editions have such a guide, to those of: {', '.join(of_others)}"
    if letters:
        yield f"they are kept in {_keep(root, letters).relative_to(root).as_posix()}"
    if unread:
        yield f"these units cannot be read; look whether they are concerned: {', '.join(unread)}"


def _keep(root: Path, letters: Iterable[str]) -> Path:
    """Add what is not there yet to the list of owners to write to; what was ticked off or deleted stays so."""
    path = root / units_sold.FOLDER / TO_WRITE
    before = bytes_of(path).decode(errors="replace") if path.is_file() else ""
    more = "".join(line for line in letters if line not in before)
    if more:
        write_private(path, (before + more).encode())
    return path
