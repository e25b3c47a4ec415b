"""How each guide of each older edition stands today: unchanged, changed, with a notice, or withdrawn.

This is what `notices.json` shows the readers of an old edition, whose own bytes never change.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from guidegen.editions import withdrawals
from guidegen.editions.change import GuideChanges
from guidegen.editions.edition import Edition
from guidegen.editions.withdrawals import Withdrawal
from guidegen.language import gettext

State = Literal["unchanged", "changed", "notice", "withdrawn", "gone"]
MOST_CHANGES = 4
"""So many changes are named in a line; the rest is counted and stands on the page that it leads to."""

Compare = Callable[[str, str], Sequence[GuideChanges]]


@dataclass(frozen=True)
class Standing:
    """What a reader of one guide of one edition is shown."""

    state: State
    says: str
    leads_to: str = ""
    """From the site's root; empty where nothing newer says more."""

    def as_json(self) -> dict[str, str]:
        """The entry of `notices.json`."""
        return {"state": self.state, "says": self.says, "href": self.leads_to}


def standings(
    line: Sequence[Edition], folders: Mapping[str, str], compare: Compare, withdrawn: Iterable[Withdrawal] = ()
) -> dict[str, dict[str, Standing]]:
    """By edition and guide. A guide of the newest edition stands here only where it was withdrawn.

    `folders` says in which folder of the site each edition lies.
    """
    found: dict[str, dict[str, Standing]] = {}
    gone = list(withdrawn)
    newest = line[-1] if line else None
    for index, edition in enumerate(line):
        called_back = withdrawals.of_edition(gone, edition.edition)
        here: dict[str, Standing] = {}
        if newest and edition is not newest:
            changes = {one.guide: one for one in compare(edition.edition, newest.edition)}
            for guide in edition.guides:
                stands = _stands(guide, changes[guide], line[index + 1 :], newest, _page(newest, folders, guide))
                here[guide] = _doubted(stands, guide, line[index + 1 :], gone)
        for guide, one in called_back.items():
            here[guide] = _withdrawn(one, _replacing(one, newest, folders, gone))
        found[edition.edition] = dict(sorted(here.items()))
    return found


def _page(edition: Edition, folders: Mapping[str, str], guide: str) -> str:
    return f"{folders[edition.edition]}/guides/{guide}/index.html" if guide in edition.guides else ""


def _stands(guide: str, changes: GuideChanges, since: Sequence[Edition], newest: Edition, page: str) -> Standing:
    notices = [
        f"{one.date}: {one.notice.text}" for one in since if one.notice is not None and guide in one.notice.guides
    ]
    if notices:
        return Standing("notice", " ".join(notices), page)
    if guide not in newest.guides:
        return Standing("gone", gettext("The newest edition has no such guide any more."))
    if not changes.changes:
        return Standing("unchanged", gettext("Unchanged since your edition."), page)
    # What went in explains what came out, so the words are those of the causes.
    causes = [one for one in changes.own if one.kind != "figure"] or list(changes.own)
    if not causes:
        return Standing("changed", gettext("Only recomputed or reworded by the program."), page)
    words = "; ".join(one.sentence() for one in causes[:MOST_CHANGES])
    more = len(causes) - MOST_CHANGES
    sentence = gettext("Changed: {changes}; and {count} more.") if more > 0 else gettext("Changed: {changes}.")
    return Standing("changed", sentence.format(changes=words, count=more), page)


def _doubted(stands: Standing, guide: str, since: Sequence[Edition], gone: Sequence[Withdrawal]) -> Standing:
    """The same, shown as a notice first where a later edition's guide was withdrawn: this one may have its fault."""
    later = {one.edition for one in since}
    found = [one for one in gone if one.guide == guide and one.edition in later]
    if not found:
        return stands
    words = gettext("This guide was withdrawn in edition {edition} on {date}: {because}")
    says = [words.format(edition=one.edition, date=one.date, because=one.because) for one in found]
    says.append(gettext("Ask us whether yours has the same fault before you work by it."))
    return Standing("notice", " ".join([*says, stands.says]), stands.leads_to)


def _replacing(one: Withdrawal, newest: Edition | None, folders: Mapping[str, str], gone: Sequence[Withdrawal]) -> str:
    """Where the newest edition has the guide, unless it is withdrawn there too."""
    if newest is None or one.guide in withdrawals.of_edition(gone, newest.edition):
        return ""
    return _page(newest, folders, one.guide)


def _withdrawn(one: Withdrawal, page: str) -> Standing:
    words = gettext("Withdrawn on {date}. Do not work by this guide. {because}")
    return Standing("withdrawn", words.format(date=one.date, because=one.because), page)


def as_json(found: Mapping[str, Mapping[str, Standing]], line: Sequence[Edition]) -> dict[str, Any]:
    """`notices.json`."""
    return {
        "format": 1,
        "newest": line[-1].edition if line else None,
        "editions": {
            edition: {guide: one.as_json() for guide, one in guides.items()} for edition, guides in found.items()
        },
    }
