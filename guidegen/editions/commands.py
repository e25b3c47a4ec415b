"""What the commands about editions do, but for those that build pages. All read and write below the workshop's root."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Collection, Iterator, Sequence
from pathlib import Path

from guidegen.editions import (
    around,
    by_program,
    deliver,
    kept,
    letters,
    place,
    snapshot,
    told,
    units_sold,
    verify,
    withdrawals,
)
from guidegen.editions.about import contact_of, in_language_of, name_of
from guidegen.editions.calling_back import withdraw as withdraw
from guidegen.editions.change import GuideChanges
from guidegen.editions.compare import compare
from guidegen.editions.edition import DRAFT, Edition
from guidegen.problems import EnvironmentProblem, UsageProblem, nearest
from guidegen.site.engine.settings import read_settings
from guidegen.writing import lock, lock_to_look

Today = Callable[[], Sequence[snapshot.Data]]
"""Computes what the workshop says today: records as plain data."""


def changes(root: Path, older: str | None, newer: str | None, today: Today) -> Iterator[str]:
    """What changed between two editions: by default between the two newest.

    The newest edition, or the only one, is compared with what the workshop says `today`, whose name is `next`.
    """
    line = kept.line(root)
    if not line:
        raise UsageProblem("there is no edition to compare with yet")
    older, newer = _two(line, older, newer)
    yield f"from {older} to {'what the workshop says today' if newer == DRAFT else newer}"
    compared = around.compared(root, older, newer) if newer != DRAFT else compare(kept.records(root, older), today())
    if any("unclear" in change.causes for one in compared for change in one.own):
        yield f"{older} did not keep what its words were made from: without a cause, a change counts as its authors'"
    for _, heading, listed in told.headed(compared):
        yield f"\n{heading.lower()}"
        yield from (f"  {_line(one, compared)}" for one in listed)
    yield from by_program.lines(compared)
    alone = sum(not one.own and bool(one.changes) for one in compared)
    if alone:
        yield f"\nby the program alone: {alone} guides"
    same = sum(not one.changes for one in compared)
    yield f"{same} of {len(compared)} guides did not change"


def _two(line: tuple[Edition, ...], older: str | None, newer: str | None) -> tuple[str, str]:
    """The two to compare, the older first."""
    names = [one.edition for one in line]
    if older is None:
        newer = names[-1] if len(names) > 1 else DRAFT
        older = names[-2] if len(names) > 1 else names[-1]
    elif newer is None:
        newer = DRAFT if older == names[-1] else names[-1]
    for name in (older, newer):
        if name != DRAFT:
            _known(line, name)
    if older in (newer, DRAFT):
        raise UsageProblem(f"{older} and {newer} cannot be compared; the older one comes first")
    return older, newer


def _line(one: told.Told, every: Sequence[GuideChanges]) -> str:
    why = f"  ({one.why})" if one.why else ""
    must = f"  [{one.notifiable}]" if one.notifiable else ""
    return f"{one.words}{why}{must}: {told.where(one.guides, every)}"


def check_editions(root: Path) -> tuple[tuple[verify.Fault, ...], str]:
    """Every fault of the editions here, and a closing line."""
    with lock_to_look(root):
        faults = verify.verify(root)
        try:
            names: Collection[str] = around.here(root)
        except EnvironmentProblem:
            names = ()
    absent = [name for name in kept.names(root) if name not in names]
    words = f"{len(names)} editions, {len(faults)} faults"
    if absent:
        words += f"; not here: {', '.join(absent)} (bring them back with `guidegen recover`)"
    return faults, words


def recover(root: Path, branch: str, folder: Path | None) -> str:
    """Bring all editions back."""
    with lock(root):
        done = deliver.recover(root, branch, folder)
    if not done.editions:
        return "every edition is here and whole; nothing was brought back"
    return f"brought back and verified: {', '.join(done.editions)}, {done.files} files"


def deliver_to(root: Path, branch: str, folder: Path | None) -> str:
    """Bring the public site to a branch or a plain folder."""
    with lock(root):
        done = deliver.to_folder(root, folder) if folder is not None else deliver.to_branch(root, branch)
    where = folder.as_posix() if folder is not None else f"the branch {branch}; push it: git push origin {branch}"
    return f"{len(done.editions)} editions, {done.files} files, in {where}"


def add_unit(root: Path, unit: units_sold.Unit) -> str:
    """Keep a unit that was sold."""
    with units_sold.held(root):
        path = units_sold.add(root, unit, kept.line(root))
    return f"kept in {path.as_posix()}; this folder is yours alone to back up"


def label_unit(root: Path, serial: str) -> str:
    """Write a unit's label and packing slip."""
    from guidegen.editions import labels

    unit = units_sold.read_one(units_sold.path_of(root, serial))
    settings = read_settings(root / "mkdocs.yml")
    name, site_url = str(settings.get("site_name") or ""), str(settings.get("site_url") or "")
    title = _known(kept.line(root), unit.edition).guides[unit.guide].title
    with units_sold.held(root):
        path = labels.label(root, unit, title, site_url, name, contact_of(root))
    return f"print {path.as_posix()}"


def affected(
    root: Path, older: str, newer: str, day: datetime.date | None = None, together: bool = False
) -> Iterator[str]:
    """The serial numbers to write to, why, and what became of it; with a day, letters of that day are written.

    `together`: one letter for the units of one name.
    """
    line = kept.line(root)
    names = [one.edition for one in line]
    for name in (older, newer):
        _known(line, name)
    if names.index(older) > names.index(newer):
        raise UsageProblem(f"{older} does not come before {newer}")
    units = list(units_sold.read(root))
    concerned = {unit.edition for unit in units} & {*names[names.index(older) : names.index(newer)]}
    between = {name: around.compared(root, name, newer) for name in concerned}
    found = list(units_sold.affected(units, line, older, newer, between, withdrawals.read(root)))
    for unit, why in found:
        letter = letters.about(root, unit.serial, newer, why)
        state = f"  [{letter.words()}]" if letter else ""
        yield f"{unit.serial}  {unit.guide}, edition {unit.edition}: {why.words()}{state}"
    if day is not None:
        yield from _letters(root, found, line, newer, day, together)


def _letters(
    root: Path,
    found: Sequence[tuple[units_sold.Unit, units_sold.Concern]],
    line: Sequence[Edition],
    newer: str,
    day: datetime.date,
    together: bool,
) -> Iterator[str]:
    """Write the letters that are not written yet, in the workshop's language; yields where they lie."""
    address = str(read_settings(root / "mkdocs.yml").get("site_url") or "") if (root / "mkdocs.yml").is_file() else ""
    sender = letters.Sender(name_of(root), contact_of(root), address)
    with units_sold.held(root), in_language_of(root):
        units_sold.refuse_shared(root)
        written = [*letters.write(root, found, line, newer, day, sender, together)]
    for path, units in written:
        shared = f", for {' and '.join(unit.serial for unit in units)}: is it one person?" if len(units) > 1 else ""
        yield f"wrote {path.relative_to(root).as_posix()}{shared}"
    yield f"letters to send: {len(written)}; note what becomes of each with `guidegen unit note SERIAL {newer} STATE`"


def note_letter(root: Path, serial: str, edition: str, state: letters.State, day: datetime.date) -> str:
    """Note what became of a letter."""
    with units_sold.held(root):
        return f"{serial}, about edition {edition}: {letters.note(root, serial, edition, state, day).words()}"


def editions(root: Path) -> Iterator[str]:
    """Every edition: when, why, and what of it is here."""
    there = around.here(root)
    for one in kept.line(root):
        folder = there.get(one.edition)
        state = "not here" if folder is None else f"in {place.site_of(root).as_posix()}/{folder}"
        yield f"{one.edition}  {one.date}  {state}  {one.reason}"


def _known(line: tuple[Edition, ...], name: str) -> Edition:
    found = {one.edition: one for one in line}
    if name not in found:
        near = nearest(name, found)
        hint = f"did you mean {near}?" if near else f"the editions: {', '.join(found) or 'none yet'}"
        raise UsageProblem(f"there is no edition {name}; {hint}")
    return found[name]
