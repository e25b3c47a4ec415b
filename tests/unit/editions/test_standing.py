"""What readers of an old edition are shown today."""

from __future__ import annotations

import datetime

from guidegen.editions.change import Change, GuideChanges
from guidegen.editions.edition import Edition
from guidegen.editions.front import Front
from guidegen.editions.root_pages import Root, pages, resolve, short_address
from guidegen.editions.selling import Selling
from guidegen.editions.standing import Standing, as_json, standings
from guidegen.editions.withdrawals import Withdrawal
from tests.unit.editions.small import edition

GUIDE = "plain-one/collar"
DAY = datetime.date(2025, 4, 1)


def stands(line: list[Edition], *changed: Change, withdrawn: tuple[Withdrawal, ...] = ()) -> dict[str, Standing]:
    """How the guide stands in each edition, where each comparison finds these changes."""
    folders = {one.edition: one.edition for one in line}
    compare = lambda older, newer: [GuideChanges("plain-one", "collar", "t", changed)]  # noqa: E731
    found = standings(line, folders, compare, withdrawn)
    return {name: guides[GUIDE] for name, guides in found.items() if GUIDE in guides}


TORQUE = Change("torque", "bolts", "5 N·m", "4 N·m", "a torque changed")
MASS = Change("input", "boiler", "500 g", "480 g")


def test_unchanged_since_your_edition() -> None:
    """Nothing differs, and the newest edition itself has no notice."""
    found = stands([edition("1"), edition("2", "1")])
    assert found == {"1": Standing("unchanged", "Unchanged since your edition.", f"2/guides/{GUIDE}/index.html")}


def test_changed_names_the_causes_before_what_follows_from_them() -> None:
    """At most four, and how many more."""
    drop = Change("figure", "drop", "5 K", "4 K")
    found = stands([edition("1"), edition("2", "1")], drop, MASS)
    assert (found["1"].state, found["1"].says) == ("changed", "Changed: boiler: 500 g → 480 g.")
    many = [Change("input", f"i{number}", "1", "2") for number in range(6)]
    assert stands([edition("1"), edition("2", "1")], *many)["1"].says.endswith("i3: 1 → 2; and 2 more.")


def test_what_the_program_does_anew_is_shown_without_its_details() -> None:
    """Beside a change of the data it is not shown at all: the reader wants to know what is different on the bench."""
    drop = Change("figure", "drop", "5 K", "4 K", causes=("computation",))
    words = Change("step", "step 1.1", "Do.", "Now do.", causes=("form",))
    found = stands([edition("1"), edition("2", "1")], drop, words)
    assert (found["1"].state, found["1"].says) == ("changed", "Only recomputed or reworded by the program.")
    found = stands([edition("1"), edition("2", "1")], drop, words, MASS)
    assert found["1"].says == "Changed: boiler: 500 g → 480 g."


def test_every_notice_since_your_edition_is_shown() -> None:
    """Also that of an edition in between, and never one that your edition came with."""
    line = [edition("1"), edition("2", "1", 2, note="Second."), edition("3", "2", 3, note="Third.")]
    found = stands(line, TORQUE)
    assert found["1"].says == "2025-03-02: Second. 2025-03-03: Third."
    assert found["2"].says == "2025-03-03: Third."
    assert "3" not in found


def test_a_withdrawn_guide_is_named_before_all_else() -> None:
    """With its day and its reason; where the newest edition has a good one, with the way there."""
    gone = Withdrawal(edition="1", guide=GUIDE, date=DAY, because="It leaks.")
    found = stands([edition("1"), edition("2", "1", note="Read this.")], TORQUE, withdrawn=(gone,))
    assert found["1"] == Standing(
        "withdrawn",
        "Withdrawn on 2025-04-01. Do not work by this guide. It leaks.",
        f"2/guides/{GUIDE}/index.html",
    )
    both = (gone, Withdrawal(edition="2", guide=GUIDE, date=DAY, because="It leaks too."))
    found = stands([edition("1"), edition("2", "1")], TORQUE, withdrawn=both)
    assert found["1"].leads_to == found["2"].leads_to == ""


def test_a_withdrawal_in_a_later_edition_is_shown_to_readers_of_the_one_before() -> None:
    """The fault may be older than the edition in which it was found; whoever has the newer one is not concerned."""
    gone = Withdrawal(edition="2", guide=GUIDE, date=DAY, because="It leaks.")
    found = stands([edition("1"), edition("2", "1"), edition("3", "2")], withdrawn=(gone,))
    assert found["1"].state == "notice"
    assert found["1"].says == (
        "This guide was withdrawn in edition 2 on 2025-04-01: It leaks. Ask us whether yours has the same fault "
        "before you work by it. Unchanged since your edition."
    )
    assert found["2"].state == "withdrawn"
    assert "3" not in found


def test_a_guide_that_is_gone() -> None:
    """The newest edition has no such guide."""
    found = stands([edition("1"), edition("2", "1", guides={"plain-two/collar": "A"})])
    assert (found["1"].state, found["1"].leads_to) == ("gone", "")


def test_the_file_names_the_newest_edition() -> None:
    """Its form, as the script reads it."""
    line = [edition("1"), edition("2", "1")]
    standing = {"1": {GUIDE: Standing("unchanged", "Same.", "2/x.html")}, "2": {}}
    assert as_json(standing, line) == {
        "format": 1,
        "newest": "2",
        "editions": {"1": {GUIDE: {"state": "unchanged", "says": "Same.", "href": "2/x.html"}}, "2": {}},
    }


# --- which guide is mine -----------------------------------------------------------------------------


def test_a_kits_revision_and_a_variant_resolve_to_the_newest_edition_for_them() -> None:
    """An old revision keeps leading to the last edition that was for it."""
    line = [
        edition("1", guides={GUIDE: "A"}),
        edition("2", "1", guides={GUIDE: "A", "plain-two/collar": "A"}),
        edition("3", "2", guides={GUIDE: "B", "plain-two/collar": "A"}),
    ]
    found = {(one.revision, one.variant): one.edition for one in resolve(line)}
    assert found == {("A", "plain-one"): "2", ("A", "plain-two"): "3", ("B", "plain-one"): "3"}


def page(path: str, line: list[Edition], *gone: Withdrawal, notice: str = "") -> str:
    """One page of the root."""
    return made(line, gone, notice)[path].decode()


def made(line: list[Edition], gone: tuple[Withdrawal, ...], notice: str, *paths: str) -> dict[str, bytes]:
    """Every page of the root, where the newest edition has pages at these paths."""
    root = Root(
        name="A Workshop",
        site_url="https://guides.example/",
        contact="post@workshop.example",
        about="",
        line=line,
        folders={one.edition: one.edition for one in line},
        withdrawn=gone,
        standings={"1": {GUIDE: Standing("notice", notice, "2/x.html")}} if notice else {},
        front=Front("", (), Selling("A Workshop", "post@workshop.example", None), None),
        machines={},
        draft=False,
        paths=paths,
    )
    return dict(pages(root))


def test_a_short_address_leads_to_the_guide_without_a_script() -> None:
    """By a link and by the page's own head; nothing is loaded."""
    short = short_address("collar", "A", "plain-one") + "index.html"
    text = page(short, [edition("1")])
    target = f"../../../1/guides/{GUIDE}/index.html"
    assert f'http-equiv="refresh" content="0; url={target}"' in text
    assert f'<a href="{target}">' in text
    assert "<script" not in text


def test_a_short_address_stops_to_show_a_notice() -> None:
    """It still leads on, but not before the notice can be read."""
    short = short_address("collar", "A", "plain-one") + "index.html"
    line = [edition("1"), edition("2", "1", guides={GUIDE: "B"}, note="Tighten <again>.")]
    text = page(short, line, notice="2025: Tighten <again>.")
    assert "Tighten &lt;again&gt;." in text
    assert "http-equiv" not in text


def test_a_withdrawn_guides_short_address_leads_to_its_stop_page() -> None:
    """And says so itself."""
    gone = Withdrawal(edition="1", guide=GUIDE, date=DAY, because="It leaks.")
    short = short_address("collar", "A", "plain-one") + "index.html"
    text = page(short, [edition("1")], gone)
    assert "Do not work by the guide" in text
    assert "It leaks." in text
    assert f"url=../../../1/guides/{GUIDE}/index.html" in text
    assert "withdrawn" in page("which.html", [edition("1")], gone)


def test_the_newest_edition_has_an_address_that_stays() -> None:
    """A page under `latest/` for each of its pages, leading there from where it lies."""
    found = made([edition("1"), edition("2", "1")], (), "", "index.html", "guides/a/b/index.html", "404.html", "x.css")
    latest = [path for path in found if path.startswith("latest/")]
    assert sorted(latest) == ["latest/guides/a/b/index.html", "latest/index.html"]
    assert b"url=../../../../2/guides/a/b/index.html" in found["latest/guides/a/b/index.html"]
