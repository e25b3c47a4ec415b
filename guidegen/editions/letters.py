"""Letters to owners of units sold: a short one for each unit, with what concerns it alone, and what became of it.

Of an owner nothing is kept but a name, and two people can have one name: what concerns one of them is no business of
the other. So units share a letter only where the maker, who knows the people, asks for it.

All of it is private and lies in `units/letters/`: the letters as text, and a file for each unit that says of what its
owner was written to, reminded of, has answered and has done. Nothing else reads them, and nothing of them is published.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from guidegen.editions import lines, units_sold
from guidegen.editions.edition import Closed, Edition
from guidegen.editions.units_sold import Concern, Unit
from guidegen.language import gettext
from guidegen.problems import UsageProblem
from guidegen.site.pages.place import whole_short_address
from guidegen.writing import write_private

FOLDER = "letters"
State = Literal["reminded", "answered", "done"]


class Letter(Closed):
    """What became of one letter; `about` is the edition that changed something.

    `withdrawn` is the day on which the owner's own guide was withdrawn, where that is what the letter says.
    """

    about: str
    written: datetime.date
    withdrawn: datetime.date | None = None
    reminded: tuple[datetime.date, ...] = ()
    answered: datetime.date | None = None
    done: datetime.date | None = None

    def words(self) -> str:
        """In a line, for the maker."""
        said = [f"written {self.written}", *(f"reminded {day}" for day in self.reminded)]
        said += [f"{name} {day}" for name, day in (("answered", self.answered), ("done", self.done)) if day]
        return ", ".join(said)


class Letters(Closed):
    """`units/letters/<serial>.json`."""

    format: int = 1
    letters: tuple[Letter, ...] = ()


@dataclass(frozen=True)
class Sender:
    """Who writes, and where the guides are; `address` is empty where the site has none."""

    workshop: str
    contact: str
    address: str


def folder_of(root: Path) -> Path:
    """Where letters are kept."""
    return root / units_sold.FOLDER / FOLDER


def about(root: Path, serial: str, edition: str, concern: Concern) -> Letter | None:
    """The letter to the owner of a unit that said this; None where none was written.

    Whoever was told of a change is written to again where the guide is withdrawn later.
    """
    found = [one for one in _kept(root, serial) if one.about == edition]
    return next((one for one in found if one.withdrawn == _day(concern)), None)


def _day(concern: Concern) -> datetime.date | None:
    return concern.withdrawn.date if concern.withdrawn else None


def write(
    root: Path,
    found: Sequence[tuple[Unit, Concern]],
    line: Sequence[Edition],
    newer: str,
    day: datetime.date,
    by: Sender,
    together: bool = False,
) -> Iterator[tuple[Path, tuple[Unit, ...]]]:
    """Write a letter for each unit that has none about this edition yet; yields where each lies, and its units.

    `together`: units of one name share a letter. That one was written is noted behind the letter, so that one whose
    writing was cut short is written again.
    """
    left = [(unit, concern) for unit, concern in found if about(root, unit.serial, newer, concern) is None]
    for owned in _by_name(left) if together else [[one] for one in left]:
        withdrawn = "-withdrawn" if any(concern.withdrawn for _, concern in owned) else ""
        path = folder_of(root) / f"{owned[0][0].serial}-{newer}{withdrawn}.txt"
        write_private(path, text(owned, line, newer, day, by).encode())
        for unit, concern in owned:
            one = Letter(about=newer, written=day, withdrawn=_day(concern))
            _keep(root, unit.serial, (*_kept(root, unit.serial), one))
        yield path, tuple(unit for unit, _ in owned)


def note(root: Path, serial: str, edition: str, state: State, day: datetime.date) -> Letter:
    """Note what became of the last letter about an edition; all reminders are kept, and the first day of the rest."""
    units_sold.read_one(units_sold.path_of(root, serial))
    kept = _kept(root, serial)
    before = next((one for one in reversed(kept) if one.about == edition), None)
    if before is None:
        raise UsageProblem(
            f"no letter about edition {edition} was written to the owner of {serial}; "
            f"`guidegen affected OLDER {edition} --letters` writes them"
        )
    if day < before.written:
        raise UsageProblem(f"{day} is before {before.written}, the day of the letter")
    if state == "reminded":
        after = before.model_copy(update={"reminded": tuple(sorted({*before.reminded, day}))})
    else:
        after = before.model_copy(update={state: getattr(before, state) or day})
    _keep(root, serial, [after if one is before else one for one in kept])
    return after


def text(
    owned: Sequence[tuple[Unit, Concern]], line: Sequence[Edition], newer: str, day: datetime.date, by: Sender
) -> str:
    """The letter itself."""
    customer = owned[0][0].customer
    rows = [by.workshop, str(day), ""]
    rows += [gettext("To: {customer}").format(customer=customer), ""] if customer else []
    for unit, concern in owned:
        rows += [*_of_unit(unit, concern, line, newer, by), ""]
    serials = ", ".join(unit.serial for unit, _ in owned)
    ask = gettext("Please tell us when it is done, or ask us: {contact}. Serial number: {serials}.")
    return "\n".join([*rows, ask.format(contact=by.contact, serials=serials), ""])


def _of_unit(unit: Unit, concern: Concern, line: Sequence[Edition], newer: str, by: Sender) -> Iterator[str]:
    title = next((one.title_of(unit.guide) for one in line if one.edition == unit.edition), unit.guide)
    head = gettext("{guide}, serial number {serial}, fitted by edition {edition}")
    yield head.format(guide=title, serial=unit.serial, edition=unit.edition)
    yield ""
    if concern.withdrawn is not None:
        words = gettext("This guide was withdrawn on {date}. Do not work by it. {because}")
        yield words.format(date=concern.withdrawn.date, because=concern.withdrawn.because)
    else:
        yield gettext("Since then this changed, and you should know it:")
        yield from (f"- {one}" for one in concern.changes)
        yield from _notices(unit, line, newer)
    if address := whole_short_address(unit.kit, unit.revision, unit.variant, by.address):
        yield gettext("What holds today: {address}").format(address=address)


def _notices(unit: Unit, line: Sequence[Edition], newer: str) -> Iterator[str]:
    """What the editions since then told those who had fitted."""
    names = [one.edition for one in line]
    for one in line[names.index(unit.edition) + 1 : names.index(newer) + 1]:
        if one.notice is not None and unit.guide in one.notice.guides:
            yield gettext("What to do: {notice}").format(notice=one.notice.text)


def _by_name(found: Iterable[tuple[Unit, Concern]]) -> list[list[tuple[Unit, Concern]]]:
    """Those of one name together; who is not named has a letter for each unit."""
    groups: dict[str, list[tuple[Unit, Concern]]] = {}
    for unit, concern in found:
        named = re.sub(r"\s+", " ", unit.customer or "").strip().casefold()
        groups.setdefault(named or f"\0{unit.serial}", []).append((unit, concern))
    return [*groups.values()]


def _path(root: Path, serial: str) -> Path:
    units_sold.path_of(root, serial)
    return folder_of(root) / f"{serial}.json"


def _kept(root: Path, serial: str) -> tuple[Letter, ...]:
    try:
        return lines.validated(Letters, _path(root, serial)).letters
    except FileNotFoundError:
        return ()


def _keep(root: Path, serial: str, letters: Iterable[Letter]) -> None:
    held: Mapping[str, object] = Letters(letters=tuple(letters)).model_dump(mode="json")
    write_private(_path(root, serial), lines.dumps(held).encode())
