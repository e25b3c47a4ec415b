"""The workshops that benchmarks measure are read and built as any other: else nothing would be measured."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench import _stages
from tests.bench.synthetic import lay_down

pytestmark = pytest.mark.slow


def test_one_of_two_variants_is_built_without_a_problem(tmp_path: Path) -> None:
    """With each of the three kits: pictures, links and all; the peer gets a text for every page."""
    made = _stages.build(lay_down(tmp_path / "workshop", 2), tmp_path / "peer")
    assert made["guides"] == 6
    assert len([*(tmp_path / "peer").rglob("*.md")]) >= made["pages"]
