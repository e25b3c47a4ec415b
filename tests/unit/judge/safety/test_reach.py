"""QTY03 on the smallest guides: a torque with its tolerance, inside what the wrench can be set to."""

from __future__ import annotations

import pytest

from tests.unit.judge.safety.small import guide, messages

WRENCH = {"tools": {"wrench": "torque wrench"}, "ranges": {"wrench": ("2 N·m", "10 N·m")}}


@pytest.mark.parametrize(("torque", "found"), [
    ("5 N·m ± 0.5 N·m", False),
    ("9.5 N·m ± 0.5 N·m", False),
    ("9.6 N·m ± 0.5 N·m", True),
    ("2.4 N·m ± 0.5 N·m", True),
    ("80 N·m ± 8 N·m", True),
])  # fmt: skip
def test_a_torque_lies_inside_the_range(torque: str, found: bool) -> None:
    """Both ends of the tolerance count."""
    step = {"id": "a", "do": "Tighten it.", "uses": {"tools": ["wrench"]}, "torque": {"is": torque}}
    assert bool(messages("QTY03", guide(step, kit=WRENCH))) == found


def test_a_wrench_without_a_range_is_none() -> None:
    """Nobody can say whether it reaches."""
    step = {"id": "a", "do": "Tighten it.", "uses": {"tools": ["spanner"]}, "torque": {"is": "5 N·m ± 0.5 N·m"}}
    assert messages("QTY03", guide(step, kit=WRENCH)) != []
