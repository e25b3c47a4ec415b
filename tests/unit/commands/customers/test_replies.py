"""`guidegen answer`: a reply to paste."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from guidegen.site.pages.topics import TOPICS
from tests.unit.commands.customers.order_texts import (
    EDITION,
    GUIDES,
    Run,
)


def test_without_a_topic_all_are_listed(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("answer", "tamsin-mk1") == 0
    listed = [line.split()[0] for line in capsys.readouterr().out.splitlines()[1:]]
    assert listed == list(TOPICS)


@pytest.mark.parametrize("topic", TOPICS)
def test_a_reply_comes_from_the_newest_edition_and_links_to_it(
    run: Run, capsys: pytest.CaptureFixture[str], topic: str
) -> None:
    """Numbers and link are of the same edition; the address is that of mkdocs.yml."""
    assert run("answer", "tamsin-mk2", topic, "--kit", "feed-preheater") == 0
    printed = capsys.readouterr()
    *_, name, link = printed.out.splitlines()
    assert name == f"More, with every number (edition {EDITION}):"
    start = f"https://guides.kettleby.example/{EDITION}/guides/tamsin-mk2/feed-preheater/"
    assert link.startswith(start)
    assert printed.err == ""


def test_the_draft_has_no_public_page(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its reply has no link, and the maker reads so beside it; the text itself can be piped."""
    from guidegen import pipeline
    from guidegen.record import Assessment

    made = Assessment.model_validate(GUIDES["tamsin-mk2", "feed-preheater"])
    monkeypatch.setattr(pipeline, "assess_kept", lambda *words: made)
    assert run("answer", "tamsin-mk2", "noise", "--kit", "feed-preheater", "--edition", "next") == 0
    printed = capsys.readouterr()
    assert "http" not in printed.out
    assert "no public page" in printed.err


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("tamsin-mk1", "gian", "--kit", "feed-preheater"), 2, 'there is no topic "gian"; write gain'),
        (("tamsin-mk1", "gain"), 2, "--kit is missing; the kits are banjo-feed, feed-preheater, loop-controller"),
        (("tamsin-mk1", "gain", "--kit", "feed-preheter"), 1, "fix: write feed-preheater"),
        (("tamsin-mk", "gain", "--kit", "feed-preheater"), 1, "fix: write tamsin-mk"),
        (("tamsin-mk1", "gain", "--kit", "feed-preheater", "--edition", "2024.1"), 3, "there is no snapshot"),
    ],
)
def test_what_cannot_be_answered_names_the_way_out(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: int, says: str
) -> None:
    assert run("answer", *words) == code
    assert says in capsys.readouterr().err


def test_a_guide_that_was_withdrawn_is_not_quoted(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The maker reads why, and how to answer from today's data."""
    guide = "tamsin-mk1/feed-preheater"
    entry = {"edition": EDITION, "guide": guide, "date": "2026-01-31", "because": "A wrong torque."}
    path = workshop / "content/editions/withdrawn.json"
    path.write_text(json.dumps({"format": 1, "withdrawn": [entry]}), encoding="utf-8")
    assert run("answer", "tamsin-mk1", "gain", "--kit", "feed-preheater", root=workshop) == 4
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "was withdrawn on 2026-01-31: A wrong torque.; --edition next answers" in printed.err


def test_the_price_has_the_day_it_ends(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From the offers of the day, which are never part of an edition; a site without an address gets no link."""
    offers = """\
valid_until: 9999-12-31
taxes: With tax.
delivery: [{to: abroad, price: 14 EUR, days: 9}]
kits:
  feed-preheater:
    price: 148 EUR
    stock: 6
    parts: {exchange-boiler: {price: 62.50 EUR}}
  banjo-feed: {price: 19 EUR, lead_time_days: 5}
"""
    (workshop / "content/offers.yml").write_text(offers, encoding="utf-8")
    assert run("answer", "tamsin-mk1", "cost", "--kit", "feed-preheater", root=workshop) == 0
    printed = capsys.readouterr()
    lines = printed.out.splitlines()
    assert "Feed Preheater: 148 EUR, 6 in stock" in lines
    ends = ["Delivery abroad: 14 EUR, 9 days on the way.", "With tax.", "Valid until 9999-12-31."]
    assert [line for line in lines if line in ends] == ends
    starts = ("Time: ", "Tools to have or to buy: ", "Electricity: ", "Ready ", "For good: ")
    assert [start for start in starts if any(line.startswith(start) for line in lines)] == list(starts)
    assert "no site_url" in printed.err


def test_a_price_that_lapsed_is_not_quoted(run: Run, workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The maker reads until when it held; all that is no money is answered."""
    offers = "valid_until: 2025-12-31\nkits:\n  feed-preheater: {price: 148 EUR}\n"
    (workshop / "content/offers.yml").write_text(offers, encoding="utf-8")
    assert run("answer", "tamsin-mk1", "cost", "--kit", "feed-preheater", root=workshop) == 0
    printed = capsys.readouterr()
    assert "148" not in printed.out
    assert "Time: " in printed.out
    assert "the prices in content/offers.yml hold until 2025-12-31: the reply names none" in printed.err


def test_what_does_not_fit_has_no_price(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("answer", "bracken-b", "cost", "--kit", "feed-preheater") == 0
    assert "EUR" not in capsys.readouterr().out
