"""A kit fitted from a phone and from paper: each report is added by the real command, and the page changes."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from bench import PATH, fill, number, put, where
from conftest import PATIENCE, Open, axe_violations, served

from guidegen.commands.builds import rules
from guidegen.editions import kept
from guidegen.judge.builds.received import HoldRule
from guidegen.record import Assessment
from guidegen.record.procedure import InstructionCourse
from guidegen.record.step import InstructionStep
from guidegen.site.pages.cases import cases_of
from guidegen.site.pages.paper.frame import SheetOrder
from guidegen.site.pages.paper.readings import record_data
from tests.editions_workshop import commit, git, guidegen, publish

if TYPE_CHECKING:
    from collections.abc import Callable, Container, Mapping

    from playwright.sync_api import Page as Tab

EDITION, DAY = "2025.9", "2025-09-01"
PAIR = ("tamsin-mk2", "feed-preheater")
OWN = "You trim your own boiler"
NIGHT = 9 * 3_600_000
AWAY_AT, FAILS_AT = "put-back/boiler-in", "take-out/measure"
OFFLINE = ("net::ERR_", "Network error")
"""What the browser says of what does not go along: sheets, prices, and the index of the theme's search."""


@pytest.fixture(scope="module")
def root(lay_down_small_workshop: Callable[[Path], Path], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small workshop, which has published one edition and heard of no machine."""
    made = lay_down_small_workshop(tmp_path_factory.mktemp("carried out") / "workshop")
    shutil.rmtree(made / "content" / "editions")
    (made / ".gitignore").write_text("/site/\n/.guidegen/\n/units/\n", encoding="utf-8")
    for words in (("init", "--quiet"), ("config", "user.name", "A Test"), ("config", "user.email", "test@a.example")):
        git(made, *words)
    commit(made)
    assert publish(made, EDITION, "--date", DAY) == 0
    return made


@pytest.fixture(scope="module")
def record(root: Path) -> Assessment:
    """The guide as its edition has it."""
    return kept.assessments(root, EDITION, "/".join(PAIR))[0]


@pytest.fixture(scope="module")
def address(root: Path) -> Iterator[str]:
    """Edition and draft over HTTP."""
    with served(root / "site") as home:
        yield home


def test_from_a_phone_without_a_network(open_page: Open, address: str, root: Path, record: Assessment) -> None:
    """At 390 px: taken along, cut off, a check that fails once, a night in the middle, the report copied and added."""
    course = record.procedure.fitting  # type: ignore[union-attr]
    watched = open_page(
        f"{address}{EDITION}/{PATH.format(*PAIR)}", "narrow", permissions=["clipboard-read", "clipboard-write"]
    )
    page = watched.page
    page.locator("[data-take]").click()
    page.locator('[data-along] [role="status"]', has_text="Taken along on").wait_for(timeout=PATIENCE)
    page.context.set_offline(True)
    page.reload()
    page.get_by_text(OWN, exact=True).click()
    page.locator(".gs-begin").click()
    page.wait_for_selector(".gs-on")
    assert record.builds == ()
    seen = work_through(page, course)
    failed, slept = (step.number for step in course.steps if step.key in (FAILS_AT, AWAY_AT))
    assert seen.count(failed) == 2
    again = {step.number for step in course.steps if step.key in (by_key(course, AWAY_AT).after_night or ())}
    assert again
    before = seen.index(slept)
    assert again <= set(seen[before + 1 : before + 1 + len(again)])
    report = finished(page)
    assert axe_violations(page) == []
    assert [one for one in watched.errors if not any(word in one for word in OFFLINE)] == []
    added(root, report, "2025-09-22")
    assert "Carried out" not in page_of(open_page, address, EDITION)
    text = page_of(open_page, address, "next")
    assert "Carried out on one machine of this variant: every hold point passed and was signed for." in text
    assert "failed on 1 of 1 machines" in text
    assert "What helped: an hour longer" in text


def test_from_paper(
    open_page: Open, address: str, root: Path, record: Assessment, capsys: pytest.CaptureFixture[str]
) -> None:
    """The form, filled in by hand from the record sheet, which has a line for whatever the form wants a reading of."""
    assert guidegen(root, "fitted", "form", *PAIR, "--case", "you trim your own boiler") == 0
    form = capsys.readouterr().out
    course = record.procedure.fitting  # type: ignore[union-attr]
    (case,) = (one for one in cases_of(course) if one.id == "trimmed")
    sheet = [row[0] for row in record_data(SheetOrder(record, case=case))["rows"]]
    asked = {one.step: one for one in rules(record, kept.line(root)[-1]).holds}
    written = re.sub(r"^(\S+ )(\S+) = not done$", lambda line: by_hand(line, asked, sheet), form, flags=re.MULTILINE)
    for old, new in (
        (f"Finished on: {DAY}", "Finished on: 2025-10-11"),
        ("by: nobody", "by: an electrically skilled person"),
        ("published: no", "published: yes"),
    ):
        assert old in written
        written = written.replace(old, new)
    before = page_of(open_page, address, EDITION)
    added(root, written, "2025-10-15")
    text = page_of(open_page, address, "next")
    assert (before.count("2025-10-11"), text.count("2025-10-11")) == (0, 1)
    assert re.search(r"Carried out on (one machine|2 machines) of this variant", text)


def by_hand(line: re.Match[str], asked: Mapping[str, HoldRule], sheet: Container[str]) -> str:
    """A line of the form with what stands on the sheet of paper: a reading just on its limit, or that it passed."""
    rule = asked[line[2]]
    if not rule.wants_reading:
        return f"{line[1]}{line[2]} = passed"
    assert line[1].strip() in sheet
    return f"{line[1]}{line[2]} = {rule.limit.partition(' ±')[0]}, passed"


def by_key(course: InstructionCourse, key: str) -> InstructionStep:
    """The step of a key."""
    return next(step for step in course.steps if step.key == key)


def work_through(page: Tab, course: InstructionCourse) -> list[str]:
    """Every step to the end, by keyboard; returns the numbers of the steps in the order in which they were shown."""
    seen: list[str] = []
    failed = slept = stopped = False
    while where(page) != "The work is done":
        if where(page).startswith("After ") and not stopped:
            stopped = True
            page.get_by_role("button", name="Stop here").click()
            page.get_by_role("button", name="Go on with case").click()
        if where(page).startswith(("After ", "You were")):
            page.get_by_role("button", name="Go on", exact=True).click()
            continue
        seen.append(number(page))
        if not slept and seen[-1] == by_key(course, AWAY_AT).number:
            slept = True
            put(page, seen=page.evaluate("Date.now()") - NIGHT)
            assert where(page) == "You were away"
            continue
        if not failed and seen[-1] == by_key(course, FAILS_AT).number:
            failed = True
            page.locator(".gs-field input").first.fill("44")
            page.get_by_role("button", name="It failed").click()
            continue
        fill(page, course)
        page.locator(".gs-where").focus()
        page.keyboard.press("ArrowRight")
        assert not page.locator(".gs-error").count() or not page.locator(".gs-error").inner_text()
    return seen


def finished(page: Tab) -> str:
    """Fill in the end and copy the report."""
    page.get_by_label("Finished on").fill("2025-09-20")
    page.get_by_label("The report may be published").check()
    page.get_by_label("What helped").fill("an hour longer")
    page.get_by_role("button", name="Copy", exact=True).click()
    page.get_by_text("Copied.").wait_for()
    return str(page.evaluate("navigator.clipboard.readText()"))


def added(root: Path, report: str, accepted: str) -> None:
    """Add a report by the command, and build the draft again."""
    file = root.parent / f"report of {accepted}.txt"
    file.write_text(report, encoding="utf-8")
    assert guidegen(root, "fitted", "add", str(file), "--accepted", accepted, "--yes") == 0
    assert guidegen(root, "build", "--draws", "0") == 0


def page_of(open_page: Open, address: str, folder: str) -> str:
    """What an instruction of a folder of the site says now, with plain spaces."""
    page = open_page(f"{address}{folder}/{PATH.format(*PAIR)}", "narrow").page
    return re.sub(r"\s+", " ", page.locator("#guide").inner_text())
