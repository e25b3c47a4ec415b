"""The first view of every page is light: the page with its drawings, style sheets, scripts, and images at once.

What comes later is not counted: photographs that nobody has reached, and the theme's search, which fetches its index
once the page is there.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.weights import WEIGHT_LIMIT, first_view, packed

RECORD_LIMIT = 60_000
"""Bytes of a guide's `data/<variant>/<kit>.json`."""


def test_the_first_view_of_every_page_is_light(built_site: Path) -> None:
    """Guides and hand-written pages; an instruction, with every drawing in it, is the heaviest."""
    once = cache(lambda place: packed(built_site, place))
    pages = [path.relative_to(built_site).as_posix() for path in sorted(built_site.rglob("*.html"))]
    weights = {page: sum(once(place) for place in first_view(built_site, page)) for page in pages}
    assert len(weights) > 100
    assert {page: weight for page, weight in weights.items() if weight > WEIGHT_LIMIT} == {}
    heaviest = max(weights, key=lambda page: weights[page])
    assert heaviest.endswith("install.html")
    assert len({*first_view(built_site, heaviest)}) > 10


def test_the_record_of_every_guide_is_light(built_site: Path) -> None:
    """60 kB as it lies there, since it may be fetched by a program that unpacks nothing; its parts are apart."""
    sizes = {path: path.stat().st_size for path in built_site.glob("data/*/*.json") if path.parent.name != "parts"}
    assert len(sizes) > 20
    assert {path.name: size for path, size in sizes.items() if size > RECORD_LIMIT} == {}
    assert len([*built_site.glob("data/parts/*.json")]) > len(sizes)
