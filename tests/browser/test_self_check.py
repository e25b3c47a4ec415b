"""The self-check in a real browser: its pure function against the one in Python, then the page by keyboard alone."""

from __future__ import annotations

import json
import random
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "fixtures"))

from fit_cases import cases, payload, random_answer

import guidegen.site.web
from guidegen.judge.fit.answers import example, read_number
from guidegen.judge.fit.order import write
from guidegen.judge.fit.order_text import read
from guidegen.judge.fit.phrases import ORDER, PHRASES
from guidegen.judge.fit.received import judged
from guidegen.judge.fit.scale import NotRead
from guidegen.judge.fit.walk import class_of, walk

if TYPE_CHECKING:
    from playwright.sync_api import Browser
    from playwright.sync_api import Page as Tab

CASES = {case.name: case for case in cases()}
ASSETS = Path(guidegen.site.web.__file__).parent / "assets"
RULES_SCRIPT = "".join(
    (ASSETS / f"self-check-{name}.js").read_text(encoding="utf-8") for name in ("deciding", "rules", "order")
)


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Iterator[Tab]:
    """A page that holds nothing but the rules' script."""
    page = browser.new_page()
    page.add_script_tag(content=RULES_SCRIPT)
    yield page
    page.close()


def sets_of_answers(rules: Any, count: int, seed: int) -> list[dict]:
    """Random answers, a tenth of them incomplete, so that the next question is compared as well."""
    chance = random.Random(seed)
    found = []
    for _ in range(count):
        answers = {fact["fact"]: random_answer(fact, chance) for fact in rules["facts"]}
        if chance.random() < 0.1 and answers:
            answers.pop(chance.choice(sorted(answers)))
        found.append(answers)
    return found


def in_browser(page: Tab, rules: Any, sets: list[dict]) -> list[dict]:
    """What the browser's function says to each set of answers; what it says often crosses over once."""
    said, which = page.evaluate(
        """([rules, sets]) => {
          const places = new Map();
          const which = JSON.parse(sets).map((one) => {
            const said = JSON.stringify(guidegenSelfCheck.walk(rules, one));
            if (!places.has(said)) places.set(said, places.size);
            return places.get(said);
          });
          return [Array.from(places.keys()), which];
        }""",
        [rules, json.dumps(sets)],
    )
    found = [json.loads(one) for one in said]
    return [found[place] for place in which]


def in_python(rules: Any, sets: list[dict]) -> list[dict]:
    """What Python says to each. `walk` reads only the class of an answer, so each row of classes is walked once."""
    known: dict[tuple, dict] = {}
    found = []
    for answers in sets:
        classes = tuple(class_of(fact, answers.get(fact["fact"])) for fact in rules["facts"])
        if classes not in known:
            known[classes] = walk(rules, answers)
        found.append(known[classes])
    return found


def agree(page: Tab, rules: Any, sets: list[dict]) -> None:
    """Compare the two on every set of answers."""
    for answers, found, expected in zip(sets, in_browser(page, rules, sets), in_python(rules, sets), strict=True):
        assert found == expected, answers


@pytest.mark.parametrize("name", CASES)
def test_the_browser_walks_as_python_does(blank: Tab, name: str) -> None:
    """10,000 random sets of answers give the same next question, outcome, reasons, remedies and advice."""
    rules = CASES[name].rules
    agree(blank, rules, sets_of_answers(rules, 10_000, seed=5))


@pytest.mark.parametrize("name", CASES)
def test_the_browser_takes_every_edge_as_python_does(blank: Tab, name: str) -> None:
    """The next question, the outcome and all that is said with it, on every branch of every node."""
    every_edge(blank, CASES[name].rules)


def every_edge(page: Tab, rules: Any) -> None:
    """From every node along every branch, by an answer of each class, in each unit, on both sides of each cut."""
    sets: list[dict] = []
    ways = {rules["top"]: {}}
    for place, node in enumerate(rules["nodes"]):
        fact = rules["facts"][node[0]]
        possible: list[dict] = [{"unsure": True}, *({"is": word} for word in fact["choices"])]
        for unit in fact["units"]:
            counts = {0, *(cut for cut in unit["cuts"]), *(cut - 1 for cut in unit["cuts"])}
            possible += [{"unit": unit["unit"], "count": count} for count in sorted(counts)]
        for answer in possible:
            taken = {**ways[place], fact["fact"]: answer}
            sets.append(taken)
            ways.setdefault(node[1 + class_of(fact, answer)], taken)
    assert set(range(len(rules["nodes"]))) <= set(ways)
    agree(page, rules, sets)


@pytest.mark.parametrize("name", CASES)
def test_order_text_and_link_survive_the_way(blank: Tab, name: str) -> None:
    """The browser writes the order that Python writes, Python reads it, and the link gives the answers back."""
    carried = payload(CASES[name])
    sets = [one for one in sets_of_answers(carried["rules"], 200, seed=6) if walk(carried["rules"], one)["outcome"]]
    shown = {**carried, "words": {**PHRASES, "order": ORDER}}
    texts, links = blank.evaluate(
        """([payload, sets]) => {
          const check = guidegenSelfCheck;
          const asked = (one) => check.walk(payload.rules, one).asked;
          const links = sets.map((one) => check.readLink(payload, check.writeLink(payload, one, asked(one))));
          return [sets.map((one) => check.writeOrder(payload, one, 0)), links];
        }""",
        [shown, sets],
    )
    for answers, text, link in zip(sets, texts, links, strict=True):
        assert text == write(carried, answers)
        found = walk(carried["rules"], answers)
        order = judged(read(text), carried).order
        assert order.outcome == found["outcome"]
        assert list(order.answers) == found["asked"]
        assert link["edition"] == "2026.2"
        assert walk(carried["rules"], link["answers"])["outcome"] == found["outcome"]


NUMBERS = (
    "1 13/16",
    "1-13/16",
    '3/4"',
    "0 3/8",
    "1 3/5",
    "16/16",
    "",
    "x",
    "1.8",
    "1,82",
    "1.8125",
    '2.5"',
    "2 1/2",
    "12",
)


def test_numbers_are_read_alike(blank: Tab) -> None:
    """Decimals and fractions in every unit of every case: the same count, or refused by both; the same example."""
    units = [unit for case in CASES.values() for fact in case.rules["facts"] for unit in fact["units"]]
    said = blank.evaluate(
        "([units, texts]) => units.map((unit) => [guidegenSelfCheck.example(unit),"
        " ...texts.map((text) => guidegenSelfCheck.readNumber(unit, text).count ?? null)])",
        [units, NUMBERS],
    )

    def count(unit: Any, text: str) -> int | None:
        try:
            return read_number(unit, text)
        except NotRead:
            return None

    assert said == [[example(unit), *(count(unit, text) for text in NUMBERS)] for unit in units]
