"""The demonstration's own self-checks: the browser's function against the one in Python."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from test_self_check import RULES_SCRIPT, in_browser, sets_of_answers

from guidegen.assessment.fitting import computed
from guidegen.catalogue import load
from guidegen.fit.check import check
from guidegen.fit.identify import compile_identification
from guidegen.fit.walk import walk

if TYPE_CHECKING:
    from playwright.sync_api import Browser
    from playwright.sync_api import Page as Tab


@pytest.fixture
def blank(browser: Browser) -> Iterator[Tab]:
    """A page that holds nothing but the rules' script."""
    page = browser.new_page()
    page.add_script_tag(content=RULES_SCRIPT)
    yield page
    page.close()


def test_every_pair_of_the_demonstration_walks_alike(blank: Tab) -> None:
    """The same 10,000 per pair on the demonstration's own rules, and on the rules that tell its variants apart."""
    known = load(Path(__file__).parents[2])
    every = {
        f"{machine.id} with {kit.id}": check(
            machine,
            kit,
            known.kits,
            known.questions,
            computed(machine, known.kits, kit),
            edition="next",
            contact="bench",
        ).payload["rules"]
        for machine in known.machines.values()
        for kit in known.kits.values()
    }
    for family in known.families:
        machines = [machine for machine in known.machines.values() if machine.family == family]
        every[f"which {family}"] = compile_identification(machines, known.questions)[0]
    for name, rules in every.items():
        sets = sets_of_answers(rules, 10_000 if rules["facts"] else 1, seed=7)
        for answers, found in zip(sets, in_browser(blank, rules, sets), strict=True):
            assert found == walk(rules, answers), (name, answers)
