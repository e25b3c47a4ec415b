"""Everything in this folder needs a built site and takes longer than the fast tier may."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.conftest import made_once
from tests.site.surroundings import lay_down_whole


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the tests of this folder."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.slow)


@pytest.fixture(scope="session")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small workshop in which every command has something to do; only to be copied."""
    return made_once(tmp_path_factory, "surroundings", lay_down_whole)
