"""A page's place, and the way from one place to another."""

from __future__ import annotations

from urllib.parse import urljoin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidegen.site.pages.page import Page, rel

PATHS = st.lists(st.from_regex(r"[a-z0-9-]{1,8}", fullmatch=True), min_size=1, max_size=4).map(
    lambda parts: "/".join(parts) + ".html"
)
RESTS = st.sampled_from(["", "#place", "?units=both", "?units=both#place"])


@given(PATHS, PATHS, RESTS)
def test_a_browser_that_follows_the_way_arrives(start: str, end: str, rest: str) -> None:
    """Resolved as RFC 3986 says, by the standard library, the relative address is the place that was meant."""
    assert urljoin(f"https://site.example/{start}", rel(start, end + rest)) == f"https://site.example/{end}{rest}"


@pytest.mark.parametrize("path", ["", "a", "/a.html", "a//b.html", "../a.html", "a/./b.html", "a/b"])
def test_place_that_is_none_is_refused(path: str) -> None:
    """A page lies below the site's root and is HTML."""
    with pytest.raises(ValueError, match="from the site's root"):
        Page(path, "T", "D", "")
