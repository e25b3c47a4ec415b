"""Commands on the demonstration, whose catalogue is read once."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.commands import main
from guidegen.editions import kept
from guidegen.trade import Catalogue
from tests.unit.commands.customers.order_texts import (
    EDITION,
    GUIDES,
    KNOWN,
    REPOSITORY,
    Run,
)


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run one command in the demonstration, whose catalogue is read once."""
    loaded = trade.load

    def load(root: Path, **more: Any) -> Catalogue:
        return KNOWN if root == REPOSITORY else loaded(root, **more)

    read = kept.records

    def records(root: Path, name: str, variant: str | None = None) -> tuple[Any, ...]:
        if (root, name) != (REPOSITORY, EDITION):
            return read(root, name, variant)
        return tuple(one for (of, _), one in GUIDES.items() if variant in (None, of))

    monkeypatch.setattr(trade, "load", load)
    monkeypatch.setattr(kept, "records", records)
    return lambda *words, root=REPOSITORY: main(["--root", str(root), *words])


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A copy of the demonstration's data, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(REPOSITORY / name, tmp_path / "workshop" / name)
    return tmp_path / "workshop"
