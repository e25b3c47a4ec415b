"""One Atom feed for editions, notices and withdrawals (RFC 4287)."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urljoin, urlsplit
from uuid import NAMESPACE_URL, uuid5
from xml.sax.saxutils import escape, quoteattr

from guidegen.editions.edition import Edition
from guidegen.editions.withdrawals import Withdrawal
from guidegen.language import gettext

FILE = "feed.xml"


@dataclass(frozen=True)
class Entry:
    """One thing that happened."""

    kind: str
    name: str
    date: datetime.date
    title: str
    text: str
    leads_to: str

    @property
    def updated(self) -> str:
        """The date as the feed's format has it; the hour is not known and not kept."""
        return f"{self.date}T00:00:00Z"


def entries(line: Sequence[Edition], folders: Mapping[str, str], withdrawn: Iterable[Withdrawal]) -> tuple[Entry, ...]:
    """Everything that happened, newest first; on one day what must be known comes before what may be."""
    found: list[Entry] = []
    for one in reversed(line):
        page = f"{folders[one.edition]}/" + ("changes.html" if one.supersedes else "index.html")
        title = gettext("Edition {edition}").format(edition=one.edition)
        found.append(Entry("edition", one.edition, one.date, title, one.reason, page))
        if one.notice:
            title = gettext("Notice to anybody who fitted by an edition before {edition}").format(edition=one.edition)
            found.append(Entry("notice", one.edition, one.date, title, one.notice.text, page))
    names = {one.edition: one for one in line}
    for gone in withdrawn:
        if gone.edition in names:
            title = gettext("Withdrawn: {guide}, edition {edition}").format(
                guide=names[gone.edition].title_of(gone.guide), edition=gone.edition
            )
            page = f"{folders[gone.edition]}/guides/{gone.guide}/index.html"
            name = f"{gone.edition}/{gone.guide}"
            found.append(Entry("withdrawal", name, gone.date, title, gone.because, page))
    weight = {"withdrawal": 0, "notice": 1, "edition": 2}
    return tuple(sorted(found, key=lambda one: (-one.date.toordinal(), weight[one.kind])))


def feed(name: str, site_url: str, happened: Sequence[Entry]) -> bytes:
    """The feed. Without an address of the site, ids are made from the workshop's name and links are left relative."""
    title = gettext("{workshop}: editions and notices").format(workshop=name)
    rows = "".join(_entry(one, name, site_url) for one in happened)
    newest = happened[0].updated if happened else "1970-01-01T00:00:00Z"
    itself = f'<link rel="self" href={quoteattr(urljoin(site_url, FILE))}/>' if site_url else ""
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<feed xmlns="http://www.w3.org/2005/Atom">\n'
        f"<title>{escape(title)}</title>\n<id>{identity(name, site_url, 'feed')}</id>\n"
        f"<updated>{newest}</updated>\n<author><name>{escape(name)}</name></author>\n"
        f'<link rel="alternate" href={quoteattr(urljoin(site_url, "index.html"))}/>\n{itself}\n{rows}</feed>\n'
    ).encode()


def identity(name: str, site_url: str, what: str) -> str:
    """An id that never changes: a UUID from the site's host, or the workshop's name, and what happened."""
    whose = urlsplit(site_url).netloc or name
    return f"urn:uuid:{uuid5(NAMESPACE_URL, f'{whose} {what}')}"


def _entry(one: Entry, name: str, site_url: str) -> str:
    return (
        f"<entry>\n<title>{escape(one.title)}</title>\n<id>{identity(name, site_url, f'{one.kind} {one.name}')}</id>\n"
        f"<updated>{one.updated}</updated>\n<category term={quoteattr(one.kind)}/>\n"
        f'<link rel="alternate" href={quoteattr(urljoin(site_url, one.leads_to))}/>\n'
        f"<summary>{escape(one.text)}</summary>\n</entry>\n"
    )
