"""What blocks a build, what a waiver covers, and where a finding points."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from guidegen.judge.safety.lint import lint
from tests.unit.judge.safety.small import LIVE, OFF, guide

DAY = datetime.date(2026, 1, 31)
WAIVER = {"rule": "MNS05", "because": "Done on our own bench.", "role": "electrically skilled person", "date": DAY}


def found(rule: str, *steps: dict[str, Any], **top: Any) -> list[Any]:
    """Return the findings of one rule."""
    return [one for one in lint(guide(*steps, **top)) if one.rule == rule]


def test_an_error_blocks_and_points_to_the_line_with_its_fix() -> None:
    """The author sees file, line, column, rule, words, fix."""
    (one,) = found("MNS01", {"id": "open", "do": "Lift the cover.", "sets": {"enclosure": "open"}})
    problem = one.problem()
    assert (problem.path, problem.code, problem.severity) == ("p.yml", "MNS01", "error")
    assert problem.line > 1
    assert "step 1.1 (open)" in problem.message
    assert problem.fix


def test_a_warning_about_safety_blocks_until_somebody_answers_for_it() -> None:
    """In writing, by role and date."""
    assert all(one.blocks and one.severity == "warning" for one in found("MNS05", OFF, LIVE))
    assert all(one.waived and not one.blocks for one in found("MNS05", OFF, LIVE, waivers=[WAIVER]))


def test_a_waiver_may_be_for_one_step_only() -> None:
    """And covers no other."""
    assert all(one.waived for one in found("MNS05", OFF, LIVE, waivers=[{**WAIVER, "step": "live"}]))
    assert all(one.blocks for one in found("MNS05", OFF, LIVE, waivers=[{**WAIVER, "step": "elsewhere"}]))


def test_an_editorial_warning_never_blocks() -> None:
    """It stays on the terminal."""
    assert [one.blocks for one in found("LNG01", {"id": "a", "do": "The lid is white."})] == [False]


def test_a_waiver_for_what_has_none_is_an_error() -> None:
    """So is one that covers nothing."""
    for rule in ("MNS01", "EAR01", "LNG01", "NEVER"):
        (one,) = found("WVR01", OFF, waivers=[{**WAIVER, "rule": rule}])
        assert one.blocks
    (one,) = found("WVR01", OFF, waivers=[WAIVER])
    assert "covers nothing" in one.message


@pytest.mark.parametrize("because", ["x", "ok", "n/a", ".", "We know that.", "x x x x x x", "ok ok ok ok ok"])
def test_a_waiver_needs_a_reason(because: str) -> None:
    """A word that fills the field is none; the warning then blocks as before."""
    (one,) = found("WVR01", OFF, LIVE, waivers=[{**WAIVER, "because": because}])
    assert one.blocks
    assert "gives no reason" in one.message
    assert all(one.blocks for one in found("MNS05", OFF, LIVE, waivers=[{**WAIVER, "because": because}]))


def test_no_waiver_exists_for_what_follows_from_an_act() -> None:
    """Nor for a text."""
    for rule in ("ACT01", "ACT02", "TXT01", "TXT02"):
        (one,) = found("WVR01", OFF, waivers=[{**WAIVER, "rule": rule}])
        assert one.blocks
        assert f"no waiver exists for {rule}: what follows from an act" in one.message


def test_a_mistake_in_a_repeated_block_is_reported_once() -> None:
    """With how many more steps have it."""
    shared = {"blocks": {"b": {"name": "B", "steps": [{"id": "a", "do": "The lid is white."}]}}}
    uses = [{"include": "b"}, {"include": "b", "as": "again"}, {"include": "b", "as": "more"}]
    (one,) = found("LNG01", *uses, shared=shared)
    assert one.message.endswith("(and 2 more steps)")
    assert one.place.path == "shared.yml"
