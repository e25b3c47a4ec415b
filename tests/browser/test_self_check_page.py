"""The self-check's pages in a real browser, gone through by keyboard alone."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote

import pytest
from conftest import Open, Watched, axe_violations, served
from keyboard import answer, press_not_sure
from markupsafe import Markup

from guidegen.assess.reference import WORDS, finder
from guidegen.record.self_check import SelfCheck
from guidegen.site.pages.self_check import VariantPlace

sys.path.insert(0, str(Path(__file__).parents[1] / "fixtures"))

from fit_cases import LOOKALIKE_QUESTIONS, LOOKALIKES, Case, cases, payload

from guidegen.judge.fit.order_text import read
from guidegen.judge.fit.phrases import PHRASES
from guidegen.judge.fit.received import judged
from guidegen.judge.fit.walk import walk
from guidegen.site.pages.page import Heading, Page
from guidegen.site.pages.self_check import body, head, which_body
from guidegen.trade.paths import known_facts

if TYPE_CHECKING:
    from playwright.sync_api import Page as Tab

CASES = {case.name: case for case in cases()}
PATH = "guides/sample/check/{}.html"


@pytest.fixture(scope="module")
def check_site(sample_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with one self-check page per case, in the real frame."""
    from guidegen.site import bind
    from guidegen.site.finish import finish
    from guidegen.site.output import OutputTree

    folder = tmp_path_factory.mktemp("self-check")
    pages = [*(page_of(case) for case in CASES.values()), which_page()]
    files, problems = finish(bind.bind(pages, engine_site(sample_site)))
    assert [problem for problem in problems if "check" in problem.path] == []
    OutputTree(folder / "site", folder / "manifest.json").write(files)
    return folder / "site"


def engine_site(sample_site: Path) -> Path:
    """Where the engine left the shell of the sample site."""
    return sample_site.parent / ".guidegen" / "engine" / "site"


def page_of(case: Case) -> Page:
    return Page(
        path=PATH.format(case.name.replace(" ", "-")),
        title="Does it fit?",
        description="A self-check.",
        body="<h1>Does it fit?</h1>" + str(body(SelfCheck.model_validate(payload(case)), WORDS)),
        headings=(Heading(2, "self-check-title", "Check your own machine"),),
        kind="fit",
        head=str(head("../../../")),
    )


def which_page() -> Page:
    found = finder(LOOKALIKES, LOOKALIKE_QUESTIONS, known_facts(), "2026.2", "bench@example.invalid")
    pages = {
        "one": VariantPlace("nothing-known.html", {}, Markup()),
        "two": VariantPlace("much-known.html", {"Some kit": "too-short.html"}, Markup()),
        "three": VariantPlace("too-short.html", {}, Markup()),
    }
    return Page(
        path=PATH.format("which"),
        title="Which one?",
        description="Distinguish variants.",
        body="<h1>Which one?</h1>" + str(which_body(found, pages, WORDS, lambda look, see: Markup())),
        headings=(Heading(2, "self-check-title", "Which one do you have?"),),
        kind="which",
        head=str(head("../../../")),
    )


@pytest.fixture(scope="module")
def address(check_site: Path) -> Iterator[str]:
    with served(check_site) as running:
        yield running


def opened(open_page: Open, address: str, name: str, **more: Any) -> Watched:
    return open_page(address + PATH.format(name.replace(" ", "-")), "narrow", **more)


def focused(page: Tab) -> str:
    """The text of what has the focus."""
    return page.evaluate("document.activeElement.textContent").strip()


def test_not_sure_everywhere_cannot_tell_yet(open_page: Open, address: str) -> None:
    """By keyboard alone at 390 px: every question "not sure", the outcome names the cheapest thing to find out."""
    watched = opened(open_page, address, "nothing known")
    page = watched.page
    for _ in range(12):
        if page.locator(".sc-result").is_visible():
            break
        press_not_sure(page)
    assert page.locator(".sc-outcome").inner_text() == "Cannot tell yet"
    assert focused(page) == "Cannot tell yet"
    expected = walk(
        CASES["nothing known"].rules, {f["fact"]: {"unsure": True} for f in CASES["nothing known"].rules["facts"]}
    )
    first = page.locator('[data-part="decide"] li').first.inner_text()
    assert first.startswith(expected["decide"]["first"].replace(".", " ").capitalize())
    assert "Nothing to order" in page.locator(".sc-text").input_value()
    assert watched.errors == []
    assert axe_violations(page) == []


def test_a_link_of_another_edition_is_judged_here_and_shown_with_its_gap(open_page: Open, address: str) -> None:
    """Both numbers and the difference in the unit of the answer; the page says that it judges by its own rules."""
    page = opened(open_page, address, "nothing known").page
    link = "#check=2025.1;control.kind:pid;mains.connection:corded;mains.voltage:230%20V~;heater.power:1150%20W"
    link += ";water_path.inlet.fitting:straight;water_path.inlet.projection:12.0%20mm;boiler.clearance:15%20mm"
    page.evaluate("(link) => { location.hash = link; }", link)
    page.locator(".sc-result").wait_for()
    assert page.locator(".sc-outcome").inner_text() == "Does not fit"
    assert "At least 20 mm is needed: short by 5 mm." in page.locator('[data-part="bars"]').inner_text()
    assert "edition 2025.1" in page.locator(".sc-edition").inner_text()


def test_conditions_remedies_order_and_link(open_page: Open, address: str) -> None:
    """Fits with conditions: the sets with their effort, parts with seals, a link and a mail that carry the answers."""
    page = opened(open_page, address, "much known").page
    answers = {
        "heater.power": "1150 W", "water_path.inlet.projection": "30 mm", "water_path.inlet.fitting": "straight",
        "water_path.inlet.thread": "G 1/4", "protrusions.carry_device": "no", "protrusions.stand_out": "3 mm",
    }  # fmt: skip
    for _ in range(len(answers)):
        if page.locator(".sc-result").is_visible():
            break
        answer(page, answers)
    assert page.locator(".sc-outcome").inner_text() == "Fits with conditions"
    sets = page.locator('[data-part="remedies"] label')
    labels = [label.strip().split(" · ") for label in sets.all_inner_texts()]
    # Trim 60 + Banjo 40 + Adapter 10, or the exchange boiler, 90, in place of trimming: the voltage is settled.
    assert [(sorted(one[0].split(" + ")), one[1]) for one in labels] == [
        (["Adapter", "Banjo", "Trim"], "110 min"),
        (["Adapter", "Banjo", "Exchange boiler"], "140 min"),
    ]
    assert "cuts something" in labels[0][2]
    assert "without cutting" in labels[1][2]
    text = page.locator(".sc-text").input_value()
    carried = payload(CASES["much known"])
    order = judged(read(text), carried).order
    assert order.outcome == "fits-with-conditions"
    assert set(order.remedies) == {"kit:banjo", "part:adapter", "fabrication:trim"}
    assert "seal: 2 × flat seal, 10 × 14 mm, PTFE" in text
    sets.nth(1).click()
    chosen = judged(read(page.locator(".sc-text").input_value()), carried).order.remedies
    assert "part:exchange" in chosen
    link = page.locator(".sc-link").get_attribute("href")
    assert "#check=2026.2;heater.power:1150%20W" in link
    mail = page.locator(".sc-mail").get_attribute("href")
    assert mail.startswith("mailto:bench@example.invalid?subject=")
    assert page.locator(".sc-text").input_value() in unquote(mail.split("&body=")[1])
    again = open_page(link, "narrow").page
    assert again.locator(".sc-outcome").inner_text() == "Fits with conditions"
    assert axe_violations(again) == []


def test_a_screen_of_questions_by_keyboard(open_page: Open, address: str) -> None:
    """What only the owner knows is asked on one screen; what was left out is said there, and the rest is kept."""
    watched = opened(open_page, address, "hiding")
    page = watched.page
    answer(page, {"boiler.material": "brass", "control.kind": "pid"})
    while page.locator(".sc-question:not([hidden])").count() == 1:
        answer(page, {"boiler.material": "brass", "control.kind": "pid", "water_path.inlet.projection": "12 mm"})
    shown = page.locator(".sc-question:not([hidden])")
    assert [box.get_attribute("data-fact") for box in shown.all()] == ["unit.earth", "unit.past"]
    assert page.locator(".sc-status").inner_text() == "Questions 4 to 5, the last ones."
    assert axe_violations(page) == []
    shown.first.locator('input[value="yes"]').check()
    page.keyboard.press("Enter")
    assert shown.nth(1).locator(".sc-error").inner_text() == PHRASES["pick"]
    assert shown.first.locator(".sc-error").inner_text() == ""
    assert shown.nth(1).locator("input").first.evaluate("(node) => node === document.activeElement")
    answer(page, {"unit.earth": "yes", "unit.past": "nothing"})
    assert page.locator(".sc-outcome").inner_text() == "Fits"
    order = judged(read(page.locator(".sc-text").input_value()), payload(CASES["hiding"])).order
    assert [*order.answers.items()][-2:] == [("unit.earth", "yes"), ("unit.past", "nothing")]
    page.locator(".sc-answers button").last.press("Enter")
    answer(page, {"unit.earth": "yes", "unit.past": "kit"})
    assert page.locator(".sc-outcome").inner_text() == "Cannot tell yet"
    assert "Ask us, with a photograph of: it, from the front" in page.locator('[data-part="decide"]').inner_text()
    assert page.locator('[data-part="photos"] li').all_inner_texts() == ["it, from the front"]
    assert "Nothing to order" in page.locator('[data-part="order"]').inner_text()
    page.locator(".sc-answers button").last.press("Enter")
    answer(page, {"unit.earth": "no", "unit.past": "kit"})
    assert page.locator(".sc-outcome").inner_text() == "Does not fit"
    assert watched.errors == []


def test_what_cannot_be_described_says_so(open_page: Open, address: str) -> None:
    """A damaged boiler hides all that follows from its size, although the variant's data know it."""
    page = opened(open_page, address, "hiding").page
    answers = {"boiler.material": "damaged", "control.kind": "pid", "water_path.inlet.projection": "12 mm",
               "unit.earth": "yes", "unit.past": "nothing"}  # fmt: skip
    while not page.locator(".sc-result").is_visible():
        answer(page, answers)
    assert page.locator(".sc-outcome").inner_text() == "Cannot tell yet"
    reasons = page.locator('[data-part="open"]').inner_text()
    assert "What we know of this variant does not describe that" in reasons
    assert "Nothing to order" in page.locator(".sc-text").input_value()


def test_back_edit_and_mistakes(open_page: Open, address: str) -> None:
    """A number that is none is refused in place; back shows the answer again; a change can change the outcome."""
    page = opened(open_page, address, "much known").page
    box = page.locator(".sc-question:not([hidden])")
    box.locator("[data-number]").fill("about 1150")
    page.keyboard.press("Enter")
    assert box.locator(".sc-error").inner_text() == PHRASES["no_number"].format(
        example="1100", low="700 W", high="1500 W"
    )
    assert box.locator("[data-number]").get_attribute("aria-invalid") == "true"
    for number in ("9999", "0", "-5", "9999"):
        box.locator("[data-number]").fill(number)
        page.keyboard.press("Enter")
        assert "700 W to 1500 W" in box.locator(".sc-error").inner_text()
        assert page.locator(".sc-status").inner_text().startswith("Question 1")
    box.locator("[data-number]").fill("1150")
    page.keyboard.press("Enter")
    assert page.locator(".sc-status").inner_text().startswith("Question 2")
    page.locator(".sc-back").press("Enter")
    assert page.locator(".sc-question:not([hidden]) [data-number]").input_value() == "1150"
    assert page.locator(".sc-question:not([hidden]) legend").evaluate("(node) => node === document.activeElement")


def test_distinguishing_variants_leads_to_the_page_of_what_is_left(open_page: Open, address: str) -> None:
    """A green lamp and 1150 W leave one variant; "not sure" about the watts leaves two; each is a link."""
    watched = opened(open_page, address, "which")
    page = watched.page
    for _ in range(3):
        answer(page, {"mark.lamp": "a green lamp", "mark.plate": "not-sure", "heater.power": "1150 W"})
    assert page.locator(".sc-outcome").inner_text() == "Most likely this one"
    assert page.locator("[data-variants] a").all_inner_texts() == ["Machine two", "Some kit"]
    assert page.locator("[data-variants] a").first.get_attribute("href") == "much-known.html"
    assert axe_violations(page) == []
    page.evaluate(
        "() => { location.hash = '#check=2026.2;mark.lamp:a%20green%20lamp;heater.power:photo;mark.plate:photo'; }"
    )
    page.get_by_text("More than one is possible", exact=True).wait_for()
    assert page.locator("[data-variants] a").all_inner_texts() == ["Machine two", "Some kit", "Machine three"]
    assert watched.errors == []
    paper = opened(open_page, address, "which", java_script_enabled=False).page
    assert not paper.locator("form.sc-form").is_visible()
    assert "The plate:" not in paper.locator("tr#two").inner_text()
    assert "The plate: riveted" in paper.locator("tr#one").inner_text()


def test_without_scripts_it_is_a_form_with_limits(open_page: Open, address: str) -> None:
    """Every question with why, how and "not sure", and the table of limits; nothing hangs on a script."""
    page = opened(open_page, address, "nothing known", java_script_enabled=False).page
    count = len(CASES["nothing known"].rules["facts"])
    assert page.locator(".sc-question").count() == count
    assert page.locator(".sc-question").last.is_visible()
    assert page.get_by_text("Not sure", exact=True).count() == count
    assert page.locator("#self-check-limits").is_visible()
    limits = page.locator("[aria-labelledby='self-check-limits']").inner_text().replace("\u00a0", " ")
    assert "Only for “Banjo”: The thread is G 1/8." in limits
    roots = len(CASES["nothing known"].rules["roots"])
    assert limits.count("The kit does not fit.") == roots, "what only a remedy needs ends nothing but the remedy"
    assert not page.locator(".sc-result").is_visible()
    assert "built-in" not in page.content()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_question_is_accessible_at_both_sizes(open_page: Open, address: str, scheme: str) -> None:
    """axe finds nothing, the console stays empty under the strict policy, nothing is wider than the screen."""
    for size in ("narrow", "wide"):
        watched = open_page(address + PATH.format("nothing-known"), size, scheme)
        assert axe_violations(watched.page) == []
        assert watched.errors == []
        assert watched.outside == []
        assert watched.page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
