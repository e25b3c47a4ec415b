"""The pages that list what changed say why, and keep what only the program does anew apart."""

from __future__ import annotations

import re
from dataclasses import replace

from guidegen.editions.change import Change, GuideChanges, Moved
from guidegen.editions.changed_pages import edition_page, leading, with_changes
from guidegen.site.pages.page import Page
from tests.fixtures.records import record
from tests.unit.editions.small import edition

TORQUE = Change("torque", "boiler bolts", "5 N·m", "4 N·m", "a torque changed")
SENTENCE = Change("step", "step 1.1", "Do.", "Do it.", causes=("text",))
WHOSE = Change("step", "step 1.2", "Look.", "Look there.", causes=("unclear",))
DROP = Change("figure", "Sensor drop, Double", "5 K", "6 K", causes=("computation",),
              moved=Moved("Sensor drop", "sensor_drop_k", 1.0))  # fmt: skip
FORM = Change("step", "step 1.3", "Go.", "Now go.", causes=("form",))


def guide(*changes: Change) -> GuideChanges:
    """The changes of the one guide."""
    what = record()
    return GuideChanges(what.variant.id, what.kit.id, "A guide", changes)


def text(body: str) -> str:
    """What a page says, a space for every run of markup and blanks."""
    return re.sub(r"[ \n]+", " ", re.sub(r"<[^>]+>", " ", body)).strip()


def whole(*changes: Change) -> str:
    """The page about the edition."""
    one = guide(*changes)
    return text(edition_page([one], {one.guide}, edition("1"), {"edition": "2"}).body)


def own(*changes: Change) -> str:
    """The guide's own page."""
    what, one = record(), guide(*changes)
    before = {"variant": {"id": one.variant}, "kit": {"id": one.kit}}
    made = with_changes([], [what], edition("1"), [before], [one], {"edition": "2"})
    return text(next(page.body for page in made if page.path == f"guides/{one.guide}/changes.html"))


def test_the_edition_lists_its_own_changes_with_their_cause() -> None:
    """In plain words, and marks what must be made known."""
    printed = whole(TORQUE, SENTENCE)
    assert "boiler bolts: 5 N·m → 4 N·m (the data changed) (a torque changed) All guides (1) A guide" in printed
    assert printed.index("To be told to whoever fitted") < printed.index("Torques" if "Torques" in printed else "Steps")
    assert "step 1.1: Do. → Do it. (the authors changed the words)" in printed
    assert "What the program recomputed or reworded" not in printed


def test_what_the_program_does_stands_once_for_all_guides() -> None:
    """Behind what must be told, each thing with the number of guides; never among a guide's own changes."""
    one, other = guide(DROP, FORM, TORQUE), replace(guide(DROP, FORM), variant="another")
    made = edition_page([one, other], {one.guide, other.guide}, edition("1"), {"edition": "2"})
    printed = text(made.body)
    assert "Sensor drop, recomputed, up to ±1.00\u202f°C: 2 guides Steps, reworded: 2 guides" in printed
    assert printed.index("boiler bolts") < printed.index("What the program recomputed or reworded")
    assert "Now go." not in printed
    assert text(made.body.split('id="alone"')[1]).count("A guide") == 1


def test_an_edition_that_kept_no_hashes_says_so_once() -> None:
    """And gives such a change no cause."""
    printed = whole(WHOSE, TORQUE)
    assert printed.count("Edition 1 did not keep what its words were made from.") == 1
    assert "step 1.2: Look. → Look there. " in printed
    assert "Look there. (" not in printed


def test_a_guide_lists_the_two_separately() -> None:
    """Each of the program's under its heading, with both sides; and that nothing has to be done."""
    printed = own(TORQUE, DROP, FORM)
    before, after = printed.split("What the program recomputed or reworded")
    assert "boiler bolts (a torque changed) 5 N·m 4 N·m the data changed" in before
    assert "nobody who fitted by the older edition has to do anything" in after
    assert "Sensor drop, Double 5 K 6 K the program recomputed it" in after
    assert "step 1.3 Go. Now go. the program reworded it" in after
    assert "1 of the changes concerns" in before


def test_a_guide_that_only_the_program_changed() -> None:
    """On its own page and at the end of its overview."""
    printed = own(DROP)
    assert "neither the data nor the authors' words changed" in printed.replace("&#39;", "'")
    page = Page(
        path="index.html", title="t", description="d", body="", headings=(), search=(), breadcrumbs=(), kind="k"
    )
    assert "the program has only recomputed or reworded something" in leading(page, guide(DROP), edition("1")).body
    assert "Nothing changed since" in leading(page, guide(), edition("1")).body
    assert "1 change since" in text(leading(page, guide(DROP, TORQUE), edition("1")).body)
