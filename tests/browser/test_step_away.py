"""An instruction at the bench after somebody was away: a night, a wait, a page that stays lit, a guide called back."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from bench import EDITION, LONG, PATH, begun, fill, lay, number, onward, place_of, published, put, where
from conftest import Open, served

HOUR = 3_600_000


@pytest.fixture(scope="module")
def home(sample_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A long instruction with two cases in the folder of its edition, with the script that asks for notices."""
    made = lay(tmp_path_factory.mktemp("away"), sample_site.parent, LONG)
    page = made / PATH.format(*LONG)
    words = f'data-edition="{EDITION}" data-notice="Notice" data-withdrawn="Stop"'
    asks = f'<script src="../../../assets/guidegen/notices.js" {words} defer></script></head>'
    page.write_text(page.read_text("utf-8").replace("</head>", asks, 1), "utf-8")
    return made.rename(made.with_name(EDITION))


@pytest.fixture(scope="module")
def address(home: Path) -> Iterator[str]:
    """The site over HTTP, under its own content policy."""
    with served(home.parent) as top:
        yield f"{top}{home.name}/"


@pytest.mark.parametrize("step", ["put-back/boiler-in", "cold-test/earth-casing", "cold-test/prime"])
def test_after_a_night_the_steps_of_the_record_come_again(open_page: Open, address: str, step: str) -> None:
    """Nine hours later: what the record says of the step, then the step; where it says nothing, one asks."""
    record = published(*LONG)
    steps = {one.key: one for one in record.procedure.fitting.steps}  # type: ignore[union-attr]
    page = begun(open_page, address, LONG).page
    now = page.evaluate("Date.now()")
    put(page, at=place_of(record, step), seen=now - 9 * HOUR)
    assert where(page) == "You were away"
    again = steps[step].after_night
    if again is None:
        assert "Cut it off from the mains first." in page.locator(".gs-card").inner_text()
        assert page.get_by_role("button", name="Go on", exact=True).count() == 0
        page.get_by_role("button", name="Begin this phase again").click()
        assert number(page) == steps["cold-test/still-off"].number
        return
    listed = [text.replace("\u00a0", " ") for text in page.locator(".gs-card li").all_inner_texts()]
    assert listed == [f"{steps[one].number} {steps[one].do}" for one in again]
    page.get_by_role("button", name="Go on").click()
    for one in again:
        assert number(page) == steps[one].number
        assert "comes again" in page.locator(".gs-note").inner_text()
        fill(page, record.procedure.fitting)  # type: ignore[union-attr]
        onward(page)
    assert number(page) == steps[step].number


def test_a_wait_survives_a_reload_and_starts_again_when_the_clock_was_changed(open_page: Open, address: str) -> None:
    """Four hours from 20:00 end at midnight, shown with its date; set back by two hours it begins anew."""
    record = published(*LONG)
    watched = begun(open_page, address, LONG)
    page = watched.page
    evening = datetime.datetime(2026, 3, 2, 20, 0)
    page.clock.install(time=evening)
    put(page, at=place_of(record, "cool/wait"))
    onward(page)
    assert page.locator(".gs-error").inner_text() == "The wait is not over."
    page.get_by_role("button", name="Start the clock").click()
    says = page.locator(".gs-clock")
    assert "Ends at 2026-03-03 00:00" in says.inner_text()
    page.reload()
    assert "Ends at 2026-03-03 00:00" in says.inner_text()
    page.clock.set_system_time(evening - datetime.timedelta(hours=2))
    page.clock.run_for(2500)
    assert "begins again" in page.locator(".gs-note").inner_text()
    assert "Ends at 22:00" in says.inner_text()
    page.clock.fast_forward("04:01:00")
    page.clock.run_for(1500)
    assert "Over since 22:00." in says.inner_text()
    onward(page)
    assert number(page) == "2.3"


def test_a_page_that_stays_lit_sees_that_nobody_is_there(open_page: Open, address: str) -> None:
    """A night on the charger is a night away; so is one at a wait, from its end on, but not the wait itself."""
    record = published(*LONG)
    page = begun(open_page, address, LONG).page
    page.clock.install(time=datetime.datetime(2026, 3, 2, 20, 0))
    put(page, at=place_of(record, "cool/wait"))
    page.get_by_role("button", name="Start the clock").click()
    for hours in ("03:30:00", "00:40:00"):
        page.clock.fast_forward(hours)
        page.clock.run_for(1500)
        assert number(page) == "2.2"
    page.clock.fast_forward("01:00:00")
    page.clock.run_for(1500)
    assert where(page) == "You were away"
    page.get_by_role("button", name="Go on").click()
    onward(page)
    assert "Over since" in page.locator(".gs-clock").inner_text()
    put(page, at=place_of(record, "put-back/boiler-in"), again=[])
    for _ in range(3):
        page.clock.fast_forward("00:29:00")
        page.clock.run_for(1500)
        assert where(page) != "You were away"
        page.locator(".gs-where").click()
    page.clock.fast_forward("09:00:00")
    page.clock.run_for(1500)
    assert where(page) == "You were away"


def test_what_was_moved_begins_the_cooling_down_again(open_page: Open, address: str) -> None:
    """Then the look once more; where nothing was waited for yet, one asks."""
    record = published(*LONG)
    steps = {one.key: one for one in record.procedure.fitting.steps}  # type: ignore[union-attr]
    page = begun(open_page, address, LONG).page
    put(page, at=place_of(record, "put-back/still-off"), timers={f"{place_of(record, 'cool/wait')}.0": {"over": True}})
    page.get_by_role("button", name="It is not as it was left").click()
    assert number(page) == steps["cool/wait"].number
    onward(page)
    assert page.locator(".gs-error").inner_text() == "The wait is not over."
    fill(page, record.procedure.fitting)  # type: ignore[union-attr]
    onward(page)
    assert number(page) == steps["put-back/still-off"].number
    onward(page)
    assert number(page) == steps["put-back/measure"].number
    put(page, at=place_of(record, "cool/still-off"))
    page.get_by_role("button", name="It is not as it was left").click()
    assert "Cut it off from the mains first." in page.locator(".gs-card").inner_text()


@pytest.mark.parametrize("state", ["notice", "withdrawn"])
def test_a_notice_is_seen_in_the_mode_and_a_withdrawal_ends_it(
    open_page: Open, home: Path, address: str, state: str
) -> None:
    """Come back to a case by its address after the notice was given."""
    page = begun(open_page, address, LONG).page
    put(page, at=place_of(published(*LONG), "cold-test/earth-boiler"))
    page.set_viewport_size({"width": 390, "height": 400})
    case = page.url
    standing = {"state": state, "says": "A clamp may slip."}
    notices = home.with_name("notices.json")
    notices.write_text(json.dumps({"editions": {home.name: {"/".join(LONG): standing}}}), "utf-8")
    try:
        page.goto("about:blank")
        page.goto(case)
        page.locator(".gg-notice", has_text="A clamp may slip.").wait_for()
        page.wait_for_function("window.guidegenSteps")
        assert page.locator(".gs-on").count() == (state == "notice")
        top = page.locator(".gg-notice").evaluate("(one) => one.getBoundingClientRect().top")
        assert 0 <= round(top) < 400
        if state == "withdrawn":
            page.locator(".gs-begin").click()
            page.get_by_text("This guide was withdrawn").wait_for()
            assert page.locator(".gs-on").count() == 0
    finally:
        notices.unlink()
