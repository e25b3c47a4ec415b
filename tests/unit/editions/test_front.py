"""The front of the site's root: what it says, for whom, and from where."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import html5lib
import pytest

from guidegen.editions import around
from guidegen.editions.crawlers import ROBOTS
from guidegen.editions.deliver import to_folder
from guidegen.editions.front import Front, front_of, holds
from guidegen.editions.linked import linked_data
from guidegen.editions.root_pages import NOT_FOUND, pages
from guidegen.editions.selling import PriceLine, Selling
from guidegen.workshop.money import Money
from guidegen.workshop.offers import WrittenOffer
from tests.unit.editions.conftest import Publish
from tests.unit.editions.small import Data, figure, record

pytestmark = pytest.mark.slow

GUIDE = "plain-two/collar"
DAY = datetime.date(2026, 3, 1)
OFFER = PriceLine("coil", "Coil", WrittenOffer(price=Money(8400, "EUR"), stock=2))
SELLING = Selling("A Workshop", "post@workshop.example", None, (OFFER,), "2026-01-01", "2026-12-31")


def of_kit(kit: str, ratio: float, outcome: str = "fits", variant: str = "plain-one") -> Data:
    """A guide of a kit that leaves this part of the dip."""
    one = record(variant, kit)
    one["kit"] |= {"reason": f"Why {kit}.", "summary": f"What {kit} is."}
    one["fit"]["outcome"] = outcome
    one["drinks"]["double"]["drop_ratio"] = {"sensor": figure(ratio)}
    return one


def front(*records: Data, makes: str = "", selling: Selling = SELLING, day: datetime.date = DAY) -> Front:
    """The front for these guides."""
    return front_of(records, makes, selling, day)


def test_the_workshop_says_what_it_makes_or_the_kit_that_gains_most_does() -> None:
    """Whatever the kits are called; one that gains much only where it does not go on says nothing."""
    kits = [of_kit("a", 0.9), of_kit("z", 0.4), of_kit("m", 0.1, "does-not-fit"), of_kit("m", 1.0, variant="two")]
    assert front(*kits).makes == "Why z."
    assert [one.id for one in front(*kits).kits] == ["z", "a", "m"]
    assert front(*kits, makes="We wind coils.").makes == "We wind coils."
    assert front().makes == ""


def test_an_old_record_without_these_parts_has_a_front_too() -> None:
    """A name is all that it needs."""
    (kit,) = front(record("plain-one", "collar")).kits
    assert (kit.name, kit.summary, kit.figure, kit.image_path) == ("Collar", "", None, "")


@pytest.mark.parametrize(
    ("day", "holding"),
    [("2025-12-31", False), ("2026-01-01", True), ("2026-12-31", True), ("2027-01-01", False)],
)
def test_a_price_stands_there_on_its_days_alone(day: str, holding: bool) -> None:
    """From the first to the last, both included; without a first one until the last."""
    today = datetime.date.fromisoformat(day)
    assert holds(SELLING, today) is holding
    shown = front(of_kit("coil", 0.5), day=today)
    assert (shown.kits[0].price is OFFER) is holding
    assert shown.priced is holding
    assert not holds(Selling("A Workshop", "x", None), DAY)


def test_the_front_names_the_kits_and_the_editions_stand_behind_a_link(root: Path, publish: Publish) -> None:
    """The workshop's sentence is its heading; in a page that is strict HTML."""
    workshop = root / "content" / "workshop.yml"
    workshop.write_text(f"{workshop.read_text(encoding='utf-8')}makes: We wind <coils>.\n", encoding="utf-8")
    publish("1", records=[of_kit("coil", 0.5), of_kit("hose", 1.0)])
    data = (root / "site" / "index.html").read_bytes()
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(data, transport_encoding="utf-8")
    assert ["".join(one.itertext()) for one in page.iter("h1")] == ["We wind <coils>."]
    assert ["".join(one.itertext()) for one in page.iter("h3")] == ["Coil", "Hose"]
    assert "What coil is." in data.decode()
    assert "Reason of 1." not in data.decode()
    assert "Reason of 1." in (root / "site" / "editions.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("outcome", ["does-not-fit", "has-already"])
def test_what_nobody_should_order_is_nobodys_guide_to_look_up(root: Path, publish: Publish, outcome: str) -> None:
    """Guides stand by the names of kit and machine, each kit also by itself; a label's address is served even so."""
    one = publish("1")
    guides = {**one.guides, GUIDE: one.guides[GUIDE].model_copy(update={"outcome": outcome})}
    held = replace(around.root_of(root, public=True), line=(one.model_copy(update={"guides": guides}),))
    found = dict(pages(held))
    for path in ("which.html", "k/collar/index.html"):
        assert ">Plain-One</a>" in found[path].decode()
        assert ">Plain-Two</a>" not in found[path].decode()
        assert "Collar</h" in found[path].decode()
    assert "k/collar-A/plain-two/index.html" in found


def test_the_page_for_what_is_not_there_leads_home_from_any_depth(root: Path, publish: Publish) -> None:
    """Its links begin where the site does, in a folder of the server too."""
    settings = root / "mkdocs.yml"
    settings.write_text("site_name: A Workshop\nsite_url: https://guides.example/shop\n", encoding="utf-8")
    publish("1")
    text = (root / "site" / NOT_FOUND).read_text(encoding="utf-8")
    assert 'href="/shop/index.html"' in text
    assert 'href="/shop/which.html"' in text
    assert "noindex" in text
    assert "Sitemap: https://guides.example/shop/sitemap.xml" in (root / "site" / ROBOTS).read_text(encoding="utf-8")


def test_a_site_without_an_address_names_none(root: Path, publish: Publish) -> None:
    """No list of pages, no canonical address, and linked data without one."""
    (root / "mkdocs.yml").write_text("site_name: A Workshop\n", encoding="utf-8")
    publish("1")
    site = root / "site"
    assert not (site / "sitemap.xml").exists()
    assert (site / ROBOTS).read_bytes() == b"User-agent: *\nDisallow:\n"
    text = (site / "index.html").read_text(encoding="utf-8")
    assert "canonical" not in text
    assert '"url"' not in linked_data(around.root_of(root, public=True))


def test_the_root_is_made_again_when_its_prices_end(
    root: Path, publish: Publish, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Though no file has changed; and verify says that what lies there is old."""
    publish("1")
    assert around.is_fresh(root)
    monkeypatch.setattr("guidegen.editions.around.holds", lambda selling, today: True)
    assert not around.is_fresh(root)


def test_a_robots_txt_of_the_servers_own_stays(root: Path, publish: Publish, tmp_path: Path) -> None:
    """It was not ours; one of ours is brought up to date."""
    publish("1")
    mine, new = tmp_path / "mine", tmp_path / "new"
    mine.mkdir()
    (mine / ROBOTS).write_bytes(b"own")
    for folder in (mine, new):
        to_folder(root, folder)
        to_folder(root, folder)
    assert (mine / ROBOTS).read_bytes() == b"own"
    assert (new / ROBOTS).read_bytes().startswith(b"User-agent: *")
