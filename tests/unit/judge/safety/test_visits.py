"""How often an electrically skilled person has to come, counted by hand."""

from __future__ import annotations

from typing import Any

from guidegen.judge.safety.visits import visit_words, visits
from tests.unit.judge.safety.small import guide

ANYONE = {"id": "look", "do": "Look at it.", "role": "anyone"}
SKILLED = {"id": "test", "do": "Test it.", "role": "electrically-skilled"}
WAIT = {"id": "wait", "do": "Wait.", "cooling": {"by": "waiting", "wait": {"is": "8 h"}}}


def phases(*steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Phases with these steps."""
    return [{"id": f"p{n}", "name": "P", "steps": one} for n, one in enumerate(steps)]


def test_a_visit_lasts_until_the_machine_has_to_cool() -> None:
    """Phases two and three are one visit although anyone works between; phase five comes after a night."""
    one = guide(phases=phases([ANYONE], [SKILLED], [ANYONE, SKILLED], [WAIT], [ANYONE, SKILLED]))
    assert visits(one.resolved.fitting) == (("2", "3"), ("5",))


def test_a_wait_within_a_phase_parts_two_visits_of_the_same_phase() -> None:
    """The person leaves and comes again."""
    one = guide(phases=phases([SKILLED, WAIT, {**SKILLED, "id": "again"}]))
    assert visits(one.resolved.fitting) == (("1",), ("1",))


def test_words_name_the_phases() -> None:
    """As they stand behind "has agreed to come"."""
    assert visit_words((("1",),)) == "once, for phase 1"
    assert visit_words((("3", "4", "5"), ("7", "9", "10"))) == "twice, for phases 3 to 5 and for phases 7, 9 and 10"
    assert visit_words((("1", "2"), ("4",), ("6",))) == "3 times, for phases 1 and 2, for phase 4 and for phase 6"
