"""Publishing: freeze what the workshop says today under a name that nothing can change any more."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from guidegen.editions import around, days, history, kept, place, signing, snapshot
from guidegen.editions.change import GuideChanges, notifiable
from guidegen.editions.compare import compare
from guidegen.editions.edition import (
    DRAFT,
    FILE,
    Edition,
    GuideFacts,
    Notice,
    check_name,
    up_to,
)
from guidegen.editions.told import told, where
from guidegen.problems import RefusedProblem
from guidegen.record import Assessment

CHANGES_SHOWN = 8

Files = Mapping[str, bytes]
Judge = Callable[[], Sequence[Assessment]]
"""Read, assess and lint the workshop; raises where there are mistakes."""
Render = Callable[[Sequence[Assessment], Edition], Files]
"""All files of the site for these records, as an edition."""


@dataclass(frozen=True)
class Order:
    """What the maker says when publishing."""

    edition: str
    note: str | None = None
    """The notice to those who fitted by an older edition."""
    reason: str | None = None
    """Why there is this edition, in one line; made from the changes where it is not given."""
    date: datetime.date | None = None
    sign: Path | None = None
    """The key that signs it."""


@dataclass(frozen=True)
class Published:
    """What came of it."""

    edition: Edition
    folder: Path
    is_new: bool
    """False where the same bytes were there already."""
    changes: tuple[GuideChanges, ...] = ()


def publish(root: Path, order: Order, judge: Judge, render: Render) -> Published:
    """Publish an edition. The caller holds the workshop's lock."""
    name = check_name(order.edition)
    signing.refuse_key(root, order.sign)
    # First, because it takes a moment; and again, because the next line may keep what an older command left undone.
    history.refuse_uncommitted(root, besides=f"{kept.FOLDER}/{name}")
    around.refresh(root)
    history.refuse_uncommitted(root, besides=f"{kept.FOLDER}/{name}")
    site = place.site_of(root)
    line = kept.line(root)
    exists = name in place.published(site)
    if not exists and name in [one.edition for one in line]:
        raise RefusedProblem(
            f"edition {name} was published and its pages are not here; bring them back with `guidegen recover`, "
            "or publish under a new name"
        )
    records = tuple(one.of_edition(name) for one in judge())
    plain = snapshot.pack(one.model_dump(mode="json", by_alias=True) for one in records)
    older = [one for one in up_to(line, name) if one.edition != name]
    changes = _changes(root, older, snapshot.unpack(plain, name))
    edition = _edition(root, order, records, older, changes, line)
    files = {**render(records, edition), FILE: edition.to_bytes()}
    files |= {kept.SNAPSHOT + path: data for path, data in plain.items()}
    if exists:
        _refuse_other_bytes(site, name, files)
        _sign(root, name, order.sign)
        return Published(edition, site / name, False, changes)
    place.commit(site, name, files, around.versions(root, [name]))
    around.refresh(root)
    _sign(root, name, order.sign)
    return Published(edition, site / name, True, changes)


def _sign(root: Path, name: str, key: Path | None) -> None:
    """Sign an edition that is listed; one whose signature is good stays as it is."""
    if key is not None and (not signing.path_of(root, name).is_file() or signing.wrong(root, name)):
        signing.sign(root, name, key)


def _changes(root: Path, older: Sequence[Edition], new: Sequence[snapshot.Data]) -> tuple[GuideChanges, ...]:
    return compare(kept.records(root, older[-1].edition), new) if older else ()


def _edition(
    root: Path,
    order: Order,
    records: Sequence[Assessment],
    older: Sequence[Edition],
    changes: Sequence[GuideChanges],
    line: Sequence[Edition],
) -> Edition:
    """The edition's facts. One that exists keeps its date, reason and notice, so that it can be compared."""
    was = next((one for one in line if one.edition == order.edition), None)
    grave = notifiable(changes)
    day = order.date or (was.date if was else _day(root, older))
    if was is None:
        days.refuse_future(day, "the day of the new edition")
    before = days.not_before(older)
    if order.date and before and order.date < before.date:
        raise RefusedProblem(
            f"{order.date} is before {before.date}, the day of edition {before.edition}; a later one follows it"
        )
    note = order.note or (was.notice.text if was and was.notice else None)
    if grave and not note:
        raise RefusedProblem(_asks_for_note(order.edition, older[-1].edition, changes))
    concerned = grave or tuple(one for one in changes if one.own and not one.is_new)
    if note and not concerned:
        raise RefusedProblem(
            "no guide's data or words changed since an older edition, so a notice would concern nobody; publish "
            "without --note, and say why there is a new edition with --reason"
        )
    notice = Notice(text=note, guides=tuple(one.guide for one in concerned)) if note else None
    return Edition(
        edition=order.edition,
        date=day,
        supersedes=older[-1].edition if older else None,
        reason=order.reason or (was.reason if was else _reason(changes, bool(older))),
        notice=notice,
        guides={
            f"{one.variant.id}/{one.kit.id}": GuideFacts(
                title=f"{one.variant.name} with {one.kit.name}", outcome=one.fit.outcome, revision=one.kit.revision
            )
            for one in records
        },
    )


def _day(root: Path, older: Sequence[Edition]) -> datetime.date:
    """The last commit's day; a commit that was made elsewhere before the edition before counts as made with it."""
    day = history.last_commit_date(root)
    before = days.not_before(older)
    return max(day, before.date) if before else day


def _reason(changes: Sequence[GuideChanges], has_older: bool) -> str:
    """What the edition brings, counted.

    >>> _reason((), False)
    'The first edition.'
    """
    if not has_older:
        return "The first edition."
    new = sum(one.is_new for one in changes)
    changed = sum(bool(one.own) for one in changes) - new
    anew = sum(bool(one.changes) for one in changes) - new - changed
    counted = ((changed, "changed"), (anew, "computed or worded anew by the program"), (new, "new"))
    parts = [f"{count} guide{'s' if count > 1 else ''} {what}" for count, what in counted if count]
    return f"{', '.join(parts) or 'Nothing changed in any guide'}.".capitalize()


def _asks_for_note(name: str, older: str, changes: Sequence[GuideChanges]) -> str:
    """Why a notice is needed, with the changes that make it so."""
    found = [one for one in told(changes) if one.notifiable]
    listed = [f"  {one.words} ({one.notifiable}): {where(one.guides, changes)}" for one in found]
    more = [f"  … and {len(listed) - CHANGES_SHOWN} more"] if len(listed) > CHANGES_SHOWN else []
    rows = "\n".join([*listed[:CHANGES_SHOWN], *more])
    return (
        f"since {older} something changed of which everybody who fitted by it must be notified:\n{rows}\n"
        f"  fix: guidegen publish {name} --note 'what to do about it'\n"
        f"  `guidegen changes {older} {DRAFT}` shows everything"
    )


def _refuse_other_bytes(site: Path, name: str, files: Files) -> None:
    before = place.sums_at(site / name)
    now = place.read_sums(place.sums_of(files))
    differing = sorted(path for path in {*before, *now} if before.get(path) != now.get(path))
    if differing:
        shown = ", ".join(differing[:3]) + (", …" if len(differing) > 3 else "")
        raise RefusedProblem(
            f"edition {name} exists, and today's workshop makes other bytes of {len(differing)} files ({shown}); "
            "an edition never changes: publish under a new name"
        )
