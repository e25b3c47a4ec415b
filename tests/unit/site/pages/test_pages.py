"""Pages from a record: complete, well-formed, escaped, and with the record's own numbers."""

from __future__ import annotations

import html
import json
import re
from typing import Any

import html5lib
import pytest

from guidegen.record.places import figures
from guidegen.record.stated import Build, BuildPhase
from guidegen.site.pages import methods
from guidegen.site.pages.comparison import comparison_page
from guidegen.site.pages.numbers import ShownNumbers, anchor
from guidegen.site.pages.page import Page
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.terms import term
from tests.fixtures.records import record, site, with_texts
from tests.unit.site.pages.whole_site import every_page

pytestmark = pytest.mark.slow

GUIDE = "guides/tamsin-mk2/feed-preheater/"
HOSTILE = "<script>alert(1)</script>{{7*7}}{% raw %}"


def parsed(page: Page) -> Any:
    """The body as a tree; a fault of the HTML fails."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    return parser.parse(f"<!DOCTYPE html><html lang=en><head><title>x</title></head><body>{page.body}</body></html>")


def test_every_kind_of_page_is_strict_html_with_unique_ids(pages: dict[str, Page]) -> None:
    """Parsed without an error, one first heading, no id twice, every entry of the contents list there."""
    assert {"overview", "fit", "questions", "charts", "install", "restore", "numbers", "variant", "compare", "formulas",
            "checks", "glossary", "sources", "rules", "acts", "codes", "which", "brief",
            "kit", "fields"} == set(pages)  # fmt: skip
    for page in pages.values():
        tree = parsed(page)
        ids = [one.get("id") for one in tree.iter() if one.get("id")]
        assert len(ids) == len(set(ids)), page.kind
        assert {heading.id for heading in page.headings} <= set(ids), page.kind
        assert len(list(tree.iter("h1"))) == 1, page.kind


def test_every_link_within_a_pair_leads_to_a_page_or_a_place(pages: dict[str, Page]) -> None:
    """No page links to a fragment of its own that is not there."""
    for page in pages.values():
        tree = parsed(page)
        ids = {one.get("id") for one in tree.iter()}
        for one in tree.iter("a"):
            href = one.get("href") or ""
            assert href, page.kind
            if href.startswith("#"):
                assert href[1:] in ids, (page.kind, href)


def test_hostile_words_never_become_markup_or_template_code() -> None:
    """Every free text of the record is a script and a template expression; both stay text on every page."""
    one = with_texts(record(), HOSTILE)
    for page in every_page(site(one)):
        raw = page.body + page.head
        assert "<script>alert" not in raw, page.kind
        if page.kind in ("overview", "fit", "install", "brief", "kit", "numbers", "charts", "variant", "compare"):
            assert "{{7*7}}" in raw, page.kind
        assert "49{%" not in raw, page.kind
        scripts = [script.get("type") for script in parsed(page).iter("script")]
        assert set(scripts) <= {"application/json"}, page.kind


def test_hostile_words_cannot_leave_the_data_in_the_head() -> None:
    """The schema.org data hold no sign that could end their element, and read back as they were."""
    one = with_texts(record(), HOSTILE)
    head = pair_page(one, "install", site(one)).head
    (found,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', head)
    assert "<" not in found
    assert json.loads(found)["description"] == HOSTILE


# --- numbers -----------------------------------------------------------------------------------------


def test_every_figure_of_the_record_has_a_term_with_a_method() -> None:
    """A new figure must be named, and its name must lead to a section of the methods page."""
    sections = {heading.id for heading in methods.methods_page(site(record())).headings}
    places = [found for found, _ in figures(record())]
    assert len(places) > 90
    for found in places:
        assert term(found).name, found
        assert term(found).method in sections, found


def test_every_figure_has_its_row_on_the_numbers_page(pages: dict[str, Page]) -> None:
    """The row that links lead to, with the figure's own digits."""
    ids = {one.get("id") for one in parsed(pages["numbers"]).iter("td")}
    for found, _ in figures(record()):
        assert anchor(found) in ids, found


def test_a_number_leads_to_its_row_and_shows_its_range() -> None:
    """Value to two digits of the half-width of 0.25, in both systems."""
    one = record()
    figure = dict(figures(one))["budget.added_kg"]
    assert figure.value is not None
    shown = ShownNumbers(one, "numbers.html").show("budget.added_kg", lead="+", ranged=True)
    assert 'href="numbers.html#n-budget-added-kg"' in shown
    assert f"{figure.value:.2f}\u202fkg" in shown
    assert f"{figure.value / 0.45359237:.2f}" in shown  # lb, exact since 1959
    assert f"{figure.low:.2f} to {figure.high:.2f}\u202fkg" in shown


# --- what a pair may have ----------------------------------------------------------------------------


def test_what_does_not_fit_has_neither_charts_nor_instruction() -> None:
    """And its overview claims no gain."""
    one = record()
    refused = one.model_copy(update={"fit": one.fit.model_copy(update={"outcome": "does-not-fit"})})
    kinds = {page.kind: page for page in every_page(site(refused)) if page.path.startswith(GUIDE)}
    assert set(kinds) == {"overview", "fit", "questions", "numbers"}
    assert 'id="gain"' not in kinds["overview"].body
    assert "<svg" not in kinds["overview"].body
    compared = comparison_page(site(refused)).body
    assert "drop_ratio" not in compared
    assert "×" not in re.sub(r"<p>.*?</p>", "", compared)


def test_a_kit_that_changes_nothing_says_so() -> None:
    """All ratios one: no headline, no chart."""
    one = record()
    same = one.drinks["double"].drop_ratio.sensor.model_copy(update={"value": 1.0, "low": 1.0, "high": 1.0})
    drinks = {
        name: drink.model_copy(update={"drop_ratio": drink.drop_ratio.model_copy(update={"sensor": same})})
        for name, drink in one.drinks.items()
    }
    energy = one.energy.model_copy(update={"day_ratio": same})
    idle = one.model_copy(update={"drinks": drinks, "energy": energy, "gains": ()})
    page = pair_page(idle, "overview", site(one))
    assert "Not by itself" in page.body
    assert "gg-headline" not in page.body


@pytest.mark.parametrize(
    ("first", "words"),
    [
        ("relief-valve", "With the water path as it is now, before any remedy, the relief valve opens first."),
        ("tube", "With the water path as it is now, before any remedy, no valve opens before the coil"),
        ("unknown", "It is not known yet whether a valve opens before the coil"),
    ],
)
def test_what_gives_way_first_stands_over_the_numbers_of_the_closed_coil(first: str, words: str) -> None:
    """In words, as the record has it, and nothing of it where a kit has no coil."""
    one = record()
    assert one.closed_coil is not None
    coil = one.closed_coil.model_copy(update={"opens_first": first})
    lead = pair_page(one.model_copy(update={"closed_coil": coil}), "numbers", site(one)).body
    assert lead.count(words) == 1
    assert words not in pair_page(one.model_copy(update={"closed_coil": None}), "numbers", site(one)).body


def test_downsides_stand_before_charts_and_instruction(pages: dict[str, Page]) -> None:
    """Nothing that could lead to an order comes first."""
    body = pages["overview"].body
    assert 0 < body.index('id="downsides"') < body.index('id="chart-shot"') < body.index("install.html")


def test_every_hold_point_and_hazard_of_the_procedure_is_printed(pages: dict[str, Page]) -> None:
    """Counted in the record and on the page, both ways."""
    procedure = record().procedure
    assert procedure is not None
    for part, page in (("fitting", pages["install"]), ("restoring", pages["restore"])):
        steps = getattr(procedure, part).steps
        assert page.body.count('aria-label="Hold point of step') == sum(step.hold is not None for step in steps)
        assert len(re.findall(r'role="note" aria-label="\w+, step', page.body)) == sum(len(s.hazards) for s in steps)
        for step in steps:
            assert f'id="{step.anchor}"' in page.body


def test_a_hazard_stands_before_the_action_of_its_step(pages: dict[str, Page]) -> None:
    """In reading order."""
    procedure = record().procedure
    assert procedure is not None
    body = pages["install"].body
    for phase in procedure.fitting.phases:
        for step in phase.steps:
            if step.hazards:
                start = body.index(f'id="{step.anchor}"')
                assert body.index("gg-hazard__word", start) < body.index("gg-step__do", start)


def test_an_instruction_prints_all_that_its_steps_say(pages: dict[str, Page]) -> None:
    """Also how the plug is guarded, what shows that the pressure is off, how a device sits, what is taken in hand."""
    one = record()
    assert one.procedure is not None
    for kind, course in (("install", "fitting"), ("restore", "restoring")):
        text = html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", pages[kind].body)))
        for step in getattr(one.procedure, course).steps:
            printed = [step.keeps_control, step.restraint]
            for part in filter(None, (step.release, step.seat)):
                printed += part.model_dump().values()
            printed += [*step.uses.tools, *step.uses.parts, *step.uses.consumables]
            for words in filter(None, printed):
                assert re.sub(r"\s+", " ", words) in text, (step.number, words)


def test_the_record_sheet_has_a_line_for_every_reading(pages: dict[str, Page]) -> None:
    """A row for each torque, and for each look of a hold point that asks for something, leading to its step; and the
    last column is empty."""
    one = record()
    assert one.procedure is not None
    for kind, course in (("install", "fitting"), ("restore", "restoring")):
        steps = getattr(one.procedure, course).steps
        looks = {step.anchor: step.hold.looks or (None,) for step in steps if step.hold and step.hold.record}
        wanted = [step.anchor for step in steps
                  for _ in ((() if step.torque is None else (None,)) + tuple(looks.get(step.anchor, ())))]  # fmt: skip
        (table,) = [table for table in parsed(pages[kind]).iter("table") if table.get("class") == "gg-readings"]
        rows = [row for row in table.iter("tr") if row.find("td") is not None]
        assert [row.find("th/a").get("href") for row in rows] == [f"#{anchor}" for anchor in wanted]
        assert not any(row.findall("td")[-1].text for row in rows)


def test_every_mark_in_brackets_says_where_it_comes_from(pages: dict[str, Page]) -> None:
    """And none is explained that nothing uses."""
    for kind in ("install", "restore"):
        used = set(re.findall(r'href="#origin-([a-z]+)"', pages[kind].body))
        assert used == set(re.findall(r'id="origin-([a-z]+)"', pages[kind].body))
        assert len(used) > 2


def test_a_recorded_builds_minutes_and_findings_stand_beside_the_computed_ones() -> None:
    """With its day and role; and page one no longer says that nobody did it."""
    one = record()
    assert one.procedure is not None
    phases = (BuildPhase(phase=one.procedure.fitting.phases[0].id, took=412.0),)
    built = Build(
        date="2026-02-03", role="the workshop", minutes=412.0, findings="The hex key was too long.", phases=phases
    )
    procedure = one.procedure.model_copy(update={"notice": None, "minutes": 305.0})
    body = pair_page(one.model_copy(update={"builds": (built,), "procedure": procedure}), "install", site(one)).body
    assert "2026-02-03, the workshop, 6 h 52 min of work. Noticed: The hex key was too long." in body
    assert re.search(r"All of it</th><td>5 h 5 min</td><td>6 h 52 min</td>", body)
    assert "Not yet carried out" not in body


# --- how much a downside is --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("actions", "measured", "words"),
    [
        (("trim", "leave"), True, "one cut on this variant"),
        (("trim", "trim"), True, "2 cuts on this variant"),
        (("cannot", "leave"), False, "not known on this variant"),
    ],
)
def test_cuts_are_counted_on_this_variant(actions: tuple[str, str], measured: bool, words: str) -> None:
    """The kit says that something may be cut; how often, only the variant can say."""
    one = record()
    parts = tuple(
        part.model_copy(update={"action": action, "undecided": not measured})
        for part, action in zip(one.protrusions, actions, strict=True)
    )
    down = one.downsides[0].model_copy(update={"figure": "protrusions"})
    one = one.model_copy(update={"protrusions": parts, "downsides": (down,)})
    assert words in pair_page(one, "overview", site(one)).body


def test_a_cut_that_this_variant_does_not_need_is_no_downside() -> None:
    """The kit says that something may be cut; here everything stays, so the table does not speak of it."""
    one = record()
    parts = tuple(part.model_copy(update={"action": "leave", "undecided": False}) for part in one.protrusions)
    down = one.downsides[0].model_copy(update={"figure": "protrusions", "what": "Something is cut off."})
    one = one.model_copy(update={"protrusions": parts, "downsides": (down,)})
    assert "Something is cut off." not in pair_page(one, "overview", site(one)).body


def test_what_the_kit_says_is_no_downside_stands_below_them() -> None:
    """Not in the table with a likelihood; the table has a head for each of its columns."""
    one = record()
    none = one.downsides[0].model_copy(update={"what": "Nothing is cut.", "likely": "none", "do": "", "id": "none"})
    body = pair_page(one.model_copy(update={"downsides": (*one.downsides, none)}), "overview", site(one)).body
    (table,) = re.findall(r'<table class="gg-downsides gg-stacked">.*?</table>', body, re.S)
    heads = re.findall(r'<th scope="col">(.*?)</th>', table)
    assert heads == ["Downside", "How much", "How likely", "What you can do"]
    assert "Nothing is cut." not in table
    assert "What stays as it is: Nothing is cut." in body


def test_an_overview_answers_in_this_order(pages: dict[str, Page]) -> None:
    """Does it fit, is it worth it, what does it cost, what speaks against it; the charts only then."""
    ids = [heading.id for heading in pages["overview"].headings]
    wanted = ["fit", "gain", "cost", "downsides", "shot", "sure"]
    assert [one for one in ids if one in wanted] == wanted
