"""Which pages name a picture that goes with their links, and what it shows."""

from __future__ import annotations

from guidegen.site.pages.page import Page
from guidegen.site.pages.previews import with_previews
from tests.fixtures.records import record

PATHS = ("guides/{v}/{k}/index.html", "guides/{v}/{k}/fit.html", "kits/{k}/index.html", "guides/{v}/index.html")


def pages() -> list[Page]:
    """A pair's pages, its kit's and its variant's."""
    ids = {"v": record().variant.id, "k": record().kit.id}
    return [Page(path.format(**ids), "t", "d", "<h1>t</h1>") for path in PATHS]


def test_the_pages_of_a_pair_and_of_its_kit_have_one() -> None:
    """Its words name the kit and the variant that is drawn; a page about the variant alone has none."""
    done, files = with_previews(pages(), [record()])
    (path,) = files
    assert path == f"previews/{record().variant.family}/{record().kit.id}.png"
    assert [page.image for page in done] == [path, path, path, ""]
    assert record().kit.name in done[0].image_words
    assert record().variant.name in done[0].image_words


def test_without_records_pages_stay_as_they_are() -> None:
    """As in the draft; and a record without a scene, as of old editions, has no picture."""
    assert with_previews(pages(), []) == (tuple(pages()), {})
    assert with_previews(pages(), [record().model_copy(update={"scene": None})]) == (tuple(pages()), {})
