"""An instruction at the bench: what a step is not passed without, and two cases that stay apart."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from bench import LONG, SHORT, begun, lay, number, onward, place_of, published, put
from conftest import Open, served

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Page as Tab


@pytest.fixture(scope="module")
def address(sample_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A long instruction with two cases and a short one with one, over HTTP."""
    with served(lay(tmp_path_factory.mktemp("cases"), sample_site.parent, LONG, SHORT)) as home:
        yield home


def test_a_signature_and_a_shortest_time_are_waited_for(open_page: Open, address: str) -> None:
    """Both are said before the step is passed; a name that was written is offered, not put in."""
    record = published(*LONG)
    steps = record.procedure.fitting.steps  # type: ignore[union-attr]
    skilled = next(place for place, step in enumerate(steps) if step.role == "electrically-skilled")
    page = begun(open_page, address, LONG).page
    put(page, at=place_of(record, "cold-test/sign-off"))
    for box in page.locator("li.gg-step.is-now .gg-hold .gg-ticks input").all():
        box.check()
    onward(page)
    assert "who signed" in page.locator(".gs-error").inner_text()
    put(page, at=place_of(record, "heat/watch"))
    onward(page)
    assert page.locator(".gs-error").inner_text() == "The wait is not over."
    put(page, at=skilled, names={"0": "R. Example"})
    assert page.locator("#gs-names option").text_content() == "R. Example"
    assert page.get_by_label("Name of the electrically skilled person").input_value() == ""


def test_two_cases_do_not_mix(open_page: Open, address: str) -> None:
    """Ticks and record are those of the case that is open; a case that changes elsewhere is put away."""
    record = published(*SHORT)
    hold = place_of(record, "test/sign-off")
    page = begun(open_page, address, SHORT).page
    put(page, done={"0": True}, at=1, holds={str(hold): {"result": "passed", "note": "first case"}})
    read = page.locator(".gg-readings", has_text="first case")
    assert read.count() == 1
    assert page.locator("li.gg-step .gg-step__do input:checked").count() == 1
    page.locator(".gs-leave").click()
    page.locator(".gs-begin").click()
    assert page.locator("li.gg-step .gg-step__do input:checked").count() == 0
    assert read.count() == 0
    page.evaluate(
        """() => {
          const number = location.hash.slice("#step=".length);
          const key = Object.keys(localStorage).find((one) => one.endsWith("." + number));
          localStorage[key] = JSON.stringify({ ...JSON.parse(localStorage[key]), at: 3 });
          dispatchEvent(new StorageEvent("storage", { key }));
        }"""
    )
    page.get_by_text("changed in another window").wait_for()
    assert page.locator(".gs-on").count() == 0
    page.get_by_role("button", name="Go on with case").first.click()
    assert kept_at(page) == 3
    page.locator(".gs-leave").click()
    page.get_by_role("button", name="Delete case").first.click()
    assert page.get_by_role("button", name="Delete case").count() == 2
    page.once("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Delete case").first.click()
    assert page.get_by_role("button", name="Delete case").count() == 1


def test_two_windows_on_one_case(open_page: Open, address: str) -> None:
    """The window that was opened last has it; the other puts it away, writes no more, and can take it back."""
    first = begun(open_page, address, SHORT).page
    onward(first)
    second = first.context.new_page()
    second.goto(first.url)
    second.wait_for_selector(".gs-on")
    first.get_by_text("changed in another window").wait_for()
    assert first.locator(".gs-on").count() == 0
    shown = number(second)
    onward(second)
    further = number(second)
    assert further != shown
    first.get_by_role("button", name="Go on with case").click()
    assert number(first) == further
    second.get_by_text("changed in another window").wait_for()
    assert second.locator(".gs-on").count() == 0


def kept_at(page: Tab) -> int:
    """The place that the open case is at."""
    at: int = page.evaluate(
        "JSON.parse(localStorage[Object.keys(localStorage).find((one) => one.endsWith(location.hash.slice(6)))]).at"
    )
    return at


def test_a_double_tap_passes_one_step(open_page: Open, address: str) -> None:
    """Nobody saw the second; a key that is held down repeats nothing either."""
    page = begun(open_page, address, SHORT).page
    first = number(page)
    page.wait_for_timeout(450)
    page.locator(".gs-next").dblclick()
    second = number(page)
    page.wait_for_timeout(450)
    page.locator(".gs-back").click()
    assert number(page) == first
    onward(page)
    assert number(page) == second
    page.keyboard.down("ArrowLeft")
    page.keyboard.up("ArrowLeft")
    page.keyboard.down("ArrowRight")
    page.keyboard.down("ArrowRight")
    assert number(page) == second
