"""A guide that was taken along opens without a network, says of which day its notices are, and goes when it must."""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from conftest import PATIENCE, axe_violations, served

from tests.axe import lay_out

Open = Callable[..., Any]
EDITION = "2026.9"
FOLDER = "guides/tamsin-mk2/feed-preheater"
PAGE = f"{FOLDER}/install.html"
NOTE = "Loosen the four bolts and tighten them to the new torque."
LARGEST = 1_500_000


@pytest.fixture(scope="module")
def site(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration's draft, and the same under an edition's name, with a notice about one of its guides."""
    root = tmp_path_factory.mktemp("along") / "site"
    shutil.copytree(built_site.parent, root, copy_function=os.link)
    shutil.copytree(built_site, root / EDITION, copy_function=os.link)
    for page in {*(root / EDITION / FOLDER).glob("*.html")} - {root / EDITION / FOLDER / "one-file.html"}:
        changed(page, b'data-edition="next"', f'data-edition="{EDITION}"'.encode())
    told(root, {"state": "notice", "says": NOTE})
    return root


def told(site: Path, standing: dict[str, str]) -> None:
    """What the root says of the guide today."""
    guide = FOLDER.removeprefix("guides/")
    (site / "notices.json").unlink(missing_ok=True)
    (site / "notices.json").write_text(json.dumps({"editions": {EDITION: {guide: standing}}}), "utf-8")


def changed(path: Path, old: bytes, new: bytes) -> None:
    """Another file in place of one that may be shared."""
    data = path.read_bytes()
    assert old in data
    path.unlink()
    path.write_bytes(data.replace(old, new))


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    """The whole site over HTTP."""
    with served(site) as found:
        yield found


def take(page: Any) -> None:
    """Press the button and wait until it says that all is there."""
    page.locator("[data-take]").click()
    page.locator('[data-along] [role="status"]', has_text="Taken along on").wait_for(timeout=PATIENCE)


def test_it_opens_offline_with_the_notices_of_that_day(open_page: Open, address: str) -> None:
    """The page, its neighbours and its styles; a page that was not taken leads to the list of those that were."""
    watched = open_page(f"{address}{EDITION}/{PAGE}")
    page = watched.page
    title = page.locator("h1").inner_text()
    take(page)
    page.context.set_offline(True)
    page.goto(f"{address}{EDITION}/{PAGE}")
    assert page.locator("h1").inner_text() == title
    page.locator('[data-state="offline"]', has_text="notices as of 20").wait_for()
    page.locator('[data-state="notice"]', has_text=NOTE).wait_for()
    page.locator("[data-leave]").wait_for()
    assert page.locator("h1").evaluate("one => getComputedStyle(one).fontWeight") == "650"
    page.goto(f"{address}{EDITION}/{FOLDER}/index.html")
    assert "Tamsin Mark 2" in page.locator("h1").inner_text()
    page.goto(f"{address}next/{PAGE}")
    assert page.url == f"{address}away.html"
    assert not axe_violations(page)
    page.locator("main li a", has_text=title).click()
    page.wait_for_url(f"{address}{EDITION}/{PAGE}")
    page.locator("[data-leave]").click()
    page.locator('[role="status"]', has_text="Removed").wait_for()
    page.goto(f"{address}{EDITION}/{PAGE}")
    assert page.url == f"{address}away.html"
    assert page.locator("main li").count() == 0


def test_a_guide_that_was_withdrawn_goes_as_soon_as_that_is_known(open_page: Open, site: Path, address: str) -> None:
    """The next visit online gets what the server has now; before, the page itself says so."""
    page = open_page(f"{address}{EDITION}/{PAGE}").page
    take(page)
    original = site / EDITION / PAGE
    before = original.read_bytes()
    try:
        told(site, {"state": "withdrawn", "says": "It may leak."})
        original.unlink()
        original.write_bytes(b"<!doctype html><title>Stop</title><h1>Stop</h1>")
        page.reload()
        page.locator('[data-state="withdrawn"]', has_text="It may leak.").wait_for()
        page.reload()
        assert page.locator("h1").inner_text() == "Stop"
    finally:
        told(site, {"state": "notice", "says": NOTE})
        original.write_bytes(before)


def test_a_withdrawal_reaches_pages_made_anew_and_pages_of_two_kits(open_page: Open, site: Path, address: str) -> None:
    """Whatever instructs by the guide goes, from both folders of the edition; what does not, stays."""
    page = open_page(f"{address}{EDITION}/{PAGE}").page
    take(page)
    anew = f"{EDITION}-rerendered"
    stays = f"/{anew}/guides/tamsin-mk2/banjo-feed/install.html"
    goes = [f"/{anew}/{PAGE}", f"/{anew}/guides/tamsin-mk2/banjo-feed/with-feed-preheater.html",
            f"/{anew}/sheets/tamsin-mk2/feed-preheater.pdf"]  # fmt: skip
    page.evaluate(
        """([name, paths]) => caches.open(name).then((held) =>
          Promise.all(paths.map((path) => held.put(path, new Response("x")))))""",
        [f"guidegen-along:{anew}", [stays, *goes]],
    )
    try:
        told(site, {"state": "withdrawn", "says": "It may leak."})
        page.reload()
        page.locator('[data-state="withdrawn"]').wait_for()
        keys = "(name) => caches.open(name).then((held) => held.keys()).then((all) => all.map((one) => one.url))"
        assert page.evaluate(keys, f"guidegen-along:{anew}") == [address.rstrip("/") + stays]
        left = page.evaluate(keys, f"guidegen-along:{EDITION}")
        assert [one for one in left if f"/{FOLDER}/" in one] == []
    finally:
        told(site, {"state": "notice", "says": NOTE})


def test_an_answer_that_is_none_does_not_take_the_notices_away(open_page: Open, site: Path, address: str) -> None:
    """A page to sign in at, in place of the notices: those of before stand, with their day."""
    page = open_page(f"{address}{EDITION}/{PAGE}").page
    take(page)
    (site / "notices.json").write_text("<!doctype html><h1>Sign in to this network</h1>", "utf-8")
    try:
        for _ in range(2):
            page.reload()
            page.locator('[data-state="offline"]', has_text="notices as of 20").wait_for()
            page.locator('[data-state="notice"]', has_text=NOTE).wait_for()
    finally:
        told(site, {"state": "notice", "says": NOTE})


def test_a_draft_comes_from_the_network_first(open_page: Open, site: Path, address: str) -> None:
    """What was taken of it serves only where there is none."""
    page = open_page(f"{address}next/{PAGE}").page
    take(page)
    draft = site / "next" / PAGE
    changed(draft, b"<h1", b"<h1 data-newer")
    page.reload()
    assert page.locator("h1[data-newer]").count() == 1
    page.context.set_offline(True)
    page.reload()
    page.locator("h1").wait_for()


def test_what_cannot_be_had_whole_is_not_taken(open_page: Open, site: Path, address: str) -> None:
    """One file missing: it says so, and keeps nothing."""
    page = open_page(f"{address}{EDITION}/{PAGE}").page
    hidden = site / EDITION / FOLDER / "numbers.html"
    hidden.rename(hidden.with_suffix(".away"))
    try:
        page.locator("[data-take]").click()
        page.locator('[role="status"]', has_text="could not be taken").wait_for(timeout=PATIENCE)
    finally:
        hidden.with_suffix(".away").rename(hidden)
    store = "caches.open('guidegen-along:2026.9').then(held => held.keys()).then(keys => keys.length)"
    assert page.evaluate(store) == 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_one_file_shows_and_does_what_the_page_does_from_any_folder(
    open_page: Open, site: Path, tmp_path: Path, scheme: str
) -> None:
    """Alone in a folder: nothing is asked for, nothing is wrong on the console, ticks stay, axe finds nothing."""
    alone = tmp_path / "a guide.html"
    shutil.copy(site / EDITION / FOLDER / "one-file.html", alone)
    assert alone.stat().st_size < LARGEST
    watched = open_page(alone.as_uri(), "narrow", scheme)
    page = watched.page
    assert "every file opened from a folder can read it" in page.locator(".one-note").inner_text()
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    page.locator("input[data-tick]").first.check()
    page.reload()
    assert page.locator("input[data-tick]").first.is_checked()
    assert not axe_violations(page)
    assert watched.outside == []
    assert watched.errors == []
    whole = open_page((site / EDITION / PAGE).as_uri()).page
    steps = "all => all.map(one => one.innerText)"
    lay_out(page)
    lay_out(whole)
    assert page.locator(".gg-step__do").evaluate_all(steps) == whole.locator(".gg-step__do").evaluate_all(steps)


def test_the_one_file_is_whole_without_scripts(open_page: Open, site: Path) -> None:
    """And says that nothing is kept."""
    page = open_page((site / EDITION / FOLDER / "one-file.html").as_uri(), java_script_enabled=False).page
    assert "Without scripts nothing that you tick here is kept" in page.locator(".one-note").inner_text()
    assert page.locator(".gg-step").count() > 10
