"""Units sold: which kit went to whom's machine, by which edition. Private: never in the site, never in git.

Each unit is one file, `units/<serial>.json`. Whoever bought it may stand there in `customer`; no other module reads
that field, and nothing of a unit is ever published.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from pydantic import Field, ValidationError

from guidegen.editions import lines, withdrawals
from guidegen.editions.change import GuideChanges
from guidegen.editions.edition import Closed, Edition
from guidegen.editions.withdrawals import Withdrawal
from guidegen.problems import EnvironmentProblem, RefusedProblem, UsageProblem
from guidegen.writing import write_atomically

FOLDER = "units"
MOST_CHANGES = 3
"""So many changes are listed for a unit; the page of what changed in its guide has all."""
SERIAL = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,39}")


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
    if not SERIAL.fullmatch(serial):
        raise UsageProblem(f'"{serial}" is no serial number: at most 40 letters, digits, dots and hyphens')
    return root / FOLDER / f"{serial}.json"


def add(root: Path, unit: Unit, line: Sequence[Edition]) -> Path:
    """Keep a unit. What does not exist, and a serial number that does, is refused."""
    path = path_of(root, unit.serial)
    if path.exists():
        raise RefusedProblem(f"{path.as_posix()} is there already; a serial number is given once")
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
    write_atomically(path, lines.dumps(unit.model_dump(mode="json")).encode())
    path.chmod(0o600)
    return path


def refuse_shared(root: Path) -> None:
    """Units are private: raise where git would take the folder in."""
    from guidegen.editions import history

    try:
        history.git(root, "rev-parse", "--git-dir")
    except EnvironmentProblem:
        return
    try:
        history.git(root, "check-ignore", "--quiet", f"{FOLDER}/any.json")
    except EnvironmentProblem as error:
        raise RefusedProblem(
            f"git would take in {FOLDER}/, which is private\n  fix: echo '/{FOLDER}/' >> .gitignore"
        ) from error


def read(root: Path) -> Iterator[Unit]:
    """Every unit, by serial number."""
    for path in sorted((root / FOLDER).glob("*.json")):
        yield read_one(path)


def read_one(path: Path) -> Unit:
    """One unit."""
    try:
        return Unit.model_validate_json(path.read_bytes())
    except FileNotFoundError as error:
        raise UsageProblem(f"there is no unit {path.stem}") from error
    except ValidationError as error:
        raise EnvironmentProblem(f"{path.as_posix()} cannot be read: {error}") from error


def affected(
    units: Iterable[Unit],
    line: Sequence[Edition],
    older: str,
    newer: str,
    between: Mapping[str, Sequence[GuideChanges]],
    withdrawn: Iterable[Withdrawal],
) -> Iterator[tuple[Unit, str]]:
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
            yield unit, f"withdrawn on {called_back.date}: {called_back.because}"
            continue
        for one in between.get(unit.edition, ()):
            if one.guide == unit.guide and one.notifiable:
                text = "; ".join(change.sentence() for change in one.notifiable[:MOST_CHANGES])
                more = len(one.notifiable) - MOST_CHANGES
                yield unit, f"{text}; and {more} more" if more > 0 else text
