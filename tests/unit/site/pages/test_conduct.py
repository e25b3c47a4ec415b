"""Who may do what, use and misuse: said once, printed on the safety page and at the head of each instruction."""

from __future__ import annotations

import html
import re
from pathlib import Path
from typing import get_args

import pytest

from guidegen.assess.acts import acts
from guidegen.site.pages.conduct import MISUSES, NOT_BY_READING, PERSON, PLACE, ROLES, safety_blocks
from guidegen.site.pages.page import Page
from guidegen.workshop.steps import Role

ROOT = Path(__file__).parents[4]
WAYS = [(act.name, way) for section in acts() for act in section.acts for way in act.ways]


def plain(body: str) -> str:
    """The text of some HTML in one line."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", body)).split())


def test_every_role_of_a_step_is_described() -> None:
    """A role that nobody describes would be anybody's."""
    assert set(ROLES) == set(get_args(Role))


COVERS, LEADS = ("The machine is open", "Screws of a cover"), ("Leads are", "The leads of", "Conductors are touched")
JOINTS, METAL = ("A joint is", "The boiler is out"), ("Metal is gone",)
TESTS = ("The protective earth of", "The protective earth is", "The insulation", "The conductors are proved")


@pytest.mark.parametrize(
    ("role", "never"),
    [
        ("anyone", (*COVERS, *LEADS, *JOINTS, *METAL, *TESTS, "A device or sensor is off")),
        ("hand-tools", (*COVERS, *LEADS, *TESTS)),
        ("wiring", (*TESTS, *JOINTS, *METAL)),
    ],
)
def test_the_words_of_a_role_hold_for_every_act_of_it(role: str, never: tuple[str, ...]) -> None:
    """What the safety page says that a role leaves alone, no act of the table gives to it."""
    every = [way.follows for _, way in WAYS]
    assert all(any(text.startswith(one) for text in every) for one in never)
    assert [name for name, way in WAYS if way.who == role and way.follows.startswith(never)] == []


def test_what_a_role_may_do_is_in_the_table() -> None:
    """Some acts that the page promises to each role, picked by hand."""
    who = {(name, way.when): way.who for name, way in WAYS}
    assert who["cut-mains", "mains.connection corded"] == who["drain", None] == who["photograph", None] == "anyone"
    assert who["undo-joint", None] == who["saw", None] == who["seat-device", None] == "hand-tools"
    assert who["lift-cover", None] == who["pull-leads", None] == who["earth-gross", None] == "wiring"
    assert who["earth-test", None] == who["insulation-test", None] == "electrically-skilled"


def test_the_reader_is_not_made_the_skilled_person() -> None:
    """The safety page says who that is, and that reading does not make anybody one."""
    page = plain(safety_blocks()["roles"])
    assert "education and experience to perceive the risks of electricity" in page  # IEC 60050-195, as quoted
    assert NOT_BY_READING in page
    assert page.index("Anyone") < page.index("Hand tools") < page.index("Wiring") < page.index("Electrically skilled")


@pytest.mark.parametrize("kind", ["install", "restore"])
def test_the_head_of_an_instruction_says_use_misuse_person_and_place(pages: dict[str, Page], kind: str) -> None:
    """In short, before the first step; each once."""
    head = plain(pages[kind].body.split('id="procedure"')[0])
    for text in (*(one.what for one in MISUSES), *PERSON, *PLACE, NOT_BY_READING):
        assert head.count(text) == 1, text
    assert re.search(r"Intended use\. One .+, revision .+, on one .+ that nobody has changed", head)
    assert 'safety.html#use"' in pages[kind].body
    assert 'safety.html#who"' in pages[kind].body


def test_the_safety_page_prints_all_of_it_and_types_none_of_it() -> None:
    """What is said at two places has one source; and what to do in an emergency comes before everything else."""
    written = (ROOT / "content" / "pages" / "safety.md").read_text(encoding="utf-8")
    blocks = safety_blocks()
    assert all(f"{{{{ conduct.{name} }}}}" in written for name in blocks)
    printed = plain(" ".join(blocks.values())).lower()
    for text in (*(one.what for one in MISUSES), *(one.because for one in MISUSES), *PERSON, *PLACE):
        assert text.lower() in printed
        assert text.lower() not in " ".join(written.lower().split())
    assert re.findall(r"^## (.*)$", written, re.M)[0].startswith("In an emergency")
    assert all("\n\n" not in block for block in blocks.values())


def test_no_procedure_repeats_what_holds_for_all() -> None:
    """Its place says where; who stays out stands in one place."""
    for path in (ROOT / "content" / "procedures").glob("*.yml"):
        assert not re.search(r"Children|alone at|tired", path.read_text(encoding="utf-8")), path.name
