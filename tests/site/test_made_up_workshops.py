"""The workshops that benchmarks measure are read and built as any other: else nothing would be measured."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.assess import Assessor
from guidegen.site.pages.paper.press import Press
from tests.bench import _stages
from tests.bench._aims import Aim, table
from tests.bench.synthetic import keep_records, lay_down
from tests.conftest import DRAWS, lay_down_few


@pytest.mark.slow
def test_one_with_a_made_up_variant_is_built_from_kept_records(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With each kit: editions, pictures, links and all; nothing is computed, and peers get a text for every page."""
    few = lay_down_few(tmp_path / "few")
    root = lay_down(tmp_path / "workshop", 4, source=few)
    keep_records(root, source=few, draws=DRAWS)
    monkeypatch.setattr(Assessor, "assess", None)
    monkeypatch.setattr(Press, "get", Press.get)
    made = _stages.build(root, tmp_path / "texts", DRAWS)
    assert made["guides"] == 12
    for peer in ("mkdocs/docs", "hugo/content"):
        assert len([*(tmp_path / "texts" / peer).rglob("*.md")]) == made["pages"] + 1
    made_up = root / "site" / "next" / "guides" / "made-up-0000-bracken-c" / "feed-preheater" / "index.html"
    assert "Made-up 0000 Bracken C" in made_up.read_text(encoding="utf-8")


def test_an_aim_says_whether_it_is_met_and_else_what_bounds_it() -> None:
    """At most or at least, and the limit itself is met."""
    printed = table([Aim("a", 0.3, 0.3, "s", "b"), Aim("c", 39.0, 40, "times", "d", at_least=True)])
    assert printed.splitlines() == [
        "== aims: 1 of 2 met",
        "met     a: 0.3 s (aim: at most 0.3)",
        "missed  c: 39 times (aim: at least 40)",
        "        bound by d",
    ]
