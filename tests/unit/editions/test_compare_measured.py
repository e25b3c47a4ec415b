"""What logs say is listed as a change where it reads otherwise, and where it came or went."""

from __future__ import annotations

from typing import Any

import pytest

from guidegen.editions.change import Change
from guidegen.editions.compare_measured import measured_changes


def logs(value: float | None, *sums: str) -> dict[str, Any]:
    """A record with so much measured; None: before and after are not compared."""
    ratio = None if value is None else {"value": value, "low": value - 0.05, "high": None}
    found = None if ratio is None else {"ratio": ratio}
    return {"measured": {"before_after": found, "shots": 12, "runs": [{"sha256": one} for one in sums]}}


def changes(old: dict[str, Any], new: dict[str, Any]) -> list[Change]:
    """All of them."""
    return [*measured_changes(old, new)]


def test_a_first_campaign_is_new_and_the_same_one_is_no_change() -> None:
    """A record of before has no such key."""
    (one,) = changes({}, logs(0.4, "a"))
    assert one.sentence() == (
        "the dip with the kit over the dip without: new, 0.40 (0.35 to …), 12 shots on one machine"
    )
    assert (one.causes, one.place, one.notifiable) == (("data",), "numbers.html#measured", None)
    assert changes(logs(0.4, "a"), logs(0.4, "a")) == changes({}, {}) == changes({}, {"measured": None}) == []


@pytest.mark.parametrize(("sums", "cause"), [(("a",), "computation"), (("a", "b"), "data")])
def test_other_logs_are_data_and_the_same_read_otherwise_are_the_program(sums: tuple[str, ...], cause: str) -> None:
    """By the sums of the files."""
    (one,) = changes(logs(0.4, "a"), logs(0.5, *sums))
    assert one.causes == (cause,)
    assert "0.40 (0.35 to …)" in str(one.old)


def test_logs_that_are_not_compared_any_more_say_so() -> None:
    """And logs that went are gone."""
    assert changes(logs(0.4, "a"), logs(None, "a"))[0].new == "logged, before and after not compared"
    assert changes(logs(0.4, "a"), {"measured": None})[0].new is None
