"""The page of acts: every act, in tables that a screen reader can read."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest

from guidegen.judge.acts.row import rows
from guidegen.site.pages.page import Page


class Cells(HTMLParser):
    """How many cells each row of the body has, a header that spans rows counted in each; and the scopes of headers."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[int] = []
        self.scopes: list[str | None] = []
        self._spans = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "tr":
            self.rows.append(1 if self._spans else 0)
            self._spans = max(0, self._spans - 1)
        if tag in ("th", "td") and self.rows:
            self.rows[-1] += 1
        if tag == "th":
            self.scopes.append(given.get("scope"))
            self._spans = int(given.get("rowspan") or 1) - 1


@pytest.fixture
def body(pages: dict[str, Page]) -> str:
    """The page's own HTML."""
    return pages["acts"].body


def test_every_act_has_a_row_that_can_be_linked_to(body: str) -> None:
    """From the table itself."""
    assert re.findall(r'id="act-([a-z0-9-]+)"', body) == list(rows())
    assert f"these {len(rows())} acts" in body


def test_every_table_is_whole_and_its_headers_say_what_they_head(body: str) -> None:
    """As many cells in each row as the table has columns, also where an act has two ways."""
    cells = Cells()
    cells.feed(body)
    assert {*cells.rows} == {5}
    assert {*cells.scopes} == {"col", "row"}
    assert body.count("<table>") == body.count('class="gg-scroll gg-acts" tabindex="0" role="region" aria-label="')


def test_it_says_what_the_program_checks_and_what_a_person_reads(body: str, pages: dict[str, Page]) -> None:
    """In words, with the way to the rules and back."""
    assert "<b>The program checks</b> the acts" in body
    assert "<b>A person has to read</b>" in body
    assert 'href="safety-rules.html"' in body
    assert 'href="acts.html"' in pages["rules"].body


def test_bounds_hazards_of_the_kernel_and_what_cannot_be_undone_are_there(body: str) -> None:
    """The row of the test of the earth, of the cover's screws, and of the saw."""

    def row(name: str) -> str:
        return body.partition(f'id="act-{name}"')[2].partition("</tr>")[0]

    assert "never over 0.3 Ω" in row("earth-test")
    assert "live-parts" in row("undo-screws")
    assert "Cannot be undone." in row("saw")
    assert "Cannot be undone." not in row("gauge-cut")
    assert "0 damp tissues" in row("look-tissues")
