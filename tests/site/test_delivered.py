"""What `deliver` sends: every address that any of its files names is served, and nobody is told of the draft."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from xml.etree import ElementTree

import html5lib
import pytest

from guidegen.editions import verify
from tests.editions_workshop import change_torque, commit, guidegen, lay_down, publish
from tests.served import broken

URL = "https://guides.example/"
GUIDE = "plain-one/collar"
OFFERS = """\
valid_until: 2999-12-31
kits:
  collar: {price: 84.50 EUR, stock: 0, lead_time_days: 30}
"""
TERMS = """\
terms:
  seller: {name: A Workshop, address: 1 Sample Lane}
  delivery: By parcel.
  payment: By bank transfer.
  returns: Within 30 days.
  warranty: Two years.
  fitting: We fit none.
  privacy: We keep your address.
"""


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The first edition's pages were lost and made again, of the second a guide was withdrawn; and there is a draft."""
    root = lay_down(tmp_path_factory.mktemp("delivered") / "workshop")
    (root / "content" / "offers.yml").write_text(OFFERS, encoding="utf-8")
    workshop = root / "content" / "workshop.yml"
    workshop.write_text(workshop.read_text(encoding="utf-8") + TERMS, encoding="utf-8")
    assert guidegen(root, "build", "--draws", "0") == 0
    commit(root)
    assert publish(root, "2025.1") == 0
    shutil.rmtree(root / "site")
    assert guidegen(root, "editions", "--anew") == 0
    change_torque(root)
    assert publish(root, "2025.2", "--note", "Loosen the bolts.") == 0
    assert guidegen(root, "withdraw", "2025.2", "plain-two/collar", "--because", "The bolts may shear.") == 0
    assert guidegen(root, "build", "--draws", "0") == 0
    return root


@pytest.fixture(scope="module")
def out(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site as it was delivered to a folder."""
    out = tmp_path_factory.mktemp("public")
    assert guidegen(root, "deliver", "--folder", str(out)) == 0
    return out


def test_every_address_that_any_file_names_is_served(out: Path) -> None:
    """Links, canonical and preview addresses, lists for search engines, short addresses, linked data, the 404 pages."""
    assert broken(out, URL) == []
    for path in ("404.html", "2025.2/404.html", "2025.1-rerendered/404.html", "robots.txt", "sitemap.xml",
                 "k/collar/index.html", "k/collar-1.10/index.html"):  # fmt: skip
        assert (out / path).is_file(), path


def test_the_same_is_so_of_the_makers_own_site(root: Path) -> None:
    """With the draft, whose addresses name the folder in which it lies."""
    assert broken(root / "site", URL) == []
    assert verify.verify(root) == ()


def test_nobody_but_the_maker_hears_of_the_draft(root: Path, out: Path) -> None:
    """Neither at the root nor in any list; search engines are asked to leave it out."""
    assert "Only you see this" in (root / "site" / "index.html").read_text(encoding="utf-8")
    assert '<meta name="robots" content="noindex">' in (root / "site" / "next" / "safety.html").read_text("utf-8")
    assert not (out / "next").exists()
    top = [path for path in out.rglob("*") if path.is_file() and path.relative_to(out).parts[0][:2] != "20"]
    assert [path.name for path in top if b"next/" in path.read_bytes() or b"Only you" in path.read_bytes()] == []
    assert "noindex" not in (out / "2025.2" / "safety.html").read_text(encoding="utf-8")


def test_no_customer_reads_that_pages_are_no_originals(out: Path) -> None:
    """Pages made again say what they are; the newest edition, to which the front leads, has no such words at all."""
    pages = {path: path.read_text(encoding="utf-8") for path in out.rglob("*.html")}
    assert [path for path, text in pages.items() if "original pages" in text or "Not the original" in text] == []
    again = {path.relative_to(out).parts[0] for path, text in pages.items() if "made again from its own data" in text}
    assert again == {"2025.1-rerendered"}


def test_the_front_says_what_it_is_about_and_leads_to_the_newest_edition(out: Path) -> None:
    """Machine, kits with a line and a price that holds, who makes them; the editions stand behind a link."""
    tree = html5lib.parse((out / "index.html").read_bytes(), namespaceHTMLElements=False, transport_encoding="utf-8")
    links = {"".join(one.itertext()): one.get("href") for one in tree.iter("a")}
    assert links["Which machine do I have?"] == "2025.2/which-variant.html"
    assert links["Collar"] == "2025.2/kits/collar/index.html"
    assert links["Editions"] == "editions.html"
    text = " ".join("".join(tree.find("body").itertext()).split())
    for words in ("84.50 EUR", "These prices hold until 2999-12-31.", "post@workshop.example", "1 Sample Lane"):
        assert words in text
    assert len([*tree.iter("h1")]) == 1
    # One script, and only where prices stand: it says when they have lapsed.
    scripts = [one.get("src") for one in tree.iter("script") if one.get("type") != "application/ld+json"]
    assert scripts == ["prices.js"]


def test_what_search_engines_are_given_names_the_newest_edition_alone(out: Path) -> None:
    """No page that was withdrawn, none that asks to be left out."""
    places = [one.text or "" for one in ElementTree.parse(out / "sitemap.xml").iter() if one.tag.endswith("}loc")]
    assert f"{URL}" in places
    assert f"{URL}k/collar/" in places
    assert f"{URL}2025.2/guides/{GUIDE}/" in places or f"{URL}2025.2/guides/{GUIDE}/index.html" in places
    assert [one for one in places if "2025.1" in one or "plain-two/collar" in one or "404" in one] == []
    for one in places:
        path = one.removeprefix(URL)
        page = out / (f"{path}index.html" if path.endswith("/") or not path else path)
        assert "noindex" not in page.read_text(encoding="utf-8"), one


def test_linked_data_say_what_the_offer_says(out: Path) -> None:
    """Price, last day, lead time and that none is there; nothing of what nobody states."""
    tree = html5lib.parse((out / "index.html").read_bytes(), namespaceHTMLElements=False, transport_encoding="utf-8")
    (script,) = (one for one in tree.iter("script") if one.get("type") == "application/ld+json")
    maker, product = json.loads(script.text or "")["@graph"]
    assert (maker["@type"], maker["name"], maker["email"]) == ("Organization", "A Workshop", "post@workshop.example")
    assert (product["@type"], product["name"], product["productID"]) == ("Product", "Collar", "collar")
    assert product["offers"] == {
        "@type": "Offer", "price": "84.50", "priceCurrency": "EUR", "priceValidUntil": "2999-12-31",
        "availability": "https://schema.org/BackOrder",
        "deliveryLeadTime": {"@type": "QuantitativeValue", "maxValue": 30, "unitCode": "DAY"},
        "url": f"{URL}prices.html",
    }  # fmt: skip
