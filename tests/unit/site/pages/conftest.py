"""The pages of one record."""

from __future__ import annotations

import pytest

from guidegen.site.pages.page import Page
from tests.fixtures.records import record, site
from tests.unit.site.pages.whole_site import every_page


@pytest.fixture(scope="module")
def pages() -> dict[str, Page]:
    """The pages of the record, by kind."""
    one = record()
    return {page.kind: page for page in every_page(site(one))}
