"""An instruction at the bench: my case, one step at a time, a night, waits, and the report at the end."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from bench import (
    BACK,
    EDITION,
    LONG,
    PATH,
    SHORT,
    begun,
    fill,
    kept,
    lay,
    number,
    onward,
    place_of,
    published,
    put,
    where,
)
from conftest import Open, axe_violations, served

from guidegen.commands.builds import rules
from guidegen.editions.edition import Edition
from guidegen.judge.builds.received import problems_of
from guidegen.judge.builds.text import read
from guidegen.trade.paths import known_facts
from tests.axe import lay_out


@pytest.fixture(scope="module")
def bench_site(sample_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A long instruction with two cases and a short one with one."""
    return lay(tmp_path_factory.mktemp("bench"), sample_site.parent, LONG, SHORT)


@pytest.fixture(scope="module")
def address(bench_site: Path) -> Iterator[str]:
    """The site over HTTP, under its own content policy."""
    with served(bench_site) as home:
        yield home


def test_my_case_leaves_out_what_the_others_have(open_page: Open, address: str) -> None:
    """Steps, phases and their entries in the contents; the address carries it, and all of it comes back."""
    course = published(*LONG).procedure.fitting  # type: ignore[union-attr]
    page = open_page(address + PATH.format(*LONG)).page
    steps = page.locator("li.gg-step:not([hidden])")
    assert steps.count() == len(course.steps)
    page.get_by_text("You have the exchange boiler", exact=True).click()
    own = [step for step in course.steps if not step.cases or "exchanged" in step.cases]
    assert steps.count() == len(own) < len(course.steps)
    assert page.url.endswith("install.html?case=exchanged")
    assert not page.locator("#phase-trim").is_visible()
    assert page.locator(".gg-only-if").filter(visible=True).count() == 0
    page.reload()
    assert steps.count() == len(own)
    page.get_by_text("All cases, each with its condition").click()
    assert steps.count() == len(course.steps)
    assert page.url.endswith("install.html")


def test_a_drawing_shows_nothing_of_the_other_case(open_page: Open, address: str) -> None:
    """Only who trims the boiler fits pipe and tap to it again: neither name nor number is there for the other."""
    page = open_page(address + PATH.format(*LONG)).page
    figure = page.locator("#drawing-put-back-5")
    line = figure.locator("li", has_text="steam tap")
    ring = line.locator(".gd-ring").inner_text()
    number = figure.locator(".gd-number + text").get_by_text(ring, exact=True)
    for case, there in (("You have the exchange boiler", False), ("You trim your own boiler", True)):
        page.get_by_text(case, exact=True).click()
        assert (line.is_visible(), number.is_visible()) == (there, there)
    assert figure.locator("li", has_text="relief valve").is_visible()


def test_without_scripts_everything_is_there(open_page: Open, address: str) -> None:
    """Every step of every case, and nothing that only a script could make work."""
    page = open_page(address + PATH.format(*LONG) + "?case=exchanged", java_script_enabled=False).page
    course = published(*LONG).procedure.fitting  # type: ignore[union-attr]
    assert page.locator("li.gg-step").filter(visible=True).count() == len(course.steps)
    for part in ("#my-case", ".gs-intro", ".gs", ".gs-foot"):
        assert not page.locator(part).is_visible()


def test_a_build_from_the_first_step_to_a_report_that_is_accepted(open_page: Open, address: str) -> None:
    """By keyboard, with a check that fails once, the name of the skilled person, and a stop after the second phase."""
    record = published(*SHORT)
    watched = begun(open_page, address, SHORT)
    page, failed, stopped = watched.page, "", False
    steps = record.procedure.fitting.steps  # type: ignore[union-attr]
    back = {
        one.number for one in steps if one.hold and ((one.hold.on_fail and one.hold.on_fail.number) or "")[:1].isdigit()
    }
    while where(page) != "The work is done":
        if where(page).startswith("After 2"):
            stopped = True
            page.get_by_role("button", name="Stop here").click()
            page.get_by_role("button", name="Go on with case").click()
        if where(page).startswith(("After ", "You were")):
            page.get_by_role("button", name="Go on", exact=True).click()
            continue
        shown = number(page)
        assert where(page) != "Stop"
        if not failed and shown in back:
            failed = shown
            page.get_by_role("button", name="It failed").click()
            continue
        fill(page, record.procedure.fitting)  # type: ignore[union-attr]
        page.locator(".gs-where").focus()
        page.keyboard.press("ArrowRight")
        assert where(page) != shown or not page.locator(".gs-error").inner_text()
    assert stopped
    assert failed
    page.get_by_label("Finished on").fill("2026-11-20")
    page.get_by_label("The report may be published").check()
    page.get_by_label("What helped").fill("cleaned the contact, and it was right")
    page.get_by_text("Measured or seen on this machine").click()
    page.get_by_label("Connection").select_option("hard-wired")
    text = page.locator(".gs-text").input_value()
    edition = Edition(edition=EDITION, date=datetime.date(2026, 3, 1), reason="first", guides={})
    received = read(text)
    asked = rules(record, edition)
    assert [str(one) for one in problems_of(received, asked, known_facts(), datetime.date(2026, 12, 1))] == []
    report = received.report
    assert {one.step for one in asked.holds if one.in_phase} == {
        one.step for one in report.readings if one.result == "passed"
    }
    assert (report.signer, report.publish) == ("electrically-skilled", True)
    assert report.facts == {"mains.connection": "hard-wired"}
    assert [(one.number, one.helped) for one in report.failures] == [(failed, "cleaned the contact, and it was right")]
    assert set(report.minutes) == {phase.id for phase in record.procedure.fitting.phases}  # type: ignore[union-attr]
    assert watched.errors == []
    assert watched.outside == []


@pytest.mark.parametrize("pair", [SHORT, LONG])
def test_the_way_back_from_the_first_step_to_its_record(open_page: Open, address: str, pair: tuple[str, str]) -> None:
    """Its own steps, kept apart from the fitting's; at the end the readings stand in the page's record."""
    record = published(*pair)
    course = record.procedure.restoring  # type: ignore[union-attr]
    assert course is not None
    watched = begun(open_page, address, pair, BACK)
    page, seen = watched.page, []
    while where(page) != "The work is done":
        if where(page).startswith(("After ", "You were")):
            page.get_by_role("button", name="Go on", exact=True).click()
            continue
        seen.append(number(page))
        fill(page, course)
        page.locator(".gs-where").focus()
        page.keyboard.press("ArrowRight")
        assert where(page) != seen[-1] or not page.locator(".gs-error").inner_text()
    assert seen == [step.number for phase in course.phases for step in phase.steps]
    assert page.locator(".gs-card .gs-text").count() == 0
    assert axe_violations(page) == []
    page.locator(".gs-leave").click()
    measure = next(step for step in course.steps if step.act == "measure-temperature")
    lay_out(page)
    read = page.locator(f'.gg-readings tr:has(a[href="#{measure.anchor}"]) td:last-child')
    assert read.first.inner_text() == measure.hold.accept.limit  # type: ignore[union-attr]
    assert page.get_by_role("button", name="Go on with case").count() == 1
    page.goto(address + PATH.format(*pair))
    page.locator(".gs-intro").wait_for()
    assert page.get_by_role("button", name="Go on with case").count() == 0
    assert watched.errors == []


def test_a_reading_beyond_its_limit_goes_no_further(open_page: Open, address: str) -> None:
    """It is named with its limit; what the failing side leads to comes, and the check again behind it."""
    record = published(*LONG)
    page = begun(open_page, address, LONG).page
    put(page, at=place_of(record, "take-out/measure"))
    field = page.locator(".gs-field input")
    onward(page)
    assert "as in 40 °C" in page.locator(".gs-error").inner_text()
    field.fill("41,5")
    onward(page)
    assert "41.5 °C is not within the limit: 40 °C" in page.locator(".gs-error").inner_text()
    assert field.get_attribute("aria-invalid") == "true"
    page.get_by_role("button", name="It failed").click()
    (step,) = [one for one in record.procedure.fitting.steps if one.key == "take-out/measure"]  # type: ignore[union-attr]
    assert number(page) == step.hold.on_fail.number  # type: ignore[union-attr]
    onward(page)
    assert number(page) == step.number
    page.locator(".gs-field input").fill("104 °F")
    onward(page)
    assert kept(page)["holds"][str(place_of(record, "take-out/measure"))] == {
        "result": "passed", "reading": "104 °F", "note": "",
    }  # fmt: skip
    assert [one["reading"] for one in kept(page)["failed"]] == ["41.5 °C"]


def test_the_third_failure_ends_it(open_page: Open, address: str) -> None:
    """As the instruction says beside its phases."""
    record = published(*LONG)
    page = begun(open_page, address, LONG).page
    put(page, at=place_of(record, "wrap/clamp"))
    for _ in range(3):
        page.get_by_role("button", name="It failed").click()
    assert where(page) == "Stop"
    assert "fails a third time" in page.locator(".gs-card").inner_text()


def test_a_device_that_keeps_nothing_costs_no_function(open_page: Open, address: str) -> None:
    """It says so; the case can be saved to a file, and is gone on with from there elsewhere."""
    watched = open_page(address + PATH.format(*SHORT), size="narrow")
    page = watched.page
    page.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('', 'QuotaExceededError'); };")
    page.reload()
    page.locator(".gs-begin").click()
    page.wait_for_selector(".gs-on")
    assert "keeps nothing" in page.locator(".gs-note").inner_text()
    onward(page)
    shown = number(page)
    with page.expect_download() as download:
        page.locator(".gs-save").click()
    file = {"name": "case.json", "mimeType": "application/json", "buffer": Path(download.value.path()).read_bytes()}
    other = open_page(address + PATH.format(*SHORT), size="narrow").page
    other.locator(".gs-file").set_input_files(file)
    other.wait_for_selector(".gs-on")
    assert number(other) == shown
    strange = json.loads(file["buffer"]) | {"guide": {"variant": SHORT[0], "kit": SHORT[1], "edition": "2020.1"}}
    third = open_page(address + PATH.format(*SHORT), size="narrow").page
    third.locator(".gs-file").set_input_files({**file, "buffer": json.dumps(strange).encode()})
    third.get_by_text("edition 2020.1").wait_for()
    third.locator(".gs-file").set_input_files({**file, "buffer": b"<b>no</b>"})
    third.get_by_text("not a case of this instruction").wait_for()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible_with_large_targets_at_any_zoom(open_page: Open, address: str, scheme: str) -> None:
    """Every rule but AAA, at a hold point, a wait, a stop and the end; 44 px; at 200 % of 390 px no scrolling aside."""
    record = published(*LONG)
    page = begun(open_page, address, LONG, scheme=scheme).page
    for key in ("prepare/as-found", "cool/wait", "trim/saw-drain-boss", "cold-test/earth-boiler"):
        put(page, at=place_of(record, key))
        assert axe_violations(page) == []
        small = page.locator("button:visible, .gs-hand input:visible").evaluate_all(
            "(all) => all.filter((one) => (one.closest('label') || one).getBoundingClientRect().height < 44)"
            ".map((one) => one.outerHTML)"
        )
        assert small == []
    put(page, at=place_of(record, "trim/compare"), show="stop", trail=[place_of(record, "take-out/boiler-out")])
    assert axe_violations(page) == []
    put(page, show="end")
    assert axe_violations(page) == []
    page.set_viewport_size({"width": 195, "height": 422})
    for key in ("trim/identify-drain-boss", "heat/watch"):
        put(page, at=place_of(record, key), show="step")
        assert page.evaluate("document.documentElement.scrollWidth") <= 195


def test_the_object_is_picked_out_in_the_drawing(open_page: Open, address: str) -> None:
    """The numbers of the step and no others; leaving the mode puts the page back as it was."""
    page = begun(open_page, address, LONG).page
    before = page.locator("#phase-take-out").locator("xpath=..").evaluate("(one) => one.innerHTML")
    record = published(*LONG)
    put(page, at=place_of(record, "take-out/bolts-off"))
    item = page.locator("li.gg-step.is-now")
    wanted = set(item.locator(".gg-step__do .gd-ring").all_text_contents())
    picked = set(page.locator(".gg-phase.is-now .gd-number.is-picked + text").all_text_contents())
    assert picked <= wanted
    page.locator(".gs-leave").click()
    assert page.locator("#phase-take-out").locator("xpath=..").evaluate("(one) => one.innerHTML") == before
    assert page.locator("li.gg-step").first.is_visible()


def test_it_works_from_a_folder(open_page: Open, bench_site: Path) -> None:
    """Without a server, where no script may change the address."""
    page = open_page((bench_site / PATH.format(*LONG)).as_uri(), size="narrow").page
    page.get_by_text("You have the exchange boiler", exact=True).click()
    page.locator(".gs-begin").click()
    page.wait_for_selector(".gs-on")
    onward(page)
    shown = number(page)
    page.reload()
    page.wait_for_selector(".gs-on")
    assert number(page) == shown
    assert kept(page)["case"] == "exchanged"
