"""One cause is one message."""

from __future__ import annotations

from dataclasses import replace

from guidegen.problems import Code, Problem, one_per_cause

ONE = Problem("a.yml", 3, 5, Code.UNKNOWN_SOURCE, "wetted[1].source: no source", "add it")


def test_steps_and_items_of_one_line_are_one() -> None:
    """Only their numbers differ."""
    steps = [replace(ONE, message=f"step {number} (torque): no tolerance") for number in ("5.6", "R3.1", "A.2")]
    (found,) = one_per_cause(steps)
    assert found.message == "step 5.6 (torque): no tolerance (and 2 more like it)"


def test_other_words_places_or_fixes_are_others() -> None:
    """Nothing that somebody would have to mend by itself is left out."""
    words = replace(ONE, message="wetted[1].filler: no source")
    others = (ONE, replace(ONE, line=4), replace(ONE, fix="another"), words)
    assert set(one_per_cause(others)) == set(others)


def test_a_mistake_is_not_said_again_as_a_warning() -> None:
    """One line stops the guides that are written, and is a warning in those that are not."""
    assert one_per_cause([replace(ONE, severity="warning"), ONE]) == (ONE,)
    assert one_per_cause([replace(ONE, severity="warning")]) == (replace(ONE, severity="warning"),)
