"""Recorded builds against what their variant states."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.trade.builds import MeasuredFact, RecordedBuild
from guidegen.trade.check_builds import contradicts

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"
MACHINE = trade.load(SMALL).machine("plain-one")


@pytest.mark.parametrize(
    ("fact", "measured", "outside"),
    [
        ("boiler.mass", "500 g", False),
        ("boiler.mass", "505 g", False),
        ("boiler.mass", "506 g", True),
        ("boiler.mass", "506 g ± 1 g", False),
        ("boiler.mass", "0.49 kg ± 4 g", True),
        ("boiler.mass", "heavy", False),
        ("boiler.no_such", "5 g", False),
    ],
)
def test_what_was_measured_contradicts_where_nothing_lies_within_both(fact: str, measured: str, outside: bool) -> None:
    """The variant states 500 g ± 5 g, so 495 g to 505 g; the ends themselves lie within."""
    assert contradicts(MACHINE, MeasuredFact(fact=fact, **{"is": measured})) is outside


@pytest.mark.parametrize(
    ("changes", "public", "carried_out"),
    [
        ({}, True, True),
        ({"publish": False}, False, False),
        ({"accepted": None}, False, False),
        ({"signed": "nobody"}, True, False),
        ({"holds": [{"step": "a/b", "result": "passed"}, {"step": "a/c", "result": "not-done"}]}, True, False),
        ({"holds": [{"step": "a/b", "result": "failed"}]}, True, False),
    ],
)
def test_carried_out_takes_consent_acceptance_signature_and_every_hold_point(
    changes: dict[str, Any], public: bool, carried_out: bool
) -> None:
    """Each alone is needed."""
    whole = {
        "id": "1", "variant": "plain-one", "kit": "collar", "revision": "A", "edition": "2026.1", "date": "2026-01-02",
        "role": "owner", "signed": "electrically-skilled", "publish": True, "accepted": "2026-01-03",
        "holds": [{"step": "a/b", "result": "passed"}],
    }  # fmt: skip
    build = RecordedBuild.model_validate(whole | changes, strict=False)
    assert (build.is_public, build.is_carried_out) == (public, carried_out)
