"""The demonstration's own self-checks: the browser's function against the one in Python."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from conftest import Open, axe_violations, served
from keyboard import answer, press_not_sure
from test_self_check import ASSETS, RULES_SCRIPT, agree, every_edge, sets_of_answers
from test_self_check_page import PATH, engine_site

from guidegen.assess.reference import WORDS
from guidegen.assess.verdict import checked
from guidegen.judge.fit.identified import identified
from guidegen.judge.fit.identify import compile_identification, which_of
from guidegen.judge.fit.rules import compact
from guidegen.record.self_check import SelfCheck
from guidegen.site import bind
from guidegen.site.finish import finish
from guidegen.site.output import OutputTree
from guidegen.site.pages.page import Heading, Page
from guidegen.site.pages.self_check import body, head
from guidegen.trade import Catalogue, load
from guidegen.trade.paths import known_facts

if TYPE_CHECKING:
    from playwright.sync_api import Browser
    from playwright.sync_api import Page as Tab

ROOT = Path(__file__).parents[2]


@pytest.fixture
def blank(browser: Browser) -> Iterator[Tab]:
    """A page that holds nothing but the rules' script."""
    page = browser.new_page()
    page.add_script_tag(content=RULES_SCRIPT)
    yield page
    page.close()


def test_every_pair_of_the_demonstration_walks_alike(blank: Tab) -> None:
    """Every edge and 10,000 sets of answers on each pair's own rules, and on the rules that distinguish variants.

    Pairs that are judged alike have the same rules, which are compared once.
    """
    known = load(ROOT)
    pairs = {
        f"{machine.id} with {kit.id}": checked(known, machine, kit, "next").payload["rules"]
        for machine in known.machines.values()
        for kit in known.kits.values()
    }
    which = compile_identification(list(known.machines.values()), known.questions, known_facts())[0]
    for rules in {compact(rules): rules for rules in (*pairs.values(), which)}.values():
        every_edge(blank, rules)
        agree(blank, rules, sets_of_answers(rules, 10_000 if rules["facts"] else 1, seed=7))


def test_who_is_left_is_the_same_in_script_and_python(blank: Tab) -> None:
    """3,000 sets of answers, most to questions that the walk would not have asked, so that many contradict."""
    known = load(ROOT)
    which = which_of(list(known.machines.values()), known.questions, known_facts(), edition="next", contact="bench")
    rules, chance = which["rules"], random.Random(11)
    sets = []
    for answers in sets_of_answers(rules, 3_000, seed=13):
        kept = chance.sample(sorted(answers), chance.randint(0, 5))
        sets.append({name: answers[name] for name in kept})
    blank.add_script_tag(path=ASSETS / "self-check-which.js")
    said = blank.evaluate(
        "([rules, shows, sets]) => sets.map((one) => guidegenSelfCheckWhich.identified(rules, shows, one))",
        [rules, which["shows"], sets],
    )
    expected = [identified(rules, which["shows"], answers) for answers in sets]
    assert said == expected
    assert {len(one["left"]) for one in expected} >= {0, 1, 2}
    assert sum(len(one["against"]) > 1 for one in expected) > 100


WELL = {
    "water_path.inlet.fitting": "straight", "water_path.inlet.projection": "31.0 mm", "mains.connection": "corded",
    "unit.socket_earth": "tested", "unit.residual_current_device": "trips", "unit.repairs": "nothing",
    "unit.water": "soft", "unit.descaling": "mild", "unit.thermal_devices": "as-made", "unit.relief_valve": "as-made",
    "unit.check_valve": "as-made", "boiler.bolts.undone_from": "above",
}  # fmt: skip


def check_for(known: Catalogue, variant: str, kit: str) -> SelfCheck:
    return SelfCheck.model_validate(checked(known, known.machine(variant), known.kit(kit), "next").payload)


@pytest.fixture(scope="module")
def demonstration(sample_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The self-checks of two variants, served; the address."""
    folder = tmp_path_factory.mktemp("demonstration-checks")
    known = load(ROOT)
    pages = [
        Page(
            path=PATH.format(variant),
            title="Does it fit?",
            description="A self-check.",
            body="<h1>Does it fit?</h1>" + str(body(check_for(known, variant, "feed-preheater"), WORDS)),
            headings=(Heading(2, "self-check-title", "Check your own machine"),),
            kind="fit",
            head=str(head("../../../")),
        )
        for variant in ("tamsin-mk1", "bracken-b")
    ]
    files, _ = finish(bind.bind(pages, engine_site(sample_site)))
    OutputTree(folder / "site", folder / "manifest.json").write(files)
    with served(folder / "site") as address:
        yield address


def test_the_short_bracken_does_not_fit_immediately(open_page: Open, demonstration: str) -> None:
    """At 390 px, with the gap."""
    page = open_page(demonstration + PATH.format("bracken-b"), "narrow").page
    assert page.locator(".sc-outcome").inner_text() == "Does not fit"
    assert re.search(r"short by \d+\.\d\smm", page.locator('[data-part="bars"]').inner_text())


def test_the_oldest_tamsin_cannot_tell_yet_by_keyboard(open_page: Open, demonstration: str) -> None:
    """At 390 px: nothing is known, or the fitting is something else."""
    watched = open_page(demonstration + PATH.format("tamsin-mk1"), "narrow")
    page = watched.page
    while not page.locator(".sc-result").is_visible():
        press_not_sure(page)
    assert page.locator(".sc-outcome").inner_text() == "Cannot tell yet"
    assert "Earth at the socket" in page.locator('[data-part="decide"]').inner_text()
    assert "Inlet fitting" in page.locator('[data-part="decide"]').inner_text()

    page.locator(".sc-again").press("Enter")
    while not page.locator(".sc-result").is_visible():
        answer(page, {**WELL, "water_path.inlet.fitting": "something-else"})
    assert page.locator(".sc-outcome").inner_text() == "Cannot tell yet"
    assert "Ask us, with a photograph of: the fitting from above" in page.locator('[data-part="decide"]').inner_text()
    assert "Nothing to order" in page.locator('[data-part="order"]').inner_text()
    assert watched.errors == []


def test_the_oldest_tamsin_ends_in_its_sufficient_sets(open_page: Open, demonstration: str) -> None:
    """At 390 px, every question answered well."""
    watched = open_page(demonstration + PATH.format("tamsin-mk1"), "narrow")
    page = watched.page
    screens = 0
    while not page.locator(".sc-result").is_visible():
        answer(page, WELL)
        screens += 1
    assert screens == 6, "three questions and three screens of what only the owner knows"
    assert page.locator(".sc-outcome").inner_text() == "Fits with conditions"
    sets = page.locator('[data-part="remedies"] label').all_inner_texts()
    assert len(sets) == 2
    assert all("Banjo Feed" in text for text in sets)
    assert "cuts something" in sets[0]
    assert "exchange boiler" in sets[1]
    assert "least effort without cutting" in sets[1]
    assert "mains voltage is 230" in page.locator('[data-part="remedies"] li').nth(1).inner_text()
    assert "seal above the banjo, 10 × 14 × 1.5 mm" in page.locator('[data-part="order"]').inner_text()
    assert axe_violations(page) == []
    assert watched.errors == []
