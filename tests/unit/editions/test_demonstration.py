"""The demonstration's three editions: each with its reason, and readable by today's program."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess.reference import reference
from guidegen.editions import around, kept
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.site import Site, by_pair

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parents[3]
NAMES = ("2025.1", "2025.2", "2025.3")


def test_they_form_a_line_and_each_says_why() -> None:
    """With days that follow each other."""
    line = kept.line(ROOT)
    assert tuple(one.edition for one in line) == NAMES
    assert [one.date for one in line] == sorted({one.date for one in line})
    assert all(one.reason for one in line)


@pytest.mark.parametrize("name", NAMES)
def test_their_snapshots_hold_records_that_are_read(name: str) -> None:
    """Or the pages could not be made anew: then a line is missing in record/upgrades.py."""
    records = kept.assessments(ROOT, name)
    (edition,) = (one for one in kept.line(ROOT) if one.edition == name)
    assert [f"{one.variant.id}/{one.kit.id}" for one in records] == list(edition.guides)
    assert {one.edition for one in records} == {name}
    assert {one.self_check.pair.edition for one in records} == {name}


def test_in_the_second_a_measured_mass_replaces_an_assumed_one() -> None:
    """Nobody has to be notified; what follows from the mass is listed with its range."""
    changed = [one for one in around.compared(ROOT, "2025.1", "2025.2") if one.changes]
    assert changed
    for one in changed:
        assert not one.notifiable
        assert {change.kind for change in one.changes} == {"input", "figure"}
        (mass,) = (change for change in one.changes if change.kind == "input")
        assert mass.about == "Boiler, empty"
        assert "assumed" in str(mass.old)
        assert "measured" in str(mass.new)


def test_in_the_third_a_torque_is_corrected_with_a_notice_and_a_variant_is_new() -> None:
    """The notice names exactly the guides that it concerns."""
    found = around.compared(ROOT, "2025.2", "2025.3")
    assert {one.variant for one in found if one.is_new} == {"tamsin-mk1-120"}
    grave = {one.guide: {change.kind for change in one.notifiable} for one in found if one.notifiable}
    assert grave
    assert set().union(*grave.values()) == {"torque"}
    third = kept.line(ROOT)[-1]
    assert third.notice is not None
    assert set(third.notice.guides) == set(grave)
    assert kept.line(ROOT)[1].notice is None


def test_the_instructions_of_the_first_can_be_printed_although_its_steps_say_less() -> None:
    """Today's templates ask steps for more than the records of that time hold."""
    records = kept.assessments(ROOT, NAMES[0])
    one = next(record for record in records if record.procedure and record.procedure.restoring)
    site = Site.of(by_pair([one]), reference(trade.load(ROOT)))
    for kind in ("install", "restore"):
        assert "Hold point" in pair_page(one, kind, site).body
