"""An instruction shown for one case: what the page leaves out is what the sheets for the bench leave out."""

from __future__ import annotations

import json
import re

import pytest
from html5lib import parse

from guidegen.site.pages.cases import cases_of
from guidegen.site.pages.my_case import carried_over
from guidegen.site.pages.pair import pair_page
from tests.fixtures.records import record, site

HTML = "{http://www.w3.org/1999/xhtml}"


def marked(kind: str = "install") -> tuple[dict[str, set[str]], str]:
    """The cases of every step of a page, by its anchor (all where it has no mark), and the page."""
    one = record()
    body = pair_page(one, kind, site(one)).body
    every = {case.id for case in cases_of(one.procedure.fitting)}  # type: ignore[union-attr]
    found = {}
    for item in parse(body).iter(f"{HTML}li"):
        if "gg-step" in (item.get("class") or "").split():
            found[item.get("id")] = set((item.get("data-cases") or " ".join(every)).split())
    return found, body


def test_a_step_is_marked_with_the_cases_that_do_it() -> None:
    """Every step of the page against the record, which the sheets and the command follow as well."""
    found, _ = marked()
    course = record().procedure.fitting  # type: ignore[union-attr]
    cases = cases_of(course)
    assert len(cases) == 2
    assert found == {step.anchor: {case.id for case in cases if case.takes(step)} for step in course.steps}
    assert {"trimmed"} in found.values()
    assert {"exchanged"} in found.values()


def test_each_case_can_be_chosen_and_nothing_is_hidden_without_a_script() -> None:
    """The choice itself is the script's, so it is hidden; what it hides is not."""
    _, body = marked()
    assert re.findall(r'name="gg-case" value="(\w*)"', body) == ["", "trimmed", "exchanged"]
    hidden = [tag for tag in re.findall(r"<[a-z]+[^>]*\bhidden\b[^>]*>", body) if "data-cases" in tag]
    assert hidden == []


def test_tools_and_times_follow() -> None:
    """The saw is for whoever trims; the minutes of a case are the sum of its own steps."""
    _, body = marked()
    (saw,) = re.findall(r'<li([^>]*)><label><input type="checkbox" data-tick="tools-hand-saw"', body)
    assert saw == ' data-cases="trimmed"'
    course = record().procedure.fitting  # type: ignore[union-attr]
    (whole,) = [json.loads(one.replace("&#34;", '"')) for one in re.findall(r'<span data-by-case="([^"]*)">', body)][:1]
    for case in cases_of(course):
        minutes = sum(step.minutes for phase in course.phases for step in phase.steps if case.takes(step))
        hours, _, rest = whole[case.id].partition(" h")
        assert 60 * int(hours) + int(rest.removesuffix(" min").strip() or 0) == minutes


def test_the_self_check_knows_what_makes_each_case() -> None:
    """One chosen remedy leads to one case."""
    assert carried_over(record()) == {"trimmed": ["trimmed"], "exchanged": ["exchanged"]}


@pytest.mark.parametrize("pair", [("tamsin-mk1", "loop-controller")])
def test_a_pair_of_one_case_offers_no_choice(pair: tuple[str, str]) -> None:
    """And marks nothing."""
    one = record(*pair)
    body = pair_page(one, "install", site(one)).body
    assert "gg-case" not in body
    assert "data-cases" not in body
    assert carried_over(one) == {}
