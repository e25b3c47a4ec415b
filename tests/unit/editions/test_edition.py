"""Names of editions, and the one line that they form."""

from __future__ import annotations

import pytest

from guidegen.editions.edition import Edition, LineProblem, check_name, in_line, up_to
from guidegen.problems import UsageProblem
from tests.unit.editions.small import edition


def named(*editions: Edition) -> dict[str, Edition]:
    """Editions by their name."""
    return {one.edition: one for one in editions}


@pytest.mark.parametrize("name", ["2026.1", "1", "autumn-2026", "a" * 30])
def test_names_that_an_edition_may_have(name: str) -> None:
    """Small letters, digits, dots, hyphens."""
    assert check_name(name) == name


@pytest.mark.parametrize(
    "name", ["", "next", "latest", "k", "../x", "2026..1", ".hidden", "2026.", "A", "a b", "é", "a/b", "a" * 31,
             "2026.1-rerendered", "feed.xml", "index.html"]
)  # fmt: skip
def test_names_that_an_edition_may_not_have(name: str) -> None:
    """Taken by something else, no single folder, or not the same on every file system."""
    with pytest.raises(UsageProblem):
        check_name(name)


def test_editions_stand_in_a_line_whatever_they_are_called() -> None:
    """Order comes from superseding, not from names or dates."""
    line = in_line(named(edition("b", "c"), edition("c"), edition("a", "b")))
    assert [one.edition for one in line] == ["c", "b", "a"]
    assert [one.edition for one in up_to(line, "b")] == ["c", "b"]
    assert up_to(line, "new") == line


def test_a_gap_is_named() -> None:
    """The edition in between was lost."""
    with pytest.raises(LineProblem, match=r"3 supersedes 2, which is not there"):
        in_line(named(edition("1"), edition("3", "2")))


def test_a_ring_is_named() -> None:
    """Two that supersede each other."""
    with pytest.raises(LineProblem, match="2, 3 supersede each other in a ring"):
        in_line(named(edition("1"), edition("2", "3"), edition("3", "2")))


def test_a_fork_is_named() -> None:
    """Two that supersede the same one, or nothing."""
    with pytest.raises(LineProblem, match="2 and 3 both supersede 1"):
        in_line(named(edition("1"), edition("2", "1"), edition("3", "1")))
    with pytest.raises(LineProblem, match="1 and 2 both supersede nothing"):
        in_line(named(edition("1"), edition("2")))


def test_facts_come_back_from_their_file() -> None:
    """Nothing is lost on the way."""
    one = edition("2026.2", "2026.1", note="Tighten again.")
    assert Edition.model_validate_json(one.to_bytes()) == one
