"""The feed is valid Atom. What RFC 4287 demands of a feed and of an entry is written out here, from its section 4.1."""

from __future__ import annotations

import datetime
import re
from xml.etree import ElementTree

from guidegen.editions.feed import entries, feed
from guidegen.editions.withdrawals import Withdrawal
from tests.unit.editions.small import edition

ATOM = "{http://www.w3.org/2005/Atom}"
RFC3339 = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})")
GUIDE = "plain-one/collar"

LINE = (edition("1", reason="The <first>."), edition("2", "1", 2, note="Tighten & look."))
FOLDERS = {"1": "1", "2": "2"}
GONE = Withdrawal(edition="1", guide=GUIDE, date=datetime.date(2025, 4, 1), because="It leaks.")


def made(site_url: str = "https://guides.example/") -> ElementTree.Element:
    """The feed as a tree."""
    return ElementTree.fromstring(feed("A & B", site_url, entries(LINE, FOLDERS, [GONE])))


def one(element: ElementTree.Element, name: str) -> str:
    """The text of a child that must be there exactly once."""
    (child,) = element.findall(ATOM + name)
    return child.text or ""


def test_the_feed_has_what_it_must_have() -> None:
    """One id, one title, one date; an author; a link to itself; ids are absolute addresses."""
    top = made()
    assert top.tag == f"{ATOM}feed"
    assert one(top, "id").startswith("urn:uuid:")
    assert one(top, "title") == "A & B: editions and notices"
    assert RFC3339.fullmatch(one(top, "updated"))
    assert [author.findtext(f"{ATOM}name") for author in top.findall(f"{ATOM}author")] == ["A & B"]
    links = {link.get("rel"): link.get("href") for link in top.findall(f"{ATOM}link")}
    assert links == {"alternate": "https://guides.example/index.html", "self": "https://guides.example/feed.xml"}


def test_each_entry_has_what_it_must_have() -> None:
    """An id of its own, a title, a date, a link, text; the newest first, and the feed's date is its."""
    top = made()
    found = top.findall(f"{ATOM}entry")
    ids = [one(entry, "id") for entry in found]
    assert len({*ids, one(top, "id")}) == len(ids) + 1
    for entry in found:
        assert one(entry, "title")
        assert one(entry, "summary")
        assert RFC3339.fullmatch(one(entry, "updated"))
        assert [link.get("rel") for link in entry.findall(f"{ATOM}link")] == ["alternate"]
    dates = [one(entry, "updated") for entry in found]
    assert dates == sorted(dates, reverse=True)
    assert one(top, "updated") == dates[0]


def test_editions_notices_and_withdrawals_are_all_listed() -> None:
    """In words that are text, whatever stands in them."""
    titles = [one(entry, "title") for entry in made().findall(f"{ATOM}entry")]
    assert titles == [
        "Withdrawn: plain-one/collar, edition 1",
        "Notice to anybody who fitted by an edition before 2",
        "Edition 2",
        "Edition 1",
    ]
    texts = [one(entry, "summary") for entry in made().findall(f"{ATOM}entry")]
    assert texts[-1] == "The <first>."
    assert texts[1] == "Tighten & look."


def test_ids_stay_when_more_is_published() -> None:
    """A reader shows an entry once, however long it lasts."""
    before = {one(entry, "title"): one(entry, "id") for entry in made().findall(f"{ATOM}entry")}
    more = (*LINE, edition("3", "2", 3))
    happened = entries(more, {**FOLDERS, "3": "3"}, [GONE])
    tree = ElementTree.fromstring(feed("A & B", "https://guides.example/", happened))
    after = {one(entry, "title"): one(entry, "id") for entry in tree.findall(f"{ATOM}entry")}
    assert before.items() <= after.items()


def test_a_workshop_without_an_address_has_a_feed_without_a_link_to_itself() -> None:
    """It cannot know it."""
    assert [link.get("rel") for link in made("").findall(f"{ATOM}link")] == ["alternate"]
