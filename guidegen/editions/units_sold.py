"""Units sold: which kit went to whom's machine, by which edition. Private: never in the site, never in git.

Each unit is one file, `units/<serial>.json`. Whoever bought it may stand there in `customer`; no other module reads
that field but `letters`, which writes to him, and nothing of a unit is ever published.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from pydantic import Field

from guidegen.editions import lines, withdrawals
from guidegen.editions.change import GuideChanges
from guidegen.editions.edition import Closed, Edition
from guidegen.editions.told import told
from guidegen.editions.withdrawals import Withdrawal
from guidegen.problems import RefusedProblem, UsageProblem
from guidegen.reading import bytes_of
from guidegen.writing import clear_unfinished, lock, write_private

FOLDER = "units"
MOST_CHANGES = 3
"""So many changes are listed for a unit; the page of what changed in its guide has all."""
_DEVICES = {"CON", "PRN", "AUX", "NUL", *(f"{name}{number}" for name in ("COM", "LPT") for number in range(1, 10))}
"""What some computers take for a device whatever follows the dot: such a file could not be copied there."""
SERIAL = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,39}")


@dataclass(frozen=True)
class Concern:
    """Why the owner of a unit must be written to: its guide was withdrawn, or this changed in it, a line each."""

    withdrawn: Withdrawal | None = None
    changes: tuple[str, ...] = ()

    def words(self) -> str:
        """In one line, for the maker."""
        if self.withdrawn is not None:
            return f"withdrawn on {self.withdrawn.date}: {self.withdrawn.because}"
        text, more = "; ".join(self.changes[:MOST_CHANGES]), len(self.changes) - MOST_CHANGES
        return f"{text}; and {more} more" if more > 0 else text


class Unit(Closed):
    """One kit that was sold."""

    format: int = 1
    serial: str
    variant: str
    kit: str
    revision: str
    edition: str
    tube_batch: str | None = None
    pressure_test: str | None = None
    facts: dict[str, str] = Field(default_factory=dict)
    """What was agreed about the customer's own machine, by fact."""
    customer: str | None = None

    @property
    def guide(self) -> str:
        """The guide's id."""
        return f"{self.variant}/{self.kit}"


def path_of(root: Path, serial: str) -> Path:
    """Where a unit is kept."""
    if not SERIAL.fullmatch(serial) or serial.endswith(".") or serial.split(".")[0].upper() in _DEVICES:
        raise UsageProblem(
            f'"{serial}" is no serial number: at most 40 letters, digits, dots and hyphens, no dot at the end, and no '
            "name of a device, as CON"
        )
    return root / FOLDER / f"{serial}.json"


@contextlib.contextmanager
def held(root: Path) -> Iterator[None]:
    """Hold the workshop's lock, for who writes into `units/` or near it.

    What a killed command left half written there goes: it is private, and nobody would look for it.
    """
    folder = root / FOLDER
    with lock(root):
        below = folder.iterdir() if folder.is_dir() else ()
        clear_unfinished((folder, *(one for one in below if one.is_dir() and not one.is_symlink())))
        yield


def add(root: Path, unit: Unit, line: Sequence[Edition]) -> Path:
    """Keep a unit. What does not exist, and a serial number that does, is refused."""
    path = path_of(root, unit.serial)
    _refuse_given(path)
    edition = next((one for one in line if one.edition == unit.edition), None)
    if edition is None:
        names = ", ".join(one.edition for one in line) or "none yet"
        raise UsageProblem(f"there is no edition {unit.edition}; the editions: {names}")
    facts = edition.guides.get(unit.guide)
    if facts is None:
        raise UsageProblem(f"edition {unit.edition} has no guide for {unit.variant} with {unit.kit}")
    if facts.revision != unit.revision:
        raise RefusedProblem(
            f"edition {unit.edition} is for revision {facts.revision} of {unit.kit}, not for {unit.revision}"
        )
    refuse_shared(root)
    try:
        write_private(path, lines.dumps(unit.model_dump(mode="json")).encode(), new=True)
    except FileExistsError:
        _refuse_given(path)
        raise
    return path


def _refuse_given(path: Path) -> None:
    """Upper and lower case make no other serial number: on some disks they are one file."""
    there = path.parent.iterdir() if path.parent.is_dir() else ()
    taken = next((one for one in there if one.name.casefold() == path.name.casefold()), None)
    if taken is not None:
        raise RefusedProblem(f"{taken.as_posix()} is there already; a serial number is given once")


def refuse_shared(root: Path) -> None:
    """Units are private: raise where git takes the folder in, or would as soon as there is a history."""
    from guidegen.editions import history

    fix = f"  fix: echo '/{FOLDER}/' >> .gitignore"
    if history.has(root):
        if history.git(root, "ls-files", "-z", "--", FOLDER):
            raise RefusedProblem(
                f"{FOLDER}/ is private and stands in the history already\n{fix}; git rm -r --cached {FOLDER}"
            )
        is_ignored = history.allows(root, "check-ignore", "--quiet", f"{FOLDER}/any.json")
    else:
        # Somebody may begin a history later, or git may be missing here and not elsewhere.
        ignored = root / ".gitignore"
        rows = bytes_of(ignored).decode(errors="replace").splitlines() if ignored.is_file() else []
        is_ignored = any(row.strip().strip("/") == FOLDER for row in rows)
    if not is_ignored:
        raise RefusedProblem(f"git would take in {FOLDER}/, which is private\n{fix}")


def read(root: Path) -> Iterator[Unit]:
    """Every unit, by serial number."""
    yield from map(read_one, paths(root))


def paths(root: Path) -> list[Path]:
    """Where every unit is kept."""
    return sorted((root / FOLDER).glob("*.json"))


def read_one(path: Path) -> Unit:
    """One unit."""
    try:
        return lines.validated(Unit, path)
    except FileNotFoundError as error:
        raise UsageProblem(f"there is no unit {path.stem}") from error


def affected(
    units: Iterable[Unit],
    line: Sequence[Edition],
    older: str,
    newer: str,
    between: Mapping[str, Sequence[GuideChanges]],
    withdrawn: Iterable[Withdrawal],
) -> Iterator[tuple[Unit, Concern]]:
    """Whom to write to, and why: units fitted by an edition from `older` up to before `newer`.

    `between` holds, for each of those editions, what changed from it to `newer`. A unit fitted by `newer` itself
    is concerned only where its guide was withdrawn.
    """
    names = [one.edition for one in line]
    concerned = names[names.index(older) : names.index(newer) + 1]
    gone = list(withdrawn)
    for unit in units:
        if unit.edition not in concerned:
            continue
        called_back = withdrawals.of_edition(gone, unit.edition).get(unit.guide)
        if called_back:
            yield unit, Concern(withdrawn=called_back)
            continue
        for one in between.get(unit.edition, ()):
            if one.guide == unit.guide and one.notifiable:
                yield unit, Concern(changes=tuple(each.words for each in told([one]) if each.notifiable))
