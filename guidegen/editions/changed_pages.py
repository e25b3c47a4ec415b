"""The pages that list what changed: one for each guide that an older edition had, and one for the whole edition."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from markupsafe import Markup

from guidegen.editions.by_program import by_program
from guidegen.editions.change import ORDER, Change, GuideChanges
from guidegen.editions.edition import DRAFT, Edition
from guidegen.editions.overlays import overlays, sentence
from guidegen.editions.redrawn import redrawn
from guidegen.editions.template import render
from guidegen.editions.told import headed
from guidegen.language import gettext, ngettext
from guidegen.record import Assessment
from guidegen.site.pages.page import Page, SearchEntry, SharedBy, rel
from guidegen.site.pages.template import headings

PAGE = "changes.html"
OLDER = 0.2
"""The weight in the search of what speaks of an older edition."""
_ID = re.compile(r'\bid="([^"]+)"')


def page_of(guide: str) -> str:
    """Where the page of one guide lies."""
    return f"guides/{guide}/{PAGE}"


def name_of(edition: str) -> str:
    """What an edition is called in a sentence."""
    if edition == DRAFT:
        return gettext("the draft")
    return gettext("edition {edition}").format(edition=edition)


def _searched(record: Assessment, older: str) -> SearchEntry:
    """What a page of changes is found by, after everything else: one entry for all variants of a kit."""
    title = gettext("{kit}: what changed since {edition}").format(kit=record.kit.name, edition=older)
    of = SharedBy(record.kit.id, record.variant.family_name, record.variant.name)
    return SearchEntry("", title, gettext("what changed, older edition"), boost=OLDER, of=of)


def with_changes(
    pages: Sequence[Page],
    records: Sequence[Assessment],
    older: Edition,
    old_records: Iterable[Mapping[str, Any]],
    changes: Sequence[GuideChanges],
    facts: Mapping[str, Any],
) -> tuple[Page, ...]:
    """The site's pages and those that list what changed since `older`; each guide's overview leads to its own.

    `facts` are the new edition's `edition`, `reason` and `notice`.
    """
    before = {f"{one['variant']['id']}/{one['kit']['id']}": one for one in old_records}
    now = {f"{one.variant.id}/{one.kit.id}": one for one in records}
    linked = [_linked(one, pages) for one in changes if one.guide in now and one.guide in before]
    made = [_guide_page(one, now[one.guide], before[one.guide], older, facts) for one in linked]
    lead = {f"guides/{one.guide}/index.html": one for one in linked}
    changed = [leading(page, lead[page.path], older) if page.path in lead else page for page in pages]
    return (*changed, *made, edition_page(changes, set(now), older, facts))


def grouped(changes: Iterable[Change]) -> list[tuple[str, str, list[Change]]]:
    """The changes by kind, in the order in which they are listed: id, heading, changes."""
    listed = list(changes)
    found = ((kind, gettext(heading), [one for one in listed if one.kind == kind]) for kind, heading in ORDER.items())
    return [group for group in found if group[2]]


def _linked(one: GuideChanges, pages: Sequence[Page]) -> GuideChanges:
    """The changes with only those links that lead somewhere: what is gone has no place in the newer guide."""
    folder = f"guides/{one.guide}/"
    places = {page.path.removeprefix(folder) for page in pages if page.path.startswith(folder)}
    for page in pages:
        if page.path.startswith(folder):
            places |= {f"{page.path.removeprefix(folder)}#{name}" for name in _ID.findall(page.body)}
    return replace(
        one, changes=tuple(change if change.place in places else replace(change, place="") for change in one.changes)
    )


def leading(page: Page, one: GuideChanges, older: Edition) -> Page:
    """The overview with a line at its end that leads to what changed."""
    count = len(one.own)
    words = ngettext(
        '{count} change since <a href="changes.html">edition {edition}</a>.',
        '{count} changes since <a href="changes.html">edition {edition}</a>.',
        count,
    )
    if not count and one.changes:
        words = gettext(
            'Since <a href="changes.html">edition {edition}</a> the program has only recomputed or reworded something.'
        )
    elif not count:
        words = gettext('Nothing changed since <a href="changes.html">edition {edition}</a>.')
    line = Markup(words).format(count=count, edition=older.edition)
    return replace(page, body=page.body + str(Markup('\n<p class="gg-status">{}</p>').format(line)))


def _guide_page(
    one: GuideChanges, record: Assessment, before: Mapping[str, Any], older: Edition, facts: Mapping[str, Any]
) -> Page:
    path, newer = page_of(one.guide), name_of(facts["edition"])
    notice = facts.get("notice")
    body = render(
        "changed-guide.html",
        title=one.title,
        older=older,
        newer=newer,
        heads=(sentence(name_of(older.edition)), sentence(newer)),
        notice=notice.text if notice and one.guide in notice.guides else None,
        grave=one.notifiable,
        groups=grouped(one.own),
        anew=grouped(one.by_program),
        unclear=_has_unclear(one.own),
        drawings=overlays(record, before, name_of(older.edition), newer),
        redrawn=redrawn(record, before, name_of(older.edition), newer),
        edition_page=rel(path, PAGE),
    )
    title = gettext("{guide}: what changed since {edition}").format(guide=one.title, edition=older.edition)
    about = gettext("What changed in the guide for {guide} since edition {edition}.")
    return Page(
        path=path,
        title=title,
        description=about.format(guide=one.title, edition=older.edition),
        body=body,
        headings=headings(body),
        search=(_searched(record, name_of(older.edition)),),
        breadcrumbs=(
            (gettext("Home"), "index.html"),
            (record.variant.name, f"guides/{one.variant}/index.html"),
            (record.kit.name, f"guides/{one.guide}/index.html"),
            (gettext("What changed"), ""),
        ),
        kind="changes",
    )


def edition_page(changes: Sequence[GuideChanges], now: set[str], older: Edition, facts: Mapping[str, Any]) -> Page:
    """What changed in all guides; `now` are those that there are."""
    changed = [one for one in changes if one.own and not one.is_new and one.guide in now]
    body = render(
        "changed-edition.html",
        older=older,
        newer=name_of(facts["edition"]),
        reason=facts.get("reason"),
        notice=facts.get("notice"),
        new=[one for one in changes if one.is_new],
        gone=[one for one in changes if one.guide not in now],
        groups=headed([one for one in changes if not one.is_new and (one.guide in now or one.notifiable)]),
        count=len(now),
        there={one.guide for one in changed},
        changed=changed,
        anew=by_program(changes),
        alone=[one for one in changes if one.changes and not one.own],
        same=[one for one in changes if not one.changes],
        unclear=_has_unclear(change for one in changed for change in one.own),
        page_of=page_of,
    )
    title = gettext("What changed since edition {edition}").format(edition=older.edition)
    about = gettext("What changed between edition {older} and {newer}.")
    return Page(
        path=PAGE,
        title=title,
        description=about.format(older=older.edition, newer=name_of(facts["edition"])),
        body=body,
        headings=headings(body),
        search=(SearchEntry("", title, gettext("editions, what changed")),),
        breadcrumbs=((gettext("Home"), "index.html"), (gettext("What changed"), "")),
        kind="edition-changes",
    )


def _has_unclear(changes: Iterable[Change]) -> bool:
    return any("unclear" in change.causes for change in changes)
